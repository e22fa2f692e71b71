"""Chains that travel: the acts of every station as they are written, and acts of others appended unchanged."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import sqlalchemy
from sqlalchemy import BigInteger, Text, insert, select, true, update
from sqlalchemy.orm import Session

from findsdesk.domain.natural_order import folded
from findsdesk.store.chains import acts_of
from findsdesk.store.every_table import table_named
from findsdesk.store.journal import hash_of
from findsdesk.store.models import Act, Line, NumberBlock, NumberSeries, Station
from findsdesk.store.put_or_add import insert_for

AT_ONCE = 500
TAKING = "take_courier"
"""The deed whose own lines follow from both sides and clash with nothing."""
_ACT, _LINE = table_named("act"), table_named("line")


@dataclass(frozen=True, slots=True)
class StationTold:
    """A station as a store knows it: its chain's running number and head, and the next row it gives."""

    id: int
    name: str
    running: int
    head: str
    next_row: int


@dataclass(frozen=True, slots=True)
class ActTold:
    """An act as it stands in the journal; moments are milliseconds UTC, lines are spelled as they were hashed."""

    station_id: int
    running: int
    id: str
    deed: str
    person_id: int | None
    person_name: str
    happened_at: int
    zone: str
    written_at: int
    said: str
    hash_before: str
    hash: str
    lines: tuple[tuple[str, int, int | None, str | None, str | None], ...]

    def afresh(self) -> str:
        """Return the hash of the act, computed from what it holds."""
        return hash_of(
            self.hash_before,
            (self.station_id, self.running),
            (self.id, self.deed, self.said, self.zone),
            (self.person_id, self.person_name),
            (self.happened_at, self.written_at),
            self.lines,
        )


class ChainWrong(ValueError):
    """An act cannot follow what is here: ``why`` is 'gap', 'changed' or 'forked'."""

    def __init__(self, why: str, station_id: int, running: int) -> None:
        super().__init__(why)
        self.why, self.station_id, self.running = why, station_id, running


def stations_told(session: Session) -> tuple[StationTold, ...]:
    """Return every station with its head, by its number."""
    rows = session.execute(
        select(Station.id, Station.name, Station.running, Station.head, Station.next_row).order_by(Station.id)
    )
    return tuple(StationTold(*row) for row in rows)


def begun(session: Session) -> str:
    """Return the hash of the excavation's first act, by which its stores know each other."""
    first = select(Act.hash).where(Act.running == 1).order_by(Act.station_id).limit(1)
    return session.execute(first).scalar() or ""


def series_told(session: Session) -> dict[str, int]:
    """Return the next number of each series."""
    return dict(session.execute(select(NumberSeries.name, NumberSeries.next).order_by(NumberSeries.name)).all())


def blocks_told(session: Session) -> list[dict[str, Any]]:
    """Return the runs of numbers set aside, as plain values."""
    rows = session.execute(select(NumberBlock.__table__).order_by(NumberBlock.id))
    return [dict(row._mapping) for row in rows]


def acts_after(session: Session, known: Mapping[int, int]) -> Iterator[ActTold]:
    """Yield the acts of each station after the running number known of it, in the order of its chain."""
    for station_id in session.execute(select(Station.id).order_by(Station.id)).scalars().all():
        for act, lines in acts_of(session, station_id, after=known.get(station_id, 0)):
            (act_id, running, deed, person_id, person, zone, said, before, hashed, happened, written, *_line) = act
            yield ActTold(
                station_id, running, act_id, deed, person_id, person, happened, zone, written, said, before, hashed,
                tuple((one[0], one[1], one[2], one[3], one[4]) for one in lines),
            )  # fmt: skip


@dataclass(slots=True)
class Appended:
    """What was appended: how many acts, how many were here already, and the rows their lines touch."""

    acts: int = 0
    already: int = 0
    heads: dict[int, tuple[int, str]] = field(default_factory=dict)
    """Where each station's chain ends now, of those that grew."""


def append_acts(session: Session, acts: Iterable[ActTold]) -> Appended:
    """Append acts to their chains, unchanged; those here already are skipped. Raises ``ChainWrong``."""
    heads = {one.id: (one.running, one.head) for one in stations_told(session)}
    done = Appended()
    batch: list[ActTold] = []
    for act in acts:
        if act.afresh() != act.hash:
            raise ChainWrong("changed", act.station_id, act.running)
        running, head = heads.get(act.station_id, (0, ""))
        if act.running <= running:
            done.already += 1
            if act.running == running and act.hash != head:
                raise ChainWrong("forked", act.station_id, act.running)
            continue
        if act.running != running + 1:
            raise ChainWrong("gap", act.station_id, running + 1)
        if act.hash_before != head:
            raise ChainWrong("forked", act.station_id, act.running)
        heads[act.station_id] = done.heads[act.station_id] = (act.running, act.hash)
        batch.append(act)
        done.acts += 1
        if len(batch) >= AT_ONCE:
            _put(session, batch)
            batch.clear()
    _put(session, batch)
    return done


def _put(session: Session, acts: list[ActTold]) -> None:
    if not acts:
        return
    raw: dict[str, Any] = {"happened_at": BigInteger(), "written_at": BigInteger(), "before": Text(), "after": Text()}
    connection = session.connection()
    for table, rows in ((_ACT, [_act_row(act) for act in acts]), (_LINE, [row for act in acts for row in _lines(act)])):
        columns = (sqlalchemy.column(one.name, raw.get(one.name, one.type)) for one in table.columns)
        if rows:
            connection.execute(insert(sqlalchemy.table(table.name, *columns)), rows)


def _act_row(act: ActTold) -> dict[str, Any]:
    values = {name: getattr(act, name) for name in ActTold.__slots__ if name != "lines"}
    return values | {"search_text": folded(f"{act.said} {act.person_name}")}


def _lines(act: ActTold) -> Iterator[dict[str, Any]]:
    for ordinal, (kind, row_id, version, before, after) in enumerate(act.lines, start=1):
        line = {"act_id": act.id, "ordinal": ordinal, "kind": kind, "row_id": row_id, "row_version": version}
        yield line | {"before": before, "after": after}


def keep_others_waiting(session: Session) -> None:
    """Let no other station of a server end a deed until this one ends: what is read now stays as it is."""
    session.execute(select(Station.id).order_by(Station.id).with_for_update())


def meet_stations(session: Session, told: Iterable[StationTold]) -> None:
    """Make the stations known that were never met here; one of the same name gets a number after it."""
    here = {one.id for one in stations_told(session)}
    names = set(session.execute(select(Station.name)).scalars())
    for one in told:
        if one.id in here:
            continue
        name = next(name for name in (one.name, *(f"{one.name} {n}" for n in range(2, 1000))) if name not in names)
        names.add(name)
        session.add(Station(id=one.id, name=name, running=0, head="", next_row=1, elsewhere=True))
    session.flush()


def move_heads(session: Session, done: Appended, told: Iterable[StationTold]) -> None:
    """Let each station's chain end where it ends now, and give no row twice that was given elsewhere."""
    for station_id, (running, head) in done.heads.items():
        session.execute(update(Station).where(Station.id == station_id).values(running=running, head=head))
    for one in told:
        session.execute(
            update(Station).where(Station.id == one.id, Station.next_row < one.next_row).values(next_row=one.next_row)
        )


def raise_numbers(session: Session, series: Mapping[str, int], blocks: Iterable[Mapping[str, Any]]) -> None:
    """Let series and blocks of numbers continue after what was given elsewhere."""
    dialect = session.get_bind().dialect.name
    for name, after in series.items():
        put = insert_for(dialect)(NumberSeries).values(name=name, next=after)
        higher = sqlalchemy.case((NumberSeries.next < after, after), else_=NumberSeries.next)
        session.execute(put.on_conflict_do_update(index_elements=["name"], set_={"next": higher}))
    for block in blocks:
        put = insert_for(dialect)(NumberBlock).values(**block)
        higher = sqlalchemy.case((NumberBlock.next < block["next"], block["next"]), else_=NumberBlock.next)
        session.execute(put.on_conflict_do_update(index_elements=["id"], set_={"next": higher}))


def hash_at(session: Session, station_id: int, running: int) -> str | None:
    """Return the hash of one act of a station, or None where it is not here."""
    wanted = select(Act.hash).where(Act.station_id == station_id, Act.running == running)
    return session.execute(wanted).scalar_one_or_none()


@dataclass(frozen=True, slots=True)
class LineTold:
    """A line with the act it is of, for comparing what two sides said."""

    kind: str
    row_id: int
    version: int | None
    before: dict[str, Any] | None
    after: dict[str, Any] | None
    act_id: str
    station_id: int
    running: int
    ordinal: int
    deed: str


def lines_between(
    session: Session,
    after: Mapping[int, int],
    upto: Mapping[int, int],
    *,
    kinds: Sequence[str] = (),
    taking: bool = False,
) -> Iterator[LineTold]:
    """Yield the lines of acts after some running numbers up to others, by station.

    Those of taking a file follow from both sides: they are left out unless ``taking``.
    """
    for station_id, last in sorted(upto.items()):
        first = after.get(station_id, 0)
        if last <= first:
            continue
        rows = session.execute(
            select(
                Line.kind, Line.row_id, Line.row_version, Line.before, Line.after, Act.id, Act.station_id, Act.running,
                Line.ordinal, Act.deed,
            )
            .join(Act, Line.act_id == Act.id)
            .where(Act.station_id == station_id, Act.running > first, Act.running <= last)
            .where(true() if taking else Act.deed != TAKING)
            .where(Line.kind.in_(kinds) if kinds else true())
            .order_by(Act.running, Line.ordinal)
        )  # fmt: skip
        for row in rows:
            yield LineTold(*row)


def gone_before(session: Session, row: tuple[str, int], heads: Mapping[int, int]) -> bool:
    """Tell whether a row was put together with another by an act of taking that was known up to some running numbers.

    A row that somebody took away is told by the deed itself.
    """
    gone = session.execute(
        select(Act.station_id, Act.running)
        .join(Line, Line.act_id == Act.id)
        .where(Line.kind == row[0], Line.row_id == row[1], Line.after.is_(None), Act.deed == TAKING)
    )
    return any(running <= heads.get(station_id, 0) for station_id, running in gone)
