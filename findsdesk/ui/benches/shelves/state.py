"""What the shelves have in hand: which page, what was scanned, what a scan means there. No window needed."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from findsdesk.domain.codes import Code, Kind, could_be_code, read_code
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import FIRST_PLACE
from findsdesk.words import N_


class Page(StrEnum):
    """The pages of the bench, in the order of their tabs."""

    PLACES = "places"
    PACK = "pack"
    PROPOSE = "propose"
    MOVE = "move"
    OUT = "out"
    STOCK = "stock"
    LOANS = "loans"
    SLIPS = "slips"


PAGE_IN_WORDS: dict[Page, str] = {
    Page.PLACES: N_("Places"),
    Page.PACK: N_("Pack"),
    Page.PROPOSE: N_("Proposal"),
    Page.MOVE: N_("Move"),
    Page.OUT: N_("Taken out"),
    Page.STOCK: N_("Stock-take"),
    Page.LOANS: N_("Loans"),
    Page.SLIPS: N_("Proxy slips"),
}


def code_in(text: str, excavation: str) -> Code | None:
    """Return the code of a scan, or None where it is none, is misread or another's: the look-up says why."""
    if not could_be_code(text):
        return None
    try:
        return read_code(text, excavation)
    except Refusal:
        return None


def is_place(code: Code) -> bool:
    """Tell whether a code stands for a place of the store; the first serials stand for tubs."""
    return code.kind is Kind.PLACE and code.serial >= FIRST_PLACE


@dataclass
class Scanned:
    """Things scanned one after another, each once, in their order."""

    codes: list[str] = field(default_factory=list)

    def add(self, code: str) -> bool:
        """Add a thing; returns whether it is new."""
        if code in self.codes:
            return False
        self.codes.append(code)
        return True

    def drop(self, code: object) -> None:
        """Take a thing off again."""
        self.codes = [one for one in self.codes if one != code]

    def clear(self) -> None:
        """Forget all."""
        self.codes.clear()


@dataclass
class Moving:
    """What moves: boxes and loose bags, or a shelf or room with what lies in it; to where; what was met on leaving.

    The first scan says which: a place scanned first moves itself, boxes scanned after it are checked off its list. A
    place scanned after something else is where it goes.
    """

    what: Scanned = field(default_factory=Scanned)
    met: Scanned = field(default_factory=Scanned)
    to: str = ""
    whole_place: bool = False

    def scan(self, code: Code) -> bool:
        """Take a scan of a box, a bag or a place; returns whether it said something new."""
        if is_place(code):
            if not self.what.codes:
                self.whole_place = True
                return self.what.add(code.text)
            if code.text in self.what.codes or code.text == self.to:
                return False
            self.to = code.text
            return True
        return self.met.add(code.text) if self.whole_place else self.what.add(code.text)

    def drop(self, code: object) -> None:
        """Take a thing off again."""
        self.what.drop(code)
        self.met.drop(code)
        if not self.what.codes:
            self.clear()

    def clear(self) -> None:
        """Begin anew."""
        self.what.clear()
        self.met.clear()
        self.to, self.whole_place = "", False

    def scanned(self) -> tuple[str, ...]:
        """Return what was met where it left: of a whole place its checked boxes, else all that was scanned."""
        return tuple(self.met.codes if self.whole_place else self.what.codes)


@dataclass
class Walk:
    """Where somebody who takes stock stands: at a shelf, before an open box."""

    place: str = ""
    box: str = ""

    def scans(self, code: Code) -> tuple[str, ...]:
        """Return what is written for a scan: where it was met goes before it."""
        if is_place(code):
            self.place, self.box = code.text, ""
            return (code.text,)
        before = [self.place] if self.place else []
        if code.kind is Kind.BOX:
            self.box = code.text
            return (*before, code.text)
        if self.box:
            before.append(self.box)
        return (*before, code.text)
