import io
from pathlib import Path

import pytest

from findsdesk.desk.opening import open_store
from findsdesk.desk.pins import set_pin
from tests.cli.conftest import Terminal


def test_the_page_names_what_is_open_and_what_prints_it(terminal: Terminal, store: str) -> None:
    said = terminal("hand-over", store)
    assert said.code == 0
    assert "Season 2026, permit VE-26-014, last day 2026-08-16. Open: 11, not signed for: 11." in said.out
    assert "bucket 1, bucket 2, bucket 3, bucket 4" in said.out
    page = terminal("hand-over", store, "--json").json()
    assert (page["open"], page["sheets"]) == (11, ["open", "inspector", "balance", "season"])
    rows = terminal("hand-over", store, "rows", "unwashed", "--json").json()
    assert [row["number"] for row in rows] == ["1", "2", "3", "4"]
    assert terminal("hand-over", store, "rows").code == 1


def test_two_sign_and_the_pin_is_asked_for(
    terminal: Terminal, store: str, monkeypatch: pytest.MonkeyPatch
) -> None:  # fmt: skip
    desk = open_store(store)
    set_pin(desk, "Ilo", pin="2406")
    desk.close()
    monkeypatch.setattr("sys.stdin", io.StringIO("1111\n"))
    assert "That is not the PIN" in terminal("hand-over", store, "sign", "second=Mika", "--by", "ilo").err
    assert terminal("hand-over", store, "sign", "second=Mika", "pin=2406", "--by", "ilo").code == 1
    monkeypatch.setattr("sys.stdin", io.StringIO("2406\n"))
    said = terminal("hand-over", store, "sign", "second=Mika", "seen=11", "--by", "ilo")
    assert "11 things, signed by Ilo Marr and Mika Sool, carried over." in said.out
    assert "mould" in said.out
    assert "not signed for: 0" in terminal("hand-over", store).out
    assert terminal("prove", store).code == 0


def test_deadlines_are_taken_in_and_changed_by_the_permit(terminal: Terminal, store: str) -> None:
    assert "take-deadlines" in terminal("hand-over", store).out
    assert terminal("hand-over", store, "take-deadlines").code == 0
    said = terminal(
        "hand-over", store, "change-deadline", "preliminary report", "permit_on=2026-08-31", "permit_says=clause 9"
    )
    assert (said.code, "2026-08-31" in said.out) == (0, True)
    made = terminal("hand-over", store, "add-deadline", "crates", "counts_from=season end", "offset=-7", "--json")
    assert made.json()["due_on"] == "2026-08-09"
    assert "the permit says: clause 9" in terminal("hand-over", store).out


def test_the_list_is_printed(terminal: Terminal, store: str, tmp_path: Path) -> None:
    out = tmp_path / "open.pdf"
    said = terminal("hand-over", store, "print", "--out", out, "--json")
    assert said.json()["rows"] == 11
    assert out.read_bytes().startswith(b"%PDF")
    assert terminal("hand-over", store, "print").code == 1
