"""What the field knows: deposits, their former numbers, blocks of tags, lists taken in and rows set aside."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable, Journaled, Searched


class Deposit(Searched, Editable, Base):
    """A stratigraphic unit. Its number may change; its id never does."""

    __tablename__ = "deposit"
    __table_args__ = (Index(None, "search_text"),)

    SEARCHED = ("number", "description")

    number: Mapped[str]
    number_key: Mapped[str] = mapped_column(index=True)
    number_folded: Mapped[str] = mapped_column(index=True)
    square_id: Mapped[int] = mapped_column(ForeignKey("square.id"), index=True)
    kind: Mapped[str]
    opened: Mapped[date] = mapped_column(index=True)
    closed: Mapped[date | None]
    supervisor_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    description: Mapped[str] = mapped_column(default="")
    opening_mm: Mapped[int | None]
    closing_mm: Mapped[int | None]
    security: Mapped[str]
    soil: Mapped[str] = mapped_column(default="")
    """The soil that was dug: litres (480 l), buckets and their litres (40 × 12 l) or a layer (2 × 1.5 × 0.3 m)."""
    merged_into_id: Mapped[int | None] = mapped_column(ForeignKey("deposit.id"), index=True)


class FormerNumber(Journaled, Base):
    """A number a deposit once had, or the number of one merged into it: the concordance."""

    __tablename__ = "former_number"

    deposit_id: Mapped[int] = mapped_column(ForeignKey("deposit.id"), index=True)
    number: Mapped[str]
    number_folded: Mapped[str] = mapped_column(index=True)
    now: Mapped[str]
    how: Mapped[str]
    """'renumbered', 'merged' or 'split'."""
    reason: Mapped[str]
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"))
    happened_at: Mapped[datetime]


class TagBlock(Journaled, Base):
    """Tags issued in number order to one supervisor before the day."""

    __tablename__ = "tag_block"

    season_id: Mapped[int] = mapped_column(ForeignKey("season.id"))
    supervisor_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    square_id: Mapped[int | None] = mapped_column(ForeignKey("square.id"))
    first_number: Mapped[str]
    last_number: Mapped[str]
    issued_at: Mapped[datetime]


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
