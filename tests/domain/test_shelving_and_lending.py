"""Places as a tree, and when a loan is late."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.lending import LoanStanding, check_days, check_return, days_overdue, standing
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import PlaceKind, all_within, check_no_circle, check_within, circles, way_out

# 1 building, 2 and 3 rooms, 4 shelf in room 2, 5 board of that shelf
PARENTS: dict[int, int | None] = {1: None, 2: 1, 3: 1, 4: 2, 5: 4}


def test_the_way_out_and_what_lies_within() -> None:
    assert way_out(5, PARENTS) == (4, 2, 1)
    assert way_out(1, PARENTS) == ()
    assert all_within(2, PARENTS) == {2, 4, 5}
    assert all_within(1, PARENTS) == {1, 2, 3, 4, 5}
    assert circles(PARENTS) == frozenset()
    assert circles({**PARENTS, 1: 5}) == {1, 2, 4, 5}


@pytest.mark.parametrize("outer", [2, 4, 5])
def test_no_place_lies_within_itself(outer: int) -> None:
    with pytest.raises(Refusal) as caught:
        check_no_circle(2, outer, PARENTS)
    assert caught.value.code == "place_circle"


def test_a_place_may_move_out_of_itself() -> None:
    check_no_circle(4, 3, PARENTS)
    check_no_circle(4, None, PARENTS)


@given(st.dictionaries(st.integers(0, 6), st.none() | st.integers(0, 6)))
def test_the_way_out_always_ends(parents: dict[int, int | None]) -> None:
    for one in parents:
        way = way_out(one, parents)
        assert len(way) == len(set(way))
    for inside in circles(parents):
        assert inside in way_out(inside, parents)


@pytest.mark.parametrize(
    ("kind", "outer"),
    [
        (PlaceKind.ROOM, PlaceKind.SHELF),
        (PlaceKind.BUILDING, PlaceKind.BUILDING),
        (PlaceKind.SHELF, PlaceKind.PERSON),
        (PlaceKind.TABLE, PlaceKind.SHELF),
        (PlaceKind.PERSON, PlaceKind.ROOM),
    ],
)
def test_what_cannot_lie_within_what(kind: PlaceKind, outer: PlaceKind) -> None:
    with pytest.raises(Refusal) as caught:
        check_within(kind, outer)
    assert caught.value.code == "place_within"


def test_what_lies_within_what() -> None:
    check_within(PlaceKind.ROOM, PlaceKind.BUILDING)
    check_within(PlaceKind.SHELF, PlaceKind.ROOM)
    check_within(PlaceKind.SHELF, PlaceKind.SHELF)
    check_within(PlaceKind.SHELF, None)


DUE = date(2026, 8, 20)


def test_a_loan_is_late_from_the_day_after_it_was_due() -> None:
    assert days_overdue(DUE, None, DUE) == 0
    assert days_overdue(DUE, None, date(2026, 8, 21)) == 1
    assert days_overdue(DUE, None, date(2026, 9, 20)) == 31
    assert days_overdue(DUE, date(2026, 9, 1), date(2026, 9, 20)) == 0


def test_how_a_loan_stands() -> None:
    assert standing(DUE, None, DUE, 0) is LoanStanding.OUT
    assert standing(DUE, None, DUE, 21) is LoanStanding.PARTLY_BACK
    assert standing(DUE, None, date(2026, 8, 21), 21) is LoanStanding.OVERDUE
    assert standing(DUE, DUE, date(2026, 9, 1), 22) is LoanStanding.BACK


def test_days_of_a_loan() -> None:
    check_days(DUE, DUE)
    with pytest.raises(Refusal) as caught:
        check_days(DUE, date(2026, 8, 19))
    assert caught.value.code == "due_before_lent"


def test_what_a_return_may_say() -> None:
    check_return(21, 1, 22, thing="TQB0000017")
    for pieces, used_up, code in ((0, 0, "nothing_back"), (-1, 2, "nothing_back"), (22, 1, "more_back_than_out")):
        with pytest.raises(Refusal) as caught:
            check_return(pieces, used_up, 22, thing="TQB0000017")
        assert caught.value.code == code
