"""A list of lines with boxes: a click is about the line under the pointer, also where that is half in sight."""

from typing import Any

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QListWidgetItem, QStyle, QStyleOptionViewItem

from findsdesk.ui.widgets.ticked_list import TickedList

LARGE = "QListWidget::item { padding: 12px; } QListWidget::indicator { width: 30px; height: 30px; }"
LOOKS = {"as it comes": "", "large": LARGE}


def box_of(lines: TickedList, row: int) -> QRect:
    """Where the style in use draws the box of a line."""
    option = QStyleOptionViewItem()
    lines.initViewItemOption(option)
    option.features |= QStyleOptionViewItem.ViewItemFeature.HasCheckIndicator
    option.rect = lines.visualItemRect(lines.item(row))
    return lines.style().subElementRect(QStyle.SubElement.SE_ItemViewItemCheckIndicator, option, lines)


@pytest.mark.parametrize("look", LOOKS.values(), ids=LOOKS)
def test_a_click_into_a_box_half_in_sight_ticks_that_line_and_takes_the_cursor_along(qtbot: Any, look: str) -> None:
    lines = TickedList()
    lines.setStyleSheet(look)
    qtbot.addWidget(lines)
    for name in "abcdefgh":
        item = QListWidgetItem(name)
        item.setCheckState(Qt.CheckState.Unchecked)
        lines.addItem(item)
    lines.setVerticalScrollMode(TickedList.ScrollMode.ScrollPerPixel)
    lines.setCurrentRow(0)
    lines.show()
    lines.doItemsLayout()
    pointer = QPoint(box_of(lines, 3).center().x(), box_of(lines, 3).top() + 2)
    lines.setFixedSize(200, pointer.y() + 1 + 2 * lines.frameWidth())
    assert lines.viewport().rect().contains(pointer)
    assert lines.viewport().height() < lines.visualItemRect(lines.item(3)).bottom()
    QTest.mouseClick(lines.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, pointer)
    ticked = [lines.item(row).text() for row in range(8) if lines.item(row).checkState() is Qt.CheckState.Checked]
    assert (ticked, lines.currentRow()) == (["d"], 3)
