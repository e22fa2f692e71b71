"""Steps of a container, the standing that follows from them, and why it may be held back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from findsdesk.words import N_


class Standing(StrEnum):
    """Where a container is now, derived from its steps alone."""

    ISSUED = "issued"
    LISTED = "listed"
    MISSING = "missing"
    ARRIVED = "arrived"
    SOAKING = "soaking"
    WASHED = "washed"
    DRYING = "drying"
    DRY = "dry"
    SORTING = "sorting"
    SETTLED = "settled"
    BAGGED = "bagged"
    AWAY = "away"
    CLOSED = "closed"
    EMPTY = "empty"
    VOID = "void"
    UNUSED = "unused"
    JOINED = "joined"


class StepKind(StrEnum):
    """What was done with a container: one dated act."""

    ISSUED = "issued"
    LISTED = "listed"
    ARRIVED = "arrived"
    MISSING = "missing"
    LOOKED_AT = "looked at"
    HELD = "held"
    RELEASED = "released"
    SOAKING = "soaking"
    WASHED = "washed"
    DRY_BRUSHED = "dry brushed"
    LEFT_UNWASHED = "left unwashed"
    COUNTED = "counted"
    DRY = "dry"
    SORTING = "sorting"
    SETTLED = "settled"
    REOPENED = "reopened"
    BAGGED = "bagged"
    HANDED_ON = "handed on"
    CAME_BACK = "came back"
    CLOSED = "closed"
    TAKEN_BACK = "taken back"
    SPLIT = "split"
    JOINED = "joined"
    VOIDED = "voided"
    UNUSED = "unused"
    SWAPPED = "swapped"
    ATTRIBUTED = "attributed"
    CORRECTED = "corrected"


class Hold(StrEnum):
    """Why a container waits for the ceramicist before any water or brush."""

    PAINTED = "painted"
    INSCRIBED = "inscribed"
    FLAKING = "flaking"
    RESIDUE = "residue"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class StepTaken:
    """A step as the fold needs it: its kind, the pieces of a count, the standing a step back went to."""

    kind: StepKind
    pieces: int | None = None
    back_to: Standing | None = None


NOT_YET_HERE = frozenset({Standing.ISSUED, Standing.LISTED, Standing.MISSING})
BEFORE_TREATMENT = frozenset({Standing.ARRIVED, Standing.SOAKING})
BEFORE_COUNT = NOT_YET_HERE | BEFORE_TREATMENT | {Standing.WASHED, Standing.EMPTY}

# The way through the yard, first to last: a step back goes to something that stands before.
IN_ORDER = (
    Standing.ISSUED,
    Standing.LISTED,
    Standing.ARRIVED,
    Standing.SOAKING,
    Standing.WASHED,
    Standing.DRYING,
    Standing.DRY,
    Standing.SORTING,
    Standing.SETTLED,
    Standing.BAGGED,
)

_LEADS_TO = {
    StepKind.ISSUED: Standing.ISSUED,
    StepKind.SOAKING: Standing.SOAKING,
    StepKind.WASHED: Standing.WASHED,
    StepKind.LEFT_UNWASHED: Standing.WASHED,
    StepKind.DRY: Standing.DRY,
    StepKind.SORTING: Standing.SORTING,
    StepKind.SETTLED: Standing.SETTLED,
    StepKind.REOPENED: Standing.SORTING,
    StepKind.BAGGED: Standing.BAGGED,
    StepKind.HANDED_ON: Standing.AWAY,
    StepKind.CLOSED: Standing.CLOSED,
    StepKind.JOINED: Standing.JOINED,
    StepKind.VOIDED: Standing.VOID,
    StepKind.UNUSED: Standing.UNUSED,
}

# Steps that move a container only from some standings: a list that comes after the pallet, a second load of a
# container that is already here, a dry brush over what lies dry, change nothing about where it stands.
_LEADS_TO_FROM = {
    StepKind.LISTED: (frozenset({Standing.ISSUED}), Standing.LISTED),
    StepKind.MISSING: (NOT_YET_HERE, Standing.MISSING),
    StepKind.ARRIVED: (NOT_YET_HERE | {Standing.UNUSED, Standing.VOID}, Standing.ARRIVED),
    StepKind.DRY_BRUSHED: (BEFORE_TREATMENT, Standing.WASHED),
}


def _after_count(standing: Standing, pieces: int | None) -> Standing:
    if pieces == 0:
        return Standing.EMPTY
    return Standing.DRYING if standing in BEFORE_COUNT else standing


def after(
    standing: Standing, step: StepKind, *, pieces: int | None = None, back_to: Standing | None = None
) -> Standing:
    """Return the standing after a step, without asking whether the step was allowed.

    A count before sorting means treated: the container dries, or is empty after washing when ``pieces`` is 0. What
    comes back from trained hands comes back dry unless ``back_to`` says otherwise; a step back needs ``back_to``.
    Steps that do not move a container (looked at, held, released, corrected, swapped, attributed, split) return the
    standing unchanged.
    """
    if step is StepKind.COUNTED:
        return _after_count(standing, pieces)
    if step is StepKind.CAME_BACK:
        return back_to or Standing.DRY
    if step is StepKind.TAKEN_BACK:
        if back_to is None:
            raise ValueError("a step back names the standing it goes back to")
        return back_to
    if step in _LEADS_TO_FROM:
        starts, end = _LEADS_TO_FROM[step]
        return end if standing in starts else standing
    return _LEADS_TO.get(step, standing)


def fold(steps: Iterable[StepTaken]) -> Standing:
    """Return the standing after all steps, in the order in which they happened; without any, issued."""
    standing = Standing.ISSUED
    for step in steps:
        standing = after(standing, step.kind, pieces=step.pieces, back_to=step.back_to)
    return standing


HOLD_IN_WORDS: dict[Hold, str] = {
    Hold.PAINTED: N_("painted"),
    Hold.INSCRIBED: N_("perhaps ink"),
    Hold.FLAKING: N_("flaking"),
    Hold.RESIDUE: N_("residue"),
    Hold.OTHER: N_("held back"),
}

STANDING_IN_WORDS: dict[Standing, str] = {
    Standing.ISSUED: N_("tag issued"),
    Standing.LISTED: N_("expected"),
    Standing.MISSING: N_("missing"),
    Standing.ARRIVED: N_("arrived"),
    Standing.SOAKING: N_("soaking"),
    Standing.WASHED: N_("washed, not counted"),
    Standing.DRYING: N_("drying"),
    Standing.DRY: N_("dry"),
    Standing.SORTING: N_("being sorted"),
    Standing.SETTLED: N_("settled"),
    Standing.BAGGED: N_("bagged"),
    Standing.AWAY: N_("away"),
    Standing.CLOSED: N_("closed sample"),
    Standing.EMPTY: N_("empty after washing"),
    Standing.VOID: N_("tag void"),
    Standing.UNUSED: N_("tag unused"),
    Standing.JOINED: N_("put together with another"),
}

STEP_IN_WORDS: dict[StepKind, str] = {
    StepKind.ISSUED: N_("tag issued"),
    StepKind.LISTED: N_("on the field list"),
    StepKind.ARRIVED: N_("arrived"),
    StepKind.MISSING: N_("reported missing"),
    StepKind.LOOKED_AT: N_("dipped and looked at"),
    StepKind.HELD: N_("held back"),
    StepKind.RELEASED: N_("released"),
    StepKind.SOAKING: N_("put to soak"),
    StepKind.WASHED: N_("washed"),
    StepKind.DRY_BRUSHED: N_("brushed dry"),
    StepKind.LEFT_UNWASHED: N_("left unwashed"),
    StepKind.COUNTED: N_("counted"),
    StepKind.DRY: N_("dry"),
    StepKind.SORTING: N_("sorting begun"),
    StepKind.SETTLED: N_("settled"),
    StepKind.REOPENED: N_("reopened"),
    StepKind.BAGGED: N_("bagged"),
    StepKind.HANDED_ON: N_("handed on"),
    StepKind.CAME_BACK: N_("came back"),
    StepKind.CLOSED: N_("closed as a sample"),
    StepKind.TAKEN_BACK: N_("taken back a step"),
    StepKind.SPLIT: N_("split"),
    StepKind.JOINED: N_("put together with another"),
    StepKind.VOIDED: N_("tag voided"),
    StepKind.UNUSED: N_("tag back unused"),
    StepKind.SWAPPED: N_("tags swapped back"),
    StepKind.ATTRIBUTED: N_("attributed"),
    StepKind.CORRECTED: N_("corrected"),
}


def step_in_words(kind: StepKind, pieces: int | None) -> str:
    """Return a step as a message: a split that moved some of the finds out is called so, not one into parts."""
    return N_("taken out") if kind is StepKind.SPLIT and pieces is not None else STEP_IN_WORDS[kind]
