"""Labels on their way: gathered on the reading lane, drawn, pictured and read back on the pool, printed, answered."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtGui import QImage

from findsdesk.desk.printing import PrintedSheets, PrintKind, ReadBack, Sheets, came_out_well, lay_out, preview_page
from findsdesk.desk.printing import read_back as read_sheets
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.labels import label_words
from findsdesk.ui.benches.labels.papers_again import Reprint
from findsdesk.ui.benches.labels.state import LabelsState, Phase
from findsdesk.ui.paper_memory import read_paper
from findsdesk.ui.paper_memory import write_paper as remember
from findsdesk.ui.paper_out import hand_over
from findsdesk.ui.system_printer import make_ready, print_sheets, printers_of_the_machine
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, CountOf, _

_LEAST_WIDTH = 320
"""Pixels across which a page is drawn at least, so that it is there before it has a place on screen."""
_FILE_NAMES = {
    PrintKind.BAG: "bag-labels",
    PrintKind.TAG: "field-tags",
    PrintKind.WASH: "wash-tags",
    PrintKind.SLIP: "slips",
    PrintKind.PIECE: "piece-labels",
    PrintKind.BOX: "box-labels",
    PrintKind.PLACE: "place-labels",
    PrintKind.LOAN: "loan-labels",
}


class PrintingWork:
    """What is done with the labels on screen; nothing here waits."""

    def __init__(self, bench: Bench, state: LabelsState, show: Callable[[], None]) -> None:
        self.bench, self.state, self.show = bench, state, show
        self.picture: QImage | None = None
        """The page on screen, as it prints."""
        self.width = _LEAST_WIDTH
        self.print_next = False
        """Whether printing is the next act, for the keyboard, as soon as the sheet is there."""
        self._pictured: tuple[Sheets, int, int] | None = None
        memory = read_paper(bench.surroundings.desk.station_name)
        state.stock_of = dict(memory.stocks)
        state.used = {stock: frozenset(gone) for stock, gone in memory.used.items()}
        state.printer = memory.printer

    # Laying out and looking

    def lay_out(self) -> None:
        """Draw the gathered labels anew, beside everything else; a later call drops this one."""
        state, desk = self.state, self.bench.surroundings.desk
        batch = state.batch
        state.sheets, state.read_back, self._pictured = None, None, None
        if batch is None or not batch.labels:
            self.picture = None
            self.show()
            return
        stock, used, printer, copies = state.stock().name, state.used_places(), state.printer, state.copies
        self.bench.refusals.clear()
        self.bench.surroundings.lanes.pool(
            lambda: lay_out(desk, batch, stock=stock, used_places=used, printer=printer, copies=copies),
            then=self._laid_out,
            refused=self._cannot_be_laid_out,
            topic="labels/lay_out",
        )
        self.show()

    def _laid_out(self, sheets: Sheets) -> None:
        state = self.state
        wanted = len(state.batch.labels) * state.copies if state.batch else 0
        if state.phase is not Phase.LOOKING or len(sheets.placed) != wanted:
            return
        state.sheets, state.page = sheets, min(state.page, sheets.pages)
        self.show()
        self.draw_page()

    def _cannot_be_laid_out(self, refusal: Refusal) -> None:
        self.picture = None
        self.bench.refuse(refusal)
        self.show()

    def fit_width(self, width: int) -> None:
        """Draw the page as wide as it stands on screen, so that its bars are sharp."""
        self.width = max(_LEAST_WIDTH, width)
        self.draw_page()

    def draw_page(self) -> None:
        """Draw the page on screen from the very PDF."""
        sheets, page, width = self.state.sheets, self.state.page, self.width
        if sheets is None or self._pictured == (sheets, page, width):
            return
        self._pictured = (sheets, page, width)

        def work() -> QImage:
            return QImage.fromData(preview_page(sheets, page, width))

        self.bench.surroundings.lanes.pool(work, then=self._drawn, topic="labels/page")

    def _drawn(self, picture: QImage) -> None:
        self.picture = picture
        self.show()

    def turn(self, pages: int) -> None:
        """Turn to another page."""
        if self.state.turn(pages):
            self.show()
            self.draw_page()

    def use_stock(self, name: str) -> None:
        """Lay out on another stock, and remember it."""
        if self.state.phase is Phase.LOOKING and self.state.kind is not None and name != self.state.stock().name:
            self.state.stock_of[self.state.kind] = name
            self.state.page = 1
            self.remember()
            self.lay_out()

    def press_place(self, place: int) -> None:
        """Say that a label of the begun sheet is gone, or, once printed, that it is spoiled."""
        state = self.state
        if state.phase is Phase.SPOILED:
            code = state.code_at(place)
            if code is not None:
                state.toggle_spoiled(code)
                self.show()
        elif state.toggle_used(place):
            self._used_changed()

    def begin_at(self, place: int) -> None:
        """Say that the first sheet begins at a place or, once printed, that the label there is spoiled."""
        if self.state.phase is Phase.SPOILED:
            self.press_place(place)
        elif self.state.begin_at(place):
            self._used_changed()
        else:
            self.show()

    def print_copies(self, copies: int) -> None:
        """Say how often each label is printed now."""
        if self.state.phase is Phase.LOOKING and copies != self.state.copies:
            self.state.copies = copies
            self.lay_out()

    def _used_changed(self) -> None:
        self.remember()
        self.lay_out()

    def remember(self) -> None:
        """Keep for the station which stock and printer are used and which places are gone."""
        station, state = self.bench.surroundings.desk.station_name, self.state
        used = {stock: tuple(sorted(gone)) for stock, gone in state.used.items() if gone}
        memory = replace(read_paper(station), stocks=dict(state.stock_of), used=used, printer=state.printer)
        remember(station, memory)

    # Reading back and printing

    def read_back(self, then: Callable[[], None] | None = None) -> None:
        """Let a decoder that drew nothing read every symbol as a printer sets it."""
        sheets = self.state.sheets
        if sheets is None:
            return

        def done(read: ReadBack) -> None:
            if self.state.sheets is not sheets:
                return
            self.state.read_back = read
            self.show()
            if then:
                then()

        self.bench.surroundings.lanes.pool(lambda: read_sheets(sheets), then=done, topic="labels/read_back")

    def hand_out(self, show: bool) -> None:
        """Keep the PDF where a person says and (``show``) open it to be printed; first every symbol is read back."""
        if self.state.sheets is None or self.state.phase is not Phase.LOOKING:
            return
        if self.state.read_back is None:
            self.read_back(lambda: self.hand_out(show))
            return
        sheets, read = self.state.sheets, self.state.read_back
        if not read.all_well:
            self.bench.refuse(_unreadable(read))
            return
        self.bench.refusals.clear()
        day = WordsAround.of(self.bench.surroundings.desk).today().isoformat()
        name = f"{day}-{_FILE_NAMES[sheets.kind]}{'-again' if sheets.reason else ''}"
        hand_over(self.bench.surroundings, sheets.pdf, name, show=show, then=lambda _path: self._is_out(sheets))

    def to_printer(self) -> None:
        """Let the system's dialog name a printer, and send it every page's dots; first every symbol is read back."""
        if self.state.sheets is None or self.state.phase is not Phase.LOOKING:
            return
        if self.state.read_back is None:
            self.read_back(self.to_printer)
            return
        sheets, read, around = self.state.sheets, self.state.read_back, self.bench.surroundings
        if not read.all_well:
            self.bench.refuse(_unreadable(read))
            return
        self.bench.refusals.clear()
        head = _("Print the labels at actual size, 100 %")
        printer = around.notices.printer_to_use(head, lambda chosen: make_ready(chosen, sheets))
        if printer is None:
            around.say(Answer(Tone.PLAIN, _("Nothing is printed"), _(": no printer was chosen")))
            return
        around.lanes.pool(
            lambda: print_sheets(printer, sheets),
            then=lambda _pages: self._is_out(sheets),
            refused=self.bench.refuse,
            topic="labels/to_printer",
        )

    def look_for_printers(self) -> None:
        """Ask the machine once for its printers, beside everything else."""

        def known(names: tuple[str, ...]) -> None:
            self.state.machine_printers = names
            self.show()

        if self.state.machine_printers is None:
            self.bench.surroundings.lanes.pool(printers_of_the_machine, then=known, topic="labels/printers")

    def print_out(self) -> None:
        """Print: to a printer where the machine has one, or else as a PDF in the viewer."""
        if self.state.machine_printers:
            self.to_printer()
        else:
            self.hand_out(True)

    def _is_out(self, sheets: Sheets) -> None:
        if self.state.sheets is sheets and self.state.phase is Phase.LOOKING:
            self.state.handed_over()
            self.show()

    # The answer

    def all_well(self) -> None:
        """Write that all came out well."""
        self.state.spoiled = set()
        self._came_out(None)

    def some_spoiled(self) -> None:
        """Ask which did not come out well."""
        self.state.phase = Phase.SPOILED
        self.show()

    def back(self) -> None:
        """Go back: from the spoiled ones to the question, from the question to the sheet."""
        state = self.state
        state.spoiled = set()
        if state.phase is Phase.SPOILED:
            state.phase = Phase.OUT
            self.show()
            return
        state.phase = Phase.LOOKING
        self.show()
        self.bench.refresh()

    def spoiled_because(self, reason: str) -> None:
        """Write those that came out well, and turn to the spoiled ones as the next copy."""
        state, sheets = self.state, self.state.sheets
        if sheets is None or not state.spoiled:
            return
        again = Reprint(sheets.kind, tuple(code for code in sheets.codes if code in state.spoiled), reason)
        self._came_out(again)

    def _came_out(self, again: Reprint | None) -> None:
        desk, state, sheets = self.bench.surroundings.desk, self.state, self.state.sheets
        if sheets is None:
            return
        well = state.well()

        def done(printed: PrintedSheets) -> None:
            line = label_words.done_line(state, len(printed.codes), len(printed.left_over))
            self._turn_to(again)
            self.bench.surroundings.say(Answer(Tone.DONE, *line))

        self.bench.deed(
            lambda: came_out_well(desk, sheets, codes=well, spoiled=again.reason if again else ""), then=done
        )

    def _turn_to(self, again: Reprint | None) -> None:
        """The sheets are done with: their places are used up, and what comes next is read."""
        self.state.use_up()
        self.remember()
        self.state.drop_sheets()
        self.picture, self.state.reprint = None, None
        self.state.which, self.state.copies = None, 1
        self.print_next = again is not None
        if again is not None:
            self.state.begin_reprint(again)
        self.show()
        self.bench.refresh()

    def print_again(self, reprint: Reprint) -> None:
        """Turn to labels that are printed again."""
        self.state.begin_reprint(reprint)
        self.picture, self.print_next = None, True
        self.show()
        self.bench.refresh()

    def leave_reprint(self) -> None:
        """Go back to what waits."""
        self.state.drop_sheets()
        self.state.reprint, self.picture = None, None
        self.show()
        self.bench.refresh()


def _unreadable(read: ReadBack) -> Refusal:
    return Refusal(
        "not_readable",
        N_("{symbols} cannot be read on this stock, so nothing is printed. Choose a larger label."),
        symbols=CountOf("{n} symbol", "{n} symbols", max(1, read.of - read.read)),
    )
