"""What stands on a printed list: plain values, gathered by the desk layer from the store."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from findsdesk.paper.pen import Align
from findsdesk.words import Terms


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a list: what it is called, its share of the width beside the others', how it is set."""

    title: str
    share: float = 1.0
    align: Align = "left"


@dataclass(frozen=True, slots=True)
class Section:
    """A line that heads the rows after it: a square of the evening sheet, with its figures at the right.

    ``level`` is how deep it lies in the file's outline.
    """

    title: str
    figures: str = ""
    level: int = 0


ListRow = tuple[str, ...] | Section


@dataclass(frozen=True, slots=True)
class CautionSlip:
    """A caution at the top of a list: the hazard in a bold first sentence, then what to do and whom to ask."""

    first: str
    rest: str


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture over a list: PNG, and its size in mm."""

    png: bytes
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Signature:
    """A line to sign on; ``role`` says as what, ``name`` who is meant to, ``when`` where it was signed for already."""

    role: str
    name: str = ""
    when: str = ""


@dataclass(frozen=True, slots=True)
class ListSheet:
    """A list as it is printed; all texts are already in words.

    ``rows`` have a text for each column, ``totals`` too (or are empty). ``head`` is the store's head, of which 12
    characters are shown. ``turned`` lays the paper on its long side.
    """

    title: str
    excavation: str
    permit: str
    columns: tuple[Column, ...]
    rows: tuple[ListRow, ...]
    person: str
    moment: datetime
    head: str
    filter_words: str = ""
    intro: tuple[str, ...] = ()
    totals: tuple[str, ...] = ()
    caution: CautionSlip | None = None
    signatures: tuple[Signature, ...] = ()
    picture: Picture | None = None
    when_empty: str = ""
    turned: bool = False
    language: str = "en"
    terms: Terms | None = None
    by_hand: bool = False
    """Whether it is written in by hand: its rows are high enough, with lines between the cells."""
