"""Routes: the steps a material goes through, and whether a container may take one from where it stands.

Which material goes which way is data (resources/routes.toml); what a route means is here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.route_refusals import (
    BY_STANDING,
    BY_STEP,
    CLOSED_SAMPLE,
    COUNT_FIRST,
    COUNTED_AT_SORTING,
    HAS_FINDS,
    HELD_BACK,
    IN_A_TUB,
    LOOK_FIRST,
    NEVER_BRUSHED,
    NOT_COUNTED,
    NOT_DRY,
    NOT_HELD,
    NOT_SORTED_HERE,
    NOT_WASHED,
    STOP_ROUTE,
    WRONG_STEP,
    Told,
)
from findsdesk.domain.standings import (
    BEFORE_TREATMENT,
    IN_ORDER,
    NOT_YET_HERE,
    STANDING_IN_WORDS,
    Hold,
    Standing,
    StepKind,
    StepTaken,
    after,
    fold,
    step_in_words,
)
from findsdesk.words import N_

__all__ = [
    "STANDING_IN_WORDS",
    "Hold",
    "Route",
    "Standing",
    "StepKind",
    "StepTaken",
    "Treatment",
    "after",
    "allowed",
    "fold",
    "may_go_back",
    "step_in_words",
]


class Treatment(StrEnum):
    """How a material is treated in the yard."""

    WET = "wet"
    GENTLE = "gentle"
    DRY = "dry"
    SPECIALIST = "specialist"
    CLOSED = "closed"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Route:
    """What may be done with one material; texts are English sentences to be put into words at the edge.

    ``pieces_one`` and ``pieces_many`` hold ``{n}`` and go to ``words.plural``; ``soak_refusal`` may use ``{number}``;
    ``crate`` is empty where the material dries in trays; ``cautions`` are keys.
    """

    key: str
    name: str
    pieces_one: str
    pieces_many: str
    treatment: Treatment
    soak: bool
    wash: bool
    dry_brush: bool
    counted: bool
    sorted_here: bool
    crate: str
    soak_refusal: str
    cautions: tuple[str, ...]
    aliases: tuple[str, ...]


_S = Standing
_FROM_ARRIVAL_TO_DRY = frozenset({_S.ARRIVED, _S.SOAKING, _S.WASHED, _S.DRYING, _S.DRY})
_WITH_FINDS = _FROM_ARRIVAL_TO_DRY | {_S.SORTING, _S.SETTLED, _S.BAGGED}
_GONE = frozenset({_S.VOID, _S.UNUSED, _S.JOINED})
_EVERYWHERE = frozenset(Standing)

# From which standings a step may be taken, before the material and the hold have their say.
_STARTS: dict[StepKind, frozenset[Standing]] = {
    StepKind.ISSUED: frozenset(),
    StepKind.LISTED: _EVERYWHERE - _GONE,
    StepKind.ARRIVED: NOT_YET_HERE | {_S.UNUSED},
    StepKind.MISSING: NOT_YET_HERE,
    StepKind.LOOKED_AT: frozenset({_S.ARRIVED, _S.SOAKING, _S.WASHED}),
    StepKind.HELD: _WITH_FINDS,
    StepKind.RELEASED: _WITH_FINDS | {_S.EMPTY},
    StepKind.SOAKING: BEFORE_TREATMENT,
    StepKind.WASHED: BEFORE_TREATMENT,
    StepKind.DRY_BRUSHED: frozenset({_S.ARRIVED, _S.WASHED, _S.DRYING, _S.DRY}),
    StepKind.LEFT_UNWASHED: BEFORE_TREATMENT,
    StepKind.COUNTED: _FROM_ARRIVAL_TO_DRY | {_S.SORTING, _S.EMPTY},
    StepKind.DRY: frozenset({_S.WASHED, _S.DRYING}),
    StepKind.SORTING: frozenset({_S.DRY, _S.SORTING}),
    StepKind.SETTLED: frozenset({_S.SORTING}),
    StepKind.REOPENED: frozenset({_S.SETTLED, _S.BAGGED}),
    StepKind.BAGGED: frozenset({_S.SETTLED, _S.BAGGED}),
    StepKind.HANDED_ON: frozenset({_S.ARRIVED, _S.WASHED, _S.DRYING, _S.DRY, _S.SETTLED, _S.BAGGED, _S.CLOSED}),
    StepKind.CAME_BACK: frozenset({_S.AWAY}),
    StepKind.CLOSED: frozenset({_S.ARRIVED}),
    StepKind.TAKEN_BACK: _EVERYWHERE - {_S.ISSUED, _S.JOINED},
    StepKind.SPLIT: _FROM_ARRIVAL_TO_DRY | {_S.SORTING},
    StepKind.JOINED: _FROM_ARRIVAL_TO_DRY | {_S.SORTING},
    StepKind.VOIDED: NOT_YET_HERE,
    StepKind.UNUSED: NOT_YET_HERE,
    StepKind.SWAPPED: _EVERYWHERE - _GONE,
    StepKind.ATTRIBUTED: _EVERYWHERE - _GONE,
    StepKind.CORRECTED: _EVERYWHERE,
}

# What a closed sample is never put through (water has its own refusal, with the material's way out).
_OPENING_STEPS = frozenset(
    {
        StepKind.LOOKED_AT,
        StepKind.DRY_BRUSHED,
        StepKind.LEFT_UNWASHED,
        StepKind.COUNTED,
        StepKind.DRY,
        StepKind.SORTING,
        StepKind.SETTLED,
    }
)
# What is never done here with human remains.
_STOPPED_STEPS = _OPENING_STEPS | {
    StepKind.SOAKING,
    StepKind.WASHED,
    StepKind.BAGGED,
    StepKind.SPLIT,
    StepKind.JOINED,
}


def _from_where_it_stands(route: Route, standing: Standing, step: StepKind) -> Told | None:
    """Return the refusal when a step cannot be taken from a standing, whatever was seen on the finds."""
    starts = _STARTS[step]
    if step is StepKind.BAGGED and not route.sorted_here:
        starts |= {_S.DRY, _S.CLOSED}
        if standing in _FROM_ARRIVAL_TO_DRY - starts:
            return NOT_DRY
    if step is StepKind.CLOSED and route.treatment not in (Treatment.CLOSED, Treatment.STOP):
        return WRONG_STEP
    if standing in starts:
        return None
    if step is StepKind.DRY and standing in BEFORE_TREATMENT:
        return NOT_WASHED if standing is _S.ARRIVED else IN_A_TUB
    if standing is _S.SOAKING:
        return IN_A_TUB
    if step in (StepKind.REOPENED, StepKind.CAME_BACK) and standing in _WITH_FINDS:
        return BY_STEP[step]
    if step in (StepKind.MISSING, StepKind.VOIDED, StepKind.UNUSED) and standing in _WITH_FINDS:
        return HAS_FINDS
    return BY_STANDING.get(standing) or BY_STEP.get(step, WRONG_STEP)


def _of_the_material(route: Route, step: StepKind) -> Told | None:
    """Return the refusal when a material never takes a step, wherever it stands."""
    if route.treatment is Treatment.STOP and step in _STOPPED_STEPS:
        return STOP_ROUTE
    if route.treatment is Treatment.CLOSED and step in _OPENING_STEPS:
        return CLOSED_SAMPLE
    if step is StepKind.SOAKING and not route.soak:
        return ("never_soaked", route.soak_refusal)
    if step is StepKind.WASHED and not route.wash:
        return ("never_washed", route.soak_refusal)
    if step is StepKind.DRY_BRUSHED and not route.dry_brush:
        return NEVER_BRUSHED
    if step is StepKind.COUNTED and not route.counted:
        return NOT_COUNTED
    if step in (StepKind.SORTING, StepKind.SETTLED) and not route.sorted_here:
        return NOT_SORTED_HERE
    return None


def _means_treated(route: Route, standing: Standing, step: StepKind) -> bool:
    """Return whether a step means that water or a brush touches the finds now (a count before it does, too)."""
    if step is StepKind.COUNTED:
        return route.wash and standing in BEFORE_TREATMENT
    return step in (StepKind.SOAKING, StepKind.WASHED, StepKind.DRY_BRUSHED)


def _of_what_was_seen(
    route: Route, standing: Standing, held_for: Hold | None, step: StepKind, looked_at: bool
) -> Told | None:
    """Return the refusal that a hold-back, or a look not yet taken, brings."""
    if step is StepKind.RELEASED and held_for is None:
        return NOT_HELD
    if not _means_treated(route, standing, step):
        return None
    if held_for is not None:
        return ("held_back", HELD_BACK[held_for])
    # Asked before the tub only: once a container was washed or counted, a look would come too late to save anything.
    if step is StepKind.SOAKING and standing is _S.ARRIVED and not looked_at:
        return LOOK_FIRST
    return None


def _of_the_count(route: Route, standing: Standing, step: StepKind, count_at_wash: bool) -> Told | None:
    """Return the refusal that the excavation's place for counting brings."""
    if not count_at_wash and step is StepKind.COUNTED and standing in _FROM_ARRIVAL_TO_DRY:
        return COUNTED_AT_SORTING
    if count_at_wash and route.counted and step is StepKind.DRY and standing is _S.WASHED:
        return COUNT_FIRST
    return None


def allowed(
    route: Route,
    standing: Standing,
    held_for: Hold | None,
    step: StepKind,
    *,
    count_at_wash: bool = True,
    looked_at: bool = False,
    back_to: Standing | None = None,
    facts: Mapping[str, object] | None = None,
) -> None:
    """Refuse a step that a container may not take from where it stands; each refusal says the way out.

    ``facts`` fill the sentences: ``number`` is the container's number. ``looked_at`` says that dip-and-look and the
    wet-finger test were done; ``back_to`` is where a step back goes. A second arrival is a Question: more of the
    container may have come.
    """
    told = {"number": ""} | dict(facts or {})
    if step is StepKind.ARRIVED and standing in _WITH_FINDS:
        raise Question("already_here", N_("{Container} {number} is checked in already. Has more of it come?"), **told)
    gone = standing in _GONE | {_S.AWAY} and standing not in _STARTS[step]
    refusal = (
        (BY_STANDING[standing] if gone else None)
        or _of_the_material(route, step)
        or _from_where_it_stands(route, standing, step)
        or _of_the_count(route, standing, step, count_at_wash)
        or _of_what_was_seen(route, standing, held_for, step, looked_at)
    )
    if refusal is not None:
        code, sentence = refusal
        raise Refusal(code, sentence, **told)
    if step is StepKind.TAKEN_BACK and back_to is not None:
        may_go_back(route, standing, back_to, facts=facts)


_BACK_BEFORE = {tag: IN_ORDER.index(_S.ARRIVED) for tag in (_S.VOID, _S.UNUSED, _S.MISSING)} | {_S.JOINED: 0}


def may_go_back(
    route: Route, standing: Standing, back_to: Standing, *, facts: Mapping[str, object] | None = None
) -> None:
    """Refuse a step back to a standing that does not come before, or that the material never has (``wrong_step``).

    From a standing beside the way (away, closed, empty) it may go back to any on it; a tag that stands for no finds
    (void, unused, missing) to a tag alone; what was emptied into another nowhere, since its pieces are counted there.
    """
    place = IN_ORDER.index(standing) if standing in IN_ORDER else _BACK_BEFORE.get(standing, len(IN_ORDER))
    never = (back_to is _S.SOAKING and not route.soak) or (
        back_to in (_S.SORTING, _S.SETTLED) and not route.sorted_here
    )
    if never or back_to not in IN_ORDER[:place]:
        raise Refusal(
            "wrong_step",
            N_("{Container} {number} cannot go back there. Choose one of its earlier steps."),
            **({"number": ""} | dict(facts or {})),
        )
