"""Walking the journal's chains: every act's hash computed afresh, the first wrong entry of each station named."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from sqlalchemy import select, type_coerce
from sqlalchemy.orm import Session
from sqlalchemy.types import BigInteger

from findsdesk.store.journal import hash_of
from findsdesk.store.models import Act, Line, Station

ROWS_AT_ONCE = 2000


@dataclass(frozen=True, slots=True)
class WrongEntry:
    """The first entry of a station's chain that is not as it was written."""

    why: str
    """'changed', 'missing', 'broken' (does not follow from the one before) or 'head' (the chain ends elsewhere)."""
    station: str
    running: int
    act_id: str = ""
    deed: str = ""
    person: str = ""
    said: str = ""


@dataclass(slots=True)
class Walked:
    """What a walk along all chains met."""

    acts: int
    lines: int
    wrong: list[WrongEntry]


def walk_chains(session: Session) -> Walked:
    """Walk along the chain of each station and compute every hash afresh."""
    walked = Walked(0, 0, [])
    for station in session.execute(select(Station).order_by(Station.id)).scalars().all():
        wrong = _walk(session, station, walked)
        if wrong is not None:
            walked.wrong.append(wrong)
    return walked


def _walk(session: Session, station: Station, walked: Walked) -> WrongEntry | None:
    wrong: WrongEntry | None = None
    running, head = 0, ""
    for act, lines in _acts(session, station.id):
        walked.acts += 1
        walked.lines += len(lines)
        if wrong is None:
            wrong = _check(station, act, lines, running, head)
        running, head = act.running, act.hash
    if wrong is None and (running, head) != (station.running, station.head):
        why = "missing" if running < station.running else "head"
        wrong = WrongEntry(why, station.name, running + 1 if why == "missing" else running)
    return wrong


def _acts(session: Session, station_id: int) -> Iterator[tuple[Any, list[tuple[Any, ...]]]]:
    """Yield each act of a station in its order, with the plain values of its lines."""
    rows = session.execute(
        select(
            Act.id,
            Act.running,
            Act.deed,
            Act.person_id,
            Act.person_name,
            type_coerce(Act.happened_at, BigInteger).label("happened"),
            Act.zone,
            type_coerce(Act.written_at, BigInteger).label("written"),
            Act.said,
            Act.hash_before,
            Act.hash,
            Line.kind,
            Line.row_id,
            Line.row_version,
            Line.before,
            Line.after,
        )
        .outerjoin(Line, Line.act_id == Act.id)
        .where(Act.station_id == station_id)
        .order_by(Act.running, Line.ordinal)
        .execution_options(yield_per=ROWS_AT_ONCE)
    )
    for _act_id, of_one in groupby(rows, key=lambda row: row.id):
        together = list(of_one)
        yield together[0], [tuple(row[-5:]) for row in together if row.kind is not None]


def _check(station: Station, act: Any, lines: list[tuple[Any, ...]], running: int, head: str) -> WrongEntry | None:
    """Return what is wrong with an act after the one that had this running number and hash, or None."""
    if act.running != running + 1:
        return WrongEntry("missing", station.name, running + 1)
    said = (act.id, act.deed, act.person_name, act.said)
    hashed = hash_of(
        act.hash_before,
        (station.id, act.running),
        (act.id, act.deed, act.said, act.zone),
        (act.person_id, act.person_name),
        (act.happened, act.written),
        lines,
    )
    if hashed != act.hash:
        return WrongEntry("changed", station.name, act.running, *said)
    if act.hash_before != head:
        return WrongEntry("broken", station.name, act.running, *said)
    return None
