"""The wash yard before the count: dip and look, hold back, the tub, dry brushing, parts, and a step back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select

from findsdesk.desk.counting import deposit_number
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding import container_of
from findsdesk.desk.lendable import refuse_out
from findsdesk.desk.listed_discards import need_no_open_list
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.shipped import route_of
from findsdesk.desk.steps import come_home, parts_of, stand, take_step
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Hold, Standing, StepKind, allowed, may_go_back
from findsdesk.domain.settings import Role
from findsdesk.store.models import Container, Part, Step
from findsdesk.words import N_, CountOf

MAY_RELEASE = frozenset({Role.CERAMICIST, Role.DIRECTOR})
MOST_PARTS = 9


@dataclass(frozen=True, slots=True)
class Stood:
    """Where a container stands after a step."""

    container_id: int
    code: str
    number: str
    deposit: str
    material: str
    standing: Standing
    held_for: Hold | None
    place: str
    since: datetime


def dip_and_look(desk: Desk, tag: str, *, seen: Hold | None = None, note: str = "") -> Stood:
    """Write that somebody dipped, looked and tried a wet finger; what was ``seen`` holds it back."""
    with desk.deed("dip_and_look") as deed:
        container = container_of(deed.session, desk, tag)
        take_step(deed, container, StepKind.LOOKED_AT, note=note or (seen or ""))
        if seen is not None:
            hold(deed, container, seen, note)
        deed.said = f"{container.number}: {seen or ''}"
        return _stood(deed, container)


def hold_back(desk: Desk, tag: str, *, reason: Hold, note: str = "") -> Stood:
    """Hold a container back for the ceramicist; until released it takes no water."""
    with desk.deed("hold_back") as deed:
        container = container_of(deed.session, desk, tag)
        hold(deed, container, reason, note)
        deed.said = f"{container.number}: {reason}"
        return _stood(deed, container)


def release(desk: Desk, tag: str, *, reason: str) -> Stood:
    """Let a held container go on; only the ceramicist or the director may."""
    if desk.person.role not in MAY_RELEASE:
        raise Refusal(
            "ceramicist_releases",
            N_("Only the ceramicist or the director releases what is held back. Ask one of them."),
        )
    with desk.deed("release") as deed:
        container = container_of(deed.session, desk, tag)
        if container.held_for is None:
            raise Refusal(
                "not_held", N_("{Container} {number} is not held back. Go on with it."), number=container.number
            )
        take_step(deed, container, StepKind.RELEASED, note=reason)
        container.held_for = None
        for part in parts_of(deed, container):
            if part.place_kind == "held":
                stand(deed, part, "yard", "")
        deed.said = f"{container.number}: {reason}"
        return _stood(deed, container)


def hold(deed: Deed, container: Container, reason: Hold, note: str) -> None:
    """Hold a container back within a deed: it is set aside, and its life says so."""
    take_step(deed, container, StepKind.HELD, note=note or reason)
    container.held_for = reason
    for part in parts_of(deed, container):
        stand(deed, part, "held", "")


def start_soak(desk: Desk, tag: str, *, tub: str, part: int | None = None) -> Stood:
    """Put a container, or one part of it, into a tub. Refusals: its route's, ``unknown_tub``, ``unknown_part``."""
    _check_tub(desk, tub)
    with desk.deed("start_soak") as deed:
        container = container_of(deed.session, desk, tag)
        chosen = _chosen(container, parts_of(deed, container), part)
        if part is None or container.standing != Standing.SOAKING or any(one.place_kind == "tub" for one in chosen):
            take_step(deed, container, StepKind.SOAKING, place=tub)
        else:
            # The second part of what soaks already: no step of its own, and yet water on what may be held back.
            ask_the_route(container, StepKind.SOAKING)
        for one in chosen:
            stand(deed, one, "tub", tub)
        deed.said = f"{container.number}: {tub}"
        return _stood(deed, container)


def ask_the_route(container: Container, step: StepKind) -> None:
    """Refuse a step that a container may not take from where it stands, without taking it."""
    allowed(
        route_of(container.material),
        Standing(container.standing),
        Hold(container.held_for) if container.held_for else None,
        step,
        looked_at=True,
        facts={"number": container.number},
    )


def _check_tub(desk: Desk, tub: str) -> None:
    if not tub.isdecimal() or not 1 <= int(tub) <= desk.facts.settings.tubs:
        raise Refusal(
            "unknown_tub",
            N_("There is no tub {tub}. The tubs are 1 to {tubs}; Set-up changes that."),
            tub=tub,
            tubs=desk.facts.settings.tubs,
        )


def _chosen(container: Container, parts: list[Part], ordinal: int | None) -> list[Part]:
    if ordinal is None:
        return parts
    chosen = [part for part in parts if part.ordinal == ordinal]
    if not chosen:
        raise Refusal(
            "unknown_part",
            N_("{Container} {number} stands in {parts}. Name one of them."),
            number=container.number,
            parts=CountOf("{n} part", "{n} parts", len(parts)),
        )
    return chosen


def treat(desk: Desk, tag: str, *, how: StepKind, note: str = "") -> Stood:
    """Write that a container was washed, dry-brushed or left unwashed, without a count."""
    if how not in (StepKind.WASHED, StepKind.DRY_BRUSHED, StepKind.LEFT_UNWASHED):
        raise Refusal(
            "no_treatment",
            N_("“{how}” is no treatment. Say washed, dry brushed or left unwashed."),
            how=how.value,
        )
    with desk.deed("treat") as deed:
        container = container_of(deed.session, desk, tag)
        take_step(deed, container, how, note=note)
        for part in parts_of(deed, container):
            if part.place_kind == "tub":
                stand(deed, part, "yard", "")
        deed.said = f"{container.number}: {how}"
        return _stood(deed, container)


def close_sample(desk: Desk, tag: str, *, note: str = "") -> Stood:
    """Write that a sample (charcoal, soil) is closed and stays shut for whoever analyses it. Opposite: a step back."""
    with desk.deed("close_sample") as deed:
        container = container_of(deed.session, desk, tag)
        take_step(deed, container, StepKind.CLOSED, note=note)
        deed.said = container.number
        return _stood(deed, container)


def stand_in_parts(desk: Desk, tag: str, *, parts: int) -> Stood:
    """Say that a container stands in several parts (1 of 2, 2 of 2), or together again in one."""
    if not 1 <= parts <= MOST_PARTS:
        raise Refusal("too_many_parts", N_("A {container} stands in 1 to {most} parts."), most=MOST_PARTS)
    with desk.deed("stand_in_parts") as deed:
        container = container_of(deed.session, desk, tag)
        rows = parts_of(deed, container)
        for ordinal in range(len(rows) + 1, parts + 1):
            first = rows[0]
            deed.add(
                Part(
                    container_id=container.id,
                    ordinal=ordinal,
                    place_kind=first.place_kind,
                    place=first.place,
                    since=first.since,
                )
            )
        for row in rows[parts:]:
            deed.session.delete(row)
        take_step(deed, container, StepKind.SPLIT, note=str(parts))
        deed.said = f"{container.number}: {parts}"
        return _stood(deed, container)


def mark_dry(desk: Desk, tags: Iterable[str]) -> tuple[Stood, ...]:
    """Write that containers are dry and ready for the sorting table."""
    with desk.deed("mark_dry") as deed:
        stood = []
        for tag in tags:
            container = container_of(deed.session, desk, tag)
            take_step(deed, container, StepKind.DRY)
            stood.append(_stood(deed, container))
        deed.said = ", ".join(one.number for one in stood)
    return tuple(stood)


def step_back(desk: Desk, tag: str, *, to: Standing, reason: str) -> Stood:
    """Go back to an earlier standing, with a reason; the steps in between stay readable.

    Refusals: ``reason_needed``, ``wrong_step`` (what does not come before), ``joined``, ``container_on_list``.
    """
    if not reason.strip():
        raise Refusal("reason_needed", N_("Write why it goes back a step."))
    with desk.deed("step_back") as deed:
        container = container_of(deed.session, desk, tag)
        stood = Standing(container.standing)
        if stood in (Standing.SETTLED, Standing.BAGGED):
            only_here(deed, container)
            need_no_open_list(deed.session, [container.id])
        take_step(deed, container, StepKind.TAKEN_BACK, back_to=to, note=reason)
        may_go_back(route_of(container.material), stood, to, facts={"number": container.number})
        place = {Standing.ARRIVED: "yard", Standing.SOAKING: "tub"}.get(to)
        for part in parts_of(deed, container):
            if place is not None and part.place_kind != place:
                stand(deed, part, place, _last_tub(deed, container) if place == "tub" else "")
        deed.said = f"{container.number}: {to}, {reason}"
        return _stood(deed, container)


def _last_tub(deed: Deed, container: Container) -> str:
    """Return the tub it was last put into; the first where it was in none."""
    last = deed.session.execute(
        select(Step.place)
        .where(Step.container_id == container.id, Step.kind == StepKind.SOAKING)
        .order_by(Step.happened_at.desc(), Step.id.desc())
        .limit(1)
    ).scalar()
    return last or "1"


def hand_on(desk: Desk, tag: str, *, to: str, note: str = "") -> Stood:
    """Give a container to trained hands or to a specialist."""
    with desk.deed("hand_on") as deed:
        container = container_of(deed.session, desk, tag)
        take_step(deed, container, StepKind.HANDED_ON, place=to, note=note)
        for part in parts_of(deed, container):
            stand(deed, part, "gone", to)
        deed.said = f"{container.number}: {to}"
        return _stood(deed, container)


def come_back(desk: Desk, tag: str, *, note: str = "") -> Stood:
    """Write that a container came back from trained hands or a specialist; what is lent comes back by its loan.

    Refusals: ``on_loan``, of the route.
    """
    with desk.deed("come_back") as deed:
        container = container_of(deed.session, desk, tag)
        refuse_out(deed.session, container)
        come_home(deed, container, note=note)
        deed.said = container.number
        return _stood(deed, container)


def _stood(deed: Deed, container: Container) -> Stood:
    part = deed.session.execute(
        select(Part).where(Part.container_id == container.id).order_by(Part.ordinal).limit(1)
    ).scalar_one_or_none()
    return Stood(
        container_id=container.id,
        code=container.code,
        number=container.number,
        deposit=deposit_number(deed.session, container),
        material=container.material,
        standing=Standing(container.standing),
        held_for=Hold(container.held_for) if container.held_for else None,
        place=part.place if part else "",
        since=part.since if part else deed.happened_at,
    )
