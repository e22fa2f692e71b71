"""The type series from the terminal: listed, written with its pictures, taken in elsewhere, taken back."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from PIL import Image

from findsdesk.desk.opening import open_store
from findsdesk.desk.photos import photos_of
from findsdesk.desk.setting_up import wares
from tests.cli.conftest import Terminal
from tests.cli.test_set_up_files import GOOD

pytestmark = pytest.mark.skipif("FINDSDESK_TEST_SERVER" in os.environ, reason="photographs lie beside a store's file")


def test_it_goes_out_with_pictures_into_another_store_and_back(store: str, terminal: Terminal, tmp_path: Path) -> None:
    Image.new("RGB", (40, 30), "#a9542f").save(tmp_path / "rim.png")
    assert terminal("do", store, "add-form", "QRS1", "name=flat bowl", "ware=QRS").code == 0
    assert terminal("do", store, "photograph", tmp_path / "rim.png", "form QRS1").code == 0
    shown = terminal("types", store)
    assert shown.code == 0
    assert "form  QRS1  flat bowl" in shown.out
    written = terminal("types", store, "--write", tmp_path / "series.zip")
    assert written.out == f"6 rows and 1 picture written: {tmp_path / 'series.zip'}\n"
    assert terminal("types", store, "--take-in", tmp_path / "series.zip", "--json").json()["same"] == 6
    assert terminal("new", tmp_path / "weir", "--name", "Alder Weir", "--code", "AWR").code == 0
    weir = tmp_path / "weir"
    taken = terminal("types", weir, "--take-in", tmp_path / "series.zip")
    assert taken.out == "series.zip: 6 new, 0 changed, 0 as they were, 1 new picture.\n"
    assert [one["code"] for one in terminal("types", weir, "--json").json()["forms"]] == ["QRS1"]
    assert terminal("prove", weir).code == 0
    asked = terminal("types", weir, "--take-back")
    assert (asked.code, "6 codes and 1 picture would go out again" in asked.err) == (1, True)
    assert terminal("types", weir, "--take-back", "series.zip", "--sure").out == "series.zip is taken back: 7 rows.\n"
    assert json.loads(terminal("types", weir, "--json").out) == {"wares": [], "forms": []}


def test_a_zip_brought_as_a_table_says_where_it_belongs(store: str, terminal: Terminal, tmp_path: Path) -> None:
    assert terminal("types", store, "--write", tmp_path / "series.zip").code == 0
    said = terminal("import", store, tmp_path / "series.zip", "--of", "wares", "--dry-run")
    assert said.code == 1
    assert "findsdesk types" in said.err


def test_a_new_season_begins_with_the_series_of_the_old_one(store: str, terminal: Terminal, tmp_path: Path) -> None:
    Image.new("RGB", (40, 30), "#a9542f").save(tmp_path / "rim.png")
    assert terminal("do", store, "photograph", tmp_path / "rim.png", "ware QRS").code == 0
    assert terminal("types", store, "--write", tmp_path / "series.zip").code == 0
    set_up = tmp_path / "set-up.toml"
    set_up.write_text(GOOD + '\n[type_series]\nfile = "series.zip"\n', "utf-8")
    assert terminal("new", tmp_path / "weir", "--from", set_up).code == 0
    desk = open_store(tmp_path / "weir", read_only=True)
    red = next(one for one in wares(desk) if one.code == "QRS")
    assert [photo.file_name for photo in photos_of(desk, ("ware", red.id))] == ["rim.png"]
    desk.let_go()


def test_what_cannot_follow_the_series_leaves_neither_store_nor_pictures(
    store: str, terminal: Terminal, tmp_path: Path
) -> None:
    Image.new("RGB", (40, 30), "#a9542f").save(tmp_path / "rim.png")
    assert terminal("do", store, "photograph", tmp_path / "rim.png", "ware QRS").code == 0
    assert terminal("types", store, "--write", tmp_path / "series.zip").code == 0
    series = '\n[type_series]\nfile = "series.zip"\n'
    for wrong, said in (
        (series + '[[deposits]]\nnumber = "7"\nsquare = "West"\nopened = 2026-07-02\n', "There is no square West"),
        (series.replace("series.zip", "gone.zip"), "There is no file"),
    ):
        (tmp_path / "set-up.toml").write_text(GOOD + wrong, "utf-8")
        answer = terminal("new", tmp_path / "weir", "--from", tmp_path / "set-up.toml")
        assert (answer.code, said in answer.err) == (1, True)
        assert not list(tmp_path.glob("weir*"))
