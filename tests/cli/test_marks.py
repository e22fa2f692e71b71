"""Marks from the terminal: listed, ticked off, taken back, printed; the register tells of each tick."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from findsdesk.cli.calls import DONE, REFUSED
from tests.cli.conftest import Terminal
from tests.yard import new_yard, put_settled


@pytest.fixture
def store(tmp_path: Path) -> str:
    """Return a store with the buckets 131 and 140 settled, closed again."""
    desk = new_yard(tmp_path)
    put_settled(desk, 131)
    put_settled(desk, 140, deposit="2003", kept=8)
    desk.close()
    return str(tmp_path / "tannery")


def test_marks_are_ticked_off_listed_and_taken_back(store: str, terminal: Terminal) -> None:
    written = terminal("marks", store, "written", "131", "pieces=20", "who=lio", "--by", "mika")
    assert written.code == DONE
    assert "Acetone and white spirit: small bottles" in written.out
    terminal("marks", store, "slip", "131", "pieces=2", "why=painted", "--by", "mika")
    own = terminal("marks", store, "checked", "131", "who=lio", "--by", "mika")
    assert own.code == REFUSED
    assert "a second person checks" in own.err
    terminal("marks", store, "checked", "131", "wrong=1", "--by", "mika")
    listed = terminal("marks", store, "--json").json()
    line = next(one for one in listed["lines"] if one["number"] == "131")
    assert (line["tally"]["written"], line["tally"]["slipped"], line["tally"]["checked"]) == (19, 2, 1)
    assert [one["deposit"] for one in listed["deposits"]] == ["2003", "2017"]
    terminal("marks", store, "take-back", "131", "wrong", "why=it was right", "--by", "mika")
    terminal("marks", store, "checked", "131", "--by", "mika")
    assert terminal("marks", store, "--deposit", "2017").out == "Nothing is to be marked, checked or inked again.\n"
    assert "VE-26-014 / 2017-131" in terminal("marks", store, "--deposit", "2017", "--all").out
    ticks = terminal("registers", store, "marks", "--json").json()["rows"]
    assert [(one["kind"], one["pieces"], one["person"]) for one in ticks] == [
        ("written", 20, "Lio"),
        ("slip", 2, "Mika Sool"),
        ("checked", 1, "Mika Sool"),
        ("wrong", 1, "Mika Sool"),
        ("wrong", -1, "Mika Sool"),
        ("checked", 1, "Mika Sool"),
    ]
    assert [(one["answered"], one["answers"]) for one in ticks][-3:-1] == [(True, False), (False, True)]
    assert terminal("prove", store).code == DONE
    assert "8 kept pieces to mark" in terminal("day", store, "2026-07-14").out


def test_the_marking_list_is_printed_and_says_what_is_to_be_inked(
    store: str, terminal: Terminal, tmp_path: Path
) -> None:
    path = tmp_path / "marking.pdf"
    said = terminal("marks", store, "print", "--deposit", "2017", "--out", path)
    assert said.out == f"Marking list, 1 line: {path}\n"
    document = pypdfium2.PdfDocument(path.read_bytes())
    try:
        text = " ".join(str(document[0].get_textpage().get_text_bounded()).split())
    finally:
        document.close()
    for words in ("VE-26-014 / 2017-131", "13 mm", "20 mm", "0 of 22 marked", "Lettering 2 mm high", "slip"):
        assert words in text, words
    assert "2003" not in text


def test_a_tag_is_needed_and_a_pdf(store: str, terminal: Terminal) -> None:
    assert "Name what was marked" in terminal("marks", store, "written").err
    assert "Name the PDF" in terminal("marks", store, "print").err
