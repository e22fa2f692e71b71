"""What the labels bench has in hand: which labels, on which sheets, did they come out well? No window needed."""

from __future__ import annotations

import logging
from dataclasses import dataclass, field, replace
from enum import Enum

from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.labels_waiting import LabelsWaiting, TagsToPrint
from findsdesk.desk.laying_out import shipped_stocks
from findsdesk.desk.other_labels import PaperOut, Which
from findsdesk.desk.printers import Printer
from findsdesk.desk.printing import LabelBatch, PrintKind, ReadBack, Sheets, StockFacts, stocks
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing
from findsdesk.ui.benches.labels.papers_again import Paper, Reprint
from findsdesk.ui.benches.labels.reading import BenchRead, Wanted
from findsdesk.ui.benches.labels.rows import KIND_OF, ROW_OF, Row

_FIRST_STOCK = {PrintKind.TAG: "tags"}
"""The kind of stock that is proposed where nothing is remembered."""
_NO_TAG = (Standing.VOID, Standing.UNUSED, Standing.JOINED)
_log = logging.getLogger(__name__)
_PLAIN_STOCK = "a4-3x8-70x37"


class Phase(Enum):
    """How far the labels on screen are."""

    LOOKING = "looking"
    OUT = "out"
    """The PDF was handed over: did they come out well?"""
    SPOILED = "spoiled"
    """Somebody says which did not."""


class Aside(Enum):
    """What is made in place of the sheet: a stock that is measured, a layout that is changed."""

    STOCK = "stock"
    LAYOUT = "layout"


def known_stocks() -> tuple[StockFacts, ...]:
    """Return the stocks there are; where one's own cannot be read, those that ship."""
    try:
        return stocks()
    except Refusal as refusal:
        _log.warning("%s", refusal)
        return shipped_stocks()


@dataclass
class LabelsState:
    """All that the bench knows; what a rule says is asked of the desk."""

    row: Row = Row.BAG
    look_for_work: bool = True
    """Whether the bench is opened for the first time, and turns to what waits if nothing does where it stands."""
    phase: Phase = Phase.LOOKING
    reprint: Reprint | None = None
    tags_for: str = ""
    """Which tags: the key of a block, or empty for all that go to the trench."""
    marks_of: str | None = None
    """The number of the deposit whose marks are read by themselves; None: all that are shown at once."""
    done_marks: bool = False
    """Whether marks that are done are read, too."""
    waiting: LabelsWaiting | None = None
    tags: tuple[TagsToPrint, ...] = ()
    read: BenchRead | None = None
    batch: LabelBatch | None = None
    sheets: Sheets | None = None
    page: int = 1
    read_back: ReadBack | None = None
    spoiled: set[str] = field(default_factory=set)
    stocks: tuple[StockFacts, ...] = field(default_factory=known_stocks)
    """The stocks that ship and those that were measured here."""
    stock_of: dict[str, str] = field(default_factory=dict)
    used: dict[str, frozenset[int]] = field(default_factory=dict)
    printers: tuple[Printer, ...] = ()
    printer: str = ""
    """The printer the labels are drawn for; empty: as it is."""
    machine_printers: tuple[str, ...] | None = None
    """The printers of this machine; None until it was asked."""
    aside: Aside | None = None
    """What is made instead of the sheet, if anything."""
    other: PrintKind = PrintKind.SLIP
    """Which kind is printed in the row of other labels."""
    which: Which | None = None
    """Which of that kind, where somebody chose."""
    copies: int = 1
    """How often each label is printed now."""
    papers_out: tuple[PaperOut, ...] = ()
    """The slips and labels of pieces of what is in hand that were printed."""
    meeting: bool = False
    """Whether a printer is being met, instead of the sheet."""
    dossier: Dossier | None = None
    paper: int = 0
    """Which of the papers of what is in hand is meant."""
    dismissed: bool = False
    """Whether the offer to print them again was put aside."""

    # What is chosen

    @property
    def kind(self) -> PrintKind | None:
        """Return what is printed here, or None where a list or a table is shown."""
        if self.reprint:
            return self.reprint.kind
        return self.other if self.row is Row.OTHER else KIND_OF.get(self.row)

    def choose_row(self, row: Row) -> None:
        """Choose what to do; a reprint that was not printed is put aside."""
        self.row, self.meeting, self.aside = row, False, None
        self.look_for_work = False
        self.which, self.copies = None, 1
        self.drop_sheets()
        self.reprint = None

    def choose_other(self, kind: PrintKind, which: Which | None = None) -> None:
        """Choose which of the other labels are printed; without ``which`` those of today, or else all that wait."""
        self.drop_sheets()
        self.other, self.which = kind, which

    def turn_to_work(self) -> None:
        """Where the bench was just opened and nothing waits in the chosen row, choose the first in which it does."""
        if self.waiting is None or self.reprint or self.phase is not Phase.LOOKING or not self.look_for_work:
            return
        if self.meeting or self.aside is not None:
            return
        self.look_for_work = False
        row = next((row for row in Row if self.amount(row)), self.row)
        if not self.amount(self.row) and row is not self.row:
            self.row = row
            self.drop_sheets()

    def amount(self, row: Row) -> int | None:
        """Return how much waits in a row, or None where nothing is counted."""
        waiting = self.waiting
        if waiting is None:
            return None
        return {
            Row.PACK: waiting.to_pack,
            Row.BAG: waiting.bag_labels,
            Row.WASH: waiting.wash_tags,
            Row.TAGS: waiting.field_tags,
            Row.AGAIN: waiting.again,
            Row.MARKS: waiting.to_mark,
        }.get(row)

    def begin_reprint(self, reprint: Reprint) -> None:
        """Turn to labels that are printed again."""
        self.drop_sheets()
        self.reprint, self.row, self.meeting = reprint, ROW_OF.get(reprint.kind, Row.OTHER), False
        self.aside, self.dismissed = None, True
        if self.row is Row.OTHER:
            self.other = reprint.kind

    def drop_sheets(self) -> None:
        """Forget the labels on screen."""
        self.phase, self.page = Phase.LOOKING, 1
        self.batch = self.sheets = self.read_back = None
        self.spoiled = set()

    def wanted(self) -> Wanted:
        """Return what is to be read for what is chosen."""
        again = self.reprint
        if again:
            return Wanted(self.row, again.kind, again.codes, again.reason)
        if self.row is Row.MARKS:
            return Wanted(self.row, marks_of=self.marks_of, done_marks=self.done_marks)
        if self.row is Row.OTHER:
            in_hand = self.dossier.container_id if self.dossier else None
            return Wanted(self.row, self.kind, which=self.which, container_id=in_hand)
        return Wanted(self.row, self.kind, tags_for=self.tags_for)

    def show_read(self, read: BenchRead) -> bool:
        """Take what was read; returns whether the labels on screen are others than before."""
        self.read, self.waiting, self.tags = read, read.waiting, read.tags
        if self.phase is not Phase.LOOKING:
            return False
        if self.tags_for and all(one.key != self.tags_for for one in read.tags):
            self.tags_for = ""
        before, self.batch = self.batch, read.batch
        labels = read.batch.labels if read.batch else ()
        return before is None or before.labels != labels

    # The sheet

    def read_stocks(self) -> None:
        """Take note of the stocks as they are now."""
        self.stocks = known_stocks()

    def stock(self) -> StockFacts:
        """Return the stock on which the labels are laid out."""
        known = {stock.name: stock for stock in self.stocks}
        kind = self.kind or PrintKind.BAG
        name = self.stock_of.get(kind, "")
        if name in known:
            return known[name]
        proposed = [stock for stock in known.values() if stock.kind == _FIRST_STOCK.get(kind, "sheet")]
        return next((one for one in proposed if one.name == _PLAIN_STOCK), proposed[0])

    def used_places(self) -> frozenset[int]:
        """Return the places that are gone on the first sheet; a roll has none."""
        stock = self.stock()
        if stock.kind == "roll":
            return frozenset()
        return frozenset(one for one in self.used.get(self._sheet(), frozenset()) if one <= len(stock.places))

    def _sheet(self) -> str:
        """Return the begun sheet that is meant: each kind of label has its own of a stock."""
        return f"{self.kind or PrintKind.BAG}: {self.stock().name}"

    def first_free(self) -> int:
        """Return the first free place of the first sheet."""
        used = self.used_places()
        return next((place.number for place in self.stock().places if place.number not in used), 1)

    def may_change_used(self) -> bool:
        """Return whether places of the sheet on screen can be said to be gone."""
        return self.phase is Phase.LOOKING and self.page == 1 and self.stock().kind != "roll"

    def toggle_used(self, place: int) -> bool:
        """Say that a label of the first sheet is gone, or there after all; returns whether that changed anything."""
        gone = self.used_places() ^ {place}
        if not self.may_change_used() or len(gone) >= len(self.stock().places):
            return False
        self.used[self._sheet()] = gone
        return True

    def begin_at(self, place: int) -> bool:
        """Say that the first sheet begins at a place: all before it are gone; returns whether that changed anything."""
        there = self.may_change_used() and 1 <= place <= len(self.stock().places)
        gone = frozenset(range(1, place))
        if not there or gone == self.used_places():
            return False
        self.used[self._sheet()] = gone
        return True

    def code_at(self, place: int) -> str | None:
        """Return the code of the label at a place of the page on screen."""
        placed = self.sheets.placed if self.sheets else ()
        return next((one.code for one in placed if (one.page, one.place) == (self.page, place)), None)

    def page_of(self, code: str) -> int | None:
        """Return the page on which a label stands."""
        placed = self.sheets.placed if self.sheets else ()
        return next((one.page for one in placed if one.code == code), None)

    def first_placed(self) -> int:
        """Return the first place of the page on screen that bears a label."""
        placed = self.sheets.placed if self.sheets else ()
        return min((one.place for one in placed if one.page == self.page), default=1)

    def turn(self, pages: int) -> bool:
        """Turn to another page; returns whether there is one."""
        last = self.sheets.pages if self.sheets else 1
        page = max(1, min(last, self.page + pages))
        changed, self.page = page != self.page, page
        return changed

    # Came out

    def handed_over(self) -> None:
        """Take note that the PDF is out of the program: now somebody says whether it came out well."""
        self.phase, self.spoiled = Phase.OUT, set()

    def toggle_spoiled(self, code: str) -> None:
        """Say that a label did not come out well, or did after all."""
        self.spoiled ^= {code}

    def well(self) -> tuple[str, ...]:
        """Return the labels that came out well."""
        return tuple(code for code in (self.sheets.codes if self.sheets else ()) if code not in self.spoiled)

    def use_up(self) -> None:
        """Take note of the places the sheets have used; a spoiled label is gone too."""
        sheets, stock = self.sheets, self.stock()
        if sheets is None or stock.kind == "roll":
            return
        gone = {one.place for one in sheets.placed if one.page == sheets.pages}
        if sheets.pages == 1:
            gone |= self.used_places()
        self.used[self._sheet()] = frozenset() if len(gone) >= len(stock.places) else frozenset(gone)

    def name_spoiled(self, code: str) -> bool | None:
        """Count a scanned label among the spoiled ones; returns whether it is new there, None where it is not here."""
        if self.page_of(code) is None:
            return None
        new = code not in self.spoiled
        self.spoiled |= {code}
        return new

    # In hand

    def take(self, dossier: Dossier | None, *, asked: bool, here: bool = True) -> None:
        """Take what is in hand; ``asked`` tells a scan from news about what was in hand already.

        Its papers are offered again only where it was asked for ``here``: whoever brings something along from another
        bench did not come to print its tag, and 1, 2 and 3 would be keys that nobody expects.
        """
        before = self.dossier
        same = dossier is not None and before is not None and dossier.container_id == before.container_id
        if dossier is not None and before is not None and same and not asked:
            kept = self._paper()
            self.dossier = replace(dossier, scanned_bag=before.scanned_bag, piece=before.piece)
            self.paper = next((n for n, one in enumerate(self.papers()) if one == kept), 0)
            return
        if not same:
            self.papers_out = ()
        self.dossier = dossier
        scanned = dossier.scanned_bag if dossier else ""
        found = next((n for n, one in enumerate(self.papers()) if one.code == scanned), None)
        self.paper = found or 0
        # Of a bag without a label nobody means the tag: 1 would print what was not scanned.
        self.dismissed = not here or (bool(scanned) and found is None)

    def code_in_hand(self) -> str:
        """Return the code of the piece or container in hand, or nothing."""
        return self.code_of(self.dossier) if self.dossier else ""

    @staticmethod
    def code_of(dossier: Dossier) -> str:
        """Return the code of the piece or container of a dossier."""
        return dossier.piece.piece.code if dossier.piece else dossier.code

    def papers(self) -> tuple[Paper, ...]:
        """Return the papers of what is in hand: its labelled bags, its tag, its wash tag."""
        dossier = self.dossier
        if dossier is None:
            return ()
        bags = [Paper(PrintKind.BAG, bag.code, bag.what) for bag in dossier.bags if bag.labelled and bag.pieces]
        tags = [] if dossier.standing in _NO_TAG else [Paper(PrintKind.TAG, dossier.code)]
        if dossier.counts:
            tags.append(Paper(PrintKind.WASH, dossier.code))
        filled = {bag.code for bag in dossier.bags if bag.pieces}
        slips = [Paper(one.kind, one.code) for one in self.papers_out if one.code in filled]
        piece = self.code_in_hand() if dossier.piece else ""
        pieces = [Paper(one.kind, one.code) for one in self.papers_out if one.code == piece]
        return tuple([*pieces, *tags, *bags, *slips] if not dossier.scanned_bag else [*bags, *slips, *tags])

    def take_papers_out(self, container_id: int, out: tuple[PaperOut, ...]) -> None:
        """Take note which slips and labels of pieces of what is in hand were printed; a scanned piece's comes first."""
        if self.dossier is None or self.dossier.container_id != container_id:
            return
        kept, self.papers_out = self._paper(), out
        meant = self.code_in_hand() if self.dossier.piece else kept.code if kept else ""
        kinds = (PrintKind.PIECE,) if self.dossier.piece else (kept.kind,) if kept else ()
        places = [n for n, one in enumerate(self.papers()) if one.code == meant and one.kind in kinds]
        self.paper = next(iter(places), 0)

    def offered(self) -> Paper | None:
        """Return the paper that is offered to be printed again, or None."""
        if self.phase is not Phase.LOOKING or self.reprint is not None or not self.may_offer():
            return None
        return self._all_again() or (None if self.dismissed else self._paper())

    def may_offer(self) -> bool:
        """Return whether a paper may be offered where one works: no digit typed into a form or a list prints a tag."""
        return not self.meeting and self.aside is None and self.row not in (Row.MARKS, Row.LISTS)

    def _all_again(self) -> Paper | None:
        """Return all labels of a kind that were printed, where somebody chose them among the other labels."""
        read = self.read.other if self.read else None
        if self.row is not Row.OTHER or self.which is not Which.AGAIN or read is None or not read.printed:
            return None
        return Paper(read.batch.kind, read.printed[0], all_codes=read.printed)

    def _paper(self) -> Paper | None:
        papers = self.papers()
        return papers[min(self.paper, len(papers) - 1)] if papers else None
