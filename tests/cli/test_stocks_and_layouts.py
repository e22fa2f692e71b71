"""Stocks measured at the terminal, layouts shown, changed and set back, labels of the other kinds."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Terminal

ADD = ("stocks", "add", "shop labels", "--grid", "3", "7", "--size", "63,5", "38.1", "--first", "7.2", "15.15")
LAST = ("--last", "139.2", "243.75")


@pytest.fixture(autouse=True)
def own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let each test begin at a machine on which nothing was measured."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))


def test_a_stock_is_added_shown_and_taken_away(terminal: Terminal, tmp_path: Path) -> None:
    said = terminal(*ADD, *LAST)
    assert (said.code, said.err) == (0, "")
    assert "A4 sheet, 3 × 7 of 63.5 × 38.1 mm" in said.out
    assert "never “fit to page”" in said.out
    assert 'findsdesk stocks frames "shop labels" --pdf frames.pdf' in said.out, "it can be typed as it stands"
    frames = tmp_path / "frames.pdf"
    assert terminal("stocks", "frames", "shop labels", "--pdf", frames).code == 0
    assert frames.read_bytes()[:5] == b"%PDF-"
    assert [one["name"] for one in terminal("stocks", "--json").json() if one["own"]] == ["shop labels"]
    assert terminal("stocks", "take-away", "shop labels").code == 0
    assert "shop labels" not in terminal("stocks").out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (ADD, "--last is missing"),
        ((*ADD, "--last", "159.2", "243.75"), "210 mm wide"),
        (("stocks", "add", "x", "--roll", "--size", "57", "wide"), "wide"),
        (("stocks", "add", "x", "--cut", "--page", "A6", "--size", "60", "30"), "A6"),
        (("stocks", "take-away", "a4-3x8-70x37"), "No stock"),
        (("stocks", "frames", "a4-3x8-70x37"), "--pdf"),
    ],
)
def test_what_cannot_be_right_is_refused(terminal: Terminal, words: tuple[str, ...], said: str) -> None:
    answer = terminal(*words)
    assert answer.code != 0
    assert said in answer.err
    assert [one for one in terminal("stocks", "--json").json() if one["own"]] == []


def test_a_layout_is_shown_changed_and_set_back(terminal: Terminal, store: str, tmp_path: Path) -> None:
    assert "as shipped" in terminal("layouts", store).out
    text = terminal("layouts", store, "show", "bag").out
    file = tmp_path / "bag.toml"
    file.write_text(text.replace('fields = ["site", "permit"]', 'fields = ["permit"]'), encoding="utf-8")
    assert terminal("layouts", store, "set", "bag", file, "--by", "Mika").code == 0
    assert "site" not in terminal("layouts", store, "show", "bag").out
    file.write_text("\n", encoding="utf-8")
    assert terminal("layouts", store, "set", "bag", file, "--by", "Mika").code != 0
    assert "site" not in terminal("layouts", store, "show", "bag").out, "an empty file takes nothing back"
    assert terminal("layouts", store, "as-shipped", "bag", "--by", "Mika").code == 0
    assert terminal("layouts", store, "show", "bag").out == text
    file.write_text('[[line]]\nfields = ["colour"]\n', encoding="utf-8")
    no = terminal("layouts", store, "set", "bag", file, "--by", "Mika")
    assert (no.code, "colour" in no.err) == (1, True)
    file.write_text("fields : deposit", encoding="utf-8")
    assert "(at line 1, column 8)" in terminal("layouts", store, "set", "bag", file, "--by", "Mika").err
    assert "no kind of label" in terminal("layouts", store, "show", "pot").err
    assert terminal("layouts", store, "set", "bag", tmp_path / "none.toml", "--by", "Mika").code == 1


def test_a_printer_is_forgotten(terminal: Terminal) -> None:
    terminal("printer", "set", "awning roll", "--dpi", "300")
    assert "is forgotten" in terminal("printer", "forget", "awning roll").out
    assert terminal("printer", "--json").json() == []
