"""The registers of objects, numbered within their season, and of samples for analysis."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from sqlalchemy import and_, or_, select

from findsdesk.desk.container_register import of_container
from findsdesk.desk.desk import Reading
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.group_checks import words_named
from findsdesk.desk.objects import ObjectFacts, object_rows
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.desk.samples import SampleFacts, sample_rows
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.shipped import material_named
from findsdesk.desk.word_lists import words_of
from findsdesk.store.models import Container, FoundObject, LabSample


def _objects_in(condition: Condition) -> Condition:
    return FoundObject.container_id.in_(select(Container.id).where(condition))


def _object_holds(word: str) -> Condition:
    return or_(FoundObject.search_text.like(word, escape="/"), _objects_in(of_container(word)))


def _objects_of_deposits(reading: Reading, values: Sequence[str]) -> Condition:
    return _objects_in(Container.deposit_id.in_([deposit_of(reading.session, value).id for value in values]))


def _objects_of_seasons(reading: Reading, values: Sequence[str]) -> Condition:
    return FoundObject.season_id.in_([season_of(reading.session, date.max, value).id for value in values])


def _objects_of_materials(_reading: Reading, values: Sequence[str]) -> Condition:
    return _objects_in(Container.material.in_([material_named(value) or value for value in values]))


def _untold(_reading: Reading, values: Sequence[str]) -> Condition:
    return FoundObject.told_at.is_not(None) if "yes" in values else FoundObject.told_at.is_(None)


def _object_rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, ObjectFacts]:
    return {row.id: row for row in object_rows(reading.session, keys)}


OBJECTS = Source(
    key=FoundObject.id,
    sorts={"number": (FoundObject.season_id, FoundObject.number)},
    filters={
        "deposit": _objects_of_deposits,
        "season": _objects_of_seasons,
        "material": _objects_of_materials,
        "known": _untold,
    },
    holds_word=_object_holds,
    rows=_object_rows,
)


def _samples_in(condition: Condition) -> Condition:
    return LabSample.container_id.in_(select(Container.id).where(condition))


def _sample_holds(word: str) -> Condition:
    said = (LabSample.laboratory, LabSample.permit, LabSample.result)
    return or_(*(column.ilike(word, escape="/") for column in said), _samples_in(of_container(word)))


def _samples_of_deposits(reading: Reading, values: Sequence[str]) -> Condition:
    return _samples_in(Container.deposit_id.in_([deposit_of(reading.session, value).id for value in values]))


def _samples_for(reading: Reading, values: Sequence[str]) -> Condition:
    return LabSample.what_for.in_([words_named("sample_purposes", value, words_of(reading.desk)) for value in values])


def _away(_reading: Reading, values: Sequence[str]) -> Condition:
    away = and_(LabSample.sent_on.is_not(None), LabSample.back_on.is_(None))
    return away if "yes" in values else ~away


def _sample_rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, SampleFacts]:
    return {row.id: row for row in sample_rows(reading.session, keys)}


SAMPLES = Source(
    key=LabSample.id,
    sorts={"number": (LabSample.number,)},
    filters={"deposit": _samples_of_deposits, "for": _samples_for, "away": _away},
    holds_word=_sample_holds,
    rows=_sample_rows,
)
