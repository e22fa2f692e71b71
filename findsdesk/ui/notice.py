"""A notice: one dialog that tells or asks, which no scan can answer."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QPlainTextEdit, QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.widgets import labels
from findsdesk.words import _


class Notice(QDialog):
    """One dialog: a bold head, a text, perhaps a report to copy, and buttons of which none is pressed by a scan."""

    def __init__(self, head: str, text: str, report: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(head)
        self.whole = layout = QVBoxLayout(self)
        layout.addWidget(labels.bold(head, wrap=True))
        if text:
            layout.addWidget(labels.plain(text))
        self.report = QPlainTextEdit(report)
        self.report.setReadOnly(True)
        self.report.setAccessibleName(_("Report"))
        self.report.setVisible(bool(report))
        layout.addWidget(self.report)
        self._scan_note = labels.plain("")
        labels.restyle(self._scan_note, wrong=True)
        self._scan_note.hide()
        layout.addWidget(self._scan_note)
        self.buttons = QDialogButtonBox()
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        layout.addWidget(self.buttons)
        self.setMinimumWidth(420)

    def put_in(self, page: QWidget) -> None:
        """Put a page below the head."""
        self.whole.insertWidget(1, page)

    def add_yes(self, words: str) -> None:
        """Add the button that does what was asked."""
        self.add_button(words, QDialogButtonBox.ButtonRole.AcceptRole)

    def add_no(self, words: str) -> None:
        """Add the button that closes and does nothing."""
        self.add_button(words, QDialogButtonBox.ButtonRole.RejectRole)

    def add_aside(self, words: str, call: Callable[[], None]) -> None:
        """Add a button that does something and leaves the dialog open."""
        self.add_button(words, QDialogButtonBox.ButtonRole.ActionRole).clicked.connect(call)

    def add_button(self, words: str, role: QDialogButtonBox.ButtonRole) -> QPushButton:
        """Add a button; none becomes the default, so that Enter alone answers nothing."""
        button = self.buttons.addButton(words, role)
        button.setAutoDefault(False)
        button.setDefault(False)
        return button

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        for button in self.findChildren(QPushButton):  # the box makes its first yes the default as it is shown
            button.setDefault(False)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter press the button that has the keyboard, save the one that answers yes: that takes Space."""
        button = self.focusWidget()
        enters = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if not enters or not isinstance(button, QPushButton):
            super().keyPressEvent(event)
        elif self.buttons.buttonRole(button) is not QDialogButtonBox.ButtonRole.AcceptRole:
            button.click()

    def say_scan_received(self) -> None:
        """Tell that a scan came while this dialog was open and was not acted upon."""
        self._scan_note.setText(_("Scan received. Close this message first."))
        self._scan_note.show()

    def scan_note(self) -> QLabel:
        """Return the line that tells of a scan."""
        return self._scan_note
