"""A printer is met from the terminal, and labels are drawn for it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Terminal

NAME = "trestle laser"


@pytest.fixture(autouse=True)
def own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let each test begin at a machine that has met no printer."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))


def test_page_lengths_and_list(terminal: Terminal, tmp_path: Path) -> None:
    assert "No printer was met here" in terminal("printer").out
    page = tmp_path / "page.pdf"
    said = terminal("printer", "page", NAME, "--pdf", page)
    assert (said.code, said.err, page.read_bytes()[:5]) == (0, "", b"%PDF-")
    assert "never “fit to page”" in said.out
    assert "A 20, B 190, C 20, D 270 mm" in said.out
    met = terminal("printer", "set", NAME, "--measured", "21,5", "191.5", "21.0", "271", "--dpi", "600")
    assert (met.code, met.err) == (0, "")
    assert "600 dpi: from now on all that is printed on it is moved 1.5 mm to the left, 1 mm up" in met.out
    listed = terminal("printer", "list", "--json").json()
    assert [(one["name"], one["dpi"], one["calibration"]["right"]) for one in listed] == [(NAME, 600, -150)]
    assert NAME in terminal("printer", "list").out


def test_programs_are_told_the_lengths_to_measure(terminal: Terminal, tmp_path: Path) -> None:
    said = terminal("printer", "page", "awning roll", "--stock", "roll-57x32", "--pdf", tmp_path / "p.pdf", "--json")
    assert said.json()["lengths_mm"] == {"a": 5.0, "b": 52.0, "c": 5.0, "d": 27.0}
    assert terminal("printer", "set", "awning roll", "--dpi", "300", "--json").json()["dpi"] == 300


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("page", NAME), "Name the PDF of the test page"),
        (("page", "--pdf", "p.pdf"), "A printer needs a name"),
        (("set", NAME), "Nothing was said of the printer"),
        (("set", NAME, "--dpi", "144"), "Printers have 203, 300, 600 dots an inch"),
        (("set", NAME, "--measured", "2", "19", "2", "27"), "Print at actual size, then measure again"),
        (("set", NAME, "--measured", "21.5", "191.5", "high", "271"), "“high” is not a number"),
    ],
)
def test_what_cannot_be_is_refused(terminal: Terminal, tmp_path: Path, words: tuple[str, ...], sentence: str) -> None:
    terminal("printer", "page", NAME, "--pdf", tmp_path / "page.pdf")
    said = terminal("printer", *words)
    assert (said.code, sentence in said.err) == (1, True), said


def test_three_lengths_are_a_wrong_call(terminal: Terminal) -> None:
    assert terminal("printer", "set", NAME, "--measured", "21.5", "191.5", "21").code == 2


def test_tags_and_labels_are_drawn_for_a_printer_that_was_met(terminal: Terminal, store: str, tmp_path: Path) -> None:
    terminal("tags", store, "--issue", "2", "--for", "bryn")
    plain, met = tmp_path / "plain.pdf", tmp_path / "met.pdf"
    assert terminal("tags", store, "--out", plain).code == 0
    unknown = terminal("tags", store, "--out", met, "--printer", NAME)
    assert (unknown.code, "No printer trestle laser was met here" in unknown.err) == (1, True)
    terminal("printer", "page", NAME, "--pdf", tmp_path / "page.pdf")
    terminal("printer", "set", NAME, "--measured", "21.5", "191.5", "21", "271", "--dpi", "300")
    said = terminal("tags", store, "--out", met, "--printer", NAME, "--json")
    assert (said.code, len(said.json()["labels"])) == (0, said.json()["read_back"])
    assert plain.read_bytes() != met.read_bytes()
    assert terminal("tags", store, "--came-out-well", met).code == 0
    assert terminal("labels", store, "--printer", "nobody's", "--out", tmp_path / "l.pdf").code == 1
