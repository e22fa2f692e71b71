"""Counting: the count that says washed, the count again, and the tray that is free next."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sqlalchemy import bindparam, case, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.finding import container_of
from findsdesk.desk.ledgers import (
    NOT_COUNTED,
    count_that_stands,
    enter,
    ledger_from,
    ledger_of,
    need_nothing_sorted,
    tenths_there,
    there_now,
    write_count,
)
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.shipped import route_of
from findsdesk.desk.steps import first_part, parts_of, take_step
from findsdesk.domain.balance import Entry, Ledger
from findsdesk.domain.count_doubts import ask_if_many
from findsdesk.domain.moments import SoakState, soak_state, soaked_hours
from findsdesk.domain.numbers import MOST_PIECES
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.store.models import BalanceTotal, Container, Count, Deposit, Part
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class Counted:
    """What a count did: the container, the number that stands, where it dries, what is now expected of it."""

    container_id: int
    code: str
    number: str
    deposit: str
    material: str
    pieces: int
    tenths: int | None
    wet: bool
    before: int | None
    standing: Standing
    trays: tuple[str, ...]
    next_tray: str | None
    soaked_h: float | None = None
    """How many hours it had soaked, where that is less than the excavation's shortest; a remark, never a no."""


def log_count(
    desk: Desk,
    tag: str,
    *,
    pieces: int,
    tenths: int | None = None,
    wet: bool = False,
    tray: str | None = None,
    sure: bool = False,
) -> Counted:
    """Write the first count of a container: that says washed, and names the tray it dries in.

    ``tenths`` are tenths of a gram; wet grams are kept but stay out of the balance. 0 pieces is "empty after
    washing". Refusals: those of the route, ``already_counted``, ``pieces_out_of_range``, ``tray_taken``, for 0 those of
    ``need_nothing_sorted``; ``many_pieces`` is a question.
    """
    check_pieces(pieces)
    with desk.deed("log_count") as deed:
        container = container_of(deed.session, desk, tag)
        deposit, ledger, taken, parts = _first_look(deed, container)
        if not pieces:
            need_nothing_sorted(deed, container, ledger)
        soaked = _soaked_too_short(deed, parts)
        take_step(deed, container, StepKind.COUNTED, pieces=pieces)
        write_count(deed, container, pieces, "first", tenths=tenths, wet=wet)
        # What arrived from another container is in the ledger already: the count adds only what is new.
        enter(deed, container, Entry.COUNTED, pieces - there_now(ledger), tenths=0 if wet or tenths is None else tenths)
        trays, next_tray = _into_trays(deed, container, parts, taken, tray)
        deed.said = f"{container.number}: {pieces}"
        ask(deed, ask_if_many(pieces, container.number), sure)
    counted = _counted(container, deposit, pieces, tenths, wet, None, trays, next_tray)
    return counted if soaked is None else replace(counted, soaked_h=soaked)


def count_again(
    desk: Desk,
    tag: str,
    *,
    pieces: int,
    tenths: int | None = None,
    wet: bool = False,
    why: str = "",
    sure: bool = False,
) -> Counted:
    """Write a second count: it stands, the first stays readable; the ledger gets the difference to what it expects.

    Refusals: those of the route, ``pieces_out_of_range``, ``not_counted_yet``, for 0 those of ``need_nothing_sorted``;
    ``many_pieces`` is a question.
    """
    check_pieces(pieces)
    with desk.deed("count_again") as deed:
        container = container_of(deed.session, desk, tag)
        only_here(deed, container)
        before = count_that_stands(deed.session, container.id)
        if before is None:
            raise Refusal(
                "not_counted_yet",
                N_("{Container} {number} was not counted yet. Write its first count."),
                number=container.number,
            )
        ledger = ledger_of(deed.session, container.id, container.material)
        if not pieces:
            need_nothing_sorted(deed, container, ledger)
        expected = there_now(ledger)
        stood = container.standing
        take_step(deed, container, StepKind.COUNTED, pieces=pieces, note=why)
        write_count(deed, container, pieces, "again", tenths=tenths, wet=wet)
        grams = 0 if wet or tenths is None else tenths - tenths_there(deed.session, container.id)
        enter(deed, container, Entry.RECOUNTED, pieces - expected, tenths=grams, why=why)
        trays: tuple[str, ...] = ()
        next_tray = None
        if container.standing != stood:
            # Out of a tub a second time, or empty after all, or not empty: it lies elsewhere than before.
            parts, taken = parts_of(deed, container), _taken_trays(deed.session)
            trays, next_tray = _into_trays(deed, container, parts, taken, None)
        deed.said = f"{container.number}: {before} → {pieces}"
        ask(deed, ask_if_many(pieces, container.number), sure)
        deposit = deposit_number(deed.session, container)
    return _counted(container, deposit, pieces, tenths, wet, before, trays, next_tray)


def check_pieces(pieces: int) -> None:
    """Refuse a number of pieces that cannot be meant."""
    if not 0 <= pieces <= MOST_PIECES:
        raise Refusal(
            "pieces_out_of_range",
            N_("{pieces:,} is no count of pieces. Write a number from 0 to {most:,}."),
            pieces=pieces,
            most=MOST_PIECES,
        )


def deposit_number(session: Session, container: Container) -> str:
    """Return the number of a container's deposit, or nothing where it is not known yet."""
    if container.deposit_id is None:
        return ""
    return session.execute(select(Deposit.number).where(Deposit.id == container.deposit_id)).scalar_one()


_NEWEST_COUNT = (
    select(case((Count.purpose != NOT_COUNTED, Count.pieces)))
    .where(Count.container_id == Container.id)
    .order_by(Count.happened_at.desc(), Count.id.desc())
    .limit(1)
    .scalar_subquery()
)
_TAKEN_TRAYS = select(Part.place).where(Part.place_kind == "tray")
_TAKEN_IN_ONE = (
    select(func.aggregate_strings(Part.place, "\n")).where(Part.place_kind == "tray").correlate(None).scalar_subquery()
)
_FIRST_LOOK = (
    select(Deposit.number, _NEWEST_COUNT, BalanceTotal, _TAKEN_IN_ONE, Part)
    .select_from(Container)
    .outerjoin(Deposit, Container.deposit_id == Deposit.id)
    .outerjoin(
        BalanceTotal, (BalanceTotal.container_id == Container.id) & (BalanceTotal.material == Container.material)
    )
    .outerjoin(Part, Part.container_id == Container.id)
    .where(Container.id == bindparam("container"))
    .order_by(Part.ordinal)
)


def _first_look(deed: Deed, container: Container) -> tuple[str, Ledger, frozenset[str], list[Part]]:
    """Return the deposit's number, the ledger, the trays in use and the container's own parts.

    One statement, since somebody with wet hands waits for it. Refuses a second count.
    """
    rows = deed.session.execute(_FIRST_LOOK, {"container": container.id}).all()
    deposit, counted, total, trays, _ = rows[0]
    if counted is not None:
        raise Refusal(
            "already_counted",
            N_("{Container} {number} was counted already: {pieces:,}. Use 'Count again' for a second count."),
            number=container.number,
            pieces=counted,
        )
    parts = [row[-1] for row in rows if row[-1] is not None] or [first_part(deed, container)]
    return deposit or "", ledger_from(total), frozenset((trays or "").split("\n")), parts


def _taken_trays(session: Session) -> frozenset[str]:
    return frozenset(session.execute(_TAKEN_TRAYS).scalars())


def _into_trays(
    deed: Deed, container: Container, own: list[Part], taken: frozenset[str], wanted: str | None
) -> tuple[tuple[str, ...], str | None]:
    """Put the parts of a counted container into trays; returns their trays and the tray that is free next."""
    if Standing(container.standing) is Standing.EMPTY:
        _place(deed, own, "gone", [""] * len(own))
        return (), None
    if Standing(container.standing) is not Standing.DRYING:
        return (), None
    crate = route_of(container.material).crate
    if crate:
        _place(deed, own, "crate", [crate] * len(own))
        return (crate,), None
    free = [str(tray) for tray in range(1, deed.settings.trays + 1) if str(tray) not in taken]
    if wanted is not None:
        if wanted in taken:
            raise Refusal(
                "tray_taken",
                N_("Tray {tray} is taken. The next free one is {free}."),
                tray=wanted,
                free=next(iter(free), "–"),
            )
        free = [wanted, *(tray for tray in free if tray != wanted)]
    count = len(own)
    trays = free[:count] + [""] * (count - len(free[:count]))
    _place(deed, own, "tray", trays)
    rest = free[count:]
    return tuple(trays), rest[0] if rest else None


def _soaked_too_short(deed: Deed, parts: list[Part]) -> float | None:
    """Return the hours in the tub of the part that was there least, or None where that is long enough."""
    since = max((part.since for part in parts if part.place_kind == "tub"), default=None)
    if since is None:
        return None
    shortest, longest = deed.settings.soak_shortest_h, deed.settings.soak_longest_h
    too_short = soak_state(since, deed.happened_at, shortest, longest) == SoakState.TOO_SHORT
    return soaked_hours(since, deed.happened_at) if too_short else None


def _place(deed: Deed, parts: list[Part], kind: str, places: list[str]) -> None:
    for part, place in zip(parts, places, strict=True):
        part.place_kind, part.place, part.since = kind, place, deed.happened_at


def _counted(
    container: Container,
    deposit: str,
    pieces: int,
    tenths: int | None,
    wet: bool,
    before: int | None,
    trays: tuple[str, ...],
    next_tray: str | None,
) -> Counted:
    return Counted(
        container_id=container.id,
        code=container.code,
        number=container.number,
        deposit=deposit,
        material=container.material,
        pieces=pieces,
        tenths=tenths,
        wet=wet,
        before=before,
        standing=Standing(container.standing),
        trays=trays,
        next_tray=next_tray,
    )
