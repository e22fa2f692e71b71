"""What a person reads when a container may not take a step: each sentence says the way out.

``{number}`` is the container's number.
"""

from __future__ import annotations

from findsdesk.domain.standings import Hold, Standing, StepKind
from findsdesk.words import N_

HELD_BACK: dict[Hold, str] = {
    Hold.PAINTED: N_(
        "{Container} {number} is held back: painted. No water and no brush until the ceramicist releases it."
    ),
    Hold.INSCRIBED: N_(
        "{Container} {number} is held back: perhaps ink. No water and no brush until the ceramicist releases it."
    ),
    Hold.FLAKING: N_(
        "{Container} {number} is held back: flaking. No water and no brush until the ceramicist releases it."
    ),
    Hold.RESIDUE: N_(
        "{Container} {number} is held back: residue. No water and no brush until the ceramicist releases it."
    ),
    Hold.OTHER: N_("{Container} {number} is held back. No water and no brush until the ceramicist releases it."),
}

Told = tuple[str, str]  # refusal code and sentence

BY_STANDING: dict[Standing, Told] = {
    Standing.ISSUED: ("not_arrived", N_("{Container} {number} has not been checked in. Scan it at Check-in first.")),
    Standing.LISTED: ("not_arrived", N_("{Container} {number} has not been checked in. Scan it at Check-in first.")),
    Standing.MISSING: (
        "not_arrived",
        N_("{Container} {number} is written as missing. If it stands here, scan it at Check-in."),
    ),
    Standing.AWAY: (
        "not_here",
        N_("{Container} {number} is away with trained hands. Book it back before anything else."),
    ),
    Standing.VOID: (
        "tag_void",
        N_("The tag of {container} {number} is void. Use another tag, or take the voiding back."),
    ),
    Standing.UNUSED: (
        "tag_unused",
        N_("The tag of {container} {number} came back unused. If it holds finds, check it in."),
    ),
    Standing.JOINED: (
        "joined",
        N_("{Container} {number} was emptied into another. Scan the {container} that holds the finds now."),
    ),
    Standing.EMPTY: (
        "empty",
        N_("{Container} {number} is empty after washing. If there are pieces in it, count them again."),
    ),
    Standing.CLOSED: (
        "closed_sample",
        N_("{Container} {number} is a closed sample. Leave it shut, or take it back a step."),
    ),
    Standing.SETTLED: ("already_settled", N_("{Container} {number} is settled. Reopen it first, with a reason.")),
    Standing.BAGGED: (
        "already_settled",
        N_("{Container} {number} is settled and bagged. Reopen it first, with a reason."),
    ),
}

TREATED: Told = (
    "already_washed",
    N_("{Container} {number} has been through the wash. To do it again, take it back a step with a reason."),
)
NOT_DRY: Told = ("not_dry", N_("{Container} {number} is not dry yet. Say it is dry first."))
HAS_FINDS: Told = (
    "already_here",
    N_("{Container} {number} is here with its finds. Take its arrival back first if that is wrong."),
)
BY_STEP: dict[StepKind, Told] = {
    StepKind.MISSING: HAS_FINDS,
    StepKind.VOIDED: HAS_FINDS,
    StepKind.UNUSED: HAS_FINDS,
    StepKind.LOOKED_AT: TREATED,
    StepKind.SOAKING: TREATED,
    StepKind.WASHED: TREATED,
    StepKind.LEFT_UNWASHED: TREATED,
    StepKind.SORTING: NOT_DRY,
    StepKind.SETTLED: (
        "not_sorted",
        N_("{Container} {number} has not been sorted. Sort it at the Sorting table first."),
    ),
    StepKind.REOPENED: (
        "not_settled",
        N_("{Container} {number} is not settled, so it is open already. Go on sorting it."),
    ),
    StepKind.BAGGED: (
        "not_settled",
        N_("{Container} {number} is not settled. Settle it at the Sorting table, then bag it."),
    ),
    StepKind.CAME_BACK: (
        "not_away",
        N_("{Container} {number} was not handed on, so it cannot come back. Look at its steps."),
    ),
}
NOT_WASHED: Told = (
    "not_washed",
    N_("{Container} {number} is not washed yet. Count it, or say that it is washed or left unwashed."),
)
IN_A_TUB: Told = (
    "in_a_tub",
    N_("{Container} {number} stands in a tub. Take it out: say that it is washed or left unwashed."),
)
WRONG_STEP: Told = (
    "wrong_step",
    N_("{Container} {number} cannot take that step now. Look at its last step and go on from there."),
)


STOP_ROUTE: Told = (
    "stop_route",
    N_("Human remains: nothing more is done here. Cover them and tell the director, who tells the authority."),
)
NEVER_BRUSHED: Told = (
    "never_brushed",
    N_("{Container} {number} is not brushed here. Leave it unwashed and let it dry in the air."),
)
NOT_COUNTED: Told = (
    "not_counted",
    N_("{Container} {number} is not counted. Say that it is left unwashed, or hand it on."),
)
CLOSED_SAMPLE: Told = (
    "closed_sample",
    N_("{Container} {number} is a closed sample. Leave it shut and write it as closed."),
)
NOT_SORTED_HERE: Told = (
    "not_sorted_here",
    N_("{Container} {number} is not sorted at this table. Hand it on, or bag it when dry."),
)
NOT_HELD: Told = ("not_held", N_("{Container} {number} is not held back. Go on with it."))
LOOK_FIRST: Told = (
    "look_first",
    N_("Look before water: dip pieces of {container} {number}, rub with a wet finger, then say what you saw."),
)
COUNTED_AT_SORTING: Told = (
    "counted_at_sorting",
    N_("Here the count is taken at the Sorting table. Say that {container} {number} is washed."),
)
COUNT_FIRST: Told = (
    "count_first",
    N_("{Container} {number} has not been counted. Count it: that puts it on its way to dry."),
)
