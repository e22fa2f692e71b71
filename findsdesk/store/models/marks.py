"""The marks on kept sherds: written, checked, taken off again, or on a slip in a small bag."""

from datetime import datetime

from sqlalchemy import ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Fact, RowId


class MarkEntry(Fact, Base):
    """One tick of the marking list: so many sherds, what their mark said; never edited, only answered."""

    __tablename__ = "mark_entry"
    __table_args__ = (Index(None, "container_id", "kind"),)

    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"))
    piece_id: Mapped[int | None] = mapped_column(RowId, index=True)
    """The piece, where each piece has a mark of its own; it may be gone once the entry was answered."""
    kind: Mapped[str]
    """'written', 'checked', 'wrong' or 'slip'."""
    pieces: Mapped[int]
    """Sherds; an answer takes them back, with a minus."""
    said: Mapped[str]
    """What the mark said when it was written, its lines with " / " between them."""
    why: Mapped[str] = mapped_column(default="")
    """Why a slip and no ink; of an answer, why."""
    instead_of: Mapped[str] = mapped_column(default="")
    """Of a mark or slip written again, what stood there before."""
    answers_id: Mapped[int | None] = mapped_column(ForeignKey("mark_entry.id"), index=True)
    happened_at: Mapped[datetime] = mapped_column(index=True)
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    """Who wrote or checked; an answer is counted to the person whose entry it answers."""
