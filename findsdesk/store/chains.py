"""Walking the journal's chains: every act's hash computed afresh, the first wrong entry of each station named."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter
from typing import Any

from sqlalchemy import BigInteger, Text, select, type_coerce
from sqlalchemy.orm import Session

from findsdesk.store.every_table import table_named
from findsdesk.store.journal import hash_of
from findsdesk.store.models import Station

ROWS_AT_ONCE = 2000
LINE_PARTS = 5
_FIRST = itemgetter(0)


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
    for act, lines in acts_of(session, station.id):
        walked.acts += 1
        walked.lines += len(lines)
        if wrong is None:
            wrong = _check(station, act, lines, running, head)
        running, head = act.running, act.hash
    if wrong is None and (running, head) != (station.running, station.head):
        why = "missing" if running < station.running else "head"
        wrong = WrongEntry(why, station.name, running + 1 if why == "missing" else running)
    return wrong


def acts_of(session: Session, station_id: int, *, after: int = 0) -> Iterator[tuple[Any, list[tuple[Any, ...]]]]:
    """Yield each act of a station after a running number in its order, with its lines as they are spelled there."""
    act, line = table_named("act").c, table_named("line").c
    facts = [
        act.id,
        act.running,
        act.deed,
        act.person_id,
        act.person_name,
        act.zone,
        act.said,
        act.hash_before,
        act.hash,
    ]
    moments = [type_coerce(act.happened_at, BigInteger), type_coerce(act.written_at, BigInteger)]
    spelled = [type_coerce(line.before, Text), type_coerce(line.after, Text)]
    rows = session.connection().execute(
        select(*facts, *moments, line.kind, line.row_id, line.row_version, *spelled)
        .outerjoin_from(table_named("act"), table_named("line"))
        .where(act.station_id == station_id, act.running > after)
        .order_by(act.running, line.ordinal)
        .execution_options(yield_per=ROWS_AT_ONCE)
    )
    for _act_id, of_one in groupby(rows, key=_FIRST):
        together = list(of_one)
        yield together[0], [row[-LINE_PARTS:] for row in together if row[-LINE_PARTS] is not None]


def _check(
    station: Station, act: Any, lines: list[tuple[Any, ...]], running_before: int, head_before: str
) -> WrongEntry | None:
    """Return what is wrong with an act after the one that had this running number and hash, or None."""
    act_id, running, deed, person_id, person, zone, said, hash_before, hashed, happened, written = act[:-LINE_PARTS]
    if running != running_before + 1:
        return WrongEntry("missing", station.name, running_before + 1)
    afresh = hash_of(
        hash_before,
        (station.id, running),
        (act_id, deed, said, zone),
        (person_id, person),
        (happened, written),
        lines,
    )
    if afresh != hashed:
        return WrongEntry("changed", station.name, running, act_id, deed, person, said)
    if hash_before != head_before:
        return WrongEntry("broken", station.name, running, act_id, deed, person, said)
    return None
