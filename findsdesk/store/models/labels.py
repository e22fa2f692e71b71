"""What is printed: runs of the printer, their labels, the excavation's layouts, and what must be written again."""

from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable, Journaled


class Printing(Editable, Base):
    """One run of a printer: what, on which stock, and whether somebody said it came out well."""

    __tablename__ = "printing"

    kind: Mapped[str]
    stock: Mapped[str]
    head: Mapped[str]
    printed_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    came_out_at: Mapped[datetime | None]
    """When somebody said that they came out well; None where they were spoiled."""
    reason: Mapped[str] = mapped_column(default="")
    """Why they were printed again, where they were."""
    spoiled: Mapped[str] = mapped_column(default="")
    """Why they did not come out well: such a paper may lie about, so its copy is not given again."""


class LabelLayout(Editable, Base):
    """What the excavation puts on a kind of label in place of the layout that ships (paper/layouts.py)."""

    __tablename__ = "label_layout"
    __table_args__ = (UniqueConstraint("kind"),)

    kind: Mapped[str]
    layout: Mapped[dict[str, Any]]
    """Plain values, spelled as in resources/layouts."""


class PrintedLabel(Journaled, Base):
    """One label of a printing: what it stands for, and its page and place."""

    __tablename__ = "printed_label"

    printing_id: Mapped[int] = mapped_column(ForeignKey("printing.id"), index=True)
    container_id: Mapped[int | None] = mapped_column(ForeignKey("container.id"), index=True)
    """None for a box, a place or a loan: its code says which."""
    bag_id: Mapped[int | None] = mapped_column(ForeignKey("bag.id"), index=True)
    code: Mapped[str] = mapped_column(index=True)
    page: Mapped[int]
    place: Mapped[int]
    copy: Mapped[int]
    printed_at: Mapped[datetime] = mapped_column(index=True)
    """When its printing was: the register's order. Ids tell no time, for each station counts its own."""


class Redo(Editable, Base):
    """A tag, label or inked mark that says something no longer true and must be written again."""

    __tablename__ = "redo"

    what: Mapped[str]
    """'tag', 'label', 'piece', 'mark' or 'slip'."""
    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"), index=True)
    bag_id: Mapped[int | None] = mapped_column(ForeignKey("bag.id"))
    piece_id: Mapped[int | None] = mapped_column(ForeignKey("piece.id"))
    """The piece whose label is meant; None for all else."""
    pieces: Mapped[int] = mapped_column(default=1)
    """How many marks are meant; 1 for a tag or a label."""
    said: Mapped[str]
    says_now: Mapped[str]
    why: Mapped[str]
    asked_at: Mapped[datetime]
    done_at: Mapped[datetime | None] = mapped_column(index=True)
