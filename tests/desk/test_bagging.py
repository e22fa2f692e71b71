"""What stays goes into bags: diagnostic pieces and body sherds apart, each bag a code of its own."""

import pytest

from findsdesk.desk.bagging import (
    BagOf,
    BagProposal,
    bag,
    bag_unsorted,
    bags_of,
    bags_to_label,
    propose_bags,
    settled_to_bag,
)
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.sorting import add_group, change_group, reopen, settle, table_of
from findsdesk.desk.washing import mark_dry
from findsdesk.domain.balance import Decision
from findsdesk.domain.codes import Kind, read_code
from findsdesk.domain.standings import Standing, StepKind
from tests.desk.at_the_table import dry_container, prove_totals, refused
from tests.yard import ARRIVED, DRY, advance, put_container, standing_of


def settled_container(desk: Desk, number: int, **facts: object) -> str:
    """Sort 20 sherds: 3 rims and a handle kept, 9 body sherds kept, 5 discarded, 2 on hold."""
    code = dry_container(desk, number, 20, **facts)
    add_group(desk, code, ware="QRS", part="rim", pieces=3, tenths=600)
    add_group(desk, code, ware="TGY", part="handle", pieces=1, tenths=205)
    add_group(desk, code, ware="QRS", part="body", pieces=9)
    add_group(desk, code, ware="", part="body", pieces=5, decision=Decision.DISCARD, reason="modern")
    add_group(desk, code, ware="GGL", part="body", pieces=2, tenths=90, decision=Decision.HOLD)
    settle(desk, code)
    return code


def test_diagnostic_pieces_lie_apart(desk: Desk) -> None:
    code = settled_container(desk, 131)
    assert propose_bags(desk, code) == (
        BagProposal(BagOf.DIAGNOSTIC, 4, 805),
        BagProposal(BagOf.BODY, 9, None),
        BagProposal(BagOf.HOLD, 2, 90),
    )
    assert [row.pieces for row in settled_to_bag(desk)] == [15]
    packed = bag(desk, code)
    assert standing_of(desk, code) is Standing.BAGGED
    assert settled_to_bag(desk) == ()
    assert bags_of(desk, code) == bags_to_label(desk) == packed
    assert [read_code(row.code, "TQ").kind for row in packed] == [Kind.BAG] * 3
    assert [read_code(row.code, "TQ").serial for row in packed] == [1, 2, 3]
    assert (packed[0].number, packed[0].deposit, packed[0].square, packed[0].label_copy) == ("131", "2017", "A1", 0)
    assert table_of(desk, packed[0].code).number == "131"
    prove_totals(desk)


def test_what_stands_elsewhere_is_not_bagged(desk: Desk) -> None:
    code = dry_container(desk, 131, 5)
    add_group(desk, code, ware="QRS", part="rim", pieces=5)
    with refused(desk, "not_settled"):
        bag(desk, code)
    settle(desk, code)
    bag(desk, code)
    with refused(desk, "already_bagged"):
        bag(desk, code)
    other = dry_container(desk, 132, 5)
    with refused(desk, "sorted_here"):
        bag_unsorted(desk, other)


def test_there_is_no_bag_without_kept_pieces(desk: Desk) -> None:
    code = dry_container(desk, 131, 5)
    add_group(desk, code, ware="", part="body", pieces=5, decision=Decision.DISCARD, reason="modern")
    settle(desk, code)
    assert propose_bags(desk, code) == ()
    with refused(desk, "nothing_to_bag"):
        bag(desk, code)
    assert settled_to_bag(desk) == ()


def test_bags_packed_otherwise_hold_every_piece(desk: Desk) -> None:
    code = settled_container(desk, 131)
    with refused(desk, "bags_do_not_add_up"):
        bag(desk, code, bags=[BagProposal(BagOf.ALL, 14, None)])
    with refused(desk, "bags_do_not_add_up"):
        bag(desk, code, bags=[BagProposal(BagOf.ALL, 16, None), BagProposal(BagOf.HOLD, -1, None)])
    packed = bag(desk, code, bags=[BagProposal(BagOf.ALL, 8, None), BagProposal(BagOf.ALL, 7, None)])
    assert [row.pieces for row in packed] == [8, 7]


def test_a_reopened_container_keeps_the_codes_of_its_bags(desk: Desk) -> None:
    code = dry_container(desk, 131, 10)
    rim = add_group(desk, code, ware="QRS", part="rim", pieces=4)
    body = add_group(desk, code, ware="QRS", part="body", pieces=6)
    settle(desk, code)
    diagnostic, plain = bag(desk, code)
    reopen(desk, code, reason="look again")
    change_group(desk, rim.id, seen=rim.version, pieces=10)
    change_group(desk, body.id, seen=body.version, part="rim", pieces=1, decision=Decision.HOLD)
    with refused(desk, "over"):
        settle(desk, code)
    change_group(desk, rim.id, seen=rim.version + 1, pieces=9)
    settle(desk, code)
    again, held = bag(desk, code)
    assert (again.code, again.pieces) == (diagnostic.code, 9)
    assert (held.what, held.pieces) == (BagOf.HOLD, 1)
    assert (diagnostic.is_new, again.is_new, held.is_new) == (True, False, True)
    assert plain.code not in [row.code for row in bags_to_label(desk)]


def test_what_is_not_sorted_here_goes_into_one_bag_when_it_is_dry(desk: Desk) -> None:
    metal = put_container(desk, 131, material="metal", steps=ARRIVED)
    with refused(desk, "not_dry"):
        bag_unsorted(desk, metal)
    log_count(desk, metal, pieces=7, tenths=420)
    advance(desk, hours=9)
    mark_dry(desk, [metal])
    (packed,) = bag(desk, metal)
    assert (packed.what, packed.pieces, packed.tenths, packed.material) == (BagOf.ALL, 7, 420, "metal")


def test_bone_is_bagged_when_it_came_back(desk: Desk) -> None:
    bone = put_container(desk, 131, material="bone", steps=(*ARRIVED, StepKind.HANDED_ON, StepKind.CAME_BACK))
    with refused(desk, "not_counted_yet"):
        bag_unsorted(desk, bone)
    log_count(desk, bone, pieces=12)
    assert [row.pieces for row in bag_unsorted(desk, bone)] == [12]


def test_a_closed_sample_is_one_bag(desk: Desk) -> None:
    soil = put_container(desk, 131, material="soil_sample", steps=(*ARRIVED, StepKind.CLOSED))
    assert [(row.what, row.pieces, row.tenths) for row in bag(desk, soil)] == [(BagOf.ALL, 1, None)]


@pytest.mark.parametrize("material", ["tile_brick", "slag", "worked_stone"])
def test_other_materials_sorted_here_are_not_told_apart_by_part(desk: Desk, material: str) -> None:
    code = put_container(desk, 131, material=material, steps=DRY)
    log_count(desk, code, pieces=6)
    add_group(desk, code, ware="", part="other", pieces=6)
    settle(desk, code)
    assert propose_bags(desk, code) == (BagProposal(BagOf.ALL, 6, None),)


def test_bags_wait_for_their_labels_in_natural_order(desk: Desk) -> None:
    for number, deposit in ((131, "2019"), (12, "2017"), (9, "2017")):
        bag(desk, settled_container(desk, number, deposit=deposit))
    assert [(row.deposit, row.number) for row in bags_to_label(desk)][::3] == [
        ("2017", "9"),
        ("2017", "12"),
        ("2019", "131"),
    ]
