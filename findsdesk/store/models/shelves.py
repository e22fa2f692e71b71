"""Where things lie: places and boxes."""

from datetime import date, datetime

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable


class Place(Editable, Base):
    """A building, room, shelf, table or person that things are at; each lies within another or is the outermost."""

    __tablename__ = "place"
    __table_args__ = (UniqueConstraint("code"),)

    code: Mapped[str]
    name: Mapped[str]
    name_key: Mapped[str] = mapped_column(index=True)
    name_folded: Mapped[str] = mapped_column(index=True)
    kind: Mapped[str]
    """A ``domain.shelving.PlaceKind``."""
    parent_id: Mapped[int | None] = mapped_column(ForeignKey("place.id"), index=True)
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"), index=True)
    """Whoever of the team the place is; None for a room, or for somebody from outside."""
    holds_boxes: Mapped[int | None]
    """How many boxes there is room for; None where nobody said."""
    note: Mapped[str] = mapped_column(default="")
    made_at: Mapped[datetime]
    gone_at: Mapped[datetime | None]
    """When it was given up, empty; its code is never used again."""
    label_copy: Mapped[int] = mapped_column(default=0)
    labelled_at: Mapped[datetime | None]


class Box(Editable, Base):
    """A box with its rule of what may lie in it, its weight limit and its inside size."""

    __tablename__ = "box"
    __table_args__ = (UniqueConstraint("code"), UniqueConstraint("number"))

    code: Mapped[str]
    number: Mapped[int]
    kind: Mapped[str]
    """The key of the box's rule (resources/boxes.toml)."""
    limit_tenths: Mapped[int]
    """The most it may weigh, box and all, in tenths of a gram."""
    empty_tenths: Mapped[int] = mapped_column(default=0)
    """What the empty box weighs."""
    length_mm: Mapped[int]
    width_mm: Mapped[int]
    height_mm: Mapped[int]
    """The inside size."""
    place_id: Mapped[int | None] = mapped_column(ForeignKey("place.id"), index=True)
    """Where it belongs; ``TakenOut`` says when it is elsewhere. Follows from its newest ``Lay``."""
    desiccant_on: Mapped[date | None]
    """When desiccant was laid in or renewed, where its kind asks for it."""
    note: Mapped[str] = mapped_column(default="")
    made_at: Mapped[datetime] = mapped_column(index=True)
    gone_at: Mapped[datetime | None]
    label_copy: Mapped[int] = mapped_column(default=0)
    labelled_at: Mapped[datetime | None]
    label_says: Mapped[str] = mapped_column(default="")
    """What its label says of kind, contents and weight; another text by now means that it is to be printed again."""
