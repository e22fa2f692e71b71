import re

import pytest

from findsdesk.domain.refusals import Refusal
from findsdesk.paper.fitting import cut, fit_or_cut, joined, wrap
from findsdesk.paper.fonts import BOLD, MONO, MONO_BOLD, NARROW, PLAIN
from findsdesk.paper.labels import lay_out
from findsdesk.paper.pen import About, Pen
from findsdesk.paper.shaping import Shaped, is_plain, letters_of, shape, width_mm
from findsdesk.paper.stocks import stocks
from tests.printed import MOMENT, TERMS, Sheet, bag

FACES = (PLAIN, BOLD, NARROW, MONO, MONO_BOLD)


def faces_of(shaped: Shaped):
    return {piece.font for piece in shaped.pieces}


@pytest.mark.parametrize("text", ["Bucket 131", "Ḥaṭṭīn, Çatal, Łódź", "Ταμπακαριό ᾄδω", "керамика", "½ × ≥ — ⌀"])
def test_letters_side_by_side_are_left_to_the_pdf_writer(text):
    assert is_plain(text, PLAIN)


@pytest.mark.parametrize("text", ["חרס", "فخار", "x̱", "a\nb", "a\u00a0b", "漢"])
def test_joined_marked_and_missing_letters_are_not(text):
    assert not is_plain(text, PLAIN)


def test_a_text_is_as_wide_shaped_as_plain():
    assert shape("Bucket 131", PLAIN).width == pytest.approx(width_mm("Bucket 131", PLAIN, 1000) / 25.4 * 72, abs=6)


def test_a_mark_adds_no_width_and_stands_with_its_letter():
    assert shape("x̱", PLAIN).width == shape("x", PLAIN).width
    assert letters_of("x̱ā̱b") == ["x̱", "ā̱", "b"]


def test_joined_letters_are_not_the_letters_alone():
    joined_up = width_mm("ببب", PLAIN, 100)
    assert joined_up < 0.9 * 3 * width_mm("ب", PLAIN, 100)


def test_letters_of_one_width_borrow_what_they_cannot_set():
    assert faces_of(shape("131 חרס", MONO)) == {MONO, PLAIN}
    assert faces_of(shape("131 فخار", MONO_BOLD)) == {MONO_BOLD, BOLD}
    assert faces_of(shape("x̱", MONO)) == {PLAIN}


@pytest.mark.parametrize("font", FACES)
@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("shard 漢 (2)", "“漢” (U+6F22 CJK UNIFIED IDEOGRAPH-6F22) in “shard 漢 (2)”"),
        ("חרס ቀ", "“ቀ” (U+1240 ETHIOPIC SYLLABLE QA)"),
        ("pot 🏺", "“🏺” (U+1F3FA AMPHORA)"),
        ("pot \ue123", "U+E123"),
        ("a\u1ab0", "“◌\u1ab0” (U+1AB0"),
    ],
)
def test_a_letter_that_is_in_no_face_is_named(text, named, font):
    shape("فخار", font)  # glyphs of our own codes must not count as letters
    for ask in (lambda: width_mm(text, font, 8), lambda: written(text, font)):
        with pytest.raises(Refusal) as no:
            ask()
        assert no.value.code == "letter_not_in_fonts"
        assert named in no.value.in_words()


def test_a_label_with_a_letter_we_have_not_is_named_and_nothing_printed():
    with pytest.raises(Refusal) as no:
        lay_out([bag(1), bag(2, material="漢")], stocks()["a4-3x8-70x37"], moment=MOMENT, title="x", terms=TERMS)
    assert no.value.in_words().startswith("Label TQB000002X: “漢” (U+6F22")
    assert no.value.facts["label"] == "TQB000002X"


def written(text, font=PLAIN, language="en", size=12):
    pen = Pen(100, 50, About("x", language, MOMENT))
    pen.text(50, 20, text, font, size, "middle")
    return pen.finish()


@pytest.mark.parametrize("blank", ["\n", "\t", "\u00a0", "\u2028", "\r\n"])
def test_line_breaks_and_tabs_are_blanks_on_paper(blank):
    assert Sheet(written(f"pottery{blank}bone")).text().split() == ["pottery", "bone"]


def test_signs_of_direction_leave_no_ink_and_no_width():
    assert shape("\u2068חרס\u2069\u200f", PLAIN).width == shape("חרס", PLAIN).width
    dark = Sheet(written("\u200e\u200f\u2068\u2069")).dark(300)
    assert not dark.any()


def test_an_empty_text_is_nothing():
    assert shape("", PLAIN) == Shaped(0, ())
    assert not Sheet(written("")).dark(300).any()


@pytest.mark.parametrize("text", ["ירושלים (תל אביב) 2017", "فخار من الموقع", "شَٰذْر"])
@pytest.mark.parametrize("align", ["left", "middle", "right"])
def test_shaped_text_is_aligned_by_its_width(text, align):
    pen = Pen(200, 50, About("x", "en", MOMENT))
    pen.text(100, 20, text, PLAIN, 14, align)
    ink = Sheet(pen.finish()).dark(300).any(axis=0).nonzero()[0] * 25.4 / 300
    width = width_mm(text, PLAIN, 14)
    left = 100 - {"left": 0, "middle": width / 2, "right": width}[align]
    assert ink.min() == pytest.approx(left, abs=0.6)
    assert ink.max() == pytest.approx(left + width, abs=0.6)


def test_a_line_of_signs_only_runs_as_the_language_of_the_paper():
    latin, hebrew = (Sheet(written("(1) -", language=language)).dark(300) for language in ("en", "he"))
    assert (latin == hebrew).all()  # nothing in it is of a right-to-left script, so it is plain
    latin, hebrew = (Sheet(written("\u2068חרס\u2069 -", language=language)).dark(300) for language in ("en", "he"))
    assert not (latin == hebrew).all()


def test_the_same_text_is_the_same_bytes_whatever_was_shaped_before():
    first = written("بيت لا (TQ) x̱")
    shape("ꜳ̱ کرمان", PLAIN)
    assert written("بيت لا (TQ) x̱") == first


def test_parts_of_a_line_keep_their_sides_and_plain_ones_are_only_joined():
    assert joined(["TQ", "", "2017"]) == "TQ · 2017"
    assert joined(["חרס", "38 pieces"]) == "\u2068חרס\u2069 · 38 pieces"


def test_words_from_right_to_left_are_wrapped_in_their_order_and_each_line_says_how_it_runs():
    text = "שברי כלים מן השכבה התחתונה TQ 2017 לפני השטיפה"
    lines = wrap(text, PLAIN, 9, 30)
    assert len(lines) > 2
    assert {line[0] for line in lines} == {"\u200f"}
    assert " ".join(line[1:] for line in lines) == text
    assert all(width_mm(line, PLAIN, 9) <= 30 for line in lines)


def test_a_word_is_never_broken_between_a_letter_and_its_mark():
    word = "x̱ā̱ṯ" * 12
    lines = wrap(word, PLAIN, 9, 12)
    assert "".join(lines) == word
    assert not any(re.match("[\u0300-\u036f]", line) for line in lines)
    assert not re.search("[\u0300-\u036f]…", cut("x̱" * 30, PLAIN, 9, 12).replace("x̱", "x"))


def test_words_from_right_to_left_shrink_and_are_cut_at_their_end():
    _font, size, words = fit_or_cut("שברי כלים מן השכבה התחתונה", PLAIN, 12, 8, 20)
    assert size == 8
    assert words.startswith("שברי")
    assert words.endswith("…")
