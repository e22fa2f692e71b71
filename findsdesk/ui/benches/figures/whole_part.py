"""The figures of one thing: what is chosen, a card for each figure, the date profile, the wares and forms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_scopes import Scope
from findsdesk.desk.figure_words import method_in_words, rests_on_few
from findsdesk.desk.profile_drawing import WEIGHED_IN_WORDS, Look, PlacedPlot, placed_plot
from findsdesk.desk.register_columns import wording
from findsdesk.desk.rows_behind import Behind
from findsdesk.domain.date_profiles import DATE_PROFILE, WeighedBy
from findsdesk.ui.background import Job
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.figures.state import (
    Choice,
    Shown,
    choices,
    figure_at,
    found_types,
    read_figures,
    type_columns,
)
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.figure_card import FigureCard
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.profile_chart import ChartBar
from findsdesk.ui.widgets.profile_picture import ProfilePicture
from findsdesk.ui.widgets.search_field import SearchField
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.words import _

_PLOT = 190
"""Pixels of height, at 100 per cent, of the plot at the least."""
_FEWEST_ROWS, _MOST_ROWS = 4, 30
"""So many rows the table shows at least, and at most before it has a scroll bar of its own."""
_INCH_MM = 25.4
_DOTS = 96


class WholePart(QWidget):
    """Tells which figure's rows are wanted; what is chosen stays while other things come in hand beside it."""

    opened = Signal(object)
    """A ``Behind``: the rows of a figure, a ware or a form."""
    read_wanted = Signal()
    """The reading of what is chosen is wanted."""
    paper_wanted = Signal()
    file_wanted = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        theme, say = bench.theme, bench.surroundings.words
        self.offered: tuple[Choice, ...] = ()
        self.shown: Shown | None = None
        self._reading: Job | None = None
        self.of = ChoiceBox()
        self.of.setAccessibleName(_("Figures of"))
        self.by = ChoiceBox()
        self.by.setAccessibleName(_("The date profile adds up"))
        for by, words in (
            (WeighedBy.COUNT, _("by sherds")),
            (WeighedBy.GRAMS, _("by grams")),
            (WeighedBy.EVE, _("by EVE")),
        ):
            self.by.addItem(words, by)
        self.cards: dict[str, FigureCard] = {}
        self.plot = ProfilePicture(theme, _("Date profile"), _PLOT)
        self.dates = labels.muted(small=True)
        self.rests = labels.plain()
        self.rests.setProperty("kind", "small")
        self.rests.hide()
        self.search = SearchField(_("Search wares and forms"), _("Search"))
        self.model = ShortTable(type_columns(say))
        self.table = TableView(theme, _("Wares and forms"))
        self.table.setModel(self.model)
        self.table.may_leave_out((6, 8, 11, 10, 7, 2))
        self.empty = EmptySlip(theme)
        self.read = QPushButton(_("Read it …"))
        self.paper = act_button(_("Print these figures"))
        self.file = QPushButton(_("Keep as file"))
        self._lay_out()
        self._wire()

    # What is chosen

    def offer(self, in_hand: object) -> None:
        """Offer what is in hand and what it is from; something new in hand is shown at once."""
        say = self.bench.surroundings.words
        before = self.chosen()
        self.offered = choices(in_hand, say)
        blocked = self.of.blockSignals(True)
        self.of.clear()
        for one in self.offered:
            self.of.addItem(one.words, one)
        kept = [place for place, one in enumerate(self.offered) if before is not None and one.of is before.of]
        self.of.setCurrentIndex(kept[0] if kept and in_hand is None else 0)
        self.of.blockSignals(blocked)
        self.read_again()

    def chosen(self) -> Choice | None:
        """Return what is chosen."""
        found = self.of.currentData()
        return found if isinstance(found, Choice) else None

    def choose(self, scope: Scope) -> None:
        """Choose a thing of what is in hand; its figures are read when the page is shown."""
        for place, one in enumerate(self.offered):
            if one.of is scope.of:
                self.of.setCurrentIndex(place)

    def weighed(self) -> WeighedBy:
        """Return what the date profile adds up."""
        return WeighedBy[self.by.currentData().name]

    def read_again(self) -> None:
        """Read the figures of what is chosen; the reading before, if it is still under way, is called off."""
        desk, chosen, by = self.bench.surroundings.desk, self.chosen(), self.weighed()
        if chosen is None:
            return
        lanes = self.bench.surroundings.lanes
        self._reading = job = lanes.job(
            "read", topic=f"{self.bench.key}/figures", progress=lambda done, of: self._say_progress(chosen, done, of)
        )
        lanes.read(
            lambda: read_figures(desk, chosen, by, job.follow),
            then=self.show_figures,
            refused=self.bench.refuse,
            job=job,
        )

    def call_off(self) -> bool:
        """Call the reading off that is still under way; returns whether there was one."""
        if self._reading is None:
            return False
        self._reading.call_off()
        self._reading = None
        return True

    def _say_progress(self, chosen: Choice, done: int, of: int) -> None:
        percent = 100 * done // of
        self.bench.say_going_on(_("{name}: summed to {percent} %").format(name=chosen.words, percent=percent))

    # What is shown

    def show_figures(self, shown: Shown) -> None:
        """Show what was read; the plot follows when it is drawn."""
        self.shown, self._reading = shown, None
        some = bool(shown.figures.sums.pieces)
        self._cards.setVisible(some)
        self.plot.setVisible(some)
        self._below.setVisible(some)
        self.empty.setVisible(not some)
        if not some:
            self.empty.say(
                _("No sherd of {name} is sorted yet. Its figures stand here with the first row.").format(
                    name=shown.name
                )
            )
        for key in [key for key in self.cards if key not in {line.key for line in shown.lines}]:
            card = self.cards.pop(key)
            self._flow.removeWidget(card)
            card.hide()
            card.deleteLater()
        for line in shown.lines:
            card = self.cards.get(line.key) or self._new_card(line.key)
            told = line.told(self.bench.surroundings.words)
            card.say(line.name, line.value, line.unit, told, marked=shown.is_doubtful(line.key))
        self.rests.setText(shown.rests)
        self.rests.setVisible(bool(shown.rests))
        labels.restyle(self.rests, wrong=rests_on_few(shown.figures.sums))
        self.dates.setText(" ".join(part for part in (shown.late, shown.undated) if part))
        self.dates.setVisible(bool(self.dates.text()))
        self._search()
        self.bench.say_going_on(shown.name)
        self.draw_plot()

    def draw_plot(self) -> None:
        """Draw the date profile for its room, away from the window's thread."""
        shown, theme = self.shown, self.bench.theme
        if shown is None or not self.plot.isVisible() or self.plot.width() < 10:
            return
        dots = _DOTS * self.plot.devicePixelRatio() * theme.zoom / 100
        width, height = (
            side * self.plot.devicePixelRatio() / dots * _INCH_MM for side in (self.plot.width(), self.plot.height())
        )
        look = Look(width, height, round(dots), theme.colours.ink, theme.colours.ground, strong=theme.is_sun)
        desk, said = self.bench.surroundings.desk, "; ".join(self._said(shown))

        def work() -> PlacedPlot:
            return _drawn(desk, shown, look)

        self.bench.surroundings.lanes.pool(work, then=lambda drawn: self._show_plot(shown, drawn, said))

    def _show_plot(self, shown: Shown, drawn: PlacedPlot, said: str) -> None:
        if shown is self.shown:
            dates, say = shown.figures.dates, self.bench.surroundings.words
            bars = tuple(ChartBar(bar.begin, bar.until, bar.share, bar.late) for bar in dates.bars)
            self.plot.setToolTip(method_in_words(DATE_PROFILE[dates.by], say))
            self.plot.show_profile(drawn.png, said, drawn.box, bars, say(WEIGHED_IN_WORDS[dates.by]))

    def _said(self, shown: Shown) -> Sequence[str]:
        return [
            f"{line.name} {line.whole}" for line in shown.lines if line.key in ("terminus", "mean", "undated", "late")
        ]

    def _new_card(self, key: str) -> FigureCard:
        card = FigureCard(self.bench.theme, key)
        card.clicked.connect(lambda: self.opened.emit(Behind(key)))
        self.cards[key] = card
        self._flow.addWidget(card)
        return card

    def _search(self) -> None:
        rows = found_types(self.shown.types, self.search.text()) if self.shown else ()
        self.model.show_rows(rows)
        self.table.fit_columns()
        self._fit_table()

    def _fit_table(self) -> None:
        """Let the table show many rows without a scroll bar of its own: the page scrolls on a small screen."""
        rows = max(_FEWEST_ROWS, min(self.model.rowCount(), _MOST_ROWS))
        head = self.table.horizontalHeader().sizeHint().height()
        self.table.setMinimumHeight(head + rows * self.table.verticalHeader().defaultSectionSize() + 2)

    def _open_type(self, row_id: object) -> None:
        """Open the rows behind the figure under the cursor; beside the figures those of all the sherds."""
        if isinstance(row_id, Behind):
            key = figure_at(self.table.currentIndex().column())
            self.opened.emit(replace(row_id, figure=key) if key else row_id)

    # Frame

    def give_room(self, height: int) -> None:
        """Let the plot be as high as so many pixels for the whole bench allow."""
        self.plot.be_high(max(self.bench.theme.px(_PLOT), height * 3 // 10))

    def _wire(self) -> None:
        self.of.activated.connect(lambda _place: self.read_again())
        self.by.activated.connect(lambda _place: self.read_again())
        self.plot.wanted.connect(self.draw_plot)
        self.plot.opened.connect(lambda begin, until: self.opened.emit(Behind("bar", begin=begin, until=until)))
        self.search.textChanged.connect(lambda _text: self._search())
        self.search.down.connect(lambda: self.table.setFocus(Qt.FocusReason.OtherFocusReason))
        self.table.opened.connect(self._open_type)
        self.read.clicked.connect(self.read_wanted)
        self.paper.clicked.connect(self.paper_wanted)
        self.file.clicked.connect(self.file_wanted)
        self.bench.theme.changed.connect(self._space)
        self._space()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.of)
        head.addWidget(self.by)
        head.addStretch(1)
        for button in (self.read, self.file, self.paper):
            head.addWidget(button)
        self._cards = QWidget()
        self._flow = FlowLayout()
        self._cards.setLayout(self._flow)
        self._below = QWidget()
        below = QVBoxLayout(self._below)
        below.setContentsMargins(0, 0, 0, 0)
        below.addWidget(self.search)
        below.addWidget(self.table, 1)
        self._whole = QVBoxLayout(self)
        self._whole.setContentsMargins(0, 0, 0, 0)
        self._whole.addLayout(head)
        for part in (self._cards, self.rests, self.plot, self.dates, self.empty):
            self._whole.addWidget(part)
        self._whole.addWidget(self._below, 1)
        self._whole.addStretch(0)

    def _space(self) -> None:
        px = self.bench.theme.px
        self._whole.setSpacing(px(9))
        self._flow.set_gaps(px(7), px(7))
        self._fit_table()


def _drawn(desk: Desk, shown: Shown, look: Look) -> PlacedPlot:
    return placed_plot(shown.scope, shown.figures.dates, wording(desk), look)
