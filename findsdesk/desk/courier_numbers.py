"""Another number or code for the second of two things to which two stations gave the same one."""

from __future__ import annotations

from typing import Any

from sqlalchemy import func, select

from findsdesk.desk.desk import Deed
from findsdesk.desk.new_containers import free_numbers
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.store.courier_rows import Twice
from findsdesk.store.numbers import raise_series, take_numbers
from findsdesk.store.told_changes import plain_columns, table_of, tell_change

CODES: dict[str, Kind] = {
    "container": Kind.TAG,
    "bag": Kind.BAG,
    "piece": Kind.PIECE,
    "box": Kind.BOX,
    "place": Kind.PLACE,
    "loan": Kind.LOAN,
}
"""The kinds of things that are scanned, with the letter of their codes."""
_SERIES_WITHIN = {"piece": "piece", "found_object": "object", "discard_list": "discards", "hand_over": "hand-over"}
_SERIES = {"lab_sample": "sample"}


def given_twice(deed: Deed, one: Twice) -> tuple[str, Any]:
    """Return the column in which two things have the same number or code, and what it says in the one that keeps it."""
    column = next(name for name in reversed(one.columns) if not table_of(one.kind).columns[name].foreign_keys)
    there = plain_columns(deed.session, one.kind, one.keeps, [column])
    assert there is not None
    return column, there[column]


def give_another(deed: Deed, one: Twice) -> Any:
    """Give the second thing another number or code; returns it."""
    column, was = given_twice(deed, one)
    new = _another(deed, one, column, was)
    tell_change(deed.session, deed.changes, one.kind, one.gives_way, with_what_follows(one.kind, column, new))
    return new


def with_what_follows(kind: str, column: str, value: Any) -> dict[str, Any]:
    """Return a number with the forms in which it is sorted and looked for."""
    columns = table_of(kind).columns
    values = {column: value}
    if f"{column}_key" in columns:
        values[f"{column}_key"] = sort_key(str(value))
    if f"{column}_folded" in columns:
        values[f"{column}_folded"] = folded(str(value))
    return values


def _another(deed: Deed, one: Twice, column: str, was: Any) -> Any:
    table = table_of(one.kind)
    if column == "code" and one.kind in CODES:
        return _another_code(deed, one.kind)
    if isinstance(was, int):
        return _another_number(deed, one, column)
    if one.kind == "container":
        return free_numbers(deed, _text(deed, one, "scope"), 1)[0]
    taken = set(deed.session.execute(select(table.c[column])).scalars())
    return next(name for name in (f"{was} {n}" for n in range(2, 10_000)) if name not in taken)


def _text(deed: Deed, one: Twice, column: str) -> str:
    said = plain_columns(deed.session, one.kind, one.gives_way, [column])
    return str(said[column]) if said else ""


def _another_code(deed: Deed, kind: str) -> str:
    table, station_id = table_of(kind), deed.desk.station_id
    letter = CODES[kind]
    while True:
        serial = take_numbers(deed.session, f"serial:{letter.value}", 1, station_id=station_id)[0]
        code = make_code(deed.desk.facts.code, letter, serial)
        if deed.session.execute(select(table.c.id).where(table.c.code == code)).first() is None:
            return code


def _another_number(deed: Deed, one: Twice, column: str) -> int:
    table = table_of(one.kind)
    within = [name for name in one.columns if name != column]
    same = plain_columns(deed.session, one.kind, one.keeps, within) if within else {}
    wanted = select(func.max(table.c[column])).where(*(table.c[name] == value for name, value in (same or {}).items()))
    number = int(deed.session.execute(wanted).scalar_one()) + 1
    series = _SERIES.get(one.kind, one.kind)
    if within:
        series = f"{_SERIES_WITHIN.get(one.kind, one.kind)}:{next(iter((same or {}).values()))}"
    raise_series(deed.session, series, number)
    return number
