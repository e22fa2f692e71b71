"""Marks inked again: in parts, by whom it was, and taken back to what stood on the sherds before."""

from __future__ import annotations

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.inking_again import write_marks_again
from findsdesk.desk.mark_lines import MarkLine, mark_lines
from findsdesk.desk.marking import answer_newest_tick, check_marks, slip_bag, write_marks
from findsdesk.desk.playing import do
from findsdesk.desk.proving import prove
from findsdesk.desk.redoing import Written, redo_done, things_to_redo
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.domain.refusals import Question
from tests.desk.at_the_table import refused
from tests.yard import last_said, put_settled, sitting

OLD, NEW, NEWER = (f"VE-26-014 / {number}-131" for number in ("2017", "2031", "2041"))


@pytest.fixture
def mika(desk: Desk) -> Desk:
    """Return the desk with Mika at it, who inked 12 of 22 kept sherds, Lio 8, two with a slip; renumbered since."""
    put_settled(desk, 131)
    mika = sitting(desk, "Mika")
    write_marks(mika, "131", pieces=12)
    write_marks(mika, "131", pieces=8, who="Lio")
    check_marks(mika, "131", pieces=6, who="Oren")
    slip_bag(mika, "131", pieces=2)
    renumber_deposit(mika, "2017", to="2031", reason="one layer")
    return mika


def line_of(desk: Desk) -> MarkLine:
    return next(one for one in mark_lines(desk) if one.number == "131")


def waiting(desk: Desk) -> list[tuple[Written, int, str, str]]:
    by_hand = (Written.MARK, Written.SLIP)
    return [(one.what, one.pieces, one.said, one.says_now) for one in things_to_redo(desk) if one.what in by_hand]


def ids(desk: Desk) -> list[int]:
    return [one.id for one in things_to_redo(desk) if one.what in (Written.MARK, Written.SLIP)]


def test_a_re_inking_taken_back_leaves_the_old_mark_to_be_written_again(mika: Desk) -> None:
    before, asked = line_of(mika).tally, waiting(mika)
    redo_done(mika, ids(mika), sure=True)
    assert (line_of(mika).tally.written, line_of(mika).tally.outdated) == (20, 0)
    first = answer_newest_tick(mika, "131", why="another bucket's sherds")
    second = answer_newest_tick(mika, "131", why="another bucket's sherds")
    assert [(one.pieces, one.instead_of) for one in (first, second)] == [(2, OLD), (20, OLD)]
    now = line_of(mika).tally
    assert (now.outdated, now.written, now.slipped, now.bags, now.left) == (20, 0, 2, 1, before.left)
    assert waiting(mika) == asked
    renumber_deposit(mika, "2031", to="2017", reason="it was two")
    assert (line_of(mika).tally.written, waiting(mika)) == (20, [])
    with refused(mika, "checks_own_marks"):
        check_marks(mika, "131", pieces=9)
    check_marks(mika, "131", pieces=8)
    assert prove(mika).sound


def test_a_mark_written_over_twice_is_taken_back_twice(mika: Desk) -> None:
    write_marks_again(mika, "131")
    renumber_deposit(mika, "2031", to="2041", reason="again")
    write_marks_again(mika, "131", pieces=5)
    answer_newest_tick(mika, "131", why="by mistake")
    texts = [(said, n) for what, n, said, _now in waiting(mika) if what is Written.MARK]
    assert texts == [(NEW, 20)]
    answer_newest_tick(mika, "131", why="by mistake")
    texts = [(said, n) for what, n, said, _now in waiting(mika) if what is Written.MARK]
    assert sorted(texts) == [(OLD, 5), (NEW, 15)]
    assert (line_of(mika).tally.outdated, line_of(mika).tally.left) == (20, 0)
    assert prove(mika).sound


def test_marks_are_inked_again_in_parts_by_whom_it_was(mika: Desk) -> None:
    line = write_marks_again(mika, "131", pieces=15, who="Lio")
    assert (line.tally.written, line.tally.outdated, line.tally.checked) == (15, 5, 0)
    assert last_said(mika) == f"131: 15 × {NEW}"
    assert (Written.MARK, 5, OLD, NEW) in waiting(mika)
    assert prove(mika).sound
    with refused(mika, "more_than_again") as caught:
        write_marks_again(mika, "131", pieces=6)
    assert "5 marks to be written again" in caught.value.in_words(mika.terms)
    with refused(mika, "no_pieces"):
        write_marks_again(mika, "131", pieces=0)
    with refused(mika, "unknown_person"):
        write_marks_again(mika, "131", who="Nobody")
    with refused(mika, "checks_own_marks") as caught:
        check_marks(mika, "131", who="Lio")
    assert "Lio" in caught.value.in_words(mika.terms)
    assert check_marks(mika, "131").tally.checked == 2
    assert write_marks_again(mika, "131").tally.written == 20
    assert [one[0] for one in waiting(mika)] == [Written.SLIP]
    with refused(mika, "nothing_to_redo"):
        write_marks_again(mika, "131")
    assert prove(mika).sound


def test_a_part_taken_back_joins_the_rest(mika: Desk) -> None:
    do(mika, "write-marks-again", {"pieces": "15", "who": "Lio"}, ("131",))
    answer_newest_tick(mika, "131", why="not done")
    assert (line_of(mika).tally.written, line_of(mika).tally.outdated) == (0, 20)
    assert (Written.MARK, 20, OLD, NEW) in waiting(mika)
    assert prove(mika).sound


def test_who_wrote_all_again_is_said_and_asked_by_name(mika: Desk) -> None:
    put_settled(mika, 132, deposit="2031", marked=True)
    renumber_deposit(mika, "2031", to="2041", reason="again")
    with pytest.raises(Question) as asked:
        redo_done(mika, ids(mika), who="Lio")
    assert asked.value.facts["who"] == "Lio"
    redo_done(mika, ids(mika), who="Lio", sure=True)
    with refused(mika, "checks_own_marks"):
        check_marks(mika, "131", who="Lio")
    check_marks(mika, "131")


def test_more_than_there_is_room_for_names_the_way_to_write_again(mika: Desk) -> None:
    with refused(mika, "more_than_kept") as caught:
        write_marks(mika, "131", pieces=10)
    assert "20 to be written again" in caught.value.in_words(mika.terms)
