"""The end of a season: the lists of what stays open, signed by two and carried over."""

from datetime import datetime

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Fact, RowId


class HandOver(Fact, Base):
    """A list of what stays open in a season, signed by two people and carried over."""

    __tablename__ = "hand_over"
    __table_args__ = (UniqueConstraint("season_id", "number"),)

    season_id: Mapped[int] = mapped_column(ForeignKey("season.id"))
    number: Mapped[int]
    signed_at: Mapped[datetime]
    first_id: Mapped[int] = mapped_column(ForeignKey("person.id"))
    second_id: Mapped[int] = mapped_column(ForeignKey("person.id"))
    lines: Mapped[int]
    """How many lines were signed for."""
    note: Mapped[str] = mapped_column(default="")


class HandOverLine(Fact, Base):
    """One thing that stayed open when a list was signed, as it was called then."""

    __tablename__ = "hand_over_line"
    __table_args__ = (Index(None, "requirement", "subject", "subject_id"),)

    hand_over_id: Mapped[int] = mapped_column(ForeignKey("hand_over.id"), index=True)
    requirement: Mapped[str]
    """The key of the requirement (resources/hand_over.toml)."""
    subject: Mapped[str]
    """The kind of row: 'container', 'piece', 'bag', 'loan_line' …"""
    subject_id: Mapped[int] = mapped_column(RowId)
    """Its id; it may be gone since."""
    container_id: Mapped[int | None] = mapped_column(ForeignKey("container.id"), index=True)
    number: Mapped[str]
    part: Mapped[int]
    """The number of a piece in its container, of a line in its loan or list; 0 where there is none."""
    pieces: Mapped[int]
    stays_as: Mapped[str] = mapped_column(default="")
    """How a container is carried over: 'boxed unwashed', 'boxed unread' or nothing."""
