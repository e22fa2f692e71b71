"""Squares and deposits with their finds counts as layers of a map."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.domain.square_grid import GridPlace, corners_of
from findsdesk.exchange.geopackage import LOCAL, Area, Layer, write_geopackage
from findsdesk.store.models import BalanceTotal, Container, Deposit, FoundObject, Square
from findsdesk.words import N_, put

_FINDS = (
    ("containers", "INTEGER"),
    ("objects", "INTEGER"),
    ("pieces_counted", "INTEGER"),
    ("pieces_kept", "INTEGER"),
    ("pieces_discarded", "INTEGER"),
    ("grams", "REAL"),
)
_NONE = (0, 0, 0, 0, 0, 0.0)


def write_map(moment: Desk, path: Path, grid: GridPlace) -> int:
    """Write the squares and the deposits as a GeoPackage; returns how many features it has.

    A deposit is drawn as the whole square it lies in, since nothing closer is recorded. Squares whose names are no
    letter with a number are in the table and have no area. Refusals: ``grid_impossible``, ``cannot_write``.
    """
    grid.check()
    with moment.reading() as reading:
        layers = (_squares(reading.session, grid, moment), _deposits(reading.session, grid, moment))
        return write_geopackage(layers, path, srs=grid.epsg or LOCAL, now=reading.now)


def _squares(session: Session, grid: GridPlace, desk: Desk) -> Layer:
    finds = _finds_by(session, Container.square_id)
    rows = session.execute(select(Square.id, Square.name).order_by(Square.name_key)).all()
    return Layer(
        "squares",
        put(N_("The squares of the grid with what came out of them"), desk.terms),
        (("name", "TEXT"), *_FINDS),
        [Area(corners_of(name, grid), (name, *finds.get(row_id, _NONE))) for row_id, name in rows],
    )


def _deposits(session: Session, grid: GridPlace, desk: Desk) -> Layer:
    def areas() -> Iterator[Area]:
        finds = _finds_by(session, Container.deposit_id)
        rows = session.execute(
            select(Deposit, Square.name).join(Square, Deposit.square_id == Square.id).order_by(Deposit.number_key)
        )
        for row, square in rows:
            closed = None if row.closed is None else row.closed.isoformat()
            said = (row.number, square, row.kind, row.opened.isoformat(), closed)
            levels = (_metres(row.opening_mm), _metres(row.closing_mm))
            yield Area(corners_of(square, grid), (*said, *levels, *finds.get(row.id, _NONE)))

    columns = (("number", "TEXT"), ("square", "TEXT"), ("kind", "TEXT"), ("opened", "DATE"), ("closed", "DATE"))
    return Layer(
        "deposits",
        put(N_("{Deposits} with what came out of them, each drawn as the whole {square} it lies in"), desk.terms),
        (*columns, ("opening_m", "REAL"), ("closing_m", "REAL"), *_FINDS),
        areas(),
    )


def _metres(millimetres: int | None) -> float | None:
    return None if millimetres is None else millimetres / 1000


def _finds_by(session: Session, column: Any) -> dict[int, tuple[int | float, ...]]:
    """Return containers, objects, pieces counted, kept, discarded, and grams, by what the containers came from."""
    containers = _counts(session, select(column, func.count()).group_by(column))
    objects = _counts(
        session,
        select(column, func.count()).join(FoundObject, FoundObject.container_id == Container.id).group_by(column),
    )
    total = BalanceTotal
    sums = (func.sum(total.counted), func.sum(total.kept), func.sum(total.discarded), func.sum(total.accounted_tenths))
    pieces = session.execute(
        select(column, *sums).join(BalanceTotal, BalanceTotal.container_id == Container.id).group_by(column)
    )
    found = {
        row_id: (int(counted), int(kept), int(discarded), int(tenths) / 10)
        for row_id, counted, kept, discarded, tenths in pieces
    }
    return {
        row_id: (number, objects.get(row_id, 0), *found.get(row_id, (0, 0, 0, 0.0)))
        for row_id, number in containers.items()
    }


def _counts(session: Session, counts: Any) -> dict[int, int]:
    return {row_id: number for row_id, number in session.execute(counts) if row_id is not None}
