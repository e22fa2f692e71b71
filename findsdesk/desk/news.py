"""What other stations wrote: read from the journal, told as their deeds would have been told here.

On a file one program alone writes, so there is something to ask only where this station reads along.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import ColumnElement, or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import FACTS, Desk, Touched
from findsdesk.store.every_table import every_table, table_named
from findsdesk.store.models import Act, Line, Station

MOST_ACTS = 500
"""After more acts than this at once everything is told, and not what each of them touched."""


def everything() -> Touched:
    """Return something of every kind: every screen that shows any of it reads anew."""
    return frozenset((table.name, 0) for table in every_table())


@dataclass(frozen=True, slots=True)
class News:
    """What was touched since the last look, and how far each station's chain was read."""

    touched: Touched = frozenset()
    seen: Mapping[int, int] = field(default_factory=dict)


def others_write(desk: Desk) -> bool:
    """Tell whether other stations can write this store while it is open here."""
    return desk.store.path is None or desk.store.read_only


def news_since(desk: Desk, seen: Mapping[int, int] | None) -> News:
    """Return what other stations wrote since ``seen`` (running numbers by station); None begins to look now.

    Where the excavation's own facts or words changed, the desk reads them afresh.
    """
    with desk.reading() as reading:
        now = {
            station: running
            for station, running in reading.session.execute(select(Station.id, Station.running))
            if station != desk.station_id
        }
        if seen is None or now == seen:
            return News(seen=now)
        touched = _touched(reading.session, seen, now)
    if FACTS & {kind for kind, _row_id in touched}:
        desk.read_facts()
    return News(touched, now)


def _touched(session: Session, seen: Mapping[int, int], now: Mapping[int, int]) -> Touched:
    moved = {station: seen.get(station, 0) for station in now if now[station] != seen.get(station, 0)}
    if sum(now[station] - before for station, before in moved.items()) > MOST_ACTS:
        return everything()
    newer = or_(*((Act.station_id == station) & (Act.running > before) for station, before in moved.items()))
    rows = session.execute(
        select(Line.kind, Line.row_id, Line.before, Line.after).join(Act, Line.act_id == Act.id).where(newer)
    ).all()
    own = {(kind, row_id) for kind, row_id, _before, _after in rows}
    containers = {number for row in rows for number in _containers(row.before, row.after)}
    silent = {row.kind for row in rows if row.before and row.after and not _containers(row.before, row.after)}
    for kind in sorted(silent):
        containers |= _containers_of(session, kind, newer)
    return frozenset(own | {("container", number) for number in containers})


def _containers_of(session: Session, kind: str, newer: ColumnElement[bool]) -> set[int]:
    """Return the containers of the rows of a kind that changed: their lines say only what is other than before."""
    columns = table_named(kind).c
    if not {"id", "container_id"} <= set(columns.keys()):
        return set()
    found = session.execute(
        select(columns.container_id)
        .join(Line, (Line.kind == kind) & (Line.row_id == columns.id))
        .join(Act, Line.act_id == Act.id)
        .where(newer, columns.container_id.is_not(None))
        .distinct()
    ).scalars()
    return set(found)


def _containers(*values: Mapping[str, Any] | None) -> set[int]:
    return {int(one["container_id"]) for one in values if one and one.get("container_id") is not None}
