"""Bags of kept finds."""

from datetime import datetime

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable


class Bag(Editable, Base):
    """A bag of kept finds with its own code."""

    __tablename__ = "bag"
    __table_args__ = (UniqueConstraint("code"),)

    code: Mapped[str]
    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"), index=True)
    what: Mapped[str]
    pieces: Mapped[int]
    tenths: Mapped[int | None]
    gross_tenths: Mapped[int | None]
    """The bag as it was weighed, whole; None where nobody did and its finds' grams stand for it."""
    volume_ml: Mapped[int | None]
    """Measured; None where it is reckoned from its grams by its material."""
    box_id: Mapped[int | None] = mapped_column(ForeignKey("box.id"), index=True)
    place_id: Mapped[int | None] = mapped_column(ForeignKey("place.id"), index=True)
    """In a box, or loose at a place, or neither yet. Both follow from its newest ``Lay``."""
    packed_at: Mapped[datetime] = mapped_column(index=True)
    label_copy: Mapped[int] = mapped_column(default=0)
    """How many labels came out well: 0 means not yet labelled."""
    labelled_at: Mapped[datetime | None] = mapped_column(index=True)
