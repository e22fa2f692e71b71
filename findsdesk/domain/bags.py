"""Which bags a settled container makes: diagnostic pieces apart from the others, what waits apart from both."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from findsdesk.domain.balance import Decision
from findsdesk.words import N_


class BagOf(StrEnum):
    """What a bag holds."""

    DIAGNOSTIC = "diagnostic"
    BODY = "body"
    MENDING = "mending"
    HOLD = "hold"
    ALL = "all"


BAG_IN_WORDS: dict[str, str] = {
    BagOf.DIAGNOSTIC: N_("diagnostic"),
    BagOf.BODY: N_("body"),
    BagOf.MENDING: N_("for mending"),
    BagOf.HOLD: N_("on hold"),
    BagOf.ALL: "",
}
"""What stands on the label; a bag with everything in it says nothing more."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A group as far as bags go: is its part diagnostic, its pieces, its dry tenths of a gram, its decision."""

    diagnostic: bool
    pieces: int
    tenths: int | None
    decision: Decision


@dataclass(frozen=True, slots=True)
class BagProposal:
    """A bag to be packed; ``tenths`` is None where a group in it was not weighed."""

    what: BagOf
    pieces: int
    tenths: int | None


def propose(groups: Iterable[Kept], *, apart: bool) -> tuple[BagProposal, ...]:
    """Return the bags for the groups that stay; what is discarded goes into none.

    With ``apart`` (pottery) diagnostic pieces lie apart from the others; what is kept for mending and what is on hold
    always does (common practice, no source).
    """
    packed: dict[BagOf, list[Kept]] = {}
    for group in groups:
        what = _bag_for(group, apart)
        if what is not None:
            packed.setdefault(what, []).append(group)
    return tuple(_bag(what, packed[what]) for what in BagOf if what in packed)


def _bag_for(group: Kept, apart: bool) -> BagOf | None:
    if group.decision is Decision.DISCARD:
        return None
    if group.decision is Decision.MEND:
        return BagOf.MENDING
    if group.decision is Decision.HOLD:
        return BagOf.HOLD
    if not apart:
        return BagOf.ALL
    return BagOf.DIAGNOSTIC if group.diagnostic else BagOf.BODY


def _bag(what: BagOf, groups: list[Kept]) -> BagProposal:
    weights = [group.tenths for group in groups if group.tenths is not None]
    weighed = sum(weights) if len(weights) == len(groups) else None
    return BagProposal(what, sum(group.pieces for group in groups), weighed)
