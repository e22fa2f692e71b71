"""Two stations sort one container: each sees the other's rows within about a second, and none passes over the other.

Where FINDSDESK_TEST_SERVER names a PostgreSQL database both stations write; on a file the second one reads along.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.sorting import add_group, change_group, remove_group, table_of
from findsdesk.domain.balance import Decision
from tests.desk.at_the_table import dry_container, prove_totals
from tests.ui.at_the_sorting_table import ENTER, F2, PAGE_DOWN, UP, Table, in_short
from tests.ui.at_work import opened
from tests.ui.conftest import Keyboard
from tests.yard import new_yard, second_station

# A window that is closed while it reads leaves the connection of that reading to be collected; harmless at its end.
pytestmark = pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
WITHIN_S = 1.6
"""Asked for once a second, told with what else comes in a tenth, read and shown."""


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    made = new_yard(tmp_path, by="Oren", station="trestle")
    yield made
    made.let_go()


@pytest.fixture
def table(qtbot: Any, keyboard: Keyboard, desk: Desk) -> Iterator[Table]:
    """Return the table at the second station."""
    with opened(qtbot, second_station(desk, by="Mika")) as program:
        yield Table(qtbot, keyboard, program, desk)


def comes(table: Table, wanted: list[str]) -> float:
    """Wait until these wares stand on the second screen; return the seconds it took."""
    began = time.monotonic()
    table.qtbot.waitUntil(lambda: [line[0] for line in table.shown()] == wanted, timeout=60_000)
    return time.monotonic() - began


def test_rows_of_the_other_station_stand_here_within_a_second_or_so(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="body", pieces=11, decision=Decision.KEEP)
    table.scan(code)
    assert comes(table, ["QRS"]) < WITHIN_S
    add_group(desk, code, ware="TGY", part="body", pieces=5, decision=Decision.KEEP)
    assert comes(table, ["QRS", "TGY"]) < WITHIN_S
    assert table.bar() == ["16 to keep", "116 left of 132"]
    change_group(desk, row.id, seen=row.version, ware="MBU", pieces=15)
    assert comes(table, ["MBU", "TGY"]) < WITHIN_S
    # What stands beside the rows follows a change as it does a new row.
    table.qtbot.waitUntil(lambda: "20" in where_they_are(table), timeout=60_000)
    assert table.bar() == ["20 to keep", "112 left of 132"]


def where_they_are(table: Table) -> list[str]:
    """Return the figures of the dossier's balance."""
    found = table.program.window.found
    assert found is not None
    sections = found.dossier.sections if found.dossier is not None else ()
    return [figure for section in sections if section.title == "Where they are" for _what, figure in section.rows]


def test_two_who_write_at_once_lose_nothing_and_meet_what_clashes(table: Table, desk: Desk) -> None:
    if desk.store.path is not None:
        pytest.skip("on a file one program alone writes; set FINDSDESK_TEST_SERVER")
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="QRS", part="body", pieces=11, decision=Decision.KEEP)
    table.scan(code)
    comes(table, ["QRS"])
    table.type(UP, ENTER, ENTER, ENTER, "13")
    (row,) = table_of(desk, code).groups
    change_group(desk, row.id, seen=row.version, pieces=12)
    table.row(ENTER, ENTER, ENTER)
    assert "Count mine 13, theirs 12, before 11" in table.shown()[0][-2]
    assert in_short(table_of(desk, code).groups) == ["QRS body 12, keep"]
    table.row(F2, PAGE_DOWN)
    add_group(desk, code, ware="TGY", part="body", pieces=5, decision=Decision.KEEP)
    table.row("m", ENTER, "b", ENTER, "2", ENTER, ENTER, ENTER)
    comes(table, ["QRS", "TGY", "MBU"])
    assert in_short(table_of(desk, code).groups) == ["QRS body 13, keep", "TGY body 5, keep", "MBU body 2, keep"]
    prove_totals(desk)


def test_a_row_the_other_station_removes_while_it_is_changed_waits_and_says_who(table: Table, desk: Desk) -> None:
    if desk.store.path is not None:
        pytest.skip("on a file one program alone writes; set FINDSDESK_TEST_SERVER")
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="MBU", part="body", pieces=1, decision=Decision.KEEP)
    row = add_group(desk, code, ware="QRS", part="body", pieces=1, decision=Decision.KEEP)
    table.scan(code)
    comes(table, ["MBU", "QRS"])
    page = table.bench.table
    table.type(UP, ENTER)
    page.edit.go_to("pieces")
    table.type("3")
    remove_group(desk, row.id, seen=row.version)
    table.qtbot.waitUntil(lambda: page.edit_below.text.startswith("Oren Vade removed this row"), timeout=10_000)
    table.row(PAGE_DOWN)
    assert page.big.text() == "QRS body, 3, keep — in doubt: F2"
    table.row(F2, PAGE_DOWN)
    assert in_short(table_of(desk, code).groups) == ["MBU body 1, keep", "QRS body 3, keep"]
    prove_totals(desk)
