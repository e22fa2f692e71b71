"""Where the parts of the labels bench stand, and which of them are shown for what is chosen."""

from __future__ import annotations

from PySide6.QtGui import QImage
from PySide6.QtWidgets import QBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.ui.benches.labels import label_words
from findsdesk.ui.benches.labels.again_page import AgainPage
from findsdesk.ui.benches.labels.layout_editor import LayoutEditor
from findsdesk.ui.benches.labels.lists_page import ListsPage
from findsdesk.ui.benches.labels.marks_page import MarksPage
from findsdesk.ui.benches.labels.measure_stock import MeasureStock
from findsdesk.ui.benches.labels.meet_printer import MeetPrinter
from findsdesk.ui.benches.labels.other_kind import OtherKind
from findsdesk.ui.benches.labels.pack_page import PackPage
from findsdesk.ui.benches.labels.press_part import PressPart
from findsdesk.ui.benches.labels.reading import BenchRead
from findsdesk.ui.benches.labels.reprint_strip import ReprintStrip
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.benches.labels.sheet_part import SheetPart
from findsdesk.ui.benches.labels.state import Aside, LabelsState, Phase
from findsdesk.ui.benches.labels.stock_part import StockPart
from findsdesk.ui.benches.labels.tags_form import TagsForm
from findsdesk.ui.benches.labels.what_list import WhatList
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.widgets.scroll_page import in_a_page
from findsdesk.ui.words_around import WordsAround

_LEFT, _LEFT_SMALL = 306, 238
_IN_SUN = 1.1
"""How much wider words are in sun."""
_LOW = 640
"""Pixels of height, at 100 per cent, under which the buttons stand above the sheet instead of beside it."""
_CLOSE = 730
"""Pixels of height, at 100 per cent, under which the lines of the list stand closer."""
_SMALL = (760, 480)
"""Pixels of width and height, at 100 per cent, under which only the list stands beside the sheet."""
_TWO_COLUMNS = 760
"""Pixels of width, at 100 per cent, from which the lengths of a stock stand in two columns."""
_NARROW = 560
"""Pixels of width, at 100 per cent, under which the list stands above the sheet."""


class LabelsLayout:
    """Built once; ``show_state`` only shows."""

    def __init__(self, surroundings: Surroundings, body: QVBoxLayout) -> None:
        theme = surroundings.theme
        self.theme = theme
        self.what, self.stock = WhatList(theme), StockPart(surroundings)
        self.press, self.sheet = PressPart(theme), SheetPart(surroundings)
        self.tags, self.again_offer = TagsForm(surroundings), ReprintStrip(theme)
        self.pack, self.again = PackPage(surroundings), AgainPage(surroundings)
        self.marks, self.lists = MarksPage(surroundings), ListsPage(surroundings)
        self.meet = MeetPrinter(surroundings)
        self.measure, self.editor = MeasureStock(surroundings), LayoutEditor(surroundings)
        self.other = OtherKind(theme)
        self._meet_page = in_a_page(self.meet)
        self._aside_pages = {Aside.STOCK: in_a_page(self.measure), Aside.LAYOUT: in_a_page(self.editor)}
        self._shown_read: BenchRead | None = None
        self._shown_in_hand = ""
        self._stands = (False, False)
        self._marking = False
        """Whether the marking list is shown, where a scan leads to its line and offers no paper."""
        self._sheet_page = QWidget()
        self._right = QVBoxLayout(self._sheet_page)
        self._right.setContentsMargins(0, 0, 0, 0)
        self._right.addWidget(self.tags)
        self._right.addWidget(self.other)
        self._right.addWidget(self.sheet, 1)
        self._pages = OneOf()
        for page in (
            self._sheet_page,
            self._meet_page,
            *self._aside_pages.values(),
            self.pack,
            self.again,
            self.marks,
            self.lists,
        ):
            self._pages.add_page(page)
        self._left_holder = QWidget()
        self._left_holder.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self._left = QVBoxLayout(self._left_holder)
        self._left.setContentsMargins(0, 0, 0, 0)
        for part in (self.what, self.stock, self.press, self.marks.beside):
            self._left.addWidget(part)
        self._left.addStretch(1)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._row.addWidget(self._left_holder)
        self._row.addWidget(self._pages, 1)
        body.addWidget(self.again_offer)
        body.addWidget(self.marks.names)
        body.addLayout(self._row, 1)

    def show_state(self, state: LabelsState, picture: QImage | None, around: WordsAround) -> None:
        """Show what is chosen."""
        self.what.show_rows(label_words.rows_in_words(state), state.row)
        self.what.setEnabled(state.phase is Phase.LOOKING)
        self._marking = state.row is Row.MARKS
        self.again_offer.keep_room(not self._marking and not self._stands[1])
        self.again_offer.show_state(state, around)
        is_sheet = state.kind is not None
        empty = state.batch is not None and not state.batch.labels
        aside = state.meeting or state.aside is not None
        self.stock.setVisible(is_sheet and state.phase is Phase.LOOKING and not aside)
        self.press.setVisible(is_sheet and not empty and not aside)
        self._left_holder.setVisible(state.aside is None)
        for part in (self.marks.beside, self.marks.names):
            part.setVisible(state.row is Row.MARKS and not state.meeting)
        if state.meeting:
            self._pages.show_page(self._meet_page)
        elif state.aside is not None:
            self._pages.show_page(self._aside_pages[state.aside])
        elif is_sheet:
            self._show_sheet(state, picture, around)
        else:
            self._show_table(state, around)

    def _show_sheet(self, state: LabelsState, picture: QImage | None, around: WordsAround) -> None:
        self._pages.show_page(self._sheet_page)
        issuing = state.row is Row.TAGS and state.reprint is None and state.phase is Phase.LOOKING
        self.tags.setVisible(issuing)
        self.other.setVisible(state.row is Row.OTHER and state.reprint is None and state.phase is Phase.LOOKING)
        self.other.show_state(state, around)
        read = state.read
        if issuing and read is not None and read.wanted.row is Row.TAGS:
            self.tags.show_choices(read.people, read.squares)
            self.tags.show_groups(read.tags, state.tags_for, around)
        self.stock.show_state(state)
        self.press.show_state(state)
        self.sheet.show_state(state, picture, around)

    def _show_table(self, state: LabelsState, around: WordsAround) -> None:
        pages = {Row.PACK: self.pack, Row.AGAIN: self.again, Row.MARKS: self.marks, Row.LISTS: self.lists}
        self._pages.show_page(pages[state.row])
        read, in_hand = state.read, state.code_in_hand()
        if read is None or read.wanted.row is not state.row:
            return
        if read is self._shown_read and in_hand == self._shown_in_hand:
            return
        self._shown_read, self._shown_in_hand = read, in_hand
        if state.row is Row.PACK:
            self.pack.show_rows(read.to_pack, around)
        elif state.row is Row.AGAIN:
            self.again.show_things(read.redo, read.people, around)
        elif state.row is Row.MARKS:
            self.marks.show_marks(read.marks, read.people, in_hand, around)
        else:
            self.lists.show_missing(read.missing, around)

    def act(self, state: LabelsState) -> QPushButton | None:
        """Return the button of the next act."""
        if state.meeting:
            return self.meet.keep
        if state.aside is not None:
            return self.measure.keep if state.aside is Aside.STOCK else self.editor.keep
        if state.kind is not None:
            return self.press.act(state)
        return {Row.PACK: self.pack.pack, Row.AGAIN: self.again.act(), Row.MARKS: self.marks.print_list}.get(state.row)

    def fit(self, width: int, height: int) -> None:
        """Arrange the parts for the room there is."""
        px, directions = self.theme.px, QBoxLayout.Direction
        wide = width >= px(_NARROW)
        small = width < px(_SMALL[0]) or height < px(_SMALL[1])
        self._row.setDirection(directions.LeftToRight if wide else directions.TopToBottom)
        left = px((_LEFT_SMALL if small else _LEFT) * (_IN_SUN if self.theme.is_sun else 1))
        self._left_holder.setMinimumWidth(left if wide else 0)
        self._left_holder.setMaximumWidth(left if wide else 16_777_215)
        close = small or height < px(_CLOSE)
        self.what.make_low(close)
        low = small or height < px(_LOW)
        self._stand(low=low, small=small)
        self.stock.make_low(low or close)
        self._row.setSpacing(px(16))
        self._left.setSpacing(px(8 if close else 12))
        self._right.setSpacing(px(10))
        self.stock.space(px(6 if close else 8))
        for part in (self.press, self.sheet, self.meet, self.measure, self.editor):
            part.space(px(8))
        self.measure.arrange(width >= px(_TWO_COLUMNS))
        self.sheet.make_small(small)
        self.tags.space()
        self.other.space()
        self.again_offer.space()
        self.again_offer.keep_room(not small and not self._marking)
        self.marks.fit(small, close)
        self.marks.names.setFixedHeight(self.again_offer.minimumHeight())

    def _stand(self, *, low: bool, small: bool) -> None:
        """Put the buttons beside or above the sheet, and the stock beside or below it."""
        if (low, small) == self._stands:
            return
        self._stands = (low, small)
        for part in (self.press, self.stock):
            for layout in (self._left, self._right):
                layout.removeWidget(part)
        if small:
            self._right.addWidget(self.stock)
        else:
            self._left.insertWidget(1, self.stock)
        if low:
            self._right.insertWidget(1, self.press)
        else:
            self._left.insertWidget(2, self.press)
