"""Keys pressed at once after one that opens something in the registers are for what it opens."""

from __future__ import annotations

import threading
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from findsdesk.desk.desk import Desk
from findsdesk.ui.benches.registers.page import RegistersBench
from findsdesk.ui.program import Program
from tests.ui.at_the_registers import bench, desk, program, show_list  # noqa: F401
from tests.ui.at_work import settled
from tests.ui.test_keys_after_scan import ENTER, at_once


def slow_reading(program: Program) -> None:
    """Let the next reading wait a moment, as behind a long one."""
    program.lanes.read(lambda: threading.Event().wait(0.3))


def test_keys_after_one_that_opens_a_form_or_a_menu_are_for_that(
    qtbot: Any,
    program: Program,
    bench: RegistersBench,
    desk: Desk,
) -> None:
    show_list(qtbot, program, bench, "deposits")
    bench.lists.foot.begin.setFocus()
    slow_reading(program)
    at_once(ENTER, "2099")
    settled(qtbot, program)
    fields = bench.deposit.form.fields
    assert fields is not None
    assert fields.as_typed()["number"] == "2099"
    assert bench.lists.search.text() == ""
    bench.show_list("deposits")
    settled(qtbot, program)
    bench.lists.to_rows()
    slow_reading(program)
    at_once(Qt.Key.Key_F4, Qt.Key.Key_Escape)
    settled(qtbot, program)
    assert bench.lists.chips.menu is not None
    assert QApplication.activePopupWidget() is None, "Escape was for the menu"
