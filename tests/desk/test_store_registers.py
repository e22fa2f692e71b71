"""The registers of boxes, places and loans, and where bags lie in theirs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path

import pytest

from findsdesk.desk.boxes import add_box, give_up_box
from findsdesk.desk.boxing import put_into_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.in_store import found_in_store
from findsdesk.desk.loan_returns import give_back
from findsdesk.desk.loans import lend
from findsdesk.desk.register_columns import fields_of, wording
from findsdesk.desk.register_files import value_in_words, write_register
from findsdesk.desk.registers import Register, RegisterQuery, count, page, sorts_of
from findsdesk.desk.taking_away import take_away
from findsdesk.domain.lending import BorrowerKind
from findsdesk.domain.refusals import Refusal
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.yard import advance


@pytest.fixture
def full(desk: Desk) -> Desk:
    """Four boxes, one out, one given up; two loans, one back, one late."""
    furnish_store(desk)
    sherds = put_bags(desk, 131, [9_500, 600])
    glass = put_bags(desk, 132, [84, 40], deposit="2003", material="glass")
    add_box(desk, kind="sherds", place="Shelf 1", how_many=2)
    add_box(desk, kind="glass", place="Shelf 2", note="on top")
    add_box(desk, kind="bone")
    give_up_box(desk, "4")
    put_into_box(desk, "1", sherds[:1])
    put_into_box(desk, "3", glass[:1])
    take_away(desk, ["3"], to="Drawing table", why="drawing")
    due = desk.now().date() + timedelta(days=7)
    for bag, who, kind in (
        (glass[1], "Nela Trost", BorrowerKind.SPECIALIST),
        (sherds[1], "Kiln House", BorrowerKind.CONSERVATOR),
    ):
        lend(desk, [bag], borrower=who, kind=kind, purpose="report", due_on=due)
    give_back(desk, "2")
    advance(desk, days=9)
    return desk


def narrowed(*filters: tuple[str, str], text: str = "") -> RegisterQuery:
    return RegisterQuery(text, filters)


def shown(desk: Desk, register: Register, query: RegisterQuery, column: str) -> list[str]:
    say = wording(desk)
    field = next(one for one in fields_of(register, for_file=True) if one.key == column)
    return [value_in_words(field.value(row, say), desk) for row in page(desk, register, query)]


@pytest.mark.parametrize(
    ("register", "query", "column", "found"),
    [
        (Register.BOXES, narrowed(), "number", ["1", "2", "3", "4"]),
        (Register.BOXES, narrowed(("place", "Store")), "number", ["1", "2", "3"]),
        (Register.BOXES, narrowed(("place", "Shelf 2")), "kind", ["Glass and beads"]),
        (Register.BOXES, narrowed(("box_kind", "glass")), "number", ["3"]),
        (Register.BOXES, narrowed(("deposit", "2003")), "deposits", ["2003"]),
        (Register.BOXES, narrowed(("out", "yes")), "away", ["Dig house › Drawing room › Drawing table"]),
        (Register.BOXES, narrowed(("in_use", "no")), "away", ["given up"]),
        (Register.BOXES, narrowed(text="2003"), "number", ["3"]),
        (Register.BOXES, narrowed(text="TOP"), "number", ["3"]),
        (Register.BOXES, narrowed(text="shelf"), "number", ["1", "2", "3"]),
        (Register.BOXES, narrowed(("deposit", "2017")), "full", ["95.0"]),
        (Register.PLACES, narrowed(("place_kind", "shelf")), "name", ["Shelf 1", "Shelf 2", "Shelf 3"]),
        (Register.PLACES, narrowed(("place", "Store"), text="shelf"), "boxes", ["2", "1", "0"]),
        (Register.PLACES, narrowed(text="drawing table"), "taken_here", ["1"]),
        (Register.LOANS, narrowed(), "number", ["1", "2"]),
        (Register.LOANS, narrowed(("loan", "overdue")), "late", ["2"]),
        (Register.LOANS, narrowed(("loan", "back")), "borrower", ["Kiln House"]),
        (Register.LOANS, narrowed(("borrower_kind", "specialist")), "still_out", ["10"]),
        (Register.LOANS, narrowed(text="kiln"), "standing", ["back"]),
        (Register.BAGS, narrowed(("box", "3")), "place", ["Dig house › Store › Shelf 2"]),
        (Register.BAGS, narrowed(("box", "no")), "box", ["", ""]),
    ],
)
def test_what_is_found(full: Desk, register: Register, query: RegisterQuery, column: str, found: Sequence[str]) -> None:
    assert shown(full, register, query, column) == found
    assert count(full, register, query) == len(found)


@pytest.mark.parametrize(
    ("register", "name", "value", "code"),
    [
        (Register.BOXES, "place", "Cellar", "unknown_place"),
        (Register.BOXES, "box_kind", "tin", "unknown_box_kind"),
        (Register.PLACES, "place_kind", "cupboard", "unknown_value"),
        (Register.LOANS, "loan", "lost", "unknown_value"),
        (Register.BAGS, "box", "99", "unknown_box"),
    ],
)
def test_a_value_that_is_none_is_refused(full: Desk, register: Register, name: str, value: str, code: str) -> None:
    with pytest.raises(Refusal) as caught:
        page(full, register, narrowed((name, value)))
    assert caught.value.code == code


@pytest.mark.parametrize("register", [Register.BOXES, Register.PLACES, Register.LOANS])
def test_each_offered_order_works_both_ways_and_goes_out_as_a_file(
    full: Desk, register: Register, tmp_path: Path
) -> None:
    for sort in sorts_of(register):
        rows = page(full, register, RegisterQuery(sort=sort))
        assert page(full, register, RegisterQuery(sort=sort, descending=True)) == rows[::-1]
    written = write_register(full, register, path=tmp_path / "rows.csv")
    assert written == count(full, register)


def test_a_label_of_the_store_leads_to_what_it_stands_for(full: Desk) -> None:
    box, place, loan = (page(full, one)[0] for one in (Register.BOXES, Register.PLACES, Register.LOANS))
    assert [type(found_in_store(full, one.code)).__name__ for one in (box, place, loan)] == [
        "BoxWithBags",
        "PlaceWithBoxes",
        "LoanFacts",
    ]
    bag = page(full, Register.BAGS)[0]
    assert found_in_store(full, bag.code) is None
    assert found_in_store(full, "131") is None


def test_the_dossier_says_where_each_bag_lies(full: Desk) -> None:
    found = find(full, "132")
    assert isinstance(found, Dossier)
    first, second = (bag.lies for bag in found.bags)
    assert first is not None
    assert (first.box, first.place, first.away) == (
        3,
        "Dig house › Store › Shelf 2",
        "Dig house › Drawing room › Drawing table",
    )
    assert second is not None
    assert (second.box, second.away) == (None, "Nela Trost")
    assert date(2026, 7, 14) < full.now().date()
