"""Pieces from the terminal: lifted, described, listed, found, joined."""

from __future__ import annotations

from pathlib import Path

import pytest

from findsdesk.cli.calls import REFUSED
from tests.cli.conftest import Terminal
from tests.desk.test_joins_and_vessels import put_pieces
from tests.yard import new_yard


@pytest.fixture
def store(tmp_path: Path) -> str:
    """Return a store with two pieces each of the buckets 131 and 87, closed again."""
    desk = new_yard(tmp_path)
    put_pieces(desk, 131)
    put_pieces(desk, 87, deposit="2019")
    desk.close()
    return str(tmp_path / "tannery")


def test_pieces_are_described_and_listed(store: str, terminal: Terminal) -> None:
    terminal("do", store, "describe", "131.1", "chord=62", "rim_diameter=180", "drawing_wanted=yes", "--by", "oren")
    listed = terminal("pieces", store, "131", "--json").json()
    assert [(one["name"], one["rim_diameter_mm"]) for one in listed] == [("131.1", 180), ("131.2", None)]
    assert [one["name"] for one in terminal("pieces", store, "--wants", "drawing", "--json").json()] == ["131.1"]
    assert "131.1" in terminal("pieces", store, "--search", "2017").out
    assert terminal("pieces", store, "--search", "nothing").out.startswith("No piece.")


def test_a_refusal_is_said_with_its_code(store: str, terminal: Terminal) -> None:
    said = terminal("do", store, "describe", "131.1", "chord=62", "rim_diameter=60", "--by", "oren")
    assert said.code == REFUSED
    assert "A diameter of 60 mm is shorter than the chord of 62 mm." in said.err


def test_joins_between_deposits_say_what_they_say(store: str, terminal: Terminal) -> None:
    assert terminal("pieces", store, "--joins").out == "No join crosses two contexts.\n"
    terminal("do", store, "join", "131.1", "87.1", "certain=no", "--by", "oren")
    assert "Both are sealed" in terminal("pieces", store, "--joins").out
    assert terminal("pieces", store, "--joins", "--json").json()[0]["joins"] == 1
    found = terminal("find", store, "131.1")
    assert "perhaps joins 87.1, context 2019\n" in found.out
