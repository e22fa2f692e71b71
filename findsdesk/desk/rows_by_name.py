"""Rows named as people know them: a container by its number, somebody by the name, not by the store's own ids."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import InstrumentedAttribute, Session

from findsdesk.store.models import (
    Bag,
    Container,
    Deposit,
    Form,
    FoundObject,
    Period,
    Person,
    Photo,
    Piece,
    Season,
    Square,
    Station,
    Ware,
)

Thing = tuple[str, int]
"""A kind of row and an id."""

_NAMES: Mapping[str, tuple[InstrumentedAttribute[int], InstrumentedAttribute[str]]] = {
    "container": (Container.id, Container.number),
    "deposit": (Deposit.id, Deposit.number),
    "square": (Square.id, Square.name),
    "season": (Season.id, Season.name),
    "person": (Person.id, Person.name),
    "ware": (Ware.id, Ware.code),
    "period": (Period.id, Period.code),
    "bag": (Bag.id, Bag.code),
    "form": (Form.id, Form.code),
    "piece": (Piece.id, Piece.code),
    "found_object": (FoundObject.id, FoundObject.what),
    "station": (Station.id, Station.name),
    "photo": (Photo.id, Photo.file_name),
}
POINTS_AT: Mapping[str, str] = {
    "container_id": "container",
    "from_container_id": "container",
    "into_container_id": "container",
    "other_container_id": "container",
    "deposit_id": "deposit",
    "merged_into_id": "deposit",
    "square_id": "square",
    "season_id": "season",
    "person_id": "person",
    "supervisor_id": "person",
    "entered_by_id": "person",
    "ware_id": "ware",
    "main_id": "period",
    "earlier_id": "period",
    "latest_id": "period",
    "bag_id": "bag",
    "form_id": "form",
    "piece_id": "piece",
    "left_id": "piece",
    "right_id": "piece",
    "object_id": "found_object",
    "station_id": "station",
}
"""Columns that point at a row which people know by a name."""


def names_of(session: Session, things: Iterable[Thing]) -> dict[Thing, str]:
    """Return the names of rows as they are now; what has none, or is gone, is left out."""
    wanted: dict[str, set[int]] = {}
    for kind, row_id in things:
        if kind in _NAMES:
            wanted.setdefault(kind, set()).add(row_id)
    names: dict[Thing, str] = {}
    for kind, ids in wanted.items():
        key, name = _NAMES[kind]
        for row_id, said in session.execute(select(key, name).where(key.in_(ids))):
            names[(kind, row_id)] = said
    return names


def things_in(values: Mapping[str, Any] | None) -> Iterable[Thing]:
    """Return what the values of a row point at."""
    for column, value in (values or {}).items():
        if column in POINTS_AT and isinstance(value, int):
            yield (POINTS_AT[column], value)


def with_names(values: Mapping[str, Any] | None, names: Mapping[Thing, str]) -> dict[str, Any] | None:
    """Return the values of a row with names where they point at something."""
    if values is None:
        return None
    return {
        column: names.get((POINTS_AT[column], value), value) if column in POINTS_AT and value is not None else value
        for column, value in values.items()
    }
