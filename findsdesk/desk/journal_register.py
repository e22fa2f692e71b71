"""The register of acts: who did what, when and at which station, and what each act changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Any

from sqlalchemy import and_, func, or_, select

from findsdesk.desk.container_register import read_day
from findsdesk.desk.deed_words import DEED_IN_WORDS, KIND_IN_WORDS
from findsdesk.desk.desk import Desk, Reading
from findsdesk.desk.finding import container_of
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.desk.rows_by_name import Thing, names_of, things_in, with_names
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Act, Line, Station
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class ActInRegister:
    """One act; ``in_words`` is a message key that names the deed."""

    id: str
    station: str
    running: int
    deed: str
    in_words: str
    person: str
    said: str
    happened_at: datetime
    written_at: datetime
    zone: str
    lines: int


@dataclass(frozen=True, slots=True)
class ActLine:
    """What one act did to one row; ``in_words`` is a message key that names the kind of row, ``name`` the row itself.

    Values that point at another row are its name. A row without a name of its own is named by what it belongs to.
    """

    kind: str
    in_words: str
    name: str
    row_id: int
    version: int | None
    before: Mapping[str, Any] | None
    after: Mapping[str, Any] | None


def act_lines(desk: Desk, act_id: str) -> tuple[ActLine, ...]:
    """Return what an act changed, in the order in which it was written; raises ``unknown_act``."""
    with desk.reading() as reading:
        if reading.session.get(Act, act_id) is None:
            raise Refusal("unknown_act", N_("There is no such act in the journal. Look at the register again."))
        found = select(Line).where(Line.act_id == act_id).order_by(Line.ordinal)
        lines = reading.session.execute(found).scalars().all()
        things = {(line.kind, line.row_id) for line in lines}
        for line in lines:
            things.update((*things_in(line.before), *things_in(line.after)))
        names = names_of(reading.session, things)
        return tuple(_line(line, names) for line in lines)


def _line(line: Line, names: Mapping[Thing, str]) -> ActLine:
    values = line.after or line.before or {}
    owner = names.get(("container", values.get("container_id", 0)), "")
    return ActLine(
        kind=line.kind,
        in_words=KIND_IN_WORDS.get(line.kind, line.kind),
        name=names.get((line.kind, line.row_id), owner),
        row_id=line.row_id,
        version=line.row_version,
        before=with_names(line.before, names),
        after=with_names(line.after, names),
    )


def _holds_word(word: str) -> Condition:
    return Act.search_text.like(word, escape="/")


def _at_stations(_reading: Reading, values: Sequence[str]) -> Condition:
    return Act.station_id.in_(select(Station.id).where(Station.name.in_(values)))


def _by_people(_reading: Reading, values: Sequence[str]) -> Condition:
    return Act.person_name.in_(values)


def _deeds(_reading: Reading, values: Sequence[str]) -> Condition:
    return Act.deed.in_(values)


def _acts(_reading: Reading, values: Sequence[str]) -> Condition:
    return Act.id.in_(values)


def _midnight(reading: Reading, day: str) -> datetime:
    return datetime.combine(read_day(day), time(), reading.desk.facts.zone)


def _from_day(reading: Reading, values: Sequence[str]) -> Condition:
    return and_(*(Act.written_at >= _midnight(reading, value) for value in values))


def _until_day(reading: Reading, values: Sequence[str]) -> Condition:
    return and_(*(Act.written_at < _midnight(reading, value) + timedelta(days=1) for value in values))


def _on_containers(reading: Reading, values: Sequence[str]) -> Condition:
    ids = [container_of(reading.session, reading.desk, value).id for value in values]
    return Act.id.in_(select(Line.act_id).where(Line.kind == "container", Line.row_id.in_(ids)))


def _on_rows(_reading: Reading, values: Sequence[str]) -> Condition:
    things = []
    for value in values:
        kind, _, row_id = value.partition(" ")
        if kind not in KIND_IN_WORDS or not row_id.isdecimal():
            raise Refusal("not_a_row", N_("{said} names no row. Write its kind and its id."), said=value)
        things.append(and_(Line.kind == kind, Line.row_id == int(row_id)))
    return Act.id.in_(select(Line.act_id).where(or_(*things)))


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, ActInRegister]:
    lines = select(func.count()).where(Line.act_id == Act.id).correlate(Act).scalar_subquery()
    found = reading.session.execute(
        select(Act, Station.name, lines).join(Station, Act.station_id == Station.id).where(Act.id.in_(keys))
    ).all()
    return {
        row.id: ActInRegister(
            id=row.id,
            station=station,
            running=row.running,
            deed=row.deed,
            in_words=DEED_IN_WORDS.get(row.deed, row.deed),
            person=row.person_name,
            said=row.said,
            happened_at=row.happened_at,
            written_at=row.written_at,
            zone=row.zone,
            lines=count,
        )
        for row, station, count in found
    }


JOURNAL = Source(
    key=Act.id,
    sorts={"written": (Act.written_at,)},
    filters={
        "station": _at_stations,
        "person": _by_people,
        "deed": _deeds,
        "from": _from_day,
        "until": _until_day,
        "container": _on_containers,
        "row": _on_rows,
        "act": _acts,
    },
    holds_word=_holds_word,
    rows=_rows,
    tie=(Act.station_id, Act.running),
    newest_first=True,
)
