"""Proving shelves and loans: what was tampered with in the file is found and named."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest

from findsdesk.desk.boxes import add_box
from findsdesk.desk.boxing import put_into_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.loan_returns import give_back
from findsdesk.desk.loans import lend
from findsdesk.desk.proving import FindingKind, prove
from findsdesk.desk.taking_away import take_away
from findsdesk.desk.transports import move_things
from findsdesk.domain.lending import BorrowerKind
from findsdesk.store.models import Bag
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.yard import new_yard


@pytest.fixture
def lived(tmp_path: Path) -> Iterator[Desk]:
    """A store with two boxes, four bags, something out, something under way, something half back from a loan."""
    desk = new_yard(tmp_path)
    furnish_store(desk)
    bags = put_bags(desk, 131, [500, 600, 700, 800])
    add_box(desk, kind="sherds", place="Shelf 1", how_many=2)
    put_into_box(desk, "1", bags[:2])
    move_things(desk, [bags[2]], to="Shelf 2", arrived=True)
    move_things(desk, ["2"], to="Shelf 3")
    take_away(desk, ["1"], to="Drawing table")
    lend(
        desk,
        [bags[3]],
        borrower="Nela Trost",
        kind=BorrowerKind.SPECIALIST,
        purpose="report",
        due_on=date(2026, 8, 20),
    )
    give_back(desk, "1", pieces=4)
    yield desk
    desk.let_go()


def test_a_store_with_shelves_written_by_its_deeds_is_sound(lived: Desk) -> None:
    assert [one.in_words(lived.terms) for one in prove(lived).findings] == []


@pytest.mark.parametrize(
    ("change", "kind", "where"),
    [
        ("UPDATE box SET place_id = NULL WHERE number = 1", FindingKind.SHELF, "box 1"),
        ("UPDATE bag SET place_id = NULL WHERE place_id IS NOT NULL", FindingKind.SHELF, "bag TQB"),
        ("UPDATE bag SET box_id = (SELECT max(id) FROM box) WHERE box_id IS NOT NULL", FindingKind.SHELF, "bag TQB"),
        ("UPDATE box SET gone_at = 1 WHERE number = 1", FindingKind.SHELF, "bag TQB"),
        ("UPDATE place SET gone_at = 1 WHERE name = 'Shelf 3'", FindingKind.SHELF, "box 2"),
        ("UPDATE place SET parent_id = id WHERE name = 'Shelf 2'", FindingKind.SHELF, "place TQL"),
        ("UPDATE transport SET arrived_at = 1 WHERE arrived_at IS NULL", FindingKind.SHELF, "transport 2"),
        ("UPDATE bag SET pieces = pieces + 1 WHERE id = (SELECT max(id) FROM bag)", FindingKind.BAG, "container 131"),
        ("UPDATE loan_line SET pieces_back = 5", FindingKind.LOAN, "loan 1"),
        ("UPDATE loan_line SET back_on = '2026-07-20'", FindingKind.LOAN, "loan 1"),
        ("UPDATE loan SET back_on = '2026-07-20'", FindingKind.LOAN, "loan 1"),
        ("DELETE FROM loan_return", FindingKind.LOAN, "loan 1"),
    ],
)
def test_what_was_changed_is_named(lived: Desk, change: str, kind: FindingKind, where: str) -> None:
    if lived.store.path is None:
        pytest.skip("a store on a server has no file that another program opens")
    with closing(sqlite3.connect(lived.store.path, isolation_level=None)) as file:
        file.execute(change)
    found = [one for one in prove(lived).findings if one.kind is kind]
    assert found
    assert any(one.where.startswith(where) for one in found)
    assert all(one.in_words(lived.terms) for one in found)


@pytest.mark.parametrize(
    ("material", "pieces", "wrong"), [("bone", 10, []), ("bone", 11, ["131"]), ("soil_sample", 30, [])]
)
def test_bags_of_what_is_not_sorted_here_hold_what_came_in(
    desk: Desk, material: str, pieces: int, wrong: list[str]
) -> None:
    put_bags(desk, 131, [500], material=material)
    with desk.store.writing() as session:
        session.query(Bag).update({"pieces": pieces})
    said = [one for one in prove(desk).findings if one.kind is FindingKind.BAG]
    assert [one.facts["number"] for one in said] == wrong
    assert [one.in_words(desk.terms) for one in said] == [
        f"The bags of bucket {number} hold 11 pieces, and 10 kept." for number in wrong
    ]


def test_the_same_thing_out_or_lent_twice_is_named(lived: Desk) -> None:
    if lived.store.path is None:
        pytest.skip("a store on a server has no file that another program opens")
    with closing(sqlite3.connect(lived.store.path, isolation_level=None)) as file:
        file.execute("PRAGMA foreign_keys=OFF")
        for table in ("taken_out", "loan_line"):
            columns = [row[1] for row in file.execute(f"PRAGMA table_info({table})") if row[1] != "id"]
            names = ", ".join(columns)
            file.execute(f"INSERT INTO {table} (id, {names}) SELECT id + 1000000, {names} FROM {table}")
    said = {(one.kind, one.in_words()) for one in prove(lived).findings}
    assert (FindingKind.SHELF, "The box 1 is written as taken out twice.") in said
    assert (FindingKind.LOAN, "The loan 1 holds something that another one holds too.") in said
