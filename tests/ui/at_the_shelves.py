"""A store room at the bench of shelves, for tests: what is in it, and hands for scanner and keyboard."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from findsdesk.desk.boxes import add_box
from findsdesk.desk.boxing import put_into_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.shelves import places_tree
from findsdesk.domain.codes import Kind, make_code
from findsdesk.ui.answers import Tone
from findsdesk.ui.benches.shelves.page import ShelvesBench
from findsdesk.ui.benches.shelves.state import Page
from findsdesk.ui.program import Program
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.ui.at_work import settled

KEY = Qt.Key
BOX1, BOX2 = (make_code("TQ", Kind.BOX, number) for number in (1, 2))


class Store:
    """The store with the codes the tests scan."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        furnish_store(desk)
        self.places = {one.name: one.code for one in places_tree(desk)}
        add_box(desk, kind="sherds", place="Shelf 1", how_many=2)
        self.bags = put_bags(desk, 131, [4_000, 3_500, 2_100, 900])
        put_into_box(desk, "1", self.bags[:2])
        self.glass = put_bags(desk, 132, [84], material="glass", pieces=22)[0]


def turn_to(qtbot: Any, program: Program, bench: ShelvesBench, page: Page) -> None:
    """Go along the tabs with the arrow keys."""
    bench.tabs.setFocus()
    while bench.open is not page:
        forward = list(Page).index(page) > list(Page).index(bench.open)
        QTest.keyClick(bench.tabs, KEY.Key_Right if forward else KEY.Key_Left)
    settled(qtbot, program)


def press(qtbot: Any, program: Program, *keys: Qt.Key | str) -> None:
    program.filter.uninstall()
    for key in keys:
        widget = QApplication.focusWidget()
        assert widget is not None
        if isinstance(key, str):
            QTest.keyClicks(widget, key)
        else:
            QTest.keyClick(widget, key)
    settled(qtbot, program)


def said(program: Program) -> tuple[Tone, str]:
    answer = program.window.scan_line.answer
    return answer.tone, answer.in_one_line()


def texts(table: Any, column: int = 0) -> list[str]:
    return [row.cells[column].text.strip() for row in table.rows.rows]
