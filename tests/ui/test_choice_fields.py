"""Boxes of choices: every choice of a short list in sight, no words cut, the wheel leaves value and keyboard alone."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QCompleter, QLineEdit, QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.choice_fields import ChoiceBox, DateField, TimeField


@pytest.mark.parametrize("look", ["shade", "sun"])
@pytest.mark.parametrize("words", [("Oren", "Tessa"), ("keep", "keep for mending", "discard", "hold", "ask")])
def test_a_short_list_shows_all_of_its_choices(
    qtbot: Any, theme: Theme, shown: Any, words: tuple[str, ...], look: str
) -> None:
    theme.use(look)
    box = ChoiceBox()
    box.addItems(words)
    box.setMaximumWidth(90)
    shown(box)
    box.showPopup()
    view = box.view()
    qtbot.waitUntil(view.isVisible)
    needed = sum(view.sizeHintForRow(row) for row in range(box.count()))
    assert view.viewport().height() >= needed
    assert view.viewport().width() >= view.sizeHintForColumn(0)
    assert view.sizeHintForRow(0) >= 24
    box.hidePopup()


def test_the_wheel_takes_no_keyboard_and_changes_no_choice(qtbot: Any, theme: Theme, shown: Any) -> None:
    page, other = QWidget(), QPushButton("other")
    fields = (ChoiceBox(), DateField(), TimeField())
    column = QVBoxLayout(page)
    for part in (other, *fields):
        column.addWidget(part)
    shown(page, other)
    for field in fields:
        assert field.focusPolicy() is Qt.FocusPolicy.StrongFocus


def test_names_that_are_offered_can_be_read(qtbot: Any, theme: Theme, shown: Any) -> None:
    line, offered = QLineEdit(), QCompleter(["rim.jpg", "ring.jpg"])
    line.setCompleter(offered)
    shown(line)
    line.setText("ri")
    offered.complete()
    popup = offered.popup()
    qtbot.waitUntil(popup.isVisible)
    picture = popup.grab().toImage()
    ground = picture.pixelColor(picture.width() - 4, picture.height() - 4)
    assert ground == theme.colour("card")
    assert popup.palette().color(QPalette.ColorRole.Text) == theme.colour("ink")
    popup.hide()
