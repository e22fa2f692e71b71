"""Plain values of the foot: who sits here, when last written, how old the backup is, which tags are missing."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FootFacts:
    """The texts of the foot, in words; an empty one is left out."""

    who: str = ""
    """"Tessa Quill, wash lead"."""
    station: str = ""
    written: str = ""
    """"Written 08:12:03"."""
    backup: str = ""
    tags: str = ""
    """"All tags accounted for but 1"."""
    late: bool = False
    """Whether the tags or the backup want somebody's eye."""
