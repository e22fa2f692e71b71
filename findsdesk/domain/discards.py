"""Discard in three dated events: proposed on a list, signed for as a whole, carried away; until then it comes back."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from enum import StrEnum

from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.settings import Role
from findsdesk.words import N_


class Stage(StrEnum):
    """How far a discard list has come."""

    PROPOSED = "proposed"
    SIGNED = "signed"
    INSPECTED = "inspected"
    CARRIED = "carried away"
    WITHDRAWN = "withdrawn"


STAGE_IN_WORDS: dict[Stage, str] = {
    Stage.PROPOSED: N_("proposed"),
    Stage.SIGNED: N_("signed"),
    Stage.INSPECTED: N_("seen by the inspector"),
    Stage.CARRIED: N_("carried away"),
    Stage.WITHDRAWN: N_("withdrawn"),
}


class Waits(StrEnum):
    """Whom or what a list waits for."""

    SECOND_PERSON = "second person"
    INSPECTOR = "inspector"
    BARROW = "barrow"


WAITS_IN_WORDS: dict[Waits, str] = {
    Waits.SECOND_PERSON: N_("{pieces}, waits for a second person to sign"),
    Waits.INSPECTOR: N_("{pieces}, waits for the inspector"),
    Waits.BARROW: N_("{pieces}, waits to be carried away"),
}

SIGNERS = frozenset({Role.DIRECTOR, Role.CERAMICIST, Role.REGISTRAR})
"""Roles whose word a discard is signed with (common practice, no source)."""
COMES_BACK_AS = frozenset({Decision.KEEP, Decision.MEND, Decision.HOLD})


def stage_of(*, signed: bool, inspected: bool, carried: bool, withdrawn: bool) -> Stage:
    """Return how far a list has come, from the events that are dated."""
    if withdrawn:
        return Stage.WITHDRAWN
    if carried:
        return Stage.CARRIED
    if inspected:
        return Stage.INSPECTED
    return Stage.SIGNED if signed else Stage.PROPOSED


def waits_for(stage: Stage, *, inspector_signs: bool) -> Waits:
    """Return what a list that is not carried away waits for."""
    if stage is Stage.PROPOSED:
        return Waits.SECOND_PERSON
    return Waits.INSPECTOR if inspector_signs and stage is Stage.SIGNED else Waits.BARROW


def may_sign(
    stage: Stage,
    facts: Mapping[str, object],
    *,
    made_by: int | None,
    decided_by: Collection[int | None],
    by: int | None,
    role: Role,
) -> None:
    """Refuse a signature that does not count.

    Refusals: ``not_proposed``, ``signs_own_list``, ``signs_own_decisions``, ``may_not_sign``. ``facts`` fill the
    sentences: ``number`` of the list, ``person`` who signs; ``decided_by`` are those who decided one of its lines.
    """
    if stage is not Stage.PROPOSED:
        raise Refusal("not_proposed", N_("Discard list {number} waits for no signature. Look at its dates."), **facts)
    if by is None or by == made_by:
        raise Refusal(
            "signs_own_list",
            N_("{person} made discard list {number}. A second person signs it."),
            **facts,
        )
    if by in decided_by:
        raise Refusal(
            "signs_own_decisions",
            N_("{person} decided lines of discard list {number}. Somebody who neither decided nor listed them signs."),
            **facts,
        )
    if role not in SIGNERS:
        raise Refusal(
            "may_not_sign",
            N_("{person} does not sign discards here. The director, a ceramicist or a registrar does."),
            **facts,
        )


def may_take_off(stage: Stage, facts: Mapping[str, object]) -> None:
    """Refuse to take lines off a list that is no proposal any more: ``already_signed``, ``carried_off``."""
    _refuse_gone(stage, facts)
    if stage is not Stage.PROPOSED:
        raise Refusal("already_signed", N_("Discard list {number} is signed. Call the sherds back instead."), **facts)


def may_call_back(stage: Stage, facts: Mapping[str, object]) -> None:
    """Refuse to call back what was not signed for or is gone: ``not_signed``, ``carried_off``."""
    _refuse_gone(stage, facts)
    if stage is Stage.PROPOSED:
        raise Refusal("not_signed", N_("Discard list {number} is not signed yet. Take the lines off it."), **facts)


def may_inspect(stage: Stage, facts: Mapping[str, object]) -> None:
    """Refuse the inspector's word on what is not there for it: ``not_signed``, ``inspected``, ``carried_off``."""
    _refuse_gone(stage, facts)
    if stage is Stage.PROPOSED:
        raise Refusal("not_signed", N_("Discard list {number} is not signed yet. It is signed first."), **facts)
    if stage is Stage.INSPECTED:
        raise Refusal("inspected", N_("The inspector saw discard list {number} already."), **facts)


def may_carry(stage: Stage, facts: Mapping[str, object], *, inspector_signs: bool) -> None:
    """Refuse to carry away what is not signed for: ``not_signed``, ``not_inspected``, ``carried_off``."""
    _refuse_gone(stage, facts)
    if stage is Stage.PROPOSED:
        raise Refusal("not_signed", N_("Discard list {number} is not signed yet. It is signed first."), **facts)
    if inspector_signs and stage is not Stage.INSPECTED:
        raise Refusal(
            "not_inspected",
            N_("The permit asks for the inspector's word on discard list {number}. Write it down first."),
            **facts,
        )


def _refuse_gone(stage: Stage, facts: Mapping[str, object]) -> None:
    if stage is Stage.CARRIED:
        raise Refusal(
            "carried_off",
            N_("These sherds were carried away with discard list {number}. Add a note to that list instead."),
            **facts,
        )
    if stage is Stage.WITHDRAWN:
        raise Refusal("withdrawn", N_("Discard list {number} was withdrawn. Make a new list."), **facts)
