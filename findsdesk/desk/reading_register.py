"""The register of readings: what each reader said of the pottery of a container or a deposit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, time, timedelta

from sqlalchemy import and_, or_, select

from findsdesk.desk.container_register import container_says, deposits_numbered, read_day
from findsdesk.desk.desk import Reading
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.reading_rows import ReadingFacts, facts_where
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.desk.setting_up import person_named
from findsdesk.desk.squares import square_named
from findsdesk.domain.natural_order import folded
from findsdesk.store.models import Container, Deposit, Period, PotteryReading


def _holds_word(word: str) -> Condition:
    containers = select(Container.id).where(container_says(word))
    return or_(
        PotteryReading.line.ilike(word, escape="/"),
        PotteryReading.look_again_why.ilike(word, escape="/"),
        PotteryReading.container_id.in_(containers),
        _on_deposits(deposits_numbered(word)),
    )


def _on_deposits(ids: object) -> Condition:
    """Return the condition that a reading is of one of some deposits or of a container out of one."""
    inside = select(Container.id).where(Container.deposit_id.in_(ids))  # type: ignore[arg-type]
    return or_(PotteryReading.deposit_id.in_(ids), PotteryReading.container_id.in_(inside))  # type: ignore[arg-type]


def _of_deposits(reading: Reading, values: Sequence[str]) -> Condition:
    return _on_deposits([deposit_of(reading.session, value).id for value in values])


def _of_squares(reading: Reading, values: Sequence[str]) -> Condition:
    ids = [square_named(reading.session, value).id for value in values]
    inside = select(Container.id).where(Container.square_id.in_(ids))
    deposits = select(Deposit.id).where(Deposit.square_id.in_(ids))
    return or_(PotteryReading.container_id.in_(inside), PotteryReading.deposit_id.in_(deposits))


def _of_periods(reading: Reading, values: Sequence[str]) -> Condition:
    wanted = {folded(value) for value in values}
    rows = reading.session.execute(select(Period.id, Period.code, Period.name))
    ids = [row.id for row in rows if {folded(row.code), folded(row.name)} & wanted]
    return or_(*(column.in_(ids) for column in (PotteryReading.main_id, PotteryReading.latest_id)))


def _by_people(reading: Reading, values: Sequence[str]) -> Condition:
    people = [person_named(reading.session, value) for value in values]
    return PotteryReading.person_id.in_([person.id for person in people if person is not None])


def _waiting(_reading: Reading, values: Sequence[str]) -> Condition:
    if "yes" in values:
        return and_(PotteryReading.look_again, PotteryReading.looked_again_at.is_(None))
    return or_(PotteryReading.look_again.is_(False), PotteryReading.looked_again_at.is_not(None))


def _midnight(reading: Reading, day: str) -> datetime:
    return datetime.combine(read_day(day), time(), reading.desk.facts.zone)


def _from_day(reading: Reading, values: Sequence[str]) -> Condition:
    return and_(*(PotteryReading.read_at >= _midnight(reading, value) for value in values))


def _until_day(reading: Reading, values: Sequence[str]) -> Condition:
    return and_(*(PotteryReading.read_at < _midnight(reading, value) + timedelta(days=1) for value in values))


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, ReadingFacts]:
    return {row.id: row for row in facts_where(reading.session, PotteryReading.id.in_(keys))}


READINGS = Source(
    key=PotteryReading.id,
    sorts={"read": (PotteryReading.read_at,)},
    filters={
        "deposit": _of_deposits,
        "square": _of_squares,
        "period": _of_periods,
        "person": _by_people,
        "look_again": _waiting,
        "from": _from_day,
        "until": _until_day,
    },
    holds_word=_holds_word,
    rows=_rows,
    newest_first=True,
)
