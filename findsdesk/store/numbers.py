"""Numbers that are given once: rows of a station, serials of codes, numbers of containers, by series and by block."""

from __future__ import annotations

from sqlalchemy import case, select, update
from sqlalchemy.orm import Session

from findsdesk.store.models import NumberBlock, NumberSeries, Station
from findsdesk.store.put_or_add import insert_for

STATION_SHIFT = 40
"""A row's id is the station's number above these bits and the station's own running number below: two stations that
never saw each other give no id twice, and ids stay 64-bit integers."""

ROWS_AT_ONCE = 4096
HIGHEST = 999_999_999
"""The highest number after which a series goes on: longer ones are barcodes, and more than a database counts to."""


class RowIds:
    """Gives row ids of one station from a block set aside in the store, so that a deed asks for no number."""

    def __init__(self, station_id: int) -> None:
        self._station_id = station_id
        self._next = 0
        self._end = 0

    def take(self, session: Session) -> int:
        """Return the next id; sets aside a new block in this transaction when the last one is used up."""
        if self._next >= self._end:
            self._set_aside(session)
        row_id = (self._station_id << STATION_SHIFT) + self._next
        self._next += 1
        return row_id

    def forget(self) -> None:
        """Give up the block: the transaction that set it aside may have been rolled back."""
        self._next = self._end = 0

    def _set_aside(self, session: Session) -> None:
        first = session.execute(
            select(Station.next_row).where(Station.id == self._station_id).with_for_update()
        ).scalar_one()
        session.execute(update(Station).where(Station.id == self._station_id).values(next_row=first + ROWS_AT_ONCE))
        self._next, self._end = first, first + ROWS_AT_ONCE


def take_numbers(session: Session, series: str, how_many: int, *, station_id: int, start: int = 1) -> range:
    """Take numbers of a series: from this station's block where it has one, else from the series itself."""
    block = session.execute(
        select(NumberBlock)
        .where(NumberBlock.series == series, NumberBlock.station_id == station_id, NumberBlock.next <= NumberBlock.last)
        .order_by(NumberBlock.first)
        .limit(1)
    ).scalar_one_or_none()
    if block is not None and block.last - block.next + 1 >= how_many:
        first = block.next
        block.next = first + how_many
        return range(first, first + how_many)
    return _advance(session, series, how_many, start)


def _advance(session: Session, series: str, how_many: int, start: int) -> range:
    statement = (
        insert_for(session.get_bind().dialect.name)(NumberSeries)
        .values(name=series, next=start + how_many)
        .on_conflict_do_update(index_elements=["name"], set_={"next": NumberSeries.next + how_many})
        .returning(NumberSeries.next)
    )
    after = session.execute(statement).scalar_one()
    return range(after - how_many, after)


def set_block_aside(
    session: Session, series: str, how_many: int, *, station_id: int, row_id: int, start: int = 1
) -> NumberBlock:
    """Hand a run of numbers to a station that will write away from the others."""
    numbers = _advance(session, series, how_many, start)
    block = NumberBlock(
        id=row_id, series=series, station_id=station_id, first=numbers[0], next=numbers[0], last=numbers[-1]
    )
    session.add(block)
    return block


def raise_series(session: Session, series: str, number: int) -> None:
    """Make sure that a series continues after a number that came from elsewhere, e.g. from a field list.

    One statement, so that two stations which raise it at once cannot lower it again. A number above ``HIGHEST`` is no
    last one of a series: nothing is given after it.
    """
    if number > HIGHEST:
        return
    after = number + 1
    statement = (
        insert_for(session.get_bind().dialect.name)(NumberSeries)
        .values(name=series, next=after)
        .on_conflict_do_update(
            index_elements=["name"],
            set_={"next": case((NumberSeries.next < after, after), else_=NumberSeries.next)},
        )
    )
    session.execute(statement)
