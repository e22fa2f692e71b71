"""Stations that write away from the others: numbers handed to them beforehand, so that none is given twice."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select

from findsdesk.desk.desk import Desk
from findsdesk.desk.new_containers import SERIALS, number_series, scope_of
from findsdesk.desk.opening import station_named
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.squares import square_named
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import NumberBlock, Station
from findsdesk.store.numbers import set_block_aside
from findsdesk.words import N_

MOST_NUMBERS = 10_000


@dataclass(frozen=True, slots=True)
class NumbersAside:
    """The numbers handed to a station: of containers and of tag codes."""

    station: str
    first_number: int
    last_number: int


def set_numbers_aside(
    desk: Desk, *, station: str, how_many: int = 200, season: str | None = None, square: str | None = None
) -> NumbersAside:
    """Hand a station a run of container numbers and as many serials of tag codes. Refusals: ``numbers_at_once``."""
    if not 1 <= how_many <= MOST_NUMBERS:
        raise Refusal("numbers_at_once", N_("Set aside between 1 and {most} numbers."), most=MOST_NUMBERS)
    station_id = station_named(desk.store, station)
    with desk.deed("set_numbers_aside") as deed:
        its_season = season_of(deed.session, deed.today(), season)
        scope = scope_of(its_season, square_named(deed.session, square) if square else None)
        blocks = [
            set_block_aside(deed.session, series, how_many, station_id=station_id, row_id=deed.new_id())
            for series in (number_series(scope), SERIALS)
        ]
        deed.said = f"{station}: {blocks[0].first}–{blocks[0].last}"
    return NumbersAside(station, blocks[0].first, blocks[0].last)


def stations(desk: Desk) -> tuple[str, ...]:
    """Return the names of the stations that ever wrote here, in the order in which they came."""
    with desk.reading() as reading:
        return tuple(reading.session.execute(select(Station.name).order_by(Station.id)).scalars())


@dataclass(frozen=True, slots=True)
class BlockAside:
    """A run of container numbers set aside: for whom, and which of them is the next (None: used up)."""

    station: str
    first: int
    last: int
    next: int | None


def numbers_aside(desk: Desk) -> tuple[BlockAside, ...]:
    """Return the runs of numbers set aside for stations, the newest first."""
    with desk.reading() as reading:
        rows = reading.session.execute(
            select(NumberBlock, Station.name)
            .join(Station, NumberBlock.station_id == Station.id)
            .where(NumberBlock.series.startswith("container:"))
            .order_by(NumberBlock.id.desc())
        ).all()
        return tuple(
            BlockAside(name, row.first, row.last, row.next if row.next <= row.last else None) for row, name in rows
        )
