"""What the keys of the table call, as long as a container is being read."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QGuiApplication

from findsdesk.domain.pasted_rows import looks_like_rows
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.sorting.ask_line import About
from findsdesk.ui.benches.sorting.asking_work import AskingWork
from findsdesk.ui.benches.sorting.lines import TableLine
from findsdesk.ui.benches.sorting.row_work import RowWork
from findsdesk.ui.benches.sorting.state import Asked
from findsdesk.ui.benches.sorting.table_deeds import TableDeeds
from findsdesk.ui.benches.sorting.table_page import TablePage
from findsdesk.words import N_


class TableCalls:
    """Each does nothing while something else than reading is asked."""

    def __init__(
        self,
        bench: Bench,
        asked: Callable[[], Asked],
        table: TablePage,
        rows: RowWork,
        asking: AskingWork,
        deeds: TableDeeds,
    ) -> None:
        self._bench, self._asked, self._table = bench, asked, table
        self._rows, self._asking, self._deeds = rows, asking, deeds

    def by_keys(self) -> dict[str, Callable[[], None]]:
        """Return what each key calls."""
        return {
            "F3": self.lift,
            "F4": self.next_decision,
            "F5": self.ask_count,
            "F6": lambda: self.ask_explanation(About.NOT_A_SHERD),
            "F7": lambda: self.ask_explanation(About.FOUND_MORE),
            "F8": lambda: self.ask_explanation(About.NOT_FOUND),
            "F10": self.draw_share,
            "Ctrl+G": self.gather,
            "Ctrl+Z": self.take_back,
            "Ctrl+Y": self.do_again,
            "Ctrl+V": lambda: self.paste(QGuiApplication.clipboard().text()),
            "Ctrl+Return": self.settle,
            "Ctrl+Enter": self.settle,
        }

    def _reads(self) -> bool:
        return self._asked() is Asked.READ

    def ask_explanation(self, about: About) -> None:
        """Ask how many were no sherd, found more, or not found, and why."""
        if self._reads():
            self._asking.ask_explanation(about)

    def ask_count(self) -> None:
        """Ask for a count at the table."""
        if self._reads():
            self._asking.ask_count()

    def next_decision(self) -> None:
        """Go to the next decision of the row that is being typed, or of the one under the cursor."""
        if self._reads() and not self._table.ask.isVisible():
            self._rows.next_decision()

    def lift(self) -> None:
        """Ask how many sherds are lifted out of the row at hand."""
        if self._reads():
            self._of_the_row(self._asking.ask_lift)

    def gather(self) -> None:
        """Gather the row at hand into a vessel, or take it out of its own."""
        if self._reads():
            self._of_the_row(self._asking.ask_vessel)

    def draw_share(self) -> None:
        """Ask where the share of the row at hand starts."""
        if self._reads():
            self._of_the_row(self._asking.ask_share)

    def _of_the_row(self, ask: Callable[[TableLine | None], None]) -> None:
        """Ask about the row at hand, which may just be on its way to the store."""
        self._deeds.in_turn.when_written(self._rows.at_hand(), lambda: ask(self._rows.at_hand()))

    def take_back(self) -> None:
        """Take back what was written last."""
        if self._reads():
            self._deeds.steps.take_back()

    def do_again(self) -> None:
        """Do again what was taken back last."""
        if self._reads():
            self._deeds.steps.do_again()

    def paste(self, text: str) -> None:
        """Write the rows of a spreadsheet; a single value is none of them."""
        if self._reads() and looks_like_rows(text):
            self._deeds.paste(text)

    def settle(self) -> None:
        """Settle the container, unless a row is half typed."""
        if not self._reads():
            return
        if self._rows.at_rest():
            self._rows.leave()
            self._deeds.settle()
        else:
            text = N_("A row is half typed. Enter writes it; Esc twice empties it.")
            self._bench.refuse(Refusal("half_typed", text))
