"""The journal: every change of a journaled row becomes a line of the act that is being written.

The lines are collected from the ORM itself at each flush, and of a fact as it is written, so a use case cannot forget
one. Each station has its own
chain of acts; an act's hash covers the hash before it, its own facts and its lines (canonical JSON, SHA-256).
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from functools import cache
from typing import Any, cast

import sqlalchemy
from sqlalchemy import Insert, Table, bindparam, event, insert, inspect, select, update
from sqlalchemy.orm import InstanceState, Session, UOWTransaction

from findsdesk.domain.natural_order import folded
from findsdesk.domain.passing import OFTEN
from findsdesk.store.every_table import table_named
from findsdesk.store.models import Editable, Fact, Journaled, Station
from findsdesk.store.models.base import canonical
from findsdesk.store.rows_at_once import insert_rows

DERIVED = frozenset({"version", "search_text"})
"""Columns that follow from the others and are not told in lines."""

HEAD_LENGTH = 12
"""How many hexadecimal characters of a head are printed."""


Spelled = tuple[str, int, int | None, str | None, str | None]
"""A change as it is hashed and written: kind, id, version, and before and after in their one spelling."""


@dataclass(slots=True)
class Change:
    """One row's change: what it was and what it is, as plain JSON values."""

    kind: str
    row_id: int
    version: int | None
    before: dict[str, Any] | None
    after: dict[str, Any] | None

    def spelled(self) -> Spelled:
        """Return the change with its values in their one spelling."""
        before = None if self.before is None else canonical(self.before)
        after = None if self.after is None else canonical(self.after)
        return (self.kind, self.row_id, self.version, before, after)


INTO_TABLES, INTO_WORDS, INTO_JOURNAL = range(3)
"""The stages in which much is written: the rows themselves, the words they are found by, their lines."""
STAGES = 3


@dataclass(slots=True)
class Changes:
    """The changes of one session, in the order in which they were flushed."""

    rows: list[Change] = field(default_factory=list)
    brought: list[Change] = field(default_factory=list)
    """What acts of other stations changed, which were appended with their own lines: told on, and no line here."""
    containers: set[int] = field(default_factory=set)
    """The containers of rows that changed: of those a line says only what is other than before."""
    follow: Callable[[int, int, int], None] | None = None
    """Called with stage (an ``INTO_TABLES``, …), rows done and rows while much is written; it may refuse to go on."""

    def passed(self, stage: int, done: int, of: int) -> None:
        """Tell whoever follows how much of a stage is written."""
        if self.follow is not None:
            self.follow(stage, done, of)

    def tell(
        self,
        kind: str,
        row_id: int,
        version: int | None,
        before: dict[str, Any] | None,
        after: dict[str, Any] | None,
    ) -> None:
        """Tell a change that was written without the session's watch."""
        self.rows.append(Change(kind, row_id, version, before, after))

    def touched(self) -> frozenset[tuple[str, int]]:
        """Return which things changed, for the screens that show them."""
        every = [*self.rows, *self.brought]
        own = {(change.kind, change.row_id) for change in every}
        containers = {
            values["container_id"]
            for change in every
            for values in (change.after, change.before)
            if values and values.get("container_id") is not None
        }
        return frozenset(own | {("container", number) for number in containers | self.containers})


def plain(value: Any) -> Any:
    """Return a column's value as plain JSON: moments in UTC to the millisecond, dates in ISO form."""
    if isinstance(value, datetime):
        return moment_of(_milliseconds(value))
    return value.isoformat() if isinstance(value, date) else value


def moment_of(milliseconds: int | None) -> str | None:
    """Return a moment kept in milliseconds UTC as plain JSON."""
    return None if milliseconds is None else datetime.fromtimestamp(milliseconds / 1000, UTC).isoformat()


def watch(session: Session) -> Changes:
    """Begin to collect the changes that this session flushes."""
    changes: Changes = session.info.setdefault("changes", Changes())
    return changes


@event.listens_for(Session, "after_flush")
def _after_flush(session: Session, _context: UOWTransaction) -> None:
    changes: Changes | None = session.info.get("changes")
    if changes is None:
        return
    for row in session.new:
        if isinstance(row, Journaled):
            changes.rows.append(_change(row, None, _values(row)))
    for row in session.dirty:
        if isinstance(row, Journaled):
            before, after = _difference(row)
            if after:
                changes.rows.append(_change(row, before, after))
                container_id = getattr(row, "container_id", None)
                if container_id is not None:
                    changes.containers.add(container_id)
    for row in session.deleted:
        if isinstance(row, Journaled):
            changes.rows.append(_change(row, _values(row), None))


def write_fact(session: Session, changes: Changes, kind: type[Fact], values: dict[str, Any]) -> None:
    """Write a fact and its line at once; rows it may point to are flushed first.

    Facts are never changed, so the session need not watch over them: that makes the commonest deeds a third faster.
    """
    if session.new:
        session.flush()
    table = cast("Table", inspect(kind).local_table)
    row = {**left_out(table), **values}
    session.connection().execute(_insert_into(table), row)
    said = {name: plain(value) for name, value in row.items()}
    changes.rows.append(Change(table.name, row["id"], None, None, said))


@cache
def _insert_into(table: Table) -> Insert:
    return insert(table)


@cache
def left_out(table: Table) -> dict[str, Any]:
    """Return every column of a table with what it holds when nothing is said of it."""
    return {column.name: getattr(column.default, "arg", None) for column in table.columns}


def _change(row: Journaled, before: dict[str, Any] | None, after: dict[str, Any] | None) -> Change:
    version = row.version if isinstance(row, Editable) else None
    return Change(inspect(type(row)).local_table.name, row.id, version, before, after)


def _values(row: Journaled) -> dict[str, Any]:
    state = cast("InstanceState[Any]", inspect(row))
    names = [column.key for column in state.mapper.column_attrs if column.key not in DERIVED]
    return {name: plain(state.attrs[name].value) for name in names}


def _difference(row: Journaled) -> tuple[dict[str, Any], dict[str, Any]]:
    state = cast("InstanceState[Any]", inspect(row))
    before, after = {}, {}
    for column in state.mapper.column_attrs:
        name, history = column.key, state.attrs[column.key].history
        if name in DERIVED or not history.has_changes():
            continue
        before[name] = plain(history.deleted[0]) if history.deleted else None
        after[name] = plain(history.added[0]) if history.added else None
    return before, after


@dataclass(frozen=True, slots=True)
class ActFacts:
    """What an act says of itself, before it is written."""

    id: str
    deed: str
    person_id: int | None
    person_name: str
    happened_at: datetime
    zone: str
    written_at: datetime
    said: str


def act_hash(before: str, station_id: int, running: int, facts: ActFacts, lines: Iterable[Spelled]) -> str:
    """Return the hash of an act: SHA-256 over the hash before it, its facts and its lines."""
    moments = _milliseconds(facts.happened_at), _milliseconds(facts.written_at)
    person = facts.person_id, facts.person_name
    texts = (facts.id, facts.deed, facts.said, facts.zone)
    return hash_of(before, (station_id, running), texts, person, moments, lines)


def hash_of(
    before: str,
    place: tuple[int, int],
    texts: tuple[str, str, str, str],
    person: tuple[int | None, str],
    moments: tuple[int, int],
    lines: Iterable[Spelled],
) -> str:
    """Return the hash of an act from its plain values, as they are written and as they are read back.

    ``place`` is station and running number, ``texts`` id, deed, what was said and zone, ``moments`` are milliseconds
    UTC of when it happened and when it was written, ``lines`` kind, id, version, and before and after as they are
    spelled in the store. A text goes in with its length, so that nothing can move from one part into the next.
    """
    parts: list[str | int | None] = [before, *place, *texts, *person, *moments]
    for line in lines:
        parts += line
    measured = [
        f"{len(part)}:{part};" if isinstance(part, str) else "-;" if part is None else f"#{part};" for part in parts
    ]
    return hashlib.sha256("".join(measured).encode()).hexdigest()


def _milliseconds(moment: datetime) -> int:
    return round(moment.timestamp() * 1000)


LINE_COLUMNS = ("act_id", "ordinal", "kind", "row_id", "row_version", "before", "after")
_LOCK_HEAD = select(Station.running, Station.head).where(Station.id == bindparam("station")).with_for_update()
_WRITE_ACT = insert(table_named("act"))
_LINE = sqlalchemy.table("line", *(sqlalchemy.column(name) for name in LINE_COLUMNS))
"""The lines without the types of their columns: what was spelled to be hashed is written as it is."""
_STATIONS = table_named("station")
_MOVE_HEAD = (
    update(_STATIONS)
    .where(_STATIONS.c.id == bindparam("station"))
    .values(running=bindparam("now_running"), head=bindparam("now_head"))
)


def write_act(session: Session, station_id: int, facts: ActFacts, changes: Changes) -> str:
    """Write the act and its lines and move the station's head, whose row is locked last; return the new head."""
    station = session.execute(_LOCK_HEAD, {"station": station_id}).one()
    running = station.running + 1
    lines = []
    for place, change in enumerate(changes.rows):
        if not place % OFTEN:
            changes.passed(INTO_JOURNAL, place, 2 * len(changes.rows))
        lines.append(change.spelled())
    head = act_hash(station.head, station_id, running, facts, lines)
    session.execute(
        _WRITE_ACT,
        {
            "id": facts.id,
            "station_id": station_id,
            "running": running,
            "deed": facts.deed,
            "person_id": facts.person_id,
            "person_name": facts.person_name,
            "happened_at": facts.happened_at,
            "zone": facts.zone,
            "written_at": facts.written_at,
            "said": facts.said,
            "search_text": folded(f"{facts.said} {facts.person_name}"),
            "hash_before": station.head,
            "hash": head,
        },
    )
    numbered = ((facts.id, ordinal, *line) for ordinal, line in enumerate(lines, start=1))
    both = 2 * len(lines)  # spelled first, then written
    insert_rows(
        session.connection(),
        _LINE,
        LINE_COLUMNS,
        numbered,
        lambda done: changes.passed(INTO_JOURNAL, len(lines) + done, both),
    )
    session.execute(_MOVE_HEAD, {"station": station_id, "now_running": running, "now_head": head})
    return head


def store_head(session: Session) -> str:
    """Return the head of the whole store: the hash over all stations' heads, in the order of their ids."""
    heads = session.execute(select(Station.id, Station.head).order_by(Station.id)).all()
    return hashlib.sha256(canonical([[station_id, head] for station_id, head in heads]).encode()).hexdigest()


def short_head(head: str) -> str:
    """Return the part of a head that is printed on lists and in backup names."""
    return head[:HEAD_LENGTH]
