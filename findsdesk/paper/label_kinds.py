"""What stands on the labels: plain values, gathered by the desk layer from the store.

A code is 8 to 12 characters of 0-9 and A-Z that begin with a letter; dates are the find's, not the printer's; weights
are dry tenths of a gram; ``copy`` is 2 or more on a reprint.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class LabelKind(StrEnum):
    """A kind of label, each with a layout of its own."""

    BAG = "bag"
    SLIP = "slip"
    TAG = "tag"
    WASH = "wash"
    PIECE = "piece"
    BOX = "box"
    PLACE = "place"
    LOAN = "loan"


@dataclass(frozen=True, slots=True)
class BagLabel:
    """The label outside a bag of finds."""

    code: str
    deposit: str
    container: str
    mark_lines: tuple[str, ...] = ()
    site: str = ""
    season: str = ""
    permit: str = ""
    square: str = ""
    collected_on: date | None = None
    collected_until: date | None = None
    material: str = ""
    what: str = ""
    pieces: int | None = None
    tenths: int | None = None
    copy: int = 1


@dataclass(frozen=True, slots=True)
class SlipLabel(BagLabel):
    """The small slip inside the bag: the same words as the label outside, for when that is rubbed off or lost."""


@dataclass(frozen=True, slots=True)
class TagLabel:
    """The tag that goes to the trench with its number; what is not yet known is a line to write on."""

    code: str
    container: str
    site: str = ""
    season: str = ""
    permit: str = ""
    deposit: str = ""
    square: str = ""
    collected_on: date | None = None
    supervisor: str = ""
    material: str = ""
    copy: int = 1


@dataclass(frozen=True, slots=True)
class WashTag:
    """The tag that lies on the drying tray: how many pieces came out of the wash."""

    code: str
    deposit: str
    container: str
    pieces: int
    tray: str = ""
    washed_on: date | None = None
    site: str = ""
    season: str = ""
    square: str = ""
    material: str = ""
    copy: int = 1


@dataclass(frozen=True, slots=True)
class PieceLabel:
    """The label that lies with one numbered piece; ``what`` is its ware, part and form in words."""

    code: str
    piece: str
    deposit: str
    container: str
    mark_lines: tuple[str, ...] = ()
    what: str = ""
    square: str = ""
    site: str = ""
    season: str = ""
    permit: str = ""
    copy: int = 1


@dataclass(frozen=True, slots=True)
class BoxLabel:
    """The label of a box: its number, what lies in it line by line, how heavy it is, what to beware of."""

    code: str
    number: str
    site: str = ""
    season: str = ""
    permit: str = ""
    material: str = ""
    contents: tuple[str, ...] = ()
    tenths: int | None = None
    caution: str = ""
    copy: int = 1


@dataclass(frozen=True, slots=True)
class PlaceLabel:
    """The label of a place in the store: its name, and ``path`` through room, rack and shelf to it."""

    code: str
    name: str
    path: tuple[str, ...] = ()
    copy: int = 1


@dataclass(frozen=True, slots=True)
class LoanLabel:
    """The label that goes with what is lent: to whom, what for, since and until when, how many pieces."""

    code: str
    to_whom: str
    purpose: str = ""
    since: date | None = None
    due: date | None = None
    pieces: int | None = None
    copy: int = 1


Label = BagLabel | SlipLabel | TagLabel | WashTag | PieceLabel | BoxLabel | PlaceLabel | LoanLabel

_KIND_OF: dict[type, LabelKind] = {
    BagLabel: LabelKind.BAG,
    SlipLabel: LabelKind.SLIP,
    TagLabel: LabelKind.TAG,
    WashTag: LabelKind.WASH,
    PieceLabel: LabelKind.PIECE,
    BoxLabel: LabelKind.BOX,
    PlaceLabel: LabelKind.PLACE,
    LoanLabel: LabelKind.LOAN,
}


def kind_of(label: Label) -> LabelKind:
    """Return what kind of label a label is."""
    return _KIND_OF[type(label)]
