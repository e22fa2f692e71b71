"""Cautions: warnings shown at a step where work can hurt somebody or the finds."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class At(StrEnum):
    """At what work a caution is shown."""

    CHECK_IN = "check in"
    LOOK = "look"
    SOAK = "soak"
    WASH = "wash"
    DRY_BRUSH = "dry brush"
    DRY = "dry"
    COUNT = "count"
    SORT = "sort"
    MARK = "mark"
    BAG = "bag"
    CARRY = "carry"
    DISCARD = "discard"
    ALWAYS = "always"


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution: the sentence set bold, the rest, where it is shown and where it comes from (English texts)."""

    key: str
    at: tuple[At, ...]
    lead: str
    text: str
    source: str
