"""What was laid where since when, what was taken out, moves of many things, and stock-takes."""

from datetime import datetime

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable, Fact


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
