import pytest

from findsdesk.domain.refusals import Refusal
from findsdesk.paper.fitting import cut, fit_line, fit_or_cut, fit_parts, fit_size, fit_whole, fit_words, wrap
from findsdesk.paper.fonts import BOLD, MONO, NARROW, NARROW_BOLD, PLAIN
from findsdesk.paper.label_words import LEAST
from findsdesk.paper.shaping import width_mm


def test_a_text_that_fits_keeps_its_size():
    assert fit_size("2017", BOLD, 24, 100) == 24
    assert fit_line("2017", BOLD, 24, 100) == (BOLD, 24)


@pytest.mark.parametrize("text", ["2017", "2017a/North-131.12b", "Ταμπακαριό της Βέσμαρ", "W" * 60])
@pytest.mark.parametrize("room", [2.0, 10.0, 33.3])
def test_what_is_fitted_is_no_wider_than_its_room(text, room):
    if width_mm(text, NARROW, LEAST) <= room:
        font, size = fit_line(text, PLAIN, 24, room)
        assert width_mm(text, font, size) <= room + 1e-6
    else:
        with pytest.raises(Refusal) as no:
            fit_line(text, PLAIN, 24, room)
        assert (no.value.code, no.value.facts["text"]) == ("text_does_not_fit", text)
    fitted = fit_words(text, PLAIN, 12, 6, room, 5)
    assert all(width_mm(line, fitted.font, fitted.size) <= room + 1e-6 for line in fitted.lines)


def test_the_narrower_face_comes_before_smaller_letters():
    text = "pottery, diagnostics"
    room = width_mm(text, PLAIN, 9) * 0.95
    assert fit_line(text, PLAIN, 9, room) == (NARROW, 9)
    assert fit_line(text, MONO, 9, room)[0] == MONO


def test_words_are_wrapped_at_blanks_and_none_is_lost():
    text = "Harbour II late; earlier Harbour I; 2 later sherds. Floor fill."
    lines = wrap(text, PLAIN, 9, 30)
    assert len(lines) > 2
    assert " ".join(lines) == text
    assert all(width_mm(line, PLAIN, 9) <= 30 for line in lines)


def test_a_word_wider_than_the_room_is_broken_within_and_none_of_it_lost():
    lines = wrap("a " + "x" * 200 + " b", PLAIN, 9, 20)
    assert "".join(lines).replace(" ", "") == "a" + "x" * 200 + "b"
    assert all(width_mm(line, PLAIN, 9) <= 20 for line in lines)


def test_nothing_is_one_empty_line():
    assert wrap("", PLAIN, 9, 20) == [""]


def test_a_cut_shows_that_it_is_one():
    assert cut("pottery", PLAIN, 9, 100) == "pottery"
    short = cut("pottery with residue", PLAIN, 9, 20)
    assert short.endswith("…")
    assert "pottery with residue".startswith(short[:-1])
    assert width_mm(short, PLAIN, 9) <= 20


def test_words_shrink_then_stand_on_two_lines_then_are_cut():
    text = "pottery with residue and worked stone"
    whole = width_mm(text, NARROW, 12)
    assert fit_words(text, PLAIN, 12, 8, whole * 0.8, 6).lines == (text,)
    assert len(fit_words(text, PLAIN, 12, 8, whole * 0.5, 6).lines) == 2
    assert fit_words(text, PLAIN, 12, 8, whole * 0.5, 3).lines[0].endswith("…")


def test_where_words_and_numbers_share_a_line_the_words_give_way():
    parts = ("pottery with residue and worked stone", "12,345 pieces", "664.2 g")
    (line,) = fit_parts(parts, 0, PLAIN, 8, 6, 45).lines
    assert line.endswith("… · 12,345 pieces · 664.2 g")
    (line,) = fit_parts(parts, 0, PLAIN, 8, 6, 200).lines
    assert line == "pottery with residue and worked stone · 12,345 pieces · 664.2 g"
    (line,) = fit_parts(parts, 0, PLAIN, 8, 6, 18).lines
    assert line == "12,345 pieces · 664.2 g"
    with pytest.raises(Refusal, match="12,345 pieces"):
        fit_parts(parts, 0, PLAIN, 8, 6, 10)


def test_words_of_a_heading_shrink_and_are_then_cut():
    assert fit_or_cut("Missing buckets", BOLD, 15, 7, 100) == (BOLD, 15, "Missing buckets")
    font, size, words = fit_or_cut("Missing buckets " * 9, BOLD, 15, 7, 60)
    assert (font, size, words[-1]) == (NARROW_BOLD, 7, "…")
    assert width_mm(words, font, size) <= 60


def test_a_number_shrinks_then_goes_on_the_next_line_then_is_refused():
    assert fit_whole("2026-07-14", BOLD, 9, 40, 3).lines == ("2026-07-14",)
    assert fit_whole("2026-07-14", BOLD, 9, 7, 4) == (NARROW_BOLD, LEAST, ("2026-07-", "14"))
    assert "".join(fit_whole("2017a/North-131.12b", MONO, 8, 7, 9).lines) == "2017a/North-131.12b"
    with pytest.raises(Refusal, match="2026-07-14"):
        fit_whole("2026-07-14", BOLD, 9, 7, 3)
