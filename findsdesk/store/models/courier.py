"""What stores without a network between them brought each other, and what they said differently of the same row."""

from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable, Fact, RowId


class CourierPassed(Fact, Base):
    """A store was made for another station, its courier file was taken in, or the station was called back."""

    __tablename__ = "courier_passed"

    what: Mapped[str]
    """'made', 'taken' or 'called back'."""
    station_id: Mapped[int] = mapped_column(ForeignKey("station.id"), index=True)
    """The other station."""
    heads: Mapped[dict[str, Any]]
    """How far each station's chain was known there then: running numbers by the station's number."""
    digest: Mapped[str] = mapped_column(default="")
    """The SHA-256 of the file that was taken in."""
    acts: Mapped[int] = mapped_column(default=0)
    """How many acts came along that were not here yet."""
    happened_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class Clash(Editable, Base):
    """Two stores said different things of the same row before they met; what stands is listed until somebody decides.

    Its id follows from what clashes, so that both stores find the same one.
    """

    __tablename__ = "clash"
    __table_args__ = (Index(None, "decided_at", "id"),)

    what: Mapped[str]
    """'values' (the same row changed), 'gone' (taken away in one, used in the other), 'number' (given twice), 'figures'
    (counted or sorted in both), 'emptied' (counted as empty in one, sorted in the other), 'packed', 'lent' or 'marked'
    (done in both, of which one stands)."""
    kind: Mapped[str]
    """The table of the row."""
    row_id: Mapped[int] = mapped_column(RowId)
    other_row_id: Mapped[int | None] = mapped_column(RowId)
    """The second row that has the same number."""
    one_station_id: Mapped[int] = mapped_column(ForeignKey("station.id"))
    one: Mapped[dict[str, Any]]
    """What the first of the two stations said."""
    other_station_id: Mapped[int] = mapped_column(ForeignKey("station.id"))
    other: Mapped[dict[str, Any]]
    """What the second said."""
    found_at: Mapped[datetime]
    decided_at: Mapped[datetime | None]
    decided_by_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    choice: Mapped[str] = mapped_column(default="")
    """The station whose word stands, or 'both'."""
