"""The table of a field list before its columns are known: what a person matches by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import select

from findsdesk.desk.desk import Desk
from findsdesk.domain.field_lists import column_of
from findsdesk.domain.raw_tables import RawTable
from findsdesk.exchange.tables import read_table
from findsdesk.store.models import ColumnMatch


@dataclass(frozen=True, slots=True)
class ListTable:
    """A table as it came in, and how its headers were matched the last time a list had the same."""

    table: RawTable
    remembered: Mapping[str, str] | None


def list_table(desk: Desk, path: Path, *, encoding: str | None = None, sheet: str | None = None) -> ListTable:
    """Return the table in a file, its headers known by the excavation's own words; refusals as for reading a table."""
    table = read_table(
        path, encoding=encoding, sheet=sheet, is_known=lambda header: column_of(header, desk.terms) is not None
    )
    with desk.reading() as reading:
        remembered = reading.session.execute(
            select(ColumnMatch.mapping).where(ColumnMatch.headers == "\t".join(table.headers))
        ).scalar()
    return ListTable(table, remembered)
