"""Every table of the store as it is, row by row: read out as texts that lose nothing, and put back from them."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from enum import StrEnum
from itertools import islice
from typing import Any, get_args, get_origin

import sqlalchemy
from sqlalchemy import BigInteger, Column, Table, Text, UniqueConstraint, func, select, type_coerce
from sqlalchemy.orm import Session

from findsdesk.store.described_columns import column_described, table_described
from findsdesk.store.every_table import every_table, model_of, table_named
from findsdesk.store.models import Moment
from findsdesk.store.models.base import Canonical

ROWS_AT_ONCE = 2_000
LEFT_OUT = frozenset({"person_pin", "searched_text"})
"""Secrets of the people: nobody hands them on, and whoever gets the store sets PINs of their own. And what is searched,
which is made anew from the other tables."""


class ColumnKind(StrEnum):
    """What kind of values a column holds."""

    TEXT = "text"
    WHOLE_NUMBER = "whole number"
    YES_NO = "yes or no"
    DAY = "day"
    MOMENT = "moment"
    VALUES = "values"
    LIST = "list"


@dataclass(frozen=True, slots=True)
class WholeColumn:
    """A column: its name, kind, whether it may be empty, whether each value stands once, what it means."""

    name: str
    kind: ColumnKind
    may_be_empty: bool
    unique: bool
    description: str


@dataclass(frozen=True, slots=True)
class PointsAt:
    """A column whose values are keys of another table."""

    column: str
    table: str
    key: str


@dataclass(frozen=True, slots=True)
class WholeTable:
    """A table of the store with its columns, its key and what its columns point at."""

    name: str
    description: str
    columns: tuple[WholeColumn, ...]
    key: tuple[str, ...]
    points_at: tuple[PointsAt, ...]


def whole_tables() -> tuple[WholeTable, ...]:
    """Return every table that is handed on, each after those it points at."""
    return tuple(_described(one) for one in every_table() if one.name not in LEFT_OUT)


def _described(table: Table) -> WholeTable:
    once = {
        next(iter(one.columns)).name
        for one in table.constraints
        if isinstance(one, UniqueConstraint) and len(one.columns) == 1
    } | {column.name for column in table.columns if column.unique}
    return WholeTable(
        table.name,
        table_described(table.name),
        tuple(
            WholeColumn(one.name, _kind(one), bool(one.nullable), one.name in once, column_described(one))
            for one in table.columns
        ),
        tuple(one.name for one in table.primary_key.columns),
        tuple(
            PointsAt(one.name, key.column.table.name, key.column.name)
            for one in table.columns
            for key in sorted(one.foreign_keys, key=str)
        ),
    )


def _kind(column: Column[Any]) -> ColumnKind:
    if isinstance(column.type, Moment):
        return ColumnKind.MOMENT
    if isinstance(column.type, Canonical):
        return ColumnKind.VALUES
    if isinstance(column.type, sqlalchemy.JSON):
        return ColumnKind.LIST if _is_list(column) else ColumnKind.VALUES
    kinds = {str: ColumnKind.TEXT, int: ColumnKind.WHOLE_NUMBER, bool: ColumnKind.YES_NO, date: ColumnKind.DAY}
    return kinds[column.type.python_type]


def _is_list(column: Column[Any]) -> bool:
    model = model_of(column.table.name)
    mapped = get_args(model.__annotations__[column.name])
    return bool(mapped) and get_origin(mapped[0]) is list


def counted(session: Session, table: str) -> int:
    """Return how many rows a table has."""
    return session.execute(select(func.count()).select_from(table_named(table))).scalar_one()


def rows_of(session: Session, name: str) -> Iterator[list[Any]]:
    """Yield a table's rows by their keys, as cells for CSV; nothing in a cell is None.

    Texts are as they are, but ``may_be_empty`` ones without letters get a sign (``kept_apart``). Moments are ISO 8601
    in UTC with milliseconds, values are JSON. A few rows are held at a time.
    """
    table = table_named(name)
    # An act's line is read as it is spelled: what was hashed must come back letter by letter.
    columns = [type_coerce(one, _RAW.get(type(one.type), one.type)) for one in table.columns]
    spell = [(place, _SPELL[_kind(one)]) for place, one in enumerate(table.columns) if _kind(one) in _SPELL]
    apart = [place for place, one in enumerate(table.columns) if one.nullable and _kind(one) is ColumnKind.TEXT]
    raw = {place for place, one in enumerate(table.columns) if isinstance(one.type, Canonical)}
    spell = [(place, how) for place, how in spell if place not in raw] + [(place, kept_apart) for place in apart]
    rows = session.connection().execute(
        select(*columns).order_by(*table.primary_key.columns).execution_options(yield_per=ROWS_AT_ONCE)
    )
    for part in rows.partitions():
        for row in part:
            cells = list(row)
            for place, how in spell:
                if cells[place] is not None:
                    cells[place] = how(cells[place])
            yield cells


def kept_apart(text: str) -> str:
    r"""Return a text that is not taken for nothing: an empty one becomes ``\``, one of ``\`` alone gets one more.

    ``together`` gives back the text before.
    """
    return text if text.strip("\\") else text + "\\"


def together(text: str) -> str:
    """Return a text as it was before ``kept_apart``."""
    return text if text.strip("\\") else text[1:]


def _moment_spelled(milliseconds: int) -> str:
    return datetime.fromtimestamp(milliseconds / 1000, UTC).isoformat(timespec="milliseconds")[:-6] + "Z"


def _yes_no(value: object) -> str:
    return "true" if value else "false"


def _as_json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


_RAW: dict[type[Any], Any] = {Moment: BigInteger(), Canonical: Text()}
_SPELL: dict[ColumnKind, Callable[[Any], Any]] = {
    ColumnKind.MOMENT: _moment_spelled,
    ColumnKind.YES_NO: _yes_no,
    ColumnKind.VALUES: _as_json,
    ColumnKind.LIST: _as_json,
}


def values_present(session: Session, table: str, column: str) -> tuple[str, ...]:
    """Return the different texts that a column holds, in their order."""
    one = table_named(table).c[column]
    return tuple(str(said) for said in session.execute(select(one).distinct().order_by(one)).scalars() if said)


class CellUnreadable(ValueError):
    """A cell holds no value of its column's kind; ``place`` is the column's, ``row`` the row's from 0."""

    def __init__(self, row: int, column: str, text: str) -> None:
        super().__init__(text)
        self.row, self.column, self.text = row, column, text


def put_rows(session: Session, name: str, rows: Iterable[Sequence[str]]) -> Iterator[int]:
    """Put rows back as ``rows_of`` gave them; yields after each batch how many are in. Raises ``CellUnreadable``.

    No act is written: the journal's own tables are among those put back.
    """
    table = table_named(name)
    readers = [_reader(one) for one in table.columns]
    names = [one.name for one in table.columns]
    insert = sqlalchemy.insert(
        sqlalchemy.table(name, *(sqlalchemy.column(one.name, _RAW.get(type(one.type), one.type)) for one in table.c))
    )
    coming, put_in = iter(rows), 0
    while batch := list(islice(coming, ROWS_AT_ONCE)):
        values = [_read(row, names, readers, put_in + place) for place, row in enumerate(batch)]
        session.connection().execute(insert, values)
        put_in += len(batch)
        yield put_in


def _read(row: Sequence[str], names: Sequence[str], readers: Sequence[Callable[[str], Any]], at: int) -> dict[str, Any]:
    values: dict[str, Any] = {}
    for name, read, cell in zip(names, readers, row, strict=True):
        try:
            values[name] = read(cell)
        except (ValueError, OverflowError, RecursionError) as error:
            raise CellUnreadable(at, name, cell) from error
    return values


def _reader(column: Column[Any]) -> Callable[[str], Any]:
    kind, nullable = _kind(column), column.nullable
    if kind is ColumnKind.TEXT:
        return (lambda cell: together(cell) if cell else None) if nullable else str
    read = str if isinstance(column.type, Canonical) else _READ[kind]
    return (lambda cell: read(cell) if cell else None) if nullable else read


def _moment_read(text: str) -> int:
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError(text)
    return round(moment.timestamp() * 1000)


def _whole_number_read(text: str) -> int:
    number = int(text)
    if str(number) != text or not -(1 << 63) <= number < 1 << 63:
        raise ValueError(text)
    return number


def _yes_no_read(text: str) -> bool:
    if text not in ("true", "false"):
        raise ValueError(text)
    return text == "true"


_READ: dict[ColumnKind, Callable[[str], Any]] = {
    ColumnKind.WHOLE_NUMBER: _whole_number_read,
    ColumnKind.YES_NO: _yes_no_read,
    ColumnKind.DAY: date.fromisoformat,
    ColumnKind.MOMENT: _moment_read,
    ColumnKind.VALUES: json.loads,
    ColumnKind.LIST: json.loads,
}
