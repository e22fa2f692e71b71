"""The keys in the cells of a row: what each of them does, whichever cell it is pressed in."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication

from findsdesk.domain.pasted_rows import looks_like_rows

if TYPE_CHECKING:
    from findsdesk.ui.benches.sorting.row_fields import RowFields

_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_OFTEN = Qt.KeyboardModifier.KeypadModifier
"""The number pad says so of its keys; they are the same keys all the same."""


class CellKeys:
    """The keys of one row of cells."""

    def __init__(self, fields: RowFields) -> None:
        self._fields = fields

    def press(self, column: str, event: QKeyEvent) -> bool:
        """Do what a key pressed in the cell of a column does; return whether it did anything."""
        if event.key() in _ENTER and event.isAutoRepeat():
            # A key whose release was lost must not write rows by itself.
            return True
        if event.key() not in _ENTER:
            self._fields.came_by_repeating = ""
        if event.matches(QKeySequence.StandardKey.Paste):
            return self._paste()
        call = self._calls(column).get((event.key(), event.modifiers() & ~_OFTEN))
        if call is None:
            return self._past(column, event)
        call()
        return True

    def _calls(self, column: str) -> dict[tuple[int, Qt.KeyboardModifier], Callable[[], None]]:
        fields, key, held = self._fields, Qt.Key, Qt.KeyboardModifier
        plain, control = held.NoModifier, held.ControlModifier
        return {
            (key.Key_Return, plain): lambda: fields.forward(column),
            (key.Key_Enter, plain): lambda: fields.forward(column),
            (key.Key_Return, held.ShiftModifier): lambda: fields.back(column),
            (key.Key_Enter, held.ShiftModifier): lambda: fields.back(column),
            (key.Key_Down, plain): lambda: fields.as_above(column),
            (key.Key_Up, plain): fields.upwards.emit,
            (key.Key_PageDown, plain): fields.finish,
            (key.Key_Escape, plain): fields.left.emit,
            (key.Key_Z, control): fields.take_back_wanted.emit,
            (key.Key_Y, control): fields.do_again_wanted.emit,
            (key.Key_Delete, control): fields.remove_wanted.emit,
        }

    def _past(self, column: str, event: QKeyEvent) -> bool:
        """Pass a letter on that is not meant for the decision it was typed in: to the reason a discard still needs."""
        fields, held = self._fields, Qt.KeyboardModifier
        plain = not event.modifiers() & (held.ControlModifier | held.AltModifier)
        if not (fields.passes_letters_on and column == "decision" and plain and event.text().strip()):
            return False
        if fields.wants_why():
            fields.go_to("reason")
            QApplication.sendEvent(fields.cells["reason"], event)
            return True
        fields.typed_past.emit(event)
        return True

    def _paste(self) -> bool:
        """Hand several cells or rows over; a single value goes into its cell as everywhere."""
        text = QGuiApplication.clipboard().text()
        if not looks_like_rows(text):
            return False
        self._fields.pasted.emit(text)
        return True
