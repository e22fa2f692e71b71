"""``findsdesk export`` and ``findsdesk import --package``, as a person calls them."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.cli.conftest import Terminal

pytestmark = pytest.mark.skipif("FINDSDESK_TEST_SERVER" in os.environ, reason="the store is named by its file")


def test_everything_goes_out_and_comes_back(terminal: Terminal, store: str, tmp_path: Path) -> None:
    said = terminal("export", store, "--as", "bundle", "--into", tmp_path / "out", "--json")
    assert said.code == 0, said.err
    made = said.json()
    assert Path(made["path"]) == tmp_path / "out" / "tannery-bundle"
    back = terminal("import", tmp_path / "again", "--package", made["path"], "--json")
    assert back.code == 0, back.err
    assert back.json()["head"].startswith(made["head"])
    assert terminal("prove", tmp_path / "again").code == 0
    again = terminal("import", tmp_path / "again", "--package", made["path"])
    assert (again.code, again.out) == (1, "")
    assert "There is already something at" in again.err


@pytest.mark.parametrize("form", ["csv", "xlsx", "json", "data-package", "geopackage", "photos"])
def test_each_form_says_what_it_wrote(terminal: Terminal, store: str, tmp_path: Path, form: str) -> None:
    said = terminal("export", store, "--as", form, "--into", tmp_path / "out")
    assert said.code == 0, said.err
    assert Path(said.out.splitlines()[-1].partition(": ")[2]).exists()


def test_a_map_in_real_coordinates(terminal: Terminal, store: str, tmp_path: Path) -> None:
    words = ("export", store, "--as", "geopackage", "--into", tmp_path)
    said = terminal(*words, "--corner", "500000,4000000", "--epsg", "32636", "--square-metres", "10", "--json")
    assert said.json()["rows"]["features"] == 15
    wrong = terminal(*words, "--corner", "north")
    assert (wrong.code, wrong.err.splitlines()) == (
        1,
        ["north is no corner. Write east and north in metres: 500000,4000000."],
    )


def test_what_is_missing_in_the_call_is_said(terminal: Terminal, store: str, tmp_path: Path) -> None:
    assert terminal("export", store, "--as", "stone", "--into", tmp_path).code == 2
    assert terminal("export", store, "--as", "csv").code == 2
    nothing = terminal("import", store)
    assert (nothing.code, "Name the lists" in nothing.err) == (1, True)
    assert terminal("import", tmp_path / "again", "--package", tmp_path / "nowhere").code == 1
