"""Words for what was written and says something else now: on what, what it said, what it has to say, how much of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from findsdesk.desk.marks_again import MARK, SLIP
from findsdesk.words import N_, CountOf


class Written(StrEnum):
    """On what something was written."""

    TAG = "tag"
    LABEL = "label"
    INSIDE = "inside"
    """The slip that lies inside a bag."""
    PIECE = "piece"
    """The label of a piece."""
    MARK = MARK
    SLIP = SLIP
    """A slip with the mark, in a small bag with sherds that are not inked."""
    BOX = "box"
    """The label of a box. It is not asked for: what it said is kept with the box and compared with what lies in it."""


WRITTEN_IN_WORDS: dict[Written, str] = {
    Written.TAG: N_("tag"),
    Written.LABEL: N_("bag label"),
    Written.INSIDE: N_("slip inside a bag"),
    Written.PIECE: N_("piece label"),
    Written.MARK: N_("inked mark"),
    Written.SLIP: N_("slip"),
    Written.BOX: N_("box label"),
}

Paper = tuple[Written, int, int | None]
"""One paper: on what, the container's id, the id of the bag (of a piece label: of the piece)."""


@dataclass(frozen=True, slots=True)
class Says:
    """What stands on a paper, part by part."""

    parts: tuple[str, ...]

    def in_words(self) -> str:
        """Return what stands there as one line."""
        return " · ".join(part for part in self.parts if part)

    def is_wrong_beside(self, now: Says) -> bool:
        """Tell whether a part that is written there says something else now; what was left blank is not wrong."""
        return any(was and was != part for was, part in zip(self.parts, now.parts, strict=True))


@dataclass(frozen=True, slots=True)
class Asked:
    """How much one correction asks to be written again: each kind counts by itself, as on the list."""

    tags: int = 0
    labels: int = 0
    marks: int = 0
    piece_labels: int = 0
    slips: int = 0
    inside: int = 0
    """Slips inside bags."""
    boxes: int = 0
    """Box labels."""

    @property
    def together(self) -> int:
        """Return how many things that are."""
        return sum(self.counts)

    @property
    def counts(self) -> tuple[CountOf, ...]:
        """Return how much of each kind, in the order it is told; kinds of which nothing is asked are left out."""
        counts = (
            CountOf("{n} tag", "{n} tags", self.tags),
            CountOf("{n} bag label", "{n} bag labels", self.labels),
            CountOf("{n} piece label", "{n} piece labels", self.piece_labels),
            CountOf("{n} inked mark", "{n} inked marks", self.marks),
            CountOf("{n} slip", "{n} slips", self.slips),
            CountOf("{n} slip inside a bag", "{n} slips inside bags", self.inside),
            CountOf("{n} box label", "{n} box labels", self.boxes),
        )
        return tuple(one for one in counts if one)


@dataclass(frozen=True, slots=True)
class ThingToRedo:
    """A tag, label or mark to be written again: what it said, what it has to say now, and why.

    Of a box ``id`` and ``container_id`` are below zero, its own with a minus; ``code`` and ``number`` are the box's.
    """

    id: int
    what: Written
    container_id: int
    code: str
    number: str
    deposit: str
    bag_code: str
    piece_code: str
    """Of the piece whose label it is; empty for all else."""
    pieces: int
    said: str
    says_now: str
    why: str
    asked_at: datetime
    bag_what: str = ""
    """What the bag holds, as a key; empty for all that is no paper of a bag."""

    @property
    def stands_on(self) -> str:
        """Return the code of the paper: of the bag, of the piece, or of the container."""
        return self.bag_code or self.piece_code or self.code
