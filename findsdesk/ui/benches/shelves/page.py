"""Shelves: where everything stands, bags into boxes, what moves, is taken out, is looked for, is on loan."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from findsdesk.desk.boxing import BoxWithBags
from findsdesk.desk.loan_rows import LoanFacts
from findsdesk.desk.shelves import PlaceWithBoxes
from findsdesk.desk.store_waits import store_waits
from findsdesk.domain.codes import Code
from findsdesk.domain.command_cards import Command, command_of
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.shelves.loans_page import LoansPage
from findsdesk.ui.benches.shelves.moving_page import MovingPage
from findsdesk.ui.benches.shelves.out_page import OutPage
from findsdesk.ui.benches.shelves.packing_page import PackingPage
from findsdesk.ui.benches.shelves.places_page import PlacesPage
from findsdesk.ui.benches.shelves.proposal_page import ProposalPage
from findsdesk.ui.benches.shelves.scanned_hand import ScannedHand
from findsdesk.ui.benches.shelves.shelf_page import ShelfPage
from findsdesk.ui.benches.shelves.slips_page import SlipsPage
from findsdesk.ui.benches.shelves.state import PAGE_IN_WORDS, Page, code_in
from findsdesk.ui.benches.shelves.stock_page import StockPage
from findsdesk.ui.changes import Thing
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.widgets.tab_row import TabRow
from findsdesk.words import _, plural


class ShelvesBench(Bench):
    """Every page answers scans in its own way; what it has no use for is looked up as anywhere."""

    key = "shelves"
    kinds = frozenset(
        {
            "place", "box", "bag", "lay", "taken_out", "transport", "transport_line", "stock_take", "stock_scan",
            "loan", "loan_line", "loan_return", "loan_chase", "loan_file", "proxy_slip", "person", "excavation",
        }
    )  # fmt: skip

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        self._looking_up = False
        self.hand = ScannedHand(surroundings)
        self.open = Page.PLACES
        self.tabs = TabRow(_("Shelves"))
        self.places = PlacesPage(self)
        self.packing = PackingPage(self)
        self.proposal = ProposalPage(self)
        self.moving = MovingPage(self)
        self.out = OutPage(self)
        self.stock = StockPage(self)
        self.loans = LoansPage(self)
        self.slips = SlipsPage(self)
        self.parts: dict[Page, ShelfPage] = {
            Page.PLACES: self.places,
            Page.PACK: self.packing,
            Page.PROPOSE: self.proposal,
            Page.MOVE: self.moving,
            Page.OUT: self.out,
            Page.STOCK: self.stock,
            Page.LOANS: self.loans,
            Page.SLIPS: self.slips,
        }
        self.pages = OneOf()
        for part in self.parts.values():
            self.pages.add_page(part)
        self.body.addWidget(self.tabs)
        self.body.addWidget(self.pages, 1)
        self._wire()
        self._show_tabs()

    def title(self) -> str:
        return _("Shelves")

    def what_waits(self) -> str:
        """Return how many loans are overdue, or how many bags lie in no box."""
        waiting = store_waits(self.surroundings.desk)
        if waiting.overdue:
            return plural("{n} loan overdue", "{n} loans overdue", waiting.overdue)
        return plural("{n} bag unboxed", "{n} bags unboxed", waiting.unboxed) if waiting.unboxed else ""

    def keys(self) -> tuple[tuple[str, str], ...]:
        return (
            (_("← →"), _("on the tabs: to another page")),
            (_("Enter"), _("take a box in hand; open a transport, a loan")),
            (_("Delete"), _("take a bag out of the box; take a scan or a result off")),
            (_("Ctrl+Enter"), _("write a form")),
            (_("Esc"), _("leave a form, go back")),
        )

    def first_focus(self) -> QWidget | None:
        """Return what the open page wants first, else the tabs."""
        return self.part().first_focus() or self.tabs

    def fit(self, width: int, height: int) -> None:
        self.places.fit(width)

    def refresh(self) -> None:
        self.part().read_again()

    def begin_anew(self) -> None:
        """Go back to the places."""
        self.open_page(Page.PLACES)

    def part(self) -> ShelfPage:
        """Return the open page."""
        return self.parts[self.open]

    def refuse(self, refusal: Refusal) -> None:
        """Show a no on the bench and in the scan line, with its sound: eyes and hands are on the scanner."""
        super().refuse(refusal)
        self.surroundings.say(Answer(Tone.REFUSED, refusal.in_words(self.surroundings.terms)))

    # Pages

    def open_page(self, page: Page) -> None:
        """Open a page and read what it shows."""
        self.refusals.clear()
        self.open = page
        self.pages.show_page(self.part())
        self._show_tabs()
        self.part().read_again()
        if self.isVisible() and not self.tabs.hasFocus():
            # Else the keyboard would be left on what is hidden now, and go to the rail.
            (self.first_focus() or self.tabs).setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_tabs(self) -> None:
        say = self.surroundings.words
        self.tabs.show_tabs([(str(page), say(words)) for page, words in PAGE_IN_WORDS.items()], str(self.open))
        self.say_going_on(say(PAGE_IN_WORDS[self.open]))

    def _pack(self, code: object) -> None:
        """Take a box in hand to be packed."""
        self.open_page(Page.PACK)
        self.surroundings.take_in_hand.emit(str(code))
        self.packing.bags.setFocus()

    def _propose(self) -> None:
        self.open_page(Page.PROPOSE)
        focus = self.proposal.first_focus()
        if focus is not None:
            focus.setFocus()

    def _labels(self, kind: str) -> None:
        """Go to where labels of a kind are printed."""
        # Loaded now: the libraries of paper would hold up the window at the start.
        from findsdesk.desk.label_contents import PrintKind

        self.surroundings.open_labels(PrintKind[kind])

    # Scans

    def take_scan(self, text: str) -> Answer | None:
        """Let the open page answer; while a question waits on the slip nothing else is begun."""
        desk = self.surroundings.desk
        code = code_in(text, desk.facts.code) if desk is not None else None
        command = code is not None and command_of(code) is not None
        if self.refusals.is_asking() and code is not None and not command:
            return Answer(Tone.REFUSED, _("A question waits"), _(": answer it on the slip, then scan again"))
        answer = None if command else self.part().take_text(text, code)
        if answer is not None and self.part().scans_are_in_hand:
            self.hand.take(text)
        return answer

    def hear(self, touched: frozenset[Thing]) -> None:
        super().hear(touched)
        if self.isVisible() and self.concerns(touched):
            self.hand.follow(self.in_hand)

    def take_code(self, code: Code) -> Answer | None:
        """Answer the command card: "write" says yes to what is asked, or does the act of the page."""
        if command_of(code) is not Command.WRITE:
            return None
        act = self.part().act_now()
        if self.refusals.is_asking():
            self.refusals.say_sure()
        elif act is not None and act.isEnabled() and act.isVisible():
            act.click()
        else:
            return Answer(Tone.REFUSED, _("Nothing to write here yet"))
        return Answer(Tone.PLAIN, _("Write"))

    def look_up_begins(self) -> None:
        """Take note that what comes in hand now was asked for."""
        self._looking_up = True

    def look_up_ended(self, found: bool) -> None:
        """Take note that what comes in hand from now on is news of it."""
        self._looking_up = False
        if not found:
            self.part().not_found()

    def show_in_hand(self, in_hand: object) -> None:
        """Show a box, a place or a loan that was scanned or chosen; of what is in hand already the pages stay."""
        before = self.in_hand
        super().show_in_hand(in_hand)
        if not self._looking_up and _named(before) == _named(in_hand):
            return
        if isinstance(in_hand, LoanFacts) and self.open is not Page.LOANS:
            self.open_page(Page.LOANS)
        for part in (self.places, self.packing, self.loans):
            part.take_thing(in_hand)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.part().go_back():
            return
        super().keyPressEvent(event)

    def _wire(self) -> None:
        self.tabs.chosen.connect(lambda key: self.open_page(Page(key)))
        self.places.box_chosen.connect(self._pack)
        self.places.propose_wanted.connect(self._propose)
        self.proposal.packed.connect(self._pack)
        self.places.labels_wanted.connect(lambda: self._labels("PLACE"))
        self.packing.labels_wanted.connect(lambda: self._labels("BOX"))
        self.loans.labels_wanted.connect(lambda: self._labels("LOAN"))


def _named(thing: object) -> str:
    """Return the code of a box, a place or a loan, so that what is shown of it stays; '' of anything else."""
    if isinstance(thing, BoxWithBags):
        return thing.box.code
    if isinstance(thing, PlaceWithBoxes):
        return thing.place.code
    return thing.code if isinstance(thing, LoanFacts) else ""
