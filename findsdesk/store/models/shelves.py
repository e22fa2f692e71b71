"""Where things lie: places, boxes, what lay where since when, what was taken out, moves, and stock-takes."""

from datetime import date, datetime

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable, Fact


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


class Lay(Fact, Base):
    """A bag or a box was laid into a box or at a place; where it lay before is told by the one before."""

    __tablename__ = "lay"
    __table_args__ = (Index(None, "bag_id", "entered_at"), Index(None, "box_id", "entered_at"))

    bag_id: Mapped[int | None] = mapped_column(ForeignKey("bag.id"))
    box_id: Mapped[int | None] = mapped_column(ForeignKey("box.id"))
    in_box_id: Mapped[int | None] = mapped_column(ForeignKey("box.id"), index=True)
    at_place_id: Mapped[int | None] = mapped_column(ForeignKey("place.id"), index=True)
    """Neither box nor place: taken out of its box and laid nowhere yet."""
    transport_id: Mapped[int | None] = mapped_column(ForeignKey("transport.id"), index=True)
    why: Mapped[str] = mapped_column(default="")
    happened_at: Mapped[datetime]
    entered_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class TakenOut(Editable, Base):
    """A box or bag away from where it belongs, at a table or with a person, and when it came back."""

    __tablename__ = "taken_out"

    box_id: Mapped[int | None] = mapped_column(ForeignKey("box.id"), index=True)
    bag_id: Mapped[int | None] = mapped_column(ForeignKey("bag.id"), index=True)
    to_place_id: Mapped[int] = mapped_column(ForeignKey("place.id"), index=True)
    why: Mapped[str] = mapped_column(default="")
    since: Mapped[datetime] = mapped_column(index=True)
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    back_at: Mapped[datetime | None] = mapped_column(index=True)
    back_by_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class Transport(Editable, Base):
    """Boxes, a shelf or a whole room that move together: checked where they left and where they arrived."""

    __tablename__ = "transport"
    __table_args__ = (UniqueConstraint("number"),)

    number: Mapped[int]
    to_place_id: Mapped[int] = mapped_column(ForeignKey("place.id"), index=True)
    moved_place_id: Mapped[int | None] = mapped_column(ForeignKey("place.id"), index=True)
    """The shelf or room that moved as a whole."""
    note: Mapped[str] = mapped_column(default="")
    left_at: Mapped[datetime] = mapped_column(index=True)
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    arrived_at: Mapped[datetime | None] = mapped_column(index=True)
    """When the last of its things was checked at the other end."""


class TransportLine(Editable, Base):
    """One box or loose bag of a transport."""

    __tablename__ = "transport_line"

    transport_id: Mapped[int] = mapped_column(ForeignKey("transport.id"), index=True)
    box_id: Mapped[int | None] = mapped_column(ForeignKey("box.id"), index=True)
    bag_id: Mapped[int | None] = mapped_column(ForeignKey("bag.id"), index=True)
    from_place_id: Mapped[int | None] = mapped_column(ForeignKey("place.id"))
    checked_out: Mapped[bool] = mapped_column(default=False)
    """Whether it was scanned where it left; otherwise the store's word was taken."""
    arrived_at: Mapped[datetime | None] = mapped_column(index=True)
    arrived_by_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class StockTake(Editable, Base):
    """Somebody goes along the shelves of a place and scans what is there."""

    __tablename__ = "stock_take"
    __table_args__ = (UniqueConstraint("number"),)

    number: Mapped[int]
    place_id: Mapped[int] = mapped_column(ForeignKey("place.id"), index=True)
    begun_at: Mapped[datetime] = mapped_column(index=True)
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    closed_at: Mapped[datetime | None] = mapped_column(index=True)


class StockScan(Fact, Base):
    """One thing met in a stock-take, or missed when it was closed, with where it should have been at that moment."""

    __tablename__ = "stock_scan"

    stock_take_id: Mapped[int] = mapped_column(ForeignKey("stock_take.id"), index=True)
    verdict: Mapped[str]
    """A ``domain.shelving.Met``."""
    box_id: Mapped[int | None] = mapped_column(ForeignKey("box.id"), index=True)
    bag_id: Mapped[int | None] = mapped_column(ForeignKey("bag.id"), index=True)
    seen_in_box_id: Mapped[int | None] = mapped_column(ForeignKey("box.id"))
    seen_at_place_id: Mapped[int | None] = mapped_column(ForeignKey("place.id"))
    belongs_in_box_id: Mapped[int | None] = mapped_column(ForeignKey("box.id"))
    belongs_at_place_id: Mapped[int | None] = mapped_column(ForeignKey("place.id"))
    happened_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
