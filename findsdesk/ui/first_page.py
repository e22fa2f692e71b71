"""The page that stands in the window while no store is open: what is going on, or what is wrong, and the ways on."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.bench import act_button
from findsdesk.ui.theme import Theme
from findsdesk.ui.ways_out import Way
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.scroll_page import ScrollPage, scrolled
from findsdesk.ui.widgets.slips import RefusalSlip
from findsdesk.words import N_, _, grouped, put

WIDTH = 620
"""Pixels of the column of text and buttons at 100 per cent."""


class FirstPage(QWidget):
    """Says one thing and offers the ways on; a further part (a form, a list of copies) may stand below."""

    chosen = Signal(object)
    """The ``Way`` somebody took."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._title = labels.title()
        self._text = labels.plain()
        self.slip = RefusalSlip(theme)
        self.buttons: list[QPushButton] = []
        self._ways = QVBoxLayout()
        self._part: QWidget | None = None
        self._said = ""
        self._column = QVBoxLayout()
        for part in (self._title, self.slip, self._text):
            self._column.addWidget(part)
        self._column.addLayout(self._ways)
        self._column.addStretch(1)
        self._lay_out()

    def _lay_out(self) -> None:
        page = ScrollPage()
        inner = QWidget()
        inner.setLayout(self._column)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._inner = inner
        row = QHBoxLayout(page)
        row.addStretch(1)
        row.addWidget(inner, 6)
        row.addStretch(1)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(scrolled(page))
        self._space()
        self.theme.changed.connect(self._space)

    def _space(self) -> None:
        px = self.theme.px
        self._inner.setMaximumWidth(px(WIDTH))
        self._column.setContentsMargins(px(18), px(40), px(18), px(14))
        self._column.setSpacing(px(14))
        self._ways.setSpacing(px(8))

    def say_opening(self, name: str) -> None:
        """Say that a store is being opened."""
        self._show(put(N_("Opening {name} …"), None, {"name": name}), _("Scans are taken already."), "", ())

    def say_progress(self, done: int, of: int) -> None:
        """Say how far something long has come."""
        self._text.setText(put(N_("{done} of {of}"), None, {"done": grouped(done), "of": grouped(of)}))

    def welcome(self, ways: Sequence[Way]) -> None:
        """Offer the ways to begin."""
        text = _("An excavation lives in one file, its store. Make one, open one, or look around in the example first.")
        self._show(_("No excavation is open"), text, "", ways)

    def refuse(self, words: str, where: str, ways: Sequence[Way]) -> None:
        """Say why a store does not open, and offer the ways out."""
        self._show(_("This store does not open"), where, words, ways)

    def show_part(self, part: QWidget | None, title: str = "") -> None:
        """Show a further part, under its own title, instead of the buttons, or take it away again."""
        if self._part is not None:
            self._part.hide()
            self._column.removeWidget(self._part)
            self._part.deleteLater()
        self._part = part
        self._title.setText(title or self._said)
        for button in self.buttons:
            button.setVisible(part is None)
        self._text.setVisible(part is None and bool(self._text.text()))
        if part is not None:
            self._column.insertWidget(self._column.count() - 1, part)
            part.show()

    def _show(self, title: str, text: str, refusal: str, ways: Sequence[Way]) -> None:
        self._said = title
        self.show_part(None)
        self._text.setText(text)
        self._text.setVisible(bool(text))
        if refusal:
            self.slip.refuse(refusal)
        else:
            self.slip.clear()
        for button in self.buttons:
            self._ways.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.buttons = [self._button(way, first=index == 0) for index, way in enumerate(ways)]
        if self.buttons:
            self.buttons[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def _button(self, way: Way, *, first: bool) -> QPushButton:
        words = put(way.value)
        button = act_button(words) if first else QPushButton(words)
        button.clicked.connect(lambda: self.chosen.emit(way))
        self._ways.addWidget(button, alignment=Qt.AlignmentFlag.AlignLeading)
        button.show()
        return button


class CopiesToChoose(QWidget):
    """The copies beside a store, the newest first, each a button."""

    chosen = Signal(object)
    """The path of a copy."""
    left = Signal()

    def __init__(self, copies: Sequence[tuple[Path, str]], parent: QWidget | None = None) -> None:
        """``copies`` are paths with what each is called."""
        super().__init__(parent)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        said = (
            _("A copy becomes a new store beside the old one; nothing is written over.")
            if copies
            else _("No copy lies beside it. Choose the file of a copy kept elsewhere.")
        )
        layout.addWidget(labels.plain(said))
        for path, words in copies:
            button = QPushButton(words)
            button.clicked.connect(lambda _checked=False, path=path: self.chosen.emit(path))
            layout.addWidget(button, alignment=Qt.AlignmentFlag.AlignLeading)
        for words, signal_value in ((_("Another copy …"), None), (_("Back"), False)):
            button = QPushButton(words)
            button.setProperty("quiet", True)
            if signal_value is None:
                button.clicked.connect(lambda: self.chosen.emit(None))
            else:
                button.clicked.connect(self.left)
            layout.addWidget(button, alignment=Qt.AlignmentFlag.AlignLeading)
