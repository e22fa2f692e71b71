"""Keys typed after a scan, also all at once as after a stall of the window: none goes to what was in hand before."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest

from findsdesk.desk.changing_pieces import describe_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.sorting import add_group, table_of
from findsdesk.domain.routes import Standing
from findsdesk.ui.answers import Tone
from findsdesk.ui.keys_after_scan import KeysAfterScan
from findsdesk.ui.program import Program
from tests.desk.at_the_table import dry_container
from tests.desk.test_joins_and_vessels import put_pieces
from tests.ui.at_the_pieces import piece
from tests.ui.at_work import go_to, opened, scan, settled
from tests.yard import new_yard, put_settled, standing_of

CONTROL, PLAIN = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.NoModifier
ENTER = Qt.Key.Key_Return


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return new_yard(tmp_path, by="Oren")


@pytest.fixture
def program(qtbot: Any, desk: Desk) -> Iterator[Program]:
    with opened(qtbot, desk) as at_work:
        for bench in ("pieces", "sorting"):
            go_to(qtbot, at_work, bench)
        yield at_work


def at_once(*said: str | Qt.Key | tuple[Qt.Key, Qt.KeyboardModifier]) -> None:
    """Press keys one after the other without letting anything come back between them, as when a stall has ended."""
    for one in said:
        window = QGuiApplication.focusWindow()
        assert window is not None
        if isinstance(one, tuple):
            QTest.keyClick(window, *one)
        elif isinstance(one, Qt.Key):
            QTest.keyClick(window, one)
        else:
            for sign in one:
                QTest.sendKeyEvent(QTest.KeyAction.Click, window, Qt.Key(ord(sign.upper())), sign, PLAIN)


def slow_store(program: Program) -> None:
    """Let the next look-up wait a moment, as behind a slow act."""
    program.lanes.deed(lambda: threading.Event().wait(0.4))


def test_rows_typed_while_the_window_stalled_are_of_the_bucket_that_was_asked_for(
    qtbot: Any, program: Program, desk: Desk
) -> None:
    settled_one = put_settled(desk, 86)
    asked_for = dry_container(desk, 85, 40)
    scan(qtbot, program, "86")
    go_to(qtbot, program, "pieces")
    slow_store(program)
    at_once((Qt.Key.Key_F, CONTROL), "85", ENTER, (Qt.Key.Key_4, CONTROL), "ggl", ENTER, "rim", ENTER, "17")
    at_once(ENTER, ENTER, ENTER, ENTER, ENTER, ENTER, ENTER, ENTER, ENTER)
    settled(qtbot, program)
    assert program.window.bench_open() is program.window.benches["sorting"]
    rows = table_of(desk, asked_for).groups
    assert [(row.facts.ware, row.facts.part, row.facts.pieces) for row in rows] == [("GGL", "rim", 17)]
    assert standing_of(desk, settled_one) is Standing.SETTLED


def test_a_row_typed_right_after_a_number_in_the_scan_line_is_no_other_number_to_find(
    qtbot: Any, program: Program, desk: Desk
) -> None:
    asked_for = dry_container(desk, 85, 40)
    go_to(qtbot, program, "sorting")
    slow_store(program)
    at_once((Qt.Key.Key_F, CONTROL), "85", ENTER, "mbu", ENTER, "rim", ENTER, "3", (Qt.Key.Key_PageDown, PLAIN))
    settled(qtbot, program)
    assert [(row.facts.ware, row.facts.pieces) for row in table_of(desk, asked_for).groups] == [("MBU", 3)]
    assert program.window.bench_open() is program.window.benches["sorting"]


def test_what_is_typed_after_a_piece_was_scanned_is_of_that_piece(qtbot: Any, program: Program, desk: Desk) -> None:
    put_pieces(desk, 87, 2)
    describe_piece(desk, "87.2", wall_tenths_mm=49)
    bench = go_to(qtbot, program, "pieces")
    scan(qtbot, program, "87.1")
    first, second = piece(desk, "87.1"), piece(desk, "87.2")
    bench.show_page("measures")
    bench.forms.pages["measures"].focus_field("wall_tenths_mm")
    slow_store(program)
    program.window.on_scan("87.2")
    at_once("6")
    settled(qtbot, program)
    assert bench.state.piece is not None
    assert bench.state.piece.code == second.code
    assert bench.forms.as_typed()["wall_tenths_mm"] == 60, "typed over what stood there, not behind it"
    assert first.id not in bench.state.unwritten


def test_a_key_that_waited_in_vain_goes_nowhere_and_it_is_said(qtbot: Any, program: Program, desk: Desk) -> None:
    put_settled(desk, 86)
    scan(qtbot, program, "86")
    go_to(qtbot, program, "sorting")
    held = threading.Event()
    impatient = KeysAfterScan(program.window, longest_s=0.02)
    program.lanes.deed(lambda: held.wait(20))
    program.window.on_scan("86")
    assert not impatient.may_go_on(writes=True)
    assert program.window.scan_line.answer.tone is Tone.REFUSED
    assert "is not taken" in program.window.scan_line.answer.in_one_line()
    held.set()
    settled(qtbot, program)
    assert impatient.may_go_on(writes=True)


def test_a_key_that_acts_waits_also_where_a_row_may_be_typed_ahead(qtbot: Any, program: Program, desk: Desk) -> None:
    first, second = dry_container(desk, 85, 40), dry_container(desk, 84, 12)
    scan(qtbot, program, first)
    go_to(qtbot, program, "sorting")
    at_once("mbu", ENTER, "rim", ENTER, "4", (Qt.Key.Key_PageDown, PLAIN))
    settled(qtbot, program)
    assert [row.facts.pieces for row in table_of(desk, first).groups] == [4]
    slow_store(program)
    program.window.on_scan(second)
    at_once((Qt.Key.Key_Z, CONTROL))
    settled(qtbot, program)
    assert [row.facts.pieces for row in table_of(desk, first).groups] == [4]


def test_a_ware_begun_before_the_bucket_is_there_goes_on_in_its_cell(qtbot: Any, program: Program, desk: Desk) -> None:
    first, second = dry_container(desk, 85, 40), dry_container(desk, 84, 12)
    scan(qtbot, program, first)
    bench = go_to(qtbot, program, "sorting")
    slow_store(program)
    program.window.on_scan(second)
    at_once("t")
    qtbot.wait(150)
    assert bench.table.fields.typed().ware == "t"
    settled(qtbot, program)
    at_once("gy", ENTER, "body", ENTER, "5", (Qt.Key.Key_PageDown, PLAIN))
    settled(qtbot, program)
    rows = table_of(desk, second).groups
    assert [(row.facts.ware, row.facts.part, row.facts.pieces) for row in rows] == [("TGY", "body", 5)]


def test_a_half_row_that_comes_back_is_gone_on_with_in_its_next_cell(qtbot: Any, program: Program, desk: Desk) -> None:
    first, second = dry_container(desk, 85, 40), dry_container(desk, 84, 12)
    scan(qtbot, program, first)
    bench = go_to(qtbot, program, "sorting")
    at_once("qrs", ENTER)
    scan(qtbot, program, second)
    scan(qtbot, program, first)
    assert bench.rows.fields.column_at_hand() == "part"
    at_once("rim", ENTER, "2", (Qt.Key.Key_PageDown, PLAIN))
    settled(qtbot, program)
    assert [(row.facts.ware, row.facts.part) for row in table_of(desk, first).groups] == [("QRS", "rim")]


def test_a_half_row_is_gone_on_with_in_its_next_cell_also_from_the_ware_itself(
    qtbot: Any, program: Program, desk: Desk
) -> None:
    first, second = dry_container(desk, 85, 40), dry_container(desk, 84, 12)
    scan(qtbot, program, first)
    bench = go_to(qtbot, program, "sorting")
    at_once("qrs")
    qtbot.wait(150)
    scan(qtbot, program, second)
    at_once("mbu")
    qtbot.wait(150)
    scan(qtbot, program, first)
    assert bench.rows.fields.column_at_hand() == "part"


def test_rows_dictated_in_a_stall_stand_in_their_order(qtbot: Any, program: Program, desk: Desk) -> None:
    """Also behind those that the bucket has already and that were not read yet."""
    first, second = dry_container(desk, 85, 40), dry_container(desk, 84, 12)
    for pieces in (1, 2):
        add_group(desk, first, ware="QRS", part="rim", pieces=pieces)
    scan(qtbot, program, second)
    bench = go_to(qtbot, program, "sorting")
    for n in "34":
        slow_store(program)
        program.window.on_scan(first)
        at_once("qrs", ENTER, "rim", ENTER, n, (Qt.Key.Key_PageDown, PLAIN))
    settled(qtbot, program)
    for n in "56":
        at_once("qrs", ENTER, "rim", ENTER, n, (Qt.Key.Key_PageDown, PLAIN))
    settled(qtbot, program)
    assert [row.facts.pieces for row in table_of(desk, first).groups] == [1, 2, 3, 4, 5, 6]
    assert [line.facts.pieces for line in bench.state.lines.lines] == [1, 2, 3, 4, 5, 6]
    scan(qtbot, program, second)
    scan(qtbot, program, first)
    assert [line.facts.pieces for line in bench.state.lines.lines] == [1, 2, 3, 4, 5, 6]


def test_what_is_typed_between_two_scans_is_of_the_first_also_where_both_come_at_once(
    qtbot: Any, program: Program, desk: Desk
) -> None:
    first, second = dry_container(desk, 85, 40), dry_container(desk, 84, 12)
    scan(qtbot, program, dry_container(desk, 83, 9))
    bench = go_to(qtbot, program, "sorting")
    slow_store(program)
    program.filter.scanned.emit(first)
    at_once("qrs", ENTER, "rim", ENTER, "3", ENTER, ENTER, ENTER, "mbu", ENTER)
    program.filter.scanned.emit(second)
    at_once("tgy", ENTER, "body", ENTER, "5", (Qt.Key.Key_PageDown, PLAIN))
    settled(qtbot, program)
    assert [(row.facts.ware, row.facts.pieces) for row in table_of(desk, first).groups] == [("QRS", 3)]
    assert [(row.facts.ware, row.facts.pieces) for row in table_of(desk, second).groups] == [("TGY", 5)]
    scan(qtbot, program, first)
    assert bench.rows.new.typed().ware == "MBU"


def test_a_scan_is_not_taken_while_it_is_not_known_whose_what_was_typed_before_it_is(
    qtbot: Any, program: Program, desk: Desk
) -> None:
    first, second = dry_container(desk, 85, 40), dry_container(desk, 84, 12)
    scan(qtbot, program, second)
    go_to(qtbot, program, "sorting")
    held = threading.Event()
    impatient = KeysAfterScan(program.window, longest_s=0.02)
    program.lanes.deed(lambda: held.wait(20))
    program.window.on_scan(first)
    assert impatient.may_be_looked_up(), "nothing was typed for what comes"
    at_once("qrs", ENTER)
    assert not impatient.may_be_looked_up()
    assert "Wait." in program.window.scan_line.answer.in_one_line()
    held.set()
    settled(qtbot, program)
    assert impatient.may_be_looked_up()


def test_a_half_row_is_not_lost_where_another_one_is_begun_before_it_is_back(
    qtbot: Any, program: Program, desk: Desk
) -> None:
    first, second = dry_container(desk, 85, 40), dry_container(desk, 84, 12)
    scan(qtbot, program, first)
    bench = go_to(qtbot, program, "sorting")
    at_once("qrs", ENTER)
    scan(qtbot, program, second)
    slow_store(program)
    program.window.on_scan(first)
    at_once("mbu", ENTER)
    settled(qtbot, program)
    scan(qtbot, program, second)
    scan(qtbot, program, first)
    assert bench.rows.new.typed().ware == "MBU"
    assert [line.typed.ware for line in bench.state.lines.waiting()] == ["QRS"]
