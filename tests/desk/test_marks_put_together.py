"""Marks go where their sherds go: into another container, with what stands on them, and are to be written again."""

from __future__ import annotations

import pytest

from findsdesk.desk.bagging import bag, bags_of
from findsdesk.desk.boxes import add_box
from findsdesk.desk.boxing import box_with_bags, put_into_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.mark_lines import MarkLine, mark_lines
from findsdesk.desk.marking import check_marks, slip_bag, write_marks
from findsdesk.desk.moving import put_together
from findsdesk.desk.proving import prove
from findsdesk.desk.redoing import Written, redo_done, things_to_redo
from findsdesk.desk.sorting import add_group, remove_group, reopen, settle, table_of
from findsdesk.domain.balance import Decision
from tests.desk.at_the_table import refused
from tests.yard import put_settled, sitting

OLD, NEW = "VE-26-014 / 2017-131", "VE-26-014 / 2017-132"


@pytest.fixture
def mika(desk: Desk) -> Desk:
    """Return the desk with the registrar at it: 131 and 132 settled with 22 of 32 sherds kept, 131 marked."""
    put_settled(desk, 131)
    put_settled(desk, 132)
    mika = sitting(desk, "Mika")
    write_marks(mika, "131", pieces=20)
    check_marks(desk, "131", pieces=4)
    slip_bag(mika, "131", pieces=2)
    return mika


def line_of(desk: Desk, number: str) -> MarkLine:
    return next(one for one in mark_lines(desk) if one.number == number)


def empty_into_132(desk: Desk) -> None:
    reopen(desk, "131", reason="one tray")
    for row in table_of(desk, "131").groups:
        remove_group(desk, row.id, seen=row.version)
    reopen(desk, "132", reason="one tray")
    put_together(desk, "131", into="132", reason="one tray")
    add_group(desk, "132", ware="QRS", part="body", pieces=32)
    settle(desk, "132")


def test_marks_of_an_emptied_container_are_borne_in_the_other_and_written_again(mika: Desk) -> None:
    empty_into_132(mika)
    tally = line_of(mika, "132").tally
    assert (tally.kept, tally.outdated, tally.slipped, tally.bags, tally.left) == (54, 20, 2, 1, 32)
    marks = [one for one in things_to_redo(mika) if one.what in (Written.MARK, Written.SLIP)]
    assert sorted((one.what, one.number, one.pieces, one.said, one.says_now) for one in marks) == [
        (Written.MARK, "132", 20, OLD, NEW),
        (Written.SLIP, "132", 1, OLD, NEW),
    ]
    redo_done(mika, [one.id for one in marks], sure=True)
    tally = line_of(mika, "132").tally
    assert (tally.written, tally.outdated, tally.slipped, tally.checked) == (20, 0, 2, 0)
    assert prove(mika).sound


def test_no_bag_is_left_of_a_container_that_was_emptied_into_another(mika: Desk) -> None:
    (code,) = [one.code for one in bag(mika, "131")]
    add_box(mika, kind="sherds")
    put_into_box(mika, "1", [code])
    empty_into_132(mika)
    assert bags_of(mika, "131") == ()
    assert box_with_bags(mika, "1").box.bags == 0
    assert prove(mika).sound


def test_the_marks_of_both_count_when_it_is_settled(mika: Desk) -> None:
    """More sherds bear a mark than are kept: those of the container that was emptied count too."""
    reopen(mika, "131", reason="one tray")
    for row in table_of(mika, "131").groups:
        remove_group(mika, row.id, seen=row.version)
    reopen(mika, "132", reason="one tray")
    put_together(mika, "131", into="132", reason="one tray")
    for row in table_of(mika, "132").groups:
        remove_group(mika, row.id, seen=row.version)
    add_group(mika, "132", ware="QRS", part="body", pieces=63, decision=Decision.HOLD)
    add_group(mika, "132", ware="QRS", part="rim", pieces=1)
    with refused(mika, "marked_not_kept"):
        settle(mika, "132")
