"""What the pages of this bench share: their way to the bench, and a table of rows that keeps its cursor."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, ClassVar, TypeVar

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.domain.codes import Code
from findsdesk.domain.refusals import Question
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.models.cells import Column, TableRow
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import _

if TYPE_CHECKING:
    from findsdesk.desk.sheets import PrintedList

T = TypeVar("T")


class RowTable(TableView):
    """A short table that keeps its cursor on the row it was on."""

    def __init__(self, theme: Theme, name: str, columns: Sequence[Column]) -> None:
        super().__init__(theme, name)
        self.rows = ShortTable(columns, self)
        self.setModel(self.rows)
        self.setMinimumHeight(theme.px(110))

    def show_rows(self, rows: Sequence[TableRow]) -> None:
        """Show these rows; the cursor stays on its row, or goes to the first."""
        kept = self.row_id()
        self.rows.show_rows(rows)
        self.fit_columns()
        if not self.go_to(kept) and rows:
            self.setCurrentIndex(self.rows.index(0, 0))

    def go_to(self, row_id: object) -> bool:
        """Set the cursor on a row; returns whether it is there."""
        for place, row in enumerate(self.rows.rows):
            if row.row_id == row_id:
                self.setCurrentIndex(self.rows.index(place, 0))
                return True
        return False


class ShelfPage(QWidget):
    """One page of the bench: reads afresh, answers scans, and does its one act."""

    scans_are_in_hand: ClassVar[bool] = True
    """What is scanned for the page's act is in hand too; not where the page says itself what is."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.theme = bench.theme
        self.say = bench.surroundings.words
        self.act: QPushButton | None = None
        """The clay button of the page, if it has one."""
        self.whole = QVBoxLayout(self)
        self.whole.setContentsMargins(0, 0, 0, 0)
        self.whole.setSpacing(self.theme.px(10))

    @property
    def desk(self) -> Desk:
        """Return the desk that use cases are asked with."""
        desk: Desk = self.bench.surroundings.desk
        return desk

    def around(self) -> WordsAround:
        """Return what texts stand in."""
        return WordsAround.of(self.desk)

    # What a page writes of its own

    def read_again(self) -> None:
        """Read again what is shown."""

    def take_text(self, text: str, code: Code | None) -> Answer | None:
        """Answer a scan, or what was typed into the scan line; None lets it be looked up as anywhere."""
        return self.take(code) if code is not None else None

    def take(self, code: Code) -> Answer | None:
        """Answer a scanned code; None lets it be looked up as anywhere."""
        return None

    def not_found(self) -> None:
        """Take note that what was looked up is not there."""

    def take_thing(self, thing: object) -> None:
        """Take what was looked up in hand."""

    def act_now(self) -> QPushButton | None:
        """Return the clay button that is to be pressed now."""
        return self.act

    def go_back(self) -> bool:
        """Leave what is under way on the page; returns whether anything was."""
        return False

    def first_focus(self) -> QWidget | None:
        """Return what takes the keyboard when the page opens."""
        return None

    # What every page can do

    def by_scan(
        self,
        work: Callable[[], T],
        then: Callable[[T], None],
        sure: Callable[[], T] | None = None,
        lost: Callable[[], None] | None = None,
    ) -> None:
        """Do a deed that a scan asked for; a question sounds like a no, and waits on the slip for its answer."""
        asked: list[Question] = []

        def watched() -> T:
            try:
                return work()
            except Question as question:
                asked.append(question)
                raise

        def not_written() -> None:
            if lost:
                lost()
            if asked:
                self.tell(Tone.REFUSED, _("Not written yet"), _(": answer on the slip"))

        self.bench.deed(watched, then=then, sure=sure, lost=not_written)

    def tell(self, tone: Tone, head: str, rest: str = "") -> None:
        """Say the outcome of a deed in the scan line."""
        self.bench.surroundings.say(Answer(tone, head, rest))

    def read(self, work: Callable[[], T], then: Callable[[T], None], topic: str) -> None:
        """Read on the reading lane; a later reading on the same topic drops this one."""
        self.bench.read(work, then, topic)

    def print_out(self, make: Callable[[Desk], PrintedList], name: str) -> None:
        """Make a paper as PDF on the reading lane, then ask where it is kept."""
        from findsdesk.ui.paper_out import hand_over

        desk = self.desk
        day = self.around().today().isoformat()
        around = self.bench.surroundings
        self.read(lambda: make(desk), lambda made: _keep(hand_over(around, made.pdf, f"{day}-{name}")), "print")


def _keep(_chosen: bool) -> None:
    """Leave it: whoever chose no place for a PDF was told so."""


def button(words: str, press: Callable[[], object]) -> QPushButton:
    """Return a plain button that does something."""
    made = QPushButton(words)
    made.clicked.connect(lambda _checked=False: press())
    return made


def in_a_row(theme: Theme, *parts: QWidget) -> QWidget:
    """Return parts side by side, the last below the first where there is too little room."""
    row = QWidget()
    flow = FlowLayout()
    row.setLayout(flow)
    flow.set_gaps(theme.px(10), theme.px(6))
    for part in parts:
        flow.addWidget(part)
    return row
