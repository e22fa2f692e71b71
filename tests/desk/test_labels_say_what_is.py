"""Slips and labels of pieces follow their bag and their piece: packed anew, to be mended, used up."""

from __future__ import annotations

from findsdesk.desk.bagging import bag
from findsdesk.desk.desk import Desk
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.printing import PrintKind, came_out_well, gather, lay_out
from findsdesk.desk.samples import take_sample
from findsdesk.desk.sorting import add_group, change_group, reopen, settle, table_of
from findsdesk.domain.balance import Decision
from findsdesk.paper.label_kinds import SlipLabel
from tests.desk.at_the_table import dry_container, refused
from tests.yard import advance

SHEET = "a4-3x8-70x37"


def packed(desk: Desk) -> str:
    """Bag a container of ten body sherds; returns its code."""
    code = dry_container(desk, 131, 10)
    add_group(desk, code, ware="QRS", part="body", pieces=10, tenths=900)
    settle(desk, code)
    bag(desk, code)
    return code


def pack_anew(desk: Desk, code: str, tenths: int) -> None:
    advance(desk, minutes=5)
    reopen(desk, code, reason="weighed again")
    (row,) = table_of(desk, code).groups
    change_group(desk, row.id, seen=row.version, tenths=tenths)
    settle(desk, code, sure=True)
    bag(desk, code)


def test_a_slip_of_a_bag_packed_anew_waits_again_as_its_next_copy(desk: Desk) -> None:
    code = packed(desk)
    came_out_well(desk, lay_out(desk, gather(desk, PrintKind.SLIP), stock=SHEET))
    pack_anew(desk, code, 800)
    (label,) = (one.label for one in gather(desk, PrintKind.SLIP).labels)
    assert isinstance(label, SlipLabel)
    assert (label.tenths, label.copy) == (800, 2)
    advance(desk, minutes=5)
    came_out_well(desk, lay_out(desk, gather(desk, PrintKind.SLIP, [label.code]), stock=SHEET))
    assert gather(desk, PrintKind.SLIP).labels == ()


def test_a_slip_drawn_before_its_bag_was_packed_anew_is_not_written_down(desk: Desk) -> None:
    code = packed(desk)
    sheets = lay_out(desk, gather(desk, PrintKind.SLIP), stock=SHEET)
    pack_anew(desk, code, 800)
    with refused(desk, "packed_meanwhile"):
        came_out_well(desk, sheets)


def test_pieces_to_mend_have_labels_and_pieces_used_up_have_none(desk: Desk) -> None:
    code = dry_container(desk, 131, 10)
    rims = add_group(desk, code, ware="QRS", part="rim", pieces=5, tenths=600, decision=Decision.MEND)
    add_group(desk, code, ware="QRS", part="body", pieces=5)
    pieces = lift_pieces(desk, rims.id, seen=rims.version, how_many=2).pieces
    assert {one.code for one in gather(desk, PrintKind.PIECE).labels} == {one.code for one in pieces}
    take_sample(desk, pieces[0].code, what_for="thin section", pieces_used=1)
    assert [one.code for one in gather(desk, PrintKind.PIECE).labels] == [pieces[1].code]
    with refused(desk, "piece_used_up"):
        gather(desk, PrintKind.PIECE, [pieces[0].code])
