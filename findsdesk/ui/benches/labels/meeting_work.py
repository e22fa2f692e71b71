"""A printer on its way to be met: its test page out, its lengths in, and the labels drawn for it."""

from __future__ import annotations

import logging
import re
from collections.abc import Callable

from PySide6.QtCore import Qt

from findsdesk.desk.printers import (
    DrawnPage,
    Printer,
    draw_test_page,
    forget_printer,
    keep_test_page,
    met_in_words,
    printers,
    set_printer,
)
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.labels.meet_printer import MeetPrinter
from findsdesk.ui.benches.labels.printing_work import PrintingWork
from findsdesk.ui.benches.labels.state import LabelsState, Phase
from findsdesk.ui.benches.labels.stock_part import StockPart
from findsdesk.ui.paper_out import hand_over
from findsdesk.words import N_, _, put

_log = logging.getLogger(__name__)


class MeetingWork:
    """The files are small, but they may lie on a slow disk: they are written away from the window's thread."""

    def __init__(
        self,
        bench: Bench,
        state: LabelsState,
        parts: tuple[MeetPrinter, StockPart],
        work: PrintingWork,
        show: Callable[[], None],
    ) -> None:
        self.bench, self.state, self.work, self.show = bench, state, work, show
        self.meet, self.stock = parts
        self.read_printers()

    def read_printers(self) -> bool:
        """Read which printers were met; one that is known no longer is not chosen any more.

        Returns whether labels would be drawn otherwise now.
        """
        before = self._chosen()
        try:
            self.state.printers = printers()
        except Refusal as refusal:
            _log.warning("%s", refusal)
            self.state.printers = ()
        if all(one.name != self.state.printer for one in self.state.printers):
            self.state.printer = ""
        return self._chosen() != before

    def _chosen(self) -> Printer | None:
        return next((one for one in self.state.printers if one.name == self.state.printer), None)

    def look_again(self) -> None:
        """Draw the labels anew where their printer was met anew from the terminal meanwhile."""
        if self.read_printers() and self.state.phase is Phase.LOOKING and self.state.kind is not None:
            self.work.lay_out()

    def use_printer(self, name: str) -> None:
        """Draw the labels for another printer, and remember it."""
        if self.state.phase is Phase.LOOKING and name != self.state.printer:
            self.state.printer = name
            self.work.remember()
            self.work.lay_out()

    def begin(self) -> None:
        """Turn to the page on which a printer is met."""
        self.read_printers()
        self.state.meeting = True
        self.meet.begin(self.state.printers, self.state.printer, self.state.stock().name)
        self.show()
        self.meet.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def leave(self) -> None:
        """Turn back to the sheet."""
        self.bench.refusals.clear()
        self.state.meeting = False
        self.show()
        self.stock.printer.setFocus(Qt.FocusReason.OtherFocusReason)

    def hand_out(self, show: bool) -> None:
        """Keep the test page where a person says, and (``show``) open it to be printed."""
        surroundings, name, paper = self.bench.surroundings, self.meet.said_name(), self.state.stock().name
        facts = surroundings.desk.facts
        moment, language = surroundings.desk.now().astimezone(facts.zone), facts.settings.paper_language
        self.bench.refusals.clear()

        def out(page: DrawnPage) -> None:
            plain = re.sub(r"[^\w-]+", "-", page.printer)
            hand_over(surroundings, page.pdf, f"test-page-{plain}", show=show, then=lambda _path: self._keep_page(page))

        surroundings.lanes.pool(
            lambda: draw_test_page(name, paper=paper, moment=moment, language=language),
            then=out,
            refused=self.bench.refuse,
            topic="labels/test_page",
        )

    def _keep_page(self, page: DrawnPage) -> None:
        def kept(_printer: Printer) -> None:
            self.read_printers()
            self.meet.show_known(self.state.printers)
            self.show()

        self.bench.surroundings.lanes.pool(lambda: keep_test_page(page), then=kept, refused=self.bench.refuse)

    def keep(self) -> None:
        """Keep what was said of the printer, and draw the labels for it from now on."""
        self.bench.refusals.clear()
        try:
            measured = self.meet.measured()
        except Refusal as refusal:
            self._refused(refusal)
            return
        name, dpi = self.meet.said_name(), self.meet.said_dpi()
        self.bench.surroundings.lanes.pool(
            lambda: set_printer(name, measured=measured, dpi=dpi), then=self._met, refused=self._refused
        )

    def _refused(self, refusal: Refusal) -> None:
        self.bench.refuse(refusal)
        self.meet.mark(refusal)

    def forget(self, name: str) -> None:
        """Forget a printer with all that was measured on it."""
        self.bench.refusals.clear()

        def gone(printer: Printer) -> None:
            self.read_printers()
            self.work.remember()
            self.leave()
            self.work.lay_out()
            self.bench.surroundings.say(Answer(Tone.DONE, printer.name, _(" is forgotten.")))

        self.bench.surroundings.lanes.pool(lambda: forget_printer(name), then=gone, refused=self.bench.refuse)

    def _met(self, printer: Printer) -> None:
        self.state.printer = printer.name
        self.read_printers()
        self.work.remember()
        self.leave()
        self.work.lay_out()
        self.bench.surroundings.say(Answer(Tone.DONE, printer.name, f" {_met_in_words(printer)}"))


def _met_in_words(printer: Printer) -> str:
    if not printer.measured:
        return put(N_("is kept with {dpi} dpi, not measured yet."), None, {"dpi": printer.dpi})
    text = N_("is met at {dpi} dpi. From now on all that is printed on it is {how}.")
    return put(text, None, {"dpi": printer.dpi, "how": met_in_words(printer)})
