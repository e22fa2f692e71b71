"""The sheet: the very page that is printed, the other pages, and the keys that work on it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.printing import StockFacts
from findsdesk.ui.benches.labels import label_words
from findsdesk.ui.benches.labels.state import LabelsState
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.key_hints import KeyHints
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.widgets.sheet_picture import SheetFacts, SheetPicture
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import _

_HUNDREDTHS = 100.0


class SheetPart(QWidget):
    """A place is clicked; what that means the state knows."""

    turned = Signal(int)
    """So many pages on."""
    led_to = Signal(str)
    """The act of the empty place: "row pack" or "bench wash"."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        theme = surroundings.theme
        self.picture = SheetPicture(theme)
        self.before, self.after = QPushButton("‹"), QPushButton("›")
        self.before.setAccessibleName(_("The sheet before"))
        self.after.setAccessibleName(_("The next sheet"))
        self.page_line = labels.plain(wrap=False)
        self.hints = KeyHints(theme)
        self.empty = EmptySlip(theme)
        self._leads_to = ""
        self._is_small = False
        self._nav = QWidget()
        nav = QHBoxLayout(self._nav)
        nav.setContentsMargins(0, 0, 0, 0)
        for part in (self.before, self.page_line, self.after):
            nav.addWidget(part)
        nav.addWidget(self.hints, 4)
        nav.addStretch(1)
        self._sheet = QWidget()
        sheet = QVBoxLayout(self._sheet)
        sheet.setContentsMargins(0, 0, 0, 0)
        sheet.addWidget(self.picture, 1)
        sheet.addWidget(self._nav)
        self._pages = OneOf()
        self._pages.add_page(self._sheet)
        self._pages.add_page(self.empty)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._pages, 1)
        self._gaps = (nav, sheet)
        self.before.clicked.connect(lambda: self.turned.emit(-1))
        self.after.clicked.connect(lambda: self.turned.emit(1))
        self.empty.act.connect(lambda: self.led_to.emit(self._leads_to))

    def show_state(self, state: LabelsState, page: QImage | None, around: WordsAround) -> None:
        """Show the page on screen, or what will stand here."""
        if state.batch is not None and not state.batch.labels:
            text, act, self._leads_to = label_words.when_nothing_waits(state, around)
            self.empty.say(text, act)
            self._pages.show_page(self.empty)
            return
        self._pages.show_page(self._sheet)
        self.picture.show_sheet(sheet_facts(state), page)
        self.page_line.setText(label_words.page_line(state))
        pages = state.sheets.pages if state.sheets else 1
        for part in (self.before, self.after, self.page_line):
            part.setVisible(pages > 1)
        self.before.setEnabled(state.page > 1)
        self.after.setEnabled(state.page < pages)
        self.hints.show_keys(label_words.phase_keys(state))
        self._nav.setVisible(pages > 1 or not self._is_small)

    def make_small(self, small: bool) -> None:
        """Leave the keys out where there is no room; they stand on the page of keys all the same."""
        self._is_small = small
        self.hints.setVisible(not small)

    def space(self, gap: int) -> None:
        """Set the gap between the parts, in pixels."""
        for layout in self._gaps:
            layout.setSpacing(gap)


def sheet_facts(state: LabelsState) -> SheetFacts:
    """Return the page on screen for its picture: places in millimetres, which are used, which spoiled."""
    stock = state.stock()
    used = state.used_places() if state.page == 1 else frozenset()
    placed = {one.place: one.code for one in state.sheets.placed if one.page == state.page} if state.sheets else {}
    return SheetFacts(
        width=stock.page_width / _HUNDREDTHS,
        height=stock.page_height / _HUNDREDTHS,
        places=tuple(
            (
                place.left / _HUNDREDTHS,
                place.top / _HUNDREDTHS,
                stock.label_width / _HUNDREDTHS,
                stock.label_height / _HUNDREDTHS,
            )
            for place in stock.places
        ),
        used=used,
        columns=_columns(stock),
        spoiled=frozenset(place for place, code in placed.items() if code in state.spoiled),
        says=tuple(placed.get(place.number, "") for place in stock.places),
    )


def _columns(stock: StockFacts) -> int:
    """Return how many labels stand side by side."""
    return sum(place.top == stock.places[0].top for place in stock.places) or 1
