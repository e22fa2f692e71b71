"""A list of lines with boxes: a click is about the line under the pointer, also where that is half in sight."""

from typing import Any

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QListWidgetItem

from findsdesk.ui.widgets.ticked_list import TickedList


def test_a_click_into_a_box_half_in_sight_ticks_that_line_and_takes_the_cursor_along(qtbot: Any) -> None:
    lines = TickedList()
    qtbot.addWidget(lines)
    for name in "abcdefgh":
        item = QListWidgetItem(name)
        item.setCheckState(Qt.CheckState.Unchecked)
        lines.addItem(item)
    lines.setVerticalScrollMode(TickedList.ScrollMode.ScrollPerPixel)
    high = lines.sizeHintForRow(0)
    lines.resize(200, round(high * 3.5) + 2 * lines.frameWidth())
    lines.show()
    lines.setCurrentRow(0)
    box = lines.visualItemRect(lines.item(3)).topLeft() + QPoint(8, high // 2 - 2)
    assert lines.viewport().rect().contains(box)
    QTest.mouseClick(lines.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, box)
    ticked = [lines.item(row).text() for row in range(8) if lines.item(row).checkState() is Qt.CheckState.Checked]
    assert (ticked, lines.currentRow()) == (["d"], 3)
