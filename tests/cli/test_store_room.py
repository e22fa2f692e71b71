"""Boxes and loans from the terminal: packed by scan and as proposed, found by their labels, lent, asked for, back."""

from __future__ import annotations

from pathlib import Path

import pytest

from findsdesk.cli.calls import REFUSED
from findsdesk.desk.boxes import add_box
from findsdesk.desk.shelves import places_tree
from tests.cli.conftest import Terminal
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.yard import new_yard


@pytest.fixture
def room(tmp_path: Path) -> tuple[str, list[str], dict[str, str]]:
    """Return a store with a box on shelf 1 and four bags: its path, the bags' codes, the codes of box and shelf."""
    desk = new_yard(tmp_path)
    furnish_store(desk)
    bags = [*put_bags(desk, 131, [2_000, 1_500, 700], deposit="2003"), *put_bags(desk, 132, [84], material="glass")]
    box = add_box(desk, kind="sherds", place="Shelf 1")[0]
    shelf = next(one for one in places_tree(desk) if one.name == "Shelf 1")
    desk.close()
    return str(tmp_path / "tannery"), bags, {"box": box.code, "shelf": shelf.code}


def test_packed_by_scan_and_found_from_the_shelf_label(
    room: tuple[str, list[str], dict[str, str]], terminal: Terminal
) -> None:
    store, bags, codes = room
    said = terminal("pack", store, codes["box"], *bags[:2], "--by", "mika")
    assert "Box 1" in said.out
    assert "3.5 of 10.0 kg, 2 bags" in said.out
    assert "Lift with two hands" in said.out
    shelf = terminal("find", store, codes["shelf"]).out
    assert "Dig house › Store › Shelf 1" in shelf
    assert "2003" in shelf
    box = terminal("find", store, codes["box"], "--json").json()
    assert [one["bag"]["number"] for one in box["bags"]] == ["131", "131"]
    bucket = terminal("find", store, bags[0]).out
    assert "box 1, Dig house › Store › Shelf 1" in bucket
    again = terminal("pack", store, codes["box"], bags[0], "--by", "mika")
    assert (again.code, "lies in box 1 already" in again.err) == (REFUSED, True)
    mixed = terminal("pack", store, codes["box"], bags[3], "--by", "mika")
    assert (mixed.code, "never lies in a box" in mixed.err) == (REFUSED, True)


def test_a_proposal_and_packing_as_proposed(room: tuple[str, list[str], dict[str, str]], terminal: Terminal) -> None:
    store, bags, _codes = room
    told = terminal("pack", store, "--square", "B2", "--json").json()
    assert (len(told["boxes"]), told["fewest"], told["boxes"][0]["tenths"]) == (1, 1, 42_000)
    said = terminal("pack", store)
    assert "2 boxes of at most 10.0 kg; fewer than 2 cannot do." in said.out
    assert terminal("pack", store, "--limit", "3000", "--json").json()["fewest"] == 3
    packed = terminal("pack", store, "--square", "B2", "--do", "--place", "Shelf 2", "--by", "mika", "--json").json()
    assert [one["bag"]["code"] for one in packed["boxes"][0]["bags"]] == bags[:3]
    assert terminal("pack", store, "--do", "--square", "B2").code == REFUSED
    assert terminal("pack", store, "X", "--do").code == REFUSED
    registers = terminal("registers", store, "boxes", "--filter", "place=Store", "--json").json()
    assert [row["number"] for row in registers["rows"]] == [1, 2]
    places = terminal("registers", store, "places", "--search", "shelf", "--json").json()["rows"]
    assert [row["name"] for row in places] == ["Shelf 1", "Shelf 2", "Shelf 3"]


def test_lent_asked_for_and_back(room: tuple[str, list[str], dict[str, str]], terminal: Terminal) -> None:
    store, bags, _codes = room
    said = terminal(
        "loans", store, "lend", bags[3], "borrower=Nela Trost", "kind=specialist", "purpose=glass report",
        "due_on=2026-08-20", "condition=sound", "--by", "mika",
    )  # fmt: skip
    assert (said.code, "Nela Trost" in said.out) == (0, True), said.err
    terminal("loans", store, "back", "1", bags[3], "pieces=9", "--by", "mika")
    out = terminal("loans", store, "--json").json()["loans"]
    assert [(one["number"], one["lines"][0]["pieces_back"]) for one in out] == [(1, 9)]
    asked = terminal("loans", store, "ask", "1", "how=letter", "answer=next week", "--by", "mika")
    assert "next week" in asked.out
    changed = terminal("loans", store, "change", "1", "due_on=2026-10-01", "--by", "mika", "--json").json()
    assert changed["due_on"] == "2026-10-01"
    assert "glass report" in terminal("loans", store).out
    assert terminal("loans", store, "show").code == REFUSED
    assert terminal("loans", store, "back", "1", "--by", "mika", "--json").json()["standing"] == "back"
    assert terminal("loans", store, "--json").json() == {"loans": []}
    assert len(terminal("loans", store, "all", "--json").json()["loans"]) == 1
    assert terminal("prove", store).code == 0


def test_boxes_loans_and_slips_are_put_right(
    room: tuple[str, list[str], dict[str, str]], terminal: Terminal, tmp_path: Path
) -> None:
    store, bags, _codes = room
    mika = ("--by", "mika")
    assert terminal("do", store, "change-box", "1", "limit=8000", *mika, "--json").json()["limit_tenths"] == 80_000
    said = terminal("do", store, "change-box", "1", "limit=20000", *mika)
    assert (said.code, "local codes" in said.err) == (REFUSED, True), said.err
    assert terminal("do", store, "give-up-box", "1", *mika, "--json").json()["gone"] is True
    again = terminal("pack", store, "1", bags[0], *mika)
    assert (again.code, "was given up" in again.err) == (REFUSED, True)
    assert terminal("do", store, "write-slip", bags[0], "what=two rims", "why=type series", *mika).code == 0
    assert "two rims" in terminal("loans", store, "slips").out
    assert terminal("loans", store, "slip-back").code == REFUSED
    assert terminal("loans", store, "slip-back", "1", *mika).code == 0
    assert terminal("loans", store, "slips", "--json").json() == {"slips": []}
    what = ("borrower=Nela Trost", "kind=specialist", "purpose=glass report", "due_on=2026-08-20")
    terminal("loans", store, "lend", bags[3], *what, *mika)
    (tmp_path / "glass.pdf").write_bytes(b"%PDF-1.7")
    kept = terminal("loans", store, "result", "1", f"path={tmp_path / 'glass.pdf'}", *mika)
    assert "glass.pdf" in kept.out, kept.err
    copied = terminal("loans", store, "copy-result", "1", "glass.pdf", "--out", tmp_path / "copy.pdf")
    assert (copied.code, (tmp_path / "copy.pdf").read_bytes()) == (0, b"%PDF-1.7")
    assert "There is: glass.pdf" in terminal("loans", store, "copy-result", "1", "x", "--out", tmp_path / "x").err
    assert terminal("prove", store).code == 0
