"""A list of lines with boxes: a click is about the line under the pointer, also where that is half in sight."""

from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QListWidgetItem, QStyle, QStyleOptionViewItem

from findsdesk.ui.widgets.ticked_list import TickedList

PADDINGS = {"as it comes": "", "airy": "QListWidget::item { padding: 12px; } QListWidget::indicator { width: 30px; height: 30px; }"}


def box_of(lines: TickedList, row: int) -> QPoint:
    """The middle of what is in sight of a line's box, where the style in use draws it."""
    option = QStyleOptionViewItem()
    lines.initViewItemOption(option)
    index = lines.indexFromItem(lines.item(row))
    lines.itemDelegateForIndex(index).initStyleOption(option, index)
    option.rect = lines.visualItemRect(lines.item(row))
    box = lines.style().subElementRect(QStyle.SubElement.SE_ItemViewItemCheckIndicator, option, lines)
    in_sight = box & lines.viewport().rect()
    assert not in_sight.isEmpty()
    return in_sight.center()


@pytest.mark.parametrize("padding", PADDINGS.values(), ids=PADDINGS)
def test_a_click_into_a_box_half_in_sight_ticks_that_line_and_takes_the_cursor_along(qtbot: Any, padding: str) -> None:
    lines = TickedList()
    lines.setStyleSheet(padding)
    qtbot.addWidget(lines)
    for name in "abcdefgh":
        item = QListWidgetItem(name)
        item.setCheckState(Qt.CheckState.Unchecked)
        lines.addItem(item)
    lines.setVerticalScrollMode(TickedList.ScrollMode.ScrollPerPixel)
    lines.resize(200, round(lines.sizeHintForRow(0) * 3.5) + 2 * lines.frameWidth())
    lines.show()
    lines.setCurrentRow(0)
    half = lines.visualItemRect(lines.item(3))
    assert half.top() < lines.viewport().height() < half.bottom()
    pointer = box_of(lines, 3)
    QTest.mouseClick(lines.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, pointer)
    ticked = [lines.item(row).text() for row in range(8) if lines.item(row).checkState() is Qt.CheckState.Checked]
    assert (ticked, lines.currentRow()) == (["d"], 3)
