"""What stands on the labels: plain values, gathered by the desk layer from the store.

A code is 8 to 12 characters of 0-9 and A-Z that begin with a letter; dates are the find's, not the printer's.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class BagLabel:
    """The label of a bag of finds; ``tenths`` are dry tenths of a gram, ``copy`` is 2 or more on a reprint."""

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


Label = BagLabel | TagLabel | WashTag
