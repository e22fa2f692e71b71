"""Hands at the wash yard, for tests: the bench in a window of its own, a scanner, keys and a mouse."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from PySide6.QtCore import QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton

from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.washing import dip_and_look, start_soak
from findsdesk.ui import store_work
from findsdesk.ui.benches.wash.page import WashBench
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.foot_facts import FootFacts
from findsdesk.ui.window import Window
from findsdesk.ui.window_reads import WindowReads
from tests.ui.conftest import Keyboard, show
from tests.yard import new_yard, put_container, sitting

ENTER, ESCAPE = Qt.Key.Key_Return, Qt.Key.Key_Escape


class Yard:
    """The bench in a window of its own, with hands on scanner, keys and mouse."""

    def __init__(self, qtbot: Any, around: Surroundings, keyboard: Keyboard, desk: Desk) -> None:
        self.qtbot, self.around, self.keyboard, self.desk = qtbot, around, keyboard, desk
        around.desk, around.terms = desk, desk.terms
        self.bench = WashBench(around)
        reads = WindowReads(
            find=lambda text: store_work.find(around.desk, text),
            thing=lambda kind, number: store_work.thing(around.desk, kind, number),
            foot=FootFacts,
        )
        self.window = Window(around, (self.bench,), reads)
        self.window.resize(QSize(1366, 768))
        show(qtbot, self.window, self.bench.first_focus())
        keyboard.filter.scanned.connect(self.window.on_scan)
        self.settle()

    def settle(self) -> None:
        """Wait until nothing is being looked up, read or written."""
        self.qtbot.waitUntil(self.around.lanes.idle, timeout=60_000)
        for _round in range(4):
            # Wrapped texts settle their heights in a few rounds of layout.
            QApplication.sendPostedEvents()

    def scan(self, code: str) -> str:
        self.keyboard.wait(2_500)
        self.keyboard.scan(code)
        self.settle()
        return self.said()

    def type(self, text: str, end: Qt.Key | None = ENTER) -> str:
        self.keyboard.type(text, end=end)
        self.settle()
        return self.said()

    def press(self, key: Qt.Key | str) -> None:
        self.keyboard.press(key, 200)
        self.keyboard.wait(400)
        self.settle()

    def said(self) -> str:
        return self.window.scan_line.answer.in_one_line()

    def refused(self) -> str:
        return self.bench.refusals.accessibleName() if self.bench.refusals.isVisible() else ""

    def slip(self) -> str:
        """Return the words of what was typed and not written."""
        return self.bench.left_slip.accessibleName() if self.bench.left_slip.isVisible() else ""

    def sit(self, name: str) -> None:
        self.around.desk = self.desk = sitting(self.desk, name)

    def button(self, words: str) -> QPushButton:
        found = [
            button
            for button in self.bench.findChildren(QPushButton)
            if button.isVisible() and button.text().startswith(words)
        ]
        assert found, words
        return found[0]

    def click(self, words: str) -> None:
        QTest.mouseClick(self.button(words), Qt.MouseButton.LeftButton)
        self.settle()

    def more(self, words: str) -> None:
        """Open "More" and choose by keyboard."""
        self.press("m")
        rows = self.bench.tags.quiet_list.rows
        assert rows.hasFocus()
        for _step in range(rows.count()):
            if rows.currentItem().text().startswith(words):
                break
            self.press(Qt.Key.Key_Down)
        assert rows.currentItem().text().startswith(words)
        self.press(ENTER)

    def answer(self, key: str, text: str) -> None:
        """Type into the question of the open form."""
        field = self.bench.tags.quiet_form.field(key)
        line = field if isinstance(field, QLineEdit) else field.findChild(QLineEdit)
        assert isinstance(line, QLineEdit)
        line.setFocus()
        line.selectAll()
        self.keyboard.type(text)

    def write(self) -> None:
        self.bench.tags.quiet_form.write_button.click()
        self.settle()


def soaking(desk: Desk, number: str, tub: str = "1") -> str:
    code = put_container(desk, number)
    dip_and_look(desk, code)
    start_soak(desk, code, tub=tub)
    return code


def dossier(desk: Desk, code: str) -> Dossier:
    found = find(desk, code)
    assert isinstance(found, Dossier)
    return found


@contextmanager
def yard_at_work(qtbot: Any, around: Surroundings, keyboard: Keyboard, folder: Path) -> Iterator[Yard]:
    """Give the yard of the invented excavation with Tessa at it; the store is closed at the end."""
    desk = new_yard(folder, by="Tessa")
    made = Yard(qtbot, around, keyboard, desk)
    yield made
    made.settle()
    desk.close()
