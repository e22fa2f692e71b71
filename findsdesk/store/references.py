"""Which rows point at a row: asked before it is taken away or merged into another."""

from __future__ import annotations

from functools import cache

from sqlalchemy import Column, Table, func, select
from sqlalchemy.orm import Session

from findsdesk.store.every_table import every_table
from findsdesk.store.models import WareTotal


@cache
def pointing_at(table: str) -> tuple[tuple[Table, Column[int]], ...]:
    """Return the columns that point at a table, with their own tables."""
    return tuple(
        (one, column)
        for one in every_table()
        for column in one.columns
        for key in column.foreign_keys
        if key.column.table.name == table
    )


def references_to(session: Session, table: str, row_id: int) -> dict[str, int]:
    """Return how many rows of each table point at a row of a table; kept totals that are empty do not count."""
    found: dict[str, int] = {}
    for one, column in pointing_at(table):
        wanted = select(func.count()).select_from(one).where(column == row_id)
        if one is WareTotal.__table__:
            wanted = wanted.where((WareTotal.pieces != 0) | (WareTotal.tenths != 0))
        if number := session.execute(wanted).scalar_one():
            found[one.name] = found.get(one.name, 0) + number
    return found
