"""Slips, pieces, boxes, places and loans: of today, of what is in hand, all that wait, or all that were printed."""

import pytest

from findsdesk.desk.bagging import bag
from findsdesk.desk.desk import Desk
from findsdesk.desk.label_contents import PrintKind
from findsdesk.desk.label_gathering import gather
from findsdesk.desk.laying_out import lay_out
from findsdesk.desk.other_labels import MADE_AT, PaperOut, Which, other_labels, papers_out
from findsdesk.desk.printing import came_out_well
from tests.yard import put_settled, sitting


@pytest.mark.parametrize("kind", MADE_AT)
def test_a_kind_of_which_there_is_none_has_none(desk: Desk, kind: PrintKind) -> None:
    found = other_labels(desk, kind)
    assert (found.which, found.batch.labels) == (Which.WAITING, ())
    assert set(found.waiting.values()) == {0}
    assert other_labels(desk, kind, Which.AGAIN).printed == ()


def test_what_was_printed_waits_no_longer_and_can_be_printed_again(desk: Desk) -> None:
    put_settled(desk, 131)
    mika = sitting(desk, "Mika")
    bags = bag(mika, "131")
    codes = tuple(sorted(one.code for one in bags))
    which = bags[0].container_id
    found = other_labels(mika, PrintKind.SLIP, container_id=which)
    assert (found.which, tuple(sorted(one.code for one in found.batch.labels))) == (Which.TODAY, codes)
    assert found.waiting == {Which.TODAY: len(codes), Which.IN_HAND: len(codes), Which.WAITING: len(codes)}
    assert other_labels(mika, PrintKind.SLIP, Which.IN_HAND).batch.labels == (), "nothing is in hand"
    assert papers_out(mika, which) == ()
    came_out_well(mika, lay_out(mika, gather(mika, PrintKind.SLIP), stock="a4-3x8-70x37"))
    again = other_labels(mika, PrintKind.SLIP, Which.AGAIN)
    assert (again.batch.labels, tuple(sorted(again.printed))) == ((), codes)
    assert papers_out(mika, which) == tuple(PaperOut(PrintKind.SLIP, code) for code in codes)
