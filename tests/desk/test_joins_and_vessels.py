"""Joins between pieces, what they say across deposits, and vessels gathered over containers and seasons."""

from __future__ import annotations

from datetime import date

import pytest

from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.joins import (
    change_join,
    join_pieces,
    joins_between_deposits,
    joins_of,
    part_pieces,
)
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.pieces import lay_back, lift_pieces, pieces_of
from findsdesk.desk.playing import do
from findsdesk.desk.proving import prove
from findsdesk.desk.sorting import add_group, change_group, table_of
from findsdesk.desk.vessel_rows import gather_row, group_leaves_vessel
from findsdesk.desk.vessels import (
    change_vessel,
    gather_vessel,
    leave_vessel,
    pots_by_joins,
    vessel_of,
)
from findsdesk.domain.cross_joins import JoinsSay, what_joins_say
from findsdesk.domain.deposits import Security
from tests.desk.at_the_table import dry_container, kept_balances, kept_wares, refused
from tests.yard import earlier_season, last_said, sitting


def put_pieces(desk: Desk, number: int, how_many: int = 2, ware: str = "QRS", **facts: object) -> tuple[PieceRow, ...]:
    """Return pieces lifted out of the rims of a new container."""
    code = dry_container(desk, number, how_many, **facts)
    row = add_group(desk, code, ware=ware, part="rim", pieces=how_many, tenths=300 * how_many, rim_permille=None)
    return lift_pieces(desk, row.id, seen=row.version, how_many=how_many).pieces


def now(desk: Desk, piece: PieceRow) -> PieceRow:
    """Return a piece as it stands now."""
    return next(row for row in pieces_of(desk, piece.container_code) if row.id == piece.id)


def test_a_join_over_deposits_shows_on_both_sides_and_changes_no_count(desk: Desk) -> None:
    (one, _), (other, _) = put_pieces(desk, 131), put_pieces(desk, 87, deposit="2019")
    before = (kept_balances(desk), kept_wares(desk))
    join = join_pieces(desk, other.id, one.id, note="along the lip")
    assert {join.left.name, join.right.name} == {"131.1", "87.1"}
    assert joins_of(desk, one.id) == joins_of(desk, other.id) == (join,)
    assert join.other_than(one.id).deposit == "2019"
    assert now(desk, one).joins == 1
    assert (kept_balances(desk), kept_wares(desk)) == before
    (between,) = joins_between_deposits(desk)
    assert (between.one, between.other, between.joins, between.certain) == ("2017", "2019", 1, 1)
    assert between.says is JoinsSay.BOTH_SEALED
    assert between.pieces == ("87.1", "131.1")
    assert prove(desk).sound


def test_a_join_within_a_deposit_says_nothing_of_mixing(desk: Desk) -> None:
    one, other = put_pieces(desk, 131)
    join_pieces(desk, one.id, other.id, certain=False)
    assert last_said(desk) == "131.1 + 131.2 ?"
    assert joins_between_deposits(desk) == ()


@pytest.mark.parametrize(
    ("one", "other", "says"),
    [
        (Security.SEALED, Security.SEALED, JoinsSay.BOTH_SEALED),
        (Security.SEALED, Security.UNSEALED, JoinsSay.SEALED_CROSSED),
        (Security.NOT_SAID, Security.SEALED, JoinsSay.SEALED_CROSSED),
        (Security.MIXED, Security.SEALED, JoinsSay.ALREADY_MIXED),
        (Security.UNSEALED, Security.NOT_SAID, JoinsSay.NOTHING),
    ],
)
def test_what_joins_say_of_two_deposits(one: Security, other: Security, says: JoinsSay) -> None:
    """Ours; that joins across deposits speak of mixing is common practice, no source."""
    assert what_joins_say(one, other) is what_joins_say(other, one) is says


def test_a_join_is_changed_and_parted(desk: Desk) -> None:
    one, other = put_pieces(desk, 131)
    join = join_pieces(desk, one.id, other.id)
    doubtful = change_join(desk, join.id, seen=join.version, certain=False)
    assert not doubtful.certain
    with refused(desk, "changed_meanwhile"):
        part_pieces(desk, join.id, seen=join.version)
    part_pieces(desk, join.id, seen=doubtful.version)
    assert joins_of(desk, one.id) == ()
    with refused(desk, "join_gone"):
        part_pieces(desk, join.id, seen=doubtful.version)
    with refused(desk, "join_gone"):
        change_join(desk, join.id, seen=1, note="x")


def test_what_cannot_be_joined(desk: Desk) -> None:
    one, other = put_pieces(desk, 131)
    (grey, _) = put_pieces(desk, 132, ware="TGY")
    with refused(desk, "same_piece"):
        join_pieces(desk, one.id, one.id)
    join_pieces(desk, one.id, other.id)
    with refused(desk, "already_joined"):
        join_pieces(desk, other.id, one.id)
    with refused(desk, "wares_differ"):
        join_pieces(desk, one.id, grey.id)
    assert join_pieces(desk, one.id, grey.id, sure=True).certain
    with refused(desk, "piece_gone"):
        join_pieces(desk, one.id, 12)
    with refused(desk, "piece_in_use"):
        lay_back(desk, one.id, seen=one.version)


def test_a_vessel_gathers_over_containers_and_seasons(desk: Desk) -> None:
    earlier_season(desk)
    one, _ = put_pieces(desk, 131)
    old, _ = put_pieces(desk, 87, deposit=None, season="2024", collected_on=date(2024, 7, 12))
    vessel = gather_vessel(desk, [one.id, old.id], for_mending=True, note="foot missing")
    assert (vessel.number, vessel.for_mending, vessel.seasons) == (1, True, ("2026", "2024"))
    assert vessel.parts == (("131.1",), ("87.1",))
    join_pieces(desk, one.id, old.id)
    assert vessel_of(desk, 1).parts == (("131.1", "87.1"),)
    assert now(desk, one).vessel == 1
    changed = change_vessel(desk, 1, seen=vessel.version, for_mending=False, note="")
    assert (changed.for_mending, changed.note) == (False, "")
    with refused(desk, "changed_meanwhile"):
        change_vessel(sitting(desk, "Oren"), 1, seen=vessel.version, note="x")
    assert prove(desk).sound


def test_a_group_belongs_to_a_vessel_with_all_its_sherds(desk: Desk) -> None:
    one, _ = put_pieces(desk, 131)
    code = dry_container(desk, 132, 9)
    body = add_group(desk, code, ware="QRS", part="body", pieces=9)
    vessel = gather_vessel(desk, [one.id], group_ids=[body.id])
    assert vessel.in_groups == 9
    lifted = lift_pieces(desk, body.id, seen=table_of(desk, code).groups[0].version).pieces[0]
    assert lifted.vessel == vessel.number


def test_a_group_leaves_its_vessel_again(desk: Desk) -> None:
    one, _ = put_pieces(desk, 131)
    code = dry_container(desk, 132, 9)
    body = add_group(desk, code, ware="QRS", part="body", pieces=9, tenths=450)
    before = (kept_balances(desk), kept_wares(desk))
    with refused(desk, "in_no_vessel") as caught:
        group_leaves_vessel(desk, body.id, seen=body.version)
    assert "132 QRS body 9 is in no vessel" in caught.value.in_words(desk.terms)
    vessel = gather_vessel(desk, [one.id], group_ids=[body.id], for_mending=True)
    assert (last_said(desk), vessel.in_groups, vessel.rows_of) == ("1: 131.1, 132 QRS body 9", 9, ("132",))
    (row,) = table_of(desk, code).groups
    assert row.vessel == 1
    changed = change_group(desk, row.id, seen=row.version, pieces=8)
    assert changed.vessel == 1
    with refused(desk, "changed_meanwhile"):
        group_leaves_vessel(desk, body.id, seen=row.version)
    change_group(desk, row.id, seen=changed.version, pieces=9)
    (row,) = table_of(desk, code).groups
    assert group_leaves_vessel(desk, row.id, seen=row.version).vessel is None
    assert (last_said(desk), vessel_of(desk, 1).in_groups) == ("1: 132 QRS body 9", 0)
    assert (kept_balances(desk), kept_wares(desk)) == before
    # By place, as the terminal says it; the vessel goes with its last row, its number stays used.
    do(desk, "gather-row", {"for-mending": "yes"}, ("132", "1"))
    assert (table_of(desk, code).groups[0].vessel, vessel_of(desk, 2).for_mending) == (2, True)
    do(desk, "row-leaves-vessel", {}, ("132", "1"))
    with refused(desk, "unknown_vessel"):
        vessel_of(desk, 2)
    with refused(desk, "no_such_row"):
        gather_row(desk, "132", 2)
    with refused(desk, "row_gone"):
        group_leaves_vessel(desk, 12, seen=1)
    assert prove(desk).sound


def test_a_vessel_that_is_empty_goes_and_its_number_stays_used(desk: Desk) -> None:
    one, other = put_pieces(desk, 131)
    gather_vessel(desk, [one.id, other.id])
    leave_vessel(desk, one.id, seen=now(desk, one).version)
    assert [piece.name for piece in vessel_of(desk, 1).pieces] == ["131.2"]
    leave_vessel(desk, other.id, seen=now(desk, other).version)
    with refused(desk, "unknown_vessel"):
        gather_vessel(desk, [one.id], number=1)
    assert gather_vessel(desk, [one.id]).number == 2
    with refused(desk, "in_no_vessel"):
        leave_vessel(desk, other.id, seen=now(desk, other).version)


def test_what_cannot_be_gathered(desk: Desk) -> None:
    one, other = put_pieces(desk, 131)
    gather_vessel(desk, [one.id])
    with refused(desk, "nothing_gathered"):
        gather_vessel(desk, [])
    with refused(desk, "in_other_vessel"):
        gather_vessel(desk, [one.id, other.id])
    with refused(desk, "piece_gone"):
        gather_vessel(desk, [12])
    with refused(desk, "row_gone"):
        gather_vessel(desk, [other.id], group_ids=[12])
    with refused(desk, "unknown_vessel"):
        change_vessel(desk, 12, note="x")


def test_more_than_a_whole_rim_of_one_vessel_is_asked_about_not_refused(desk: Desk) -> None:
    """The shares are read on a chart: warned, never refused (trade rule, DERIVED)."""
    one, other = put_pieces(desk, 131)
    one = change_piece(desk, one.id, seen=one.version, rim_permille=600, rim_diameter_mm=180)
    other = change_piece(desk, other.id, seen=other.version, rim_permille=400, rim_diameter_mm=180)
    gather_vessel(desk, [one.id, other.id])
    with refused(desk, "rim_over_whole") as caught:
        change_piece(desk, other.id, seen=now(desk, other).version, rim_permille=410)
    assert caught.value.facts["percent"] == "101"
    change_piece(desk, other.id, seen=now(desk, other).version, rim_permille=410, sure=True)
    assert vessel_of(desk, 1).rim_permille == 1010
    assert last_said(desk).endswith("✓")


def test_pots_that_joins_show_are_offered_until_they_are_gathered(desk: Desk) -> None:
    one, other = put_pieces(desk, 131)
    third, fourth = put_pieces(desk, 132)
    join_pieces(desk, one.id, third.id)
    join_pieces(desk, other.id, fourth.id, certain=False)
    (pot,) = pots_by_joins(desk)
    assert {piece.name for piece in pot} == {"131.1", "132.1"}
    gather_vessel(desk, [one.id])
    assert len(pots_by_joins(desk)) == 1
    gather_vessel(desk, [third.id], number=1)
    assert pots_by_joins(desk) == ()


def test_all_of_it_by_name(desk: Desk) -> None:
    put_pieces(desk, 131)
    put_pieces(desk, 87, deposit="2019")
    do(desk, "join", {"note": "lip"}, ("131.1", "87.1"))
    do(desk, "gather-vessel", {"for-mending": "yes"}, ("131.1, 87.1",))
    do(desk, "change-vessel", {"note": "nearly whole"}, ("1",))
    assert vessel_of(desk, 1).note == "nearly whole"
    do(desk, "leave-vessel", {}, ("87.1",))
    do(desk, "part", {}, ("131.1", "87.1"))
    with refused(desk, "join_gone"):
        do(desk, "part", {}, ("131.1", "87.1"))
