"""One list at a time: its tab, the search, the filters, the order, the rows, and what leaves as file or paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QBoxLayout,
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from findsdesk.desk.filter_words import Values
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.registers.filter_values import filter_values
from findsdesk.ui.benches.registers.list_foot import ListFoot
from findsdesk.ui.benches.registers.list_kinds import ListKind
from findsdesk.ui.benches.registers.lists import DEPOSITS, LISTS, REDO, lists_shown
from findsdesk.ui.benches.registers.narrowing import Narrowing
from findsdesk.ui.benches.registers.rows import ListReads, columns_of
from findsdesk.ui.benches.registers.state import Chip, Emptiness, ListState, Sorting, counted_words, emptiness, sortings
from findsdesk.ui.benches.registers.table import RegisterTable
from findsdesk.ui.benches.registers.view_work import ViewWork
from findsdesk.ui.models.paged import PagedTable
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.search_field import SearchField
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.ui.widgets.tab_lines import TabLines
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import _

_OLD_NUMBERS = "once"
_TYPING_MS = 150
"""A search waits until somebody stops typing for so long."""


class ListPart(QWidget):
    """Tells which row was opened; the bench knows what becomes of it."""

    opened = Signal(object)
    """The id of a row of the list that is shown."""
    begun = Signal()
    """The act with which this list begins, or is added to."""
    redone = Signal(object)
    """Ids of things said to be written again."""
    file_wanted = Signal()
    paper_wanted = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        theme = bench.theme
        self.states: dict[str, ListState] = {kind.key: ListState(kind) for kind in LISTS}
        self.sorted_by: dict[str, tuple[str, bool]] = {}
        self.kind: ListKind = DEPOSITS
        self.tabs = TabLines(_("Registers"))
        self.search = SearchField(_("Search, old numbers too"), _("Search"))
        self.narrow = QPushButton(_("Narrow by …"))
        self.order = ChoiceBox()
        self.order.setAccessibleName(_("Order"))
        self.chips = Narrowing(theme)
        self.views = ViewWork(self)
        self.table = RegisterTable(theme, "")
        self.empty = EmptySlip(theme)
        self.foot = ListFoot(theme)
        self.foot.more.setParent(self)
        self.model: PagedTable | None = None
        self._places: dict[str, int] = {}
        self._reads: ListReads | None = None
        self.counted = ""
        """How many rows there are, in words."""
        self._emptiness = Emptiness("")
        self._typing = QTimer(self)
        self._typing.setSingleShot(True)
        self._typing.setInterval(_TYPING_MS)
        self._wire()
        self._lay_out()

    # What is shown

    @property
    def state(self) -> ListState:
        """Return the list that is shown, as it is narrowed."""
        return self.states[self.kind.key]

    def show_list(self, key: str) -> None:
        """Show a list as it was left."""
        self.kind = next(kind for kind in LISTS if kind.key == key)
        around = self._around()
        shown = lists_shown(discards=around.settings.discards)
        self.tabs.show_tabs([(kind.key, around.say(kind.title)) for kind in shown], key)
        self.search.setText(self.state.text)
        columns = columns_of(self.kind, self.bench.surroundings.desk, self.state.columns)
        self._reads = ListReads(self.bench.surroundings.desk, self.kind, self.state.columns)
        before, self.model = (
            self.model,
            PagedTable(self.bench.surroundings.lanes, [column for _key, column in columns], self._reads.reads(), self),
        )
        self.model.counted.connect(self._show_count)
        self.model.refused.connect(self.bench.refuse)
        self.table.setModel(self.model)
        if before is not None:
            before.leave()
            before.deleteLater()
        self.table.setAccessibleName(around.say(self.kind.title))
        self._places = {name: place for place, (name, _column) in enumerate(columns)}
        self._leave_out()
        modes = QAbstractItemView.SelectionMode
        self.table.setSelectionMode(modes.ExtendedSelection if self.kind is REDO else modes.SingleSelection)
        self.table.selectionModel().selectionChanged.connect(self._say_redo)
        self._show_order(around)
        self.foot.show_list(self.kind, around)
        self.views.show_list()
        self._ask()

    def reload(self) -> None:
        """Read again what is shown."""
        if self.model is not None:
            self.model.reload()

    def sorting(self) -> tuple[str, bool]:
        """Return the order in use: the desk's name for it ("" is the list's own), and whether it falls."""
        return self.sorted_by.get(self.kind.key, ("", False))

    def put_state(self, state: ListState) -> None:
        """Show the list narrowed otherwise."""
        self.states[self.kind.key] = state
        if self.search.text().split() != state.text.split():
            self.search.setText(state.text)
        self._ask()

    def make_small(self, *, low: bool, narrow: bool) -> None:
        """Leave the keys out where height is dear, and put what leaves behind one button."""
        self._low = low
        directions = QBoxLayout.Direction
        self._finding.setDirection(directions.TopToBottom if narrow else directions.LeftToRight)
        self.foot.make_low(low)

    def _around(self) -> WordsAround:
        return WordsAround.of(self.bench.surroundings.desk)

    def _leave_out(self) -> None:
        """Leave columns out where there is little room; while somebody searches, an old number the last of all."""
        # Columns that somebody chose all stay, and the table scrolls sideways.
        spare = () if self.state.columns else self.kind.spare
        if self.state.text:
            spare = tuple(sorted(spare, key=lambda name: name == _OLD_NUMBERS))
        # At once for a new list: the columns of the one before may not be there any more.
        self.table.may_leave_out([self._places[name] for name in spare])

    def _ask(self) -> None:
        self.bench.refusals.clear()
        self._leave_out()
        self.chips.show_chips(self.state.chips, self._around())
        if self.model is not None:
            name, falling = self.sorting()
            self.model.wanted = replace(self.model.wanted, sort=name, falling=falling)
            self.model.ask(self.state)

    def _show_count(self, shown: int) -> None:
        around, whole = self._around(), self._reads.whole if self._reads else 0
        self.counted = counted_words(self.state, shown, whole, around)
        if self.isVisible():
            self.bench.say_going_on(self.counted)
        if not shown:
            self._emptiness = emptiness(self.state, whole, around)
            self.empty.say(self._emptiness.text, self._emptiness.act)
        self.table.setVisible(bool(shown))
        self.empty.setVisible(not shown)
        if shown and self.table.hasFocus() and not self.table.currentIndex().isValid():
            self.table.go_to(0)
        self.foot.say_rows(shown)
        self._say_redo()

    def _show_order(self, around: WordsAround) -> None:
        offered = sortings(self.kind, around)
        name, falling = self.sorting()
        if not name and offered:
            name, falling = offered[0].name, offered[0].falling
        self.order.clear()
        for one in offered:
            self.order.addItem(one.words, one)
        place = next((p for p, one in enumerate(offered) if (one.name, one.falling) == (name, falling)), 0)
        self.order.setCurrentIndex(place)
        self.order.setVisible(bool(offered))
        self.narrow.setVisible(bool(self.kind.filters))
        self._mark_heading(name, falling)

    def _mark_heading(self, name: str, falling: bool) -> None:
        columns = self.table.columns()
        place = next((p for p, column in enumerate(columns) if column.key and column.key == name), None)
        if place is None:
            self.table.horizontalHeader().setSortIndicatorShown(False)
        else:
            self.table.show_sorted(place, falling)

    # What somebody does

    def _take_order(self) -> None:
        chosen = self.order.currentData()
        if isinstance(chosen, Sorting):
            self.sorted_by[self.kind.key] = (chosen.name, chosen.falling)
            self._mark_heading(chosen.name, chosen.falling)
            self._ask()

    def _order_clicked(self) -> None:
        """Follow a click on a heading, which the table has answered."""
        if self.model is not None and self.model.wanted.sort:
            self.sorted_by[self.kind.key] = (self.model.wanted.sort, self.model.wanted.falling)
            self._show_order(self._around())

    def _narrow(self) -> None:
        desk, kind = self.bench.surroundings.desk, self.kind

        def show(values: Mapping[str, Values]) -> None:
            if self.kind is kind:
                self.chips.open_menu(kind, values, self._around(), self.narrow)

        if kind.filters:
            self.bench.read(lambda: filter_values(desk, kind), show, topic="filters", opens=True)

    def _put_on(self, chip: Chip) -> None:
        self.put_state(self.state.narrowed(chip))

    def _searched(self) -> None:
        self._typing.stop()
        if self.search.text().split() != self.state.text.split():
            self.put_state(self.state.searched(self.search.text()))

    def to_rows(self) -> None:
        """Give the keyboard to the rows, to the first where none is chosen."""
        self._searched()
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)
        if not self.table.currentIndex().isValid():
            self.table.go_to(0)

    def _do_first(self) -> None:
        does = self._emptiness.does
        if does == "search":
            self.put_state(self.state.unsearched())
            self.search.setFocus(Qt.FocusReason.OtherFocusReason)
        elif does == "filters":
            self.put_state(self.state.unfiltered())
        elif does == "first":
            self.begun.emit()

    def _say_redo(self) -> None:
        if self.kind is REDO:
            chosen = len(self.table.chosen_ids()) if self.table.isVisibleTo(self) else 0
            self.foot.say_chosen(chosen, self._around())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_F3:
            self.search.setFocus(Qt.FocusReason.OtherFocusReason)
            self.search.selectAll()
        elif event.key() == Qt.Key.Key_F4:
            self._narrow()
        elif event.key() == Qt.Key.Key_F6:
            self.views.open_menu()
        else:
            super().keyPressEvent(event)

    def _wire(self) -> None:
        self.tabs.chosen.connect(self.show_list)
        self.search.textEdited.connect(lambda _text: self._typing.start())
        self.search.returnPressed.connect(self.to_rows)
        self.search.down.connect(self.to_rows)
        self._typing.timeout.connect(self._searched)
        self.narrow.clicked.connect(self._narrow)
        self.order.activated.connect(self._take_order)
        self.chips.put_on.connect(self._put_on)
        self.chips.taken_off.connect(lambda chip: self.put_state(self.state.widened(chip)))
        self.chips.left.connect(lambda: self.table.setFocus(Qt.FocusReason.OtherFocusReason))
        self.table.opened.connect(self.opened)
        self.table.horizontalHeader().sectionClicked.connect(lambda _place: self._order_clicked())
        self.empty.act.connect(self._do_first)
        self.foot.begin.clicked.connect(self.begun)
        self.foot.redo.clicked.connect(lambda: self.redone.emit(self.table.chosen_ids()))
        self.foot.file_wanted.connect(self.file_wanted)
        self.foot.paper_wanted.connect(self.paper_wanted)

    def _lay_out(self) -> None:
        px = self.bench.theme.px
        choosing = QHBoxLayout()
        for part in (self.narrow, self.order, self.views.button, self.foot.more):
            choosing.addWidget(part)
        self.order.setMaximumWidth(px(210))
        self._finding = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._finding.addWidget(self.search, 1)
        self._finding.addLayout(choosing)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(px(8))
        whole.addWidget(self.tabs)
        whole.addLayout(self._finding)
        whole.addWidget(self.chips)
        whole.addWidget(self.views.naming)
        beside = QHBoxLayout()
        beside.addWidget(self.table, 1)
        beside.addWidget(self.views.columns)
        whole.addLayout(beside, 1)
        whole.addWidget(self.empty, 1)
        whole.addWidget(self.foot)
        self.empty.hide()
        self.chips.hide()
