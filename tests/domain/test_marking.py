"""How many sherds are to be marked, which sherd takes a mark, and what may be ticked off."""

import pytest

from findsdesk.domain.marking import MarkTally, may_check, may_mark, wanted_marks
from findsdesk.domain.marks import make_mark, mark_length_mm, names_field, smallest_sherd_mm
from findsdesk.domain.refusals import Refusal

NUMBER = {"number": "131"}


@pytest.mark.parametrize(
    ("mark", "length_tenths", "sherd_mm"),
    [
        # OWN, from Mika's evening: 13 mm at 2 mm lettering, so sherds under 2 cm get a slip bag instead.
        (("VE-26-014", "2017-131"), 130, 20),
        # Common practice, no source: `P2019-045-12` is about 15 to 18 mm long; with 3 mm to each break it needs 24 mm.
        (("P2019-045-12",), 175, 24),
        # PUBLISHED (Internet Archaeology 52/9, appendix): the mark MHR02/F/4/1 of a published excavation.
        (("MHR02/F/4/1",), 160, 22),
        ((), 0, 20),
    ],
)
def test_a_long_mark_asks_for_a_larger_sherd(mark: tuple[str, ...], length_tenths: int, sherd_mm: int) -> None:
    assert mark_length_mm(mark) == length_tenths
    assert smallest_sherd_mm(length_tenths) == sherd_mm


@pytest.mark.parametrize(
    ("diagnostic", "plain", "one_in", "wanted"),
    [
        (11, 40, 1, 51),
        # PUBLISHED (Louisiana Division of Archaeology, labelling): all diagnostics and about 10 % of the plain ones.
        (11, 40, 10, 15),
        (11, 41, 10, 16),
        # PUBLISHED (a blog of the Ashkelon excavation, 2015): every kept diagnostic sherd.
        (11, 40, 0, 11),
        (0, 0, 10, 0),
    ],
)
def test_how_many_are_marked_is_a_setting(diagnostic: int, plain: int, one_in: int, wanted: int) -> None:
    assert wanted_marks(diagnostic, plain, one_in) == wanted


def test_a_tally_says_what_is_left() -> None:
    tally = MarkTally(kept=30, wanted=22, written=12, outdated=3, slipped=2, bags=1, checked=1)
    assert (tally.marked, tally.room, tally.left) == (17, 13, 5)
    assert not tally.is_done(10)
    assert MarkTally(kept=12, wanted=12, written=12, checked=2).is_done(10)
    assert not MarkTally(kept=12, wanted=12, written=9, outdated=3, checked=1).is_done(10)


@pytest.mark.parametrize(
    ("written", "checked", "wrong", "one_in", "to_check"),
    # Common practice, no source: one in ten, and all once one was wrong.
    [(10, 0, 0, 10, 1), (11, 0, 0, 10, 2), (11, 1, 0, 10, 1), (11, 5, 0, 10, 0), (10, 1, 1, 10, 9), (9, 0, 1, 0, 0)],
)
def test_one_in_ten_is_checked_and_all_once_one_is_wrong(
    written: int, checked: int, wrong: int, one_in: int, to_check: int
) -> None:
    assert MarkTally(written=written, checked=checked, wrong=wrong).to_check(one_in) == to_check


@pytest.mark.parametrize(("pieces", "code"), [(0, "no_pieces"), (-1, "no_pieces"), (14, "more_than_kept")])
def test_marks_never_exceed_what_is_kept(pieces: int, code: str) -> None:
    tally = MarkTally(kept=30, wanted=22, written=12, outdated=3, slipped=2)
    may_mark(tally, 13, NUMBER)
    with pytest.raises(Refusal) as refused:
        may_mark(tally, pieces, NUMBER)
    assert refused.value.code == code


@pytest.mark.parametrize(
    ("pieces", "wrong", "by_others", "looked_at", "code"),
    [
        (0, 0, 12, 0, "no_pieces"),
        (11, 0, 12, 0, "more_than_written"),
        (2, 3, 12, 0, "more_wrong_than_checked"),
        (5, 0, 4, 0, "checks_own_marks"),
        (5, 0, 6, 2, "checks_own_marks"),
    ],
)
def test_a_second_person_checks_what_is_written(
    pieces: int, wrong: int, by_others: int, looked_at: int, code: str
) -> None:
    tally = MarkTally(kept=30, wanted=22, written=12, checked=2)
    may_check(tally, 10, 10, NUMBER, by_others=12, looked_at=2)
    with pytest.raises(Refusal) as refused:
        may_check(tally, pieces, wrong, NUMBER, by_others=by_others, looked_at=looked_at)
    assert refused.value.code == code


def test_a_pattern_with_the_piece_gives_each_piece_its_mark() -> None:
    assert names_field("{permit}\n{deposit}-{container}-{piece}", "piece")
    assert not names_field("{permit}\n{deposit}-{container}", "piece")
    assert make_mark("{container}-{piece}", {"container": "131", "piece": "4"}) == ("131-4",)
