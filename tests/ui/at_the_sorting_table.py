"""The student at the keyboard of the sorting table, for tests: types, scans, and tells what the screen shows."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from findsdesk.desk.desk import Desk
from findsdesk.desk.group_rows import GroupRow
from findsdesk.desk.retention import add_rule
from findsdesk.desk.sorting import SortingTable, table_of
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.page import SortingBench
from findsdesk.ui.program import Program
from tests.ui.at_work import go_to, listen_to, opened, settled
from tests.ui.conftest import Keyboard
from tests.yard import new_yard

ENTER, PAD_ENTER = Qt.Key.Key_Return, Qt.Key.Key_Enter
UP, DOWN, DELETE, ESCAPE = Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Delete, Qt.Key.Key_Escape
F2, F4, F5, F6, F7, F8 = (getattr(Qt.Key, f"Key_F{n}") for n in (2, 4, 5, 6, 7, 8))
PAGE_DOWN = Qt.Key.Key_PageDown
CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
MOST_KEYS = 12


class Table:
    """The student at the keyboard, and what the screen shows."""

    def __init__(self, qtbot: Any, keyboard: Keyboard, program: Program, desk: Desk) -> None:
        self.qtbot, self.keyboard, self.program, self.desk = qtbot, keyboard, program, desk
        listen_to(keyboard, program)
        self.bench: SortingBench = go_to(qtbot, program, "sorting")
        self.keys = 0

    def settle_down(self) -> None:
        settled(self.qtbot, self.program)

    def scan(self, code: str) -> None:
        """Scan a tag, and wait until it is in hand and read."""
        self.keyboard.wait(2_500)
        self.keyboard.scan(code)
        self.settle_down()

    def type(self, *said: str | Qt.Key) -> None:
        """Type texts and keys, and count the presses; waits for nothing."""
        for one in said:
            if isinstance(one, Qt.Key):
                self.keyboard.press(one, 90)
                self.keys += 1
            else:
                self.keyboard.type(one)
                self.keys += len(one)

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier) -> None:
        """Press a key with another one held."""
        window = QGuiApplication.focusWindow()
        assert window is not None
        QTest.keyClick(window, key, held)
        self.settle_down()

    def row(self, *said: str | Qt.Key) -> int:
        """Type one group to its end, wait until it is written, and return the keys it took."""
        before = self.keys
        self.type(*said)
        self.settle_down()
        return self.keys - before

    def shown(self) -> list[list[str]]:
        """Return the rows on screen."""
        model = self.bench.table.rows.table
        return [[cell.text for cell in model.row(place).cells] for place in range(model.rowCount())]

    def stored(self, code: str) -> SortingTable:
        return table_of(self.desk, code)

    def slip(self) -> str:
        return self.bench.refusals.accessibleName() if self.bench.refusals.isVisible() else ""

    def said(self) -> str:
        return self.program.window.scan_line.answer.in_one_line()

    def bar(self) -> list[str]:
        return [part.words for part in self.bench.table.bar.parts]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return new_yard(tmp_path, by="Oren")


@pytest.fixture
def table(qtbot: Any, keyboard: Keyboard, desk: Desk) -> Iterator[Table]:
    with opened(qtbot, desk) as program:
        yield Table(qtbot, keyboard, program, desk)


def in_short(groups: tuple[GroupRow, ...]) -> list[str]:
    return [group.facts.in_short() for group in groups]


class HeldBack:
    """Let the deed lane wait, as behind a slow disk, until the block is left."""

    def __init__(self, table: Table) -> None:
        self._go_on = threading.Event()
        table.program.lanes.deed(lambda: self._go_on.wait(20))

    def __enter__(self) -> None:
        return

    def __exit__(self, *_fault: object) -> None:
        self._go_on.set()


def column(table: Table) -> str:
    """Return the column that has the keyboard."""
    return table.bench.rows.fields.column_at_hand()


def after_what_waits(table: Table) -> None:
    """Let come what another thread or a timer of no time has for the window."""
    QApplication.processEvents()
    table.settle_down()


def paste(table: Table, text: str) -> None:
    QGuiApplication.clipboard().setText(text)
    table.press(Qt.Key.Key_V, CONTROL)


def keep_and_discard(desk: Desk) -> None:
    """Set a policy: rims are kept, one in ten of the rest."""
    add_rule(desk, "Rims", decision=Decision.KEEP, reason="diagnostic", parts=("rim",))
    add_rule(desk, "One in ten", decision=Decision.DISCARD, reason="no diagnostic value", parts=("body",), one_in=10)
