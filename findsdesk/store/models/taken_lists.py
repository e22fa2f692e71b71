"""Field lists that were taken in, how their columns were matched, and rows set aside."""

from datetime import datetime
from typing import Any

from sqlalchemy import Index
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable, Journaled


class ColumnMatch(Editable, Base):
    """How the columns of a kind of field list were matched last time."""

    __tablename__ = "column_match"

    headers: Mapped[str] = mapped_column(unique=True)
    mapping: Mapped[dict[str, Any]]
    day_order: Mapped[str | None]


class TakenList(Journaled, Base):
    """A field list that was taken in, known by the hash of its file."""

    __tablename__ = "taken_list"

    digest: Mapped[str] = mapped_column(index=True)
    file_name: Mapped[str]
    rows_taken: Mapped[int]
    rows_set_aside: Mapped[int]
    taken_at: Mapped[datetime]


class RowSetAside(Editable, Base):
    """A row of a field list with an open question; the rest of its list went in."""

    __tablename__ = "row_set_aside"

    digest: Mapped[str] = mapped_column(index=True)
    file_name: Mapped[str]
    line_number: Mapped[int]
    row: Mapped[dict[str, Any]]
    doubts: Mapped[dict[str, Any]]
    answered_at: Mapped[datetime | None]
    answer: Mapped[str | None]

    __table_args__ = (Index(None, "digest", "line_number"),)
