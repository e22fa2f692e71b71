"""What stands in the wash yard now: tubs, what is held, trays, who comes next, and what the morning has done."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.day_counts import counted_between
from findsdesk.desk.desk import Desk
from findsdesk.desk.shipped import routes
from findsdesk.domain.moments import soak_state, soaked_hours
from findsdesk.domain.routes import Standing
from findsdesk.store.models import Container, Deposit, Part

TOO_LONG = "too long"


@dataclass(frozen=True, slots=True)
class TubSlip:
    """A container, or a part of one, lying in a tub."""

    container_id: int
    code: str
    number: str
    deposit: str
    part: int
    parts: int
    hours: float
    state: str
    """'too short', 'ready' or 'too long' by the excavation's settings."""


@dataclass(frozen=True, slots=True)
class HeldSlip:
    """A container held back for the ceramicist."""

    container_id: int
    code: str
    number: str
    deposit: str
    held_for: str
    since: datetime


@dataclass(frozen=True, slots=True)
class TrayCard:
    """A tray: empty, drying since, or dry."""

    tray: str
    number: str
    code: str
    standing: Standing | None
    since: datetime | None
    dry_from: datetime | None


@dataclass(frozen=True, slots=True)
class WaitingSlip:
    """A container checked in and waiting for its look, its tub or its crate."""

    container_id: int
    code: str
    number: str
    deposit: str
    material: str
    place: str
    since: datetime


@dataclass(frozen=True, slots=True)
class Yard:
    """The wash yard at one moment."""

    tubs: tuple[tuple[str, tuple[TubSlip, ...]], ...]
    held: tuple[HeldSlip, ...]
    trays: tuple[TrayCard, ...]
    waiting: tuple[WaitingSlip, ...]
    next_from_tubs: tuple[str, ...]
    next_tray: str | None
    counted_today: int
    pieces_today: int
    materials_today: tuple[str, ...]
    """What was counted today, by the key of its material."""
    first_count_at: datetime | None
    days_behind: int | None


def yard(desk: Desk) -> Yard:
    """Return what stands in the yard now."""
    with desk.reading() as reading:
        session, now = reading.session, reading.now
        slips = _tub_slips(session, desk, now)
        trays = _trays(session, desk)
        today = _counted_on(session, desk, now)
        ready = sorted((slip for slips_in in slips.values() for slip in slips_in), key=lambda slip: -slip.hours)
        return Yard(
            tubs=tuple((tub, tuple(slips.get(tub, ()))) for tub in _names(desk.facts.settings.tubs)),
            held=_held(session),
            trays=trays,
            waiting=_waiting(session),
            next_from_tubs=tuple(dict.fromkeys(slip.number for slip in ready if slip.state != "too short"))[:6],
            next_tray=next((card.tray for card in trays if card.standing is None), None),
            counted_today=sum(counted for counted, _pieces, _first in today.values()),
            pieces_today=sum(pieces for _counted, pieces, _first in today.values()),
            materials_today=tuple(today),
            first_count_at=min((first for _counted, _pieces, first in today.values()), default=None),
            days_behind=_days_behind(session, desk, now),
        )


def _names(how_many: int) -> list[str]:
    return [str(number) for number in range(1, how_many + 1)]


def _tub_slips(session: Session, desk: Desk, now: datetime) -> dict[str, list[TubSlip]]:
    parts = select(func.count()).where(Part.container_id == Container.id).correlate(Container).scalar_subquery()
    rows = session.execute(
        select(Part, Container, Deposit.number, parts)
        .join(Container, Part.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .where(Part.place_kind == "tub")
        .order_by(Part.place, Part.since, Container.number_key)
    ).all()
    settings = desk.facts.settings
    slips: dict[str, list[TubSlip]] = {}
    for part, container, deposit, of in rows:
        slips.setdefault(part.place, []).append(
            TubSlip(
                container_id=container.id,
                code=container.code,
                number=container.number,
                deposit=deposit or "",
                part=part.ordinal,
                parts=of,
                hours=soaked_hours(part.since, now),
                state=soak_state(part.since, now, settings.soak_shortest_h, settings.soak_longest_h),
            )
        )
    return slips


def _held(session: Session) -> tuple[HeldSlip, ...]:
    rows = session.execute(
        select(Container, Deposit.number, Part.since)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .join(Part, (Part.container_id == Container.id) & (Part.ordinal == 1))
        .where(Part.place_kind == "held")
        .order_by(Container.number_key)
    ).all()
    return tuple(
        HeldSlip(row.id, row.code, row.number, deposit or "", row.held_for or "", since) for row, deposit, since in rows
    )


def _trays(session: Session, desk: Desk) -> tuple[TrayCard, ...]:
    rows = session.execute(
        select(Part.place, Part.since, Container.number, Container.code, Container.standing)
        .join(Container, Part.container_id == Container.id)
        .where(Part.place_kind == "tray")
    ).all()
    by_tray = {place: (since, number, code, standing) for place, since, number, code, standing in rows}
    names = dict.fromkeys([*_names(desk.facts.settings.trays), *(name for name in by_tray if name)])
    dry_after = timedelta(hours=desk.facts.settings.dry_h)
    cards = []
    for name in names:
        taken = by_tray.get(name)
        if taken is None:
            cards.append(TrayCard(name, "", "", None, None, None))
            continue
        since, number, code, standing = taken
        cards.append(TrayCard(name, number, code, Standing(standing), since, since + dry_after))
    return tuple(cards)


def _waiting(session: Session) -> tuple[WaitingSlip, ...]:
    rows = session.execute(
        select(Container, Deposit.number, Part.place, Part.since)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .join(Part, (Part.container_id == Container.id) & (Part.ordinal == 1))
        .where(Container.standing == Standing.ARRIVED, Container.held_for.is_(None))
        .order_by(Container.number_key)
        .limit(200)
    ).all()
    return tuple(
        WaitingSlip(row.id, row.code, row.number, deposit or "", row.material, place, since)
        for row, deposit, place, since in rows
    )


def _counted_on(session: Session, desk: Desk, now: datetime) -> dict[str, tuple[int, int, datetime]]:
    """Return how many containers were counted today, their pieces and the earliest moment, by material."""
    day = counted_between(*day_bounds(desk, now.astimezone(desk.facts.zone).date()))
    rows = session.execute(
        select(Container.material, func.count(), func.coalesce(func.sum(day.c.pieces), 0), func.min(day.c.first_at))
        .join(Container, day.c.container_id == Container.id)
        .group_by(Container.material)
        .order_by(Container.material)
    ).all()
    return {material: (counted, int(pieces), first) for material, counted, pieces, first in rows}


def day_bounds(desk: Desk, day: date) -> tuple[datetime, datetime]:
    """Return the first moment of a day and of the next, in the excavation's time zone."""
    start = datetime.combine(day, time(), tzinfo=desk.facts.zone)
    return start, datetime.combine(day + timedelta(days=1), time(), tzinfo=desk.facts.zone)


def _days_behind(session: Session, desk: Desk, now: datetime) -> int | None:
    """How many days ago the oldest container was collected that still waits for water or its count.

    Materials that never see water, and the few that were forgotten in a tub (they are told by name), do not count.
    """
    forgotten = now - timedelta(hours=desk.facts.settings.soak_longest_h)
    oldest = session.execute(
        select(func.min(Container.collected_on))
        .join(Part, Part.container_id == Container.id)
        .where(
            Container.standing.in_((Standing.ARRIVED, Standing.SOAKING)),
            Container.held_for.is_(None),
            Container.material.in_([key for key, route in routes().items() if route.soak]),
            (Part.place_kind != "tub") | (Part.since >= forgotten),
        )
    ).scalar()
    return None if oldest is None else max((now.astimezone(desk.facts.zone).date() - oldest).days, 0)
