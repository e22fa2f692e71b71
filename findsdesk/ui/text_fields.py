"""In which widgets text is typed."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QTextEdit,
    QWidget,
)

_TEXT_FIELDS = (QLineEdit, QComboBox, QAbstractSpinBox, QPlainTextEdit, QTextEdit)
_READ_ONLY = (QLineEdit, QAbstractSpinBox, QPlainTextEdit, QTextEdit)


def text_field() -> QWidget | None:
    """Return what has the keyboard where text can be typed in it; of an open list of choices its box."""
    field = QApplication.focusWidget()
    popup = QApplication.activePopupWidget()
    if popup is not None and isinstance(popup.parentWidget(), QComboBox):
        field = popup.parentWidget()
    writable = isinstance(field, _TEXT_FIELDS) and not (isinstance(field, _READ_ONLY) and field.isReadOnly())
    return field if writable else None


def takes_sentences(field: QWidget) -> bool:
    """Return whether a field has several lines, in which somebody writes sentences."""
    return isinstance(field, (QPlainTextEdit, QTextEdit))
