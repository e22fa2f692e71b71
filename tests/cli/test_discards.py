"""Policy, PINs and discards from the terminal."""

from __future__ import annotations

import io
from pathlib import Path

import pypdfium2
import pytest

from findsdesk.desk.counting import log_count
from findsdesk.desk.washing import mark_dry
from findsdesk.domain.settings import Settings
from tests.cli.conftest import Said, Terminal
from tests.yard import LOOKED_AT, new_yard, put_container, put_settled


@pytest.fixture
def quay(tmp_path: Path) -> str:
    """Return a store with a settled container of which 10 sherds are to be discarded, and a dry one."""
    desk = new_yard(tmp_path)
    put_settled(desk, 131, discarded=10)
    code = put_container(desk, 132, steps=LOOKED_AT)
    log_count(desk, code, pieces=60)
    mark_dry(desk, [code])
    desk.close()
    return str(tmp_path / "tannery")


@pytest.fixture
def typed(terminal: Terminal, monkeypatch: pytest.MonkeyPatch) -> Terminal:
    """Return a way to call the terminal with lines of input before the words."""

    def call(lines: str, *words: object) -> Said:
        monkeypatch.setattr("sys.stdin", io.StringIO(lines))
        return terminal(*words)

    return call


def test_a_list_goes_from_made_to_carried_away(quay: str, terminal: Terminal, typed: Terminal, tmp_path: Path) -> None:
    assert "10 sherds of 1 settled bucket." in terminal("discards", quay).out
    assert typed("2406\n2406\n", "pin", quay, "ilo", "--by", "ilo").out == "The PIN is set.\n"
    made = terminal("discards", quay, "make", "--by", "oren", "--json").json()
    assert (made["facts"]["number"], made["facts"]["pieces"]) == (1, 10)
    wrong = typed("9999\n", "discards", quay, "sign", "1", "--by", "ilo")
    assert (wrong.code, "9999" in wrong.err) == (1, False)
    signed = typed("2406\n", "discards", quay, "sign", "1", "--by", "ilo")
    assert signed.out.startswith("Discard list 1, signed: 1 line, 10 sherds")
    printed = terminal("discards", quay, "print", "1", "--out", tmp_path / "list.pdf")
    assert printed.code == 0
    assert len(pypdfium2.PdfDocument(tmp_path / "list.pdf")) == 1
    carried = terminal("discards", quay, "carry", "1", "where=pit", "how=barrow", "marker=tile", "--by", "tessa")
    assert "carried away" in carried.out
    assert "Broken sherds cut" in carried.out
    assert terminal("discards", quay, "note", "1", "text=the tile lies on top").code == 0
    shown = terminal("discards", quay, "show", "1").out
    assert "no diagnostic value" in shown
    assert "the tile lies on top" in shown
    assert terminal("discards", quay, "--json").json()["lists"][0]["stage"] == "carried away"
    assert terminal("prove", quay).code == 0


def test_sherds_come_back_from_the_terminal(quay: str, terminal: Terminal, typed: Terminal) -> None:
    typed("2406\n2406\n", "pin", quay, "ilo", "--by", "ilo")
    terminal("discards", quay, "make", "--by", "oren")
    refused = terminal("discards", quay, "call-back", "1", "why=joins")
    assert (refused.code, "Take the lines off it" in refused.err) == (1, True)
    typed("2406\n", "discards", quay, "sign", "1", "--by", "ilo")
    back = terminal("discards", quay, "call-back", "1", "tags=131", "why=one joins 87", "to=keep", "--by", "oren")
    assert back.out.startswith("Discard list 1, withdrawn")


def test_an_excavation_that_discards_nothing_has_no_lists(terminal: Terminal, tmp_path: Path) -> None:
    desk = new_yard(tmp_path, settings=Settings(discards=False))
    desk.close()
    said = terminal("discards", tmp_path / "tannery")
    assert (said.code, said.err) == (1, "This excavation discards nothing. Keep it, or put it on hold.\n")


def test_a_pin_is_never_an_argument(quay: str, terminal: Terminal, typed: Terminal) -> None:
    said = terminal("discards", quay, "sign", "1", "pin=2406")
    assert (said.code, "2406" in said.err) == (1, False)
    differ = typed("2406\n2407\n", "pin", quay, "ilo", "--by", "ilo")
    assert (differ.code, differ.err) == (1, "The two PINs differ. Nothing was changed; try again.\n")
    assert not any(one["has_pin"] for one in terminal("pin", quay, "--json").json())


def test_the_policy_is_changed_drawn_and_asked(quay: str, terminal: Terminal) -> None:
    added = terminal(
        "policy", quay, "add", "Body", "decision=discard", "reason=modern", "parts=body", "one_in=10", "--json"
    )
    assert added.json() == [
        {
            "name": "Body",
            "decision": "discard",
            "reason": "modern",
            "fits": {"parts": ["body"]},
            "one_in": 10,
            "at_least": None,
            "in_force": True,
            "behind": "",
        }
    ]
    assert terminal("sort", quay, "132", "MBU", "body", "60", "--sure").code == 0
    drawn = terminal("policy", quay, "draw", "132")
    assert drawn.out.startswith("60 laid out: start at place ")
    assert drawn.out.endswith("then every 10th; 6 kept.\n")
    assert terminal("policy", quay, "draw", "132").out == "No share is to be drawn here.\n"
    told = terminal("policy", quay, "simulate", "--json").json()
    assert (told["sorted"]["pieces"], told["as_decided"]["pieces"], told["by_policy"]["pieces"]) == (92, 28, 29)
    assert "boxes of 10 kg, by weight alone" in terminal("policy", quay, "simulate").out
    assert "no" in terminal("policy", quay, "change", "Body", "in_force=no").out
