"""What the terminal says when containers arrive."""

from __future__ import annotations

from tests.cli.conftest import Terminal


def test_what_is_on_no_list_is_checked_in_and_its_deposit_said_to_be_unknown(terminal: Terminal, store: str) -> None:
    terminal("tags", store, "--issue", "1")
    said = terminal("check-in", store, "5")
    assert said.code == 0
    assert "Bucket 5 is checked in, but it is on no list and nobody said its context." in said.out
    assert "?" not in said.out


def test_a_count_after_too_short_a_soak_is_remarked_upon(terminal: Terminal, store: str) -> None:
    terminal("look", store, "1")
    terminal("soak", store, "1", "--tub", "1")
    said = terminal("count", store, "1", "12")
    assert said.code == 0
    assert "It soaked only 0.0 hours" in said.out
