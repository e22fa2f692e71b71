"""A return written by mistake is answered: what counted as back is out again, and all that followed is undone."""

from __future__ import annotations

import pytest

from findsdesk.desk.bagging import bag
from findsdesk.desk.boxes import add_box
from findsdesk.desk.boxing import put_into_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.loan_returns import give_back
from findsdesk.desk.loans import loan_named, loans_out
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.proving import prove
from findsdesk.desk.proxy_slips import slips_in_bag
from findsdesk.desk.returns_taken_back import take_return_back
from findsdesk.desk.samples import sample_of, take_sample
from findsdesk.desk.sorting import add_group, settle
from findsdesk.desk.taking_away import out_now, take_away
from findsdesk.domain.lending import BorrowerKind, LoanStanding
from findsdesk.domain.standings import Standing
from tests.desk.at_the_table import dry_container, refused
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.desk.test_loans import lent
from tests.yard import DRY, acts, advance, last_said, put_container, standing_of


@pytest.fixture
def glass(desk: Desk) -> str:
    """Return a bag of 22 pieces of glass that went to the specialist."""
    code = put_bags(desk, 131, [84.0], material="glass", pieces=22)[0]
    lent(desk, code)
    return code


def test_a_whole_return_is_taken_back_in_part_and_altogether(desk: Desk, glass: str) -> None:
    give_back(desk, "1", condition="sound")
    advance(desk, minutes=5)
    one_out = take_return_back(desk, "1", glass, why="21 came, not 22", pieces=1)
    assert (one_out.standing, one_out.back_on, one_out.still_out) == (LoanStanding.PARTLY_BACK, None, 1)
    assert last_said(desk) == f"1: {glass}, 1: 21 came, not 22"
    none_back = take_return_back(desk, "1", glass, why="another parcel")
    assert (none_back.still_out, none_back.lines[0].condition_back, none_back.standing) == (22, "", LoanStanding.OUT)
    assert loans_out(desk) == (none_back,)
    assert prove(desk).sound
    assert give_back(desk, "1", [glass]).back_on is not None
    assert prove(desk).sound


def test_a_box_a_container_a_piece_and_a_sample_are_out_again(desk: Desk) -> None:
    furnish_store(desk)
    add_box(desk, kind="sherds", place="Shelf 1")
    put_into_box(desk, "1", put_bags(desk, 140, [500.0]))
    metal = put_container(desk, 132, material="metal", steps=DRY)
    sherds = dry_container(desk, 133, 6)
    group = add_group(desk, sherds, ware="QRS", part="rim", pieces=6, tenths=600)
    piece = lift_pieces(desk, group.id, seen=group.version, how_many=2).pieces[0]
    settle(desk, sherds)
    its_bag = bag(desk, sherds)[0]
    named = ["box 1", metal, piece.code]
    lent(desk, *named, kind=BorrowerKind.CONSERVATOR)
    give_back(desk, "1")
    take_away(desk, ["1"], to="Drawing table")
    assert slips_in_bag(desk, its_bag.code) == ()
    for one in named:
        take_return_back(desk, "1", one, why="the parcel is still there")
    assert loan_named(desk, "1").still_out == sum(line.pieces for line in loan_named(desk, "1").lines)
    assert standing_of(desk, metal) is Standing.AWAY
    assert len(slips_in_bag(desk, its_bag.code)) == 1
    assert out_now(desk) == ()
    assert prove(desk).sound
    give_back(desk, "1")
    assert prove(desk).sound


def test_what_cannot_be_out_again_is_refused_and_nothing_changes(desk: Desk, glass: str) -> None:
    other = put_bags(desk, 141, [90.0], material="glass", pieces=5)[0]
    for code, act in (
        ("not_back", lambda: take_return_back(desk, "1", glass, why="no")),
        ("not_of_this_loan", lambda: take_return_back(desk, "1", other, why="no")),
        ("unknown_loan", lambda: take_return_back(desk, "7", glass, why="no")),
        ("empty", lambda: take_return_back(desk, "1", glass, why=" ")),
    ):
        _refused(desk, code, act)
    give_back(desk, "1")
    for pieces in (0, -1, 23):
        _refused(
            desk, "more_than_back", lambda pieces=pieces: take_return_back(desk, "1", glass, why="no", pieces=pieces)
        )
    lent(desk, glass)
    _refused(desk, "on_loan", lambda: take_return_back(desk, "1", glass, why="no"))
    assert prove(desk).sound


def _refused(desk: Desk, code: str, act: object) -> None:
    before, loan = acts(desk), loan_named(desk, "1")
    with refused(desk, code):
        act()  # type: ignore[operator]
    assert (acts(desk), loan_named(desk, "1")) == (before, loan)


def test_a_sample_is_at_the_laboratory_again_and_what_was_used_up_stays_so(desk: Desk) -> None:
    code = dry_container(desk, 131, 6)
    take_sample(desk, code, what_for="thin section", taken_tenths=20, pieces_used=1)
    lent(desk, "sample 1", kind=BorrowerKind.LABORATORY, permit="VE-26-014", borrower="Harbour laboratory")
    give_back(desk, "1")
    take_return_back(desk, "1", "sample 1", why="its box only")
    assert sample_of(desk, 1).back_on is None
    give_back(desk, "1", ["sample 1"], used_up=1)
    _refused(desk, "not_back", lambda: take_return_back(desk, "1", "sample 1", why="no"))
    assert prove(desk).sound
