"""The day page: where everything stands, what needs a person, every sherd of the season, and the evening by square."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.checking_in import close_delivery
from findsdesk.desk.desk import Desk
from findsdesk.desk.evening import evening
from findsdesk.desk.season_end import OpenLine, OpenRow
from findsdesk.desk.season_end_words import in_hand_of_row
from findsdesk.desk.the_day import the_day
from findsdesk.desk.what_waits import waits
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.season_end import Requirement
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.day.evening_card import EveningCard
from findsdesk.ui.benches.day.needs import NeedsList
from findsdesk.ui.benches.day.open_rows_page import OpenRowsPage
from findsdesk.ui.benches.day.season_card import SeasonCard
from findsdesk.ui.benches.day.season_end_page import SeasonEndPage
from findsdesk.ui.benches.day.state import WAYS, DayState, EveningRow, NeedRow, day_state, evening_rows
from findsdesk.ui.export_page import ExportPage
from findsdesk.ui.paper_out import hand_over
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.scroll_page import in_a_page
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.ui.widgets.step_bars import StepBars
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, plural

if TYPE_CHECKING:
    from findsdesk.desk.sheets import PrintedList

_BARS = 156
"""Pixels of height, at 100 per cent, that the bars take at least."""
_LEAST_NEEDS = 190
"""Pixels of height, at 100 per cent, that what needs a person keeps; more lines are scrolled."""
_SIDE_BY_SIDE = 620
"""Pixels of width, at 100 per cent, under which the two cards stand one below the other."""


@dataclass(frozen=True, slots=True)
class _Shown:
    """What one reading brings."""

    state: DayState
    evening: tuple[EveningRow, ...]


class DayBench(Bench):
    """The first bench in the morning and the last in the evening."""

    key = "day"

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        theme = self.theme
        self.state: DayState | None = None
        self.bars = StepBars(theme)
        self.bars.chosen.connect(self._go_to)
        self.needs = NeedsList(theme)
        self.needs.chosen.connect(self._go)
        self.season = SeasonCard(theme)
        self.evening = EveningCard(surroundings)
        self.end_day = act_button(self.surroundings.words(N_("End the day at the pallet")))
        self.end_day.clicked.connect(self._end_day)
        self.missing_list = QPushButton(_("Missing list"))
        self.missing_list.clicked.connect(lambda: self._print(_list_of_missing, _("missing")))
        self.evening_sheet = QPushButton(_("Evening sheet"))
        self.evening_sheet.clicked.connect(lambda: self._print(_sheet_of_today, _("evening")))
        self.season_end = QPushButton(_("End of the season"))
        self.season_end.clicked.connect(self.open_season_end)
        self.end_page = SeasonEndPage(self)
        self.end_page.chosen.connect(self.open_line)
        self.end_page.left.connect(self._back_to_the_day)
        self.end_page.export_wanted.connect(self.open_export)
        self.end_page.hide()
        self.export_page = ExportPage(self, _("Back to the end of the season"))
        self.export_page.left.connect(self.open_season_end)
        self.export_page.hide()
        self.rows_page = OpenRowsPage(self)
        self.rows_page.opened.connect(self._open_row)
        self.rows_page.bench_wanted.connect(lambda requirement: surroundings.open_bench.emit(requirement.bench))
        self.rows_page.left.connect(self.open_season_end)
        self.rows_page.hide()
        self.no_season = EmptySlip(theme)
        self.no_season.act.connect(lambda: surroundings.open_bench.emit("set_up"))
        self.no_season.hide()
        self._lay_out()

    def title(self) -> str:
        return _("The day")

    def what_waits(self) -> str:
        """Return what is missing, or what is asked."""
        waiting = waits(self.surroundings.desk)
        if waiting.unaccounted:
            return plural("{n} tag missing", "{n} tags missing", waiting.unaccounted)
        if waiting.questions:
            return plural("{n} question", "{n} questions", waiting.questions)
        return _("nothing missing")

    def refresh(self) -> None:
        desk = self.surroundings.desk

        def work() -> _Shown:
            around = WordsAround.of(desk)
            day = the_day(desk)
            return _Shown(day_state(day, around), evening_rows(evening(desk, day.day), around))

        self.surroundings.lanes.read(work, then=self.show_day, refused=self._no_day, topic="day/page")

    def show_day(self, shown: _Shown) -> None:
        """Show what was read."""
        self.state = shown.state
        self.no_season.hide()
        if not self.end_page.isHidden():
            self.end_page.read_again()
        if not self.rows_page.isHidden():
            self.rows_page.read_again()
        if all(part.isHidden() for part in (self.end_page, self.rows_page, self.export_page)):
            self._page.show()
        self.say_going_on(shown.state.going_on)
        self.bars.show_bars(shown.state.bars)
        self.needs.show_rows(shown.state.needs)
        self.season.show_figures(shown.state.season)
        self.evening.show_rows(shown.evening)

    def _no_day(self, refusal: Refusal) -> None:
        if refusal.code != "no_season":
            self.refuse(refusal)
            return
        self._show_only(None)
        self.no_season.show()
        self.no_season.say(refusal.in_words(self.surroundings.terms), _("Go to Set-up"))

    def begin_anew(self) -> None:
        """Go back to the day from the end of the season."""
        self._back_to_the_day()

    def open_season_end(self) -> None:
        """Show what is open at the end of the season in place of the day."""
        self._show_only(self.end_page)
        self.end_page.read_again()
        self.end_page.back.setFocus()

    def open_line(self, line: OpenLine) -> None:
        """Go to the work on a line of the season's end: of one thing at once, of several to choose from."""
        if line.many == 1 and line.rows:
            self._open_row(line.rows[0], line.requirement)
            return
        self.end_page.leave_forms()
        self._show_only(self.rows_page)
        self.rows_page.show_line(line, self.end_page.state.season if self.end_page.state else "")

    def _open_row(self, row: OpenRow, requirement: Requirement) -> None:
        """Take what is open in hand at the bench where it is done."""
        desk, around = self.surroundings.desk, self.surroundings
        around.reading_wished = requirement.key == "unread" or row.subject in ("reading", "reading_of_deposit")
        if row.subject in ("deposit", "reading_of_deposit"):
            around.open_thing.emit("deposit", row.number)
        elif row.subject == "loan_line":
            self.read(lambda: _loan_coded(desk, row.number), around.take_in_hand.emit, topic="loan")
        elif number := in_hand_of_row(row):
            around.take_in_hand.emit(number)
        around.open_bench.emit(requirement.bench)

    def open_export(self) -> None:
        """Show the export in place of the end of the season, as a hand-over unless another form was chosen."""
        self._show_only(self.export_page)
        self.export_page.open_with()

    def _back_to_the_day(self) -> None:
        self._show_only(self._page if self.no_season.isHidden() else None)

    def _show_only(self, shown: QWidget | None) -> None:
        self.refusals.clear()
        for part in (self._page, self.end_page, self.export_page, self.rows_page):
            part.setVisible(part is shown)

    # What is done here

    def _end_day(self) -> None:
        desk = self.surroundings.desk
        day = WordsAround.of(desk).today()
        self.deed(lambda: close_delivery(desk, day), then=self._day_ended, button=self.end_day)

    def _day_ended(self, missing: tuple[str, ...]) -> None:
        words = self.surroundings.words
        if missing:
            head = plural("{n} reported missing", "{n} reported missing", len(missing))
            self.surroundings.say(Answer(Tone.DONE, head, f": {', '.join(missing)}"))
        else:
            self.surroundings.say(Answer(Tone.DONE, words(N_("Everything listed so far is here"))))

    def _print(self, make: Callable[[Desk], PrintedList], name: str) -> None:
        """Make a list as PDF on the reading lane, then ask where it is kept."""
        desk = self.surroundings.desk
        day = WordsAround.of(desk).today().isoformat()

        def keep(made: PrintedList) -> None:
            hand_over(self.surroundings, made.pdf, f"{day}-{name}")

        self.read(lambda: make(desk), keep, topic="print")

    def _go_to(self, bar: str) -> None:
        self.surroundings.open_bench.emit(WAYS[bar])

    def _go(self, row: NeedRow) -> None:
        self.surroundings.reading_wished = row.is_reading
        if row.number:
            self.surroundings.take_in_hand.emit(row.number)
        if row.bench:
            self.surroundings.open_bench.emit(row.bench)

    # Layout

    def _lay_out(self) -> None:
        self._page = QWidget()
        needs = Card(self.theme, _("Needs a person"))
        self._needs_area = in_a_page(self.needs)
        needs.body.addWidget(self._needs_area)
        right = QVBoxLayout()
        right.addWidget(self.season)
        right.addWidget(self.evening, 1)
        self._cards = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._cards.addWidget(needs, 1)
        self._cards.addLayout(right, 1)
        foot = QWidget()
        self._foot = FlowLayout()
        foot.setLayout(self._foot)
        for part in (self.end_day, self.missing_list, self.evening_sheet, self.season_end):
            self._foot.addWidget(part)
        self._gaps = (right, self._cards)
        whole = QVBoxLayout(self._page)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.bars)
        whole.addLayout(self._cards, 1)
        whole.addWidget(foot)
        self.body.addWidget(self.no_season)
        self.body.addWidget(self._page, 1)
        self.body.addWidget(self.end_page, 1)
        self.body.addWidget(self.export_page, 1)
        self.body.addWidget(self.rows_page, 1)

    def fit(self, width: int, height: int) -> None:
        self.bars.setFixedHeight(max(self.theme.px(_BARS), (height - self.theme.px(300)) // 3))
        wide = width >= self.theme.px(_SIDE_BY_SIDE)
        directions = QBoxLayout.Direction
        self._cards.setDirection(directions.LeftToRight if wide else directions.TopToBottom)
        for layout in self._gaps:
            layout.setSpacing(self.theme.px(14))
        self._needs_area.setMinimumHeight(self.theme.px(_LEAST_NEEDS))
        self._foot.set_gaps(self.theme.px(10), self.theme.px(6))


def _loan_coded(desk: Desk, number: str) -> str:
    # Loaded now: the first bench is to stand early.
    from findsdesk.desk.loans import loan_named

    return loan_named(desk, number).code


# Paper is loaded when something is printed: its libraries would hold up the window at the start.


def _list_of_missing(desk: Desk) -> PrintedList:
    from findsdesk.desk.sheets import missing_list

    return missing_list(desk)


def _sheet_of_today(desk: Desk) -> PrintedList:
    from findsdesk.desk.sheets import evening_sheet

    return evening_sheet(desk, WordsAround.of(desk).today())
