"""The day: how many stand where, what needs a person, what waits, and every sherd of the season."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import date

from sqlalchemy import ColumnElement, case, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.day_counts import counted_between
from findsdesk.desk.desk import Desk
from findsdesk.desk.needs import Need, needs_of
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.signed_discards import signed_not_carried
from findsdesk.desk.what_waits import Waits, soaking_too_long, waits_in
from findsdesk.desk.yard import day_bounds
from findsdesk.domain.balance import Ledger
from findsdesk.domain.routes import Standing
from findsdesk.store.kept_sums import as_it_stands
from findsdesk.store.models import BalanceTotal, Container, Season


@dataclass(frozen=True, slots=True)
class Day:
    """The day page."""

    day: date
    season: str
    permit: str
    day_of_season: int | None
    days_of_season: int
    by_standing: Mapping[Standing, int]
    needs: tuple[Need, ...]
    balance: Ledger
    signed: int
    """Of what the balance counts as discarded: signed for, and not carried away."""
    too_many: int
    """How many pieces more than came in are accounted for, summed over the containers where it is so."""
    material: str
    over: tuple[str, ...]
    washed_today: int
    pieces_today: int
    waits: Waits

    @property
    def unsorted(self) -> int:
        """Return how many pieces are not yet sorted, summed over the containers where some are left."""
        return self.balance.unsorted + self.too_many


def the_day(desk: Desk, day: date | None = None, *, material: str = "pottery") -> Day:
    """Return the day page of a day (today where none is named)."""
    with desk.reading() as reading:
        session = reading.session
        its_day = day or reading.now.astimezone(desk.facts.zone).date()
        season = season_of(session, its_day)
        standings = _by_standing(session, season)
        too_long = soaking_too_long(session, desk, reading.now)
        over = _over(session, season)
        counted = counted_between(*day_bounds(desk, its_day))
        washed, pieces = session.execute(select(func.count(), func.coalesce(func.sum(counted.c.pieces), 0))).one()
        summed, too_many = season_balance(session, season.id, material)
        inside = season.starts <= its_day <= season.ends
        return Day(
            day=its_day,
            season=season.name,
            permit=season.permit,
            day_of_season=(its_day - season.starts).days + 1 if inside else None,
            days_of_season=(season.ends - season.starts).days + 1,
            by_standing=standings,
            needs=needs_of(session, too_long, over, its_day),
            balance=summed,
            signed=signed_not_carried(session, season_id=season.id).get(material, 0),
            too_many=too_many,
            material=material,
            over=over,
            washed_today=washed,
            pieces_today=int(pieces),
            waits=waits_in(session, desk, too_long),
        )


def _by_standing(session: Session, season: Season) -> dict[Standing, int]:
    rows = session.execute(
        select(Container.standing, func.count()).where(Container.season_id == season.id).group_by(Container.standing)
    ).all()
    return {Standing(standing): count for standing, count in rows}


def _over(session: Session, season: Season) -> tuple[str, ...]:
    rows = session.execute(
        select(Container.number)
        .join(BalanceTotal, BalanceTotal.container_id == Container.id)
        .where(Container.standing == Standing.SORTING, Container.season_id == season.id, _too_many() > 0)
        .order_by(Container.number_key)
        .limit(20)
    ).scalars()
    return tuple(rows)


def _too_many() -> ColumnElement[int]:
    """Return how many pieces more than came in are accounted for; below 0 how many are not yet sorted."""
    b = BalanceTotal
    accounted = b.kept + b.on_hold + b.to_discard + b.discarded + b.used_up + b.moved_out + b.not_a_sherd + b.not_found
    return accounted - (b.counted + b.found_more + b.arrived)


def season_balance(session: Session, season_id: int, material: str) -> tuple[Ledger, int]:
    """Return a whole season's ledger of a material, summed over its containers, and how many pieces are over.

    What is over in one container is not set off against what is not yet sorted in another. In a reading session.
    """
    return as_it_stands(session, ("season", season_id, material), lambda: _summed(session, season_id, material))


def _summed(session: Session, season_id: int, material: str) -> tuple[Ledger, int]:
    names = [field.name for field in fields(Ledger)]
    sums = [func.coalesce(func.sum(getattr(BalanceTotal, name)), 0) for name in names]
    row = session.execute(
        select(*sums, func.coalesce(func.sum(case((_too_many() > 0, _too_many()), else_=0)), 0))
        .join(Container, BalanceTotal.container_id == Container.id)
        .where(Container.season_id == season_id, BalanceTotal.material == material)
    ).one()
    *values, too_many = (int(value) for value in row)
    return Ledger(**dict(zip(names, values, strict=True))), too_many
