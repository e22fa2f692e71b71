"""Keys of the sorting table pressed at once, after a stall or by a quick hand: each reaches what it was meant for."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt

from findsdesk.desk.desk import Desk
from findsdesk.desk.sorting import table_of
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.page import SortingBench
from findsdesk.ui.program import Program
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import DELETE, ENTER, ESCAPE, F4, F8, PAGE_DOWN, UP, in_short, keep_and_discard
from tests.ui.at_work import go_to, opened, scan, settled
from tests.ui.test_keys_after_scan import CONTROL, at_once, slow_store
from tests.yard import new_yard

F3, F10, F11 = Qt.Key.Key_F3, Qt.Key.Key_F10, Qt.Key.Key_F11
QRS_RIM_5: tuple[Any, ...] = ("qrs", ENTER, "rim", ENTER, "5", PAGE_DOWN)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    desk = new_yard(tmp_path, by="Oren")
    keep_and_discard(desk)
    return desk


@pytest.fixture
def program(qtbot: Any, desk: Desk) -> Iterator[Program]:
    with opened(qtbot, desk) as at_work:
        go_to(qtbot, at_work, "sorting")
        yield at_work


@pytest.fixture
def code(qtbot: Any, program: Program, desk: Desk) -> str:
    """Take bucket 85 in hand: 40 sherds."""
    code = dry_container(desk, 85, 40)
    scan(qtbot, program, code)
    return code


def bench_of(program: Program) -> SortingBench:
    bench = program.window.benches["sorting"]
    assert isinstance(bench, SortingBench)
    return bench


def rows(desk: Desk, code: str) -> list[str]:
    return in_short(table_of(desk, code).groups)


def test_what_is_typed_after_the_key_of_the_share_is_for_its_line(
    qtbot: Any, program: Program, desk: Desk, code: str
) -> None:
    """Also where the row is on its way, and where the next share is asked for while the first is being written."""
    slow_store(program)
    at_once("mbu", ENTER, "body", ENTER, "10", ENTER, "140", PAGE_DOWN, F10, "3", ENTER, "14", ENTER)
    at_once("qrs", ENTER, "body", ENTER, "10", PAGE_DOWN, F10, "12", ESCAPE, *QRS_RIM_5)
    settled(qtbot, program)
    assert rows(desk, code) == [
        "MBU body 9, 126.0 g, discard (no diagnostic value)",
        "MBU body 1, 14.0 g, keep (share)",
        "QRS body 10, discard (no diagnostic value)",
        "QRS rim 5, keep (diagnostic)",
    ]
    assert bench_of(program).rows.new.typed().is_empty


def test_a_row_just_finished_is_the_row_that_is_lifted_from(
    qtbot: Any, program: Program, desk: Desk, code: str
) -> None:
    at_once("mbu", ENTER, "rim", ENTER, "7", PAGE_DOWN)
    settled(qtbot, program)
    slow_store(program)
    at_once(*QRS_RIM_5, F3, "2", ENTER)
    settled(qtbot, program)
    assert rows(desk, code) == ["MBU rim 7, keep (diagnostic)", "QRS rim 3, keep (diagnostic)"]
    # One that waits with a doubt is not in the store: nothing is lifted from the row before it.
    at_once("xyz", ENTER, "rim", ENTER, "4", PAGE_DOWN, F3)
    settled(qtbot, program)
    assert "Write the row first" in bench_of(program).refusals.accessibleName()
    assert bench_of(program).table.ask.asking is None


def test_what_is_typed_after_an_answer_is_of_the_row_that_comes_back(
    qtbot: Any, program: Program, desk: Desk, code: str
) -> None:
    slow_store(program)
    at_once(F8, "3", ENTER, ENTER, "lost", ENTER, *QRS_RIM_5)
    settled(qtbot, program)
    assert rows(desk, code) == ["QRS rim 5, keep (diagnostic)"]
    entry = table_of(desk, code).entries[-1]
    assert (entry.pieces, entry.why) == (3, "lost")


def test_a_row_just_finished_can_be_decided_otherwise_taken_up_and_removed(
    qtbot: Any, program: Program, desk: Desk, code: str
) -> None:
    slow_store(program)
    at_once(*QRS_RIM_5, UP, F4, F4, *QRS_RIM_5)
    settled(qtbot, program)
    assert [row.facts.decision for row in table_of(desk, code).groups] == [Decision.HOLD, Decision.KEEP]
    slow_store(program)
    at_once("mbu", ENTER, "rim", ENTER, "7", PAGE_DOWN, UP, DELETE)
    settled(qtbot, program)
    assert len(rows(desk, code)) == 2
    slow_store(program)
    at_once(ESCAPE, "mbu", ENTER, "rim", ENTER, "7", PAGE_DOWN, UP, ENTER)
    settled(qtbot, program)
    assert bench_of(program).rows.changing is bench_of(program).state.lines.lines[-1]


def test_what_is_typed_after_the_key_of_the_reading_is_for_its_form(
    qtbot: Any, program: Program, desk: Desk, code: str
) -> None:
    program.lanes.read(lambda: threading.Event().wait(0.4))
    at_once(F11, "harbour iii")
    settled(qtbot, program)
    assert bench_of(program).beside_work.reading.form.entries["main"].value() == "III"


def test_taken_back_is_what_was_done_last_also_while_it_is_being_written(
    qtbot: Any, program: Program, desk: Desk, code: str
) -> None:
    at_once("mbu", ENTER, ESCAPE, ESCAPE)
    settled(qtbot, program)
    slow_store(program)
    at_once(*QRS_RIM_5, (Qt.Key.Key_Z, CONTROL))
    settled(qtbot, program)
    assert (rows(desk, code), len(bench_of(program).state.lines.lines)) == ([], 0)
    slow_store(program)
    at_once(*QRS_RIM_5, (Qt.Key.Key_Z, CONTROL), (Qt.Key.Key_Z, CONTROL))
    settled(qtbot, program)
    assert rows(desk, code) == []
    assert [line.doubt_code for line in bench_of(program).state.lines.lines] == ["half_typed"]
