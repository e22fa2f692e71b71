"""The table of a field list before its columns are known: what a person matches by hand."""

from __future__ import annotations

from pathlib import Path

from findsdesk.desk.desk import Desk
from findsdesk.domain.field_lists import column_of
from findsdesk.domain.raw_tables import RawTable
from findsdesk.exchange.tables import read_table


def list_table(desk: Desk, path: Path, *, encoding: str | None = None, sheet: str | None = None) -> RawTable:
    """Return the table in a file, its headers known by the excavation's own words; refusals as for reading a table."""
    return read_table(
        path, encoding=encoding, sheet=sheet, is_known=lambda header: column_of(header, desk.terms) is not None
    )
