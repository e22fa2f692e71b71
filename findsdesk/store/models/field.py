"""What the field knows: deposits, their former numbers, and blocks of tags."""

from datetime import date, datetime

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
