"""Objects, samples, joins of sherds, and photographs of all of them."""

from datetime import date, datetime
from typing import ClassVar

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable, Searched


class SherdJoin(Editable, Base):
    """Two pieces that fit together, in whatever containers they lie; changes no count."""

    __tablename__ = "sherd_join"
    __table_args__ = (UniqueConstraint("left_id", "right_id"),)

    left_id: Mapped[int] = mapped_column(ForeignKey("piece.id"))
    """The one of the two with the lower id."""
    right_id: Mapped[int] = mapped_column(ForeignKey("piece.id"), index=True)
    sure: Mapped[bool] = mapped_column(default=True)
    note: Mapped[str] = mapped_column(default="")
    found_at: Mapped[datetime] = mapped_column(index=True)
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class FoundObject(Searched, Editable, Base):
    """A coin or other find with a number of its season's object series, in a container of its own."""

    __tablename__ = "found_object"
    __table_args__ = (UniqueConstraint("season_id", "number"), Index(None, "search_text"))

    SEARCHED: ClassVar[tuple[str, ...]] = ("what", "made_of", "description")

    season_id: Mapped[int] = mapped_column(ForeignKey("season.id"))
    number: Mapped[int]
    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"), index=True)
    """Its own container, with a tag, which takes the route of its material."""
    what: Mapped[str]
    made_of: Mapped[str] = mapped_column(default="")
    """The word for its material as somebody wrote it (bronze), where its container's route says less (metal)."""
    description: Mapped[str] = mapped_column(default="")
    tenths: Mapped[int | None]
    told_at: Mapped[datetime | None] = mapped_column(index=True)
    """When the director said that they know of it; until then it stands on the day page."""
    earliest: Mapped[int | None]
    latest: Mapped[int | None]
    found_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class LabSample(Editable, Base):
    """What was taken off a piece or out of a container for analysis: grams, laboratory, permit, rest and result."""

    __tablename__ = "lab_sample"
    __table_args__ = (UniqueConstraint("number"),)

    number: Mapped[int]
    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"), index=True)
    piece_id: Mapped[int | None] = mapped_column(ForeignKey("piece.id"), index=True)
    what_for: Mapped[str]
    taken_tenths: Mapped[int | None]
    pieces_used: Mapped[int] = mapped_column(default=0)
    """Whole sherds used up, which the ledger holds as an entry of its own."""
    laboratory: Mapped[str] = mapped_column(default="")
    permit: Mapped[str] = mapped_column(default="")
    sent_on: Mapped[date | None]
    back_on: Mapped[date | None]
    rest_tenths: Mapped[int | None]
    used_up_on: Mapped[date | None]
    """When nothing of it was left."""
    result: Mapped[str] = mapped_column(default="")
    taken_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class Photo(Editable, Base):
    """A photograph in the store's folder, named by the SHA-256 of its bytes, of one thing."""

    __tablename__ = "photo"

    sha256: Mapped[str] = mapped_column(index=True)
    file_name: Mapped[str]
    """As it was named when it was taken in."""
    kind: Mapped[str]
    """'jpeg', 'png' or 'tiff'."""
    width: Mapped[int]
    height: Mapped[int]
    size_bytes: Mapped[int]
    taken_on: Mapped[datetime | None]
    piece_id: Mapped[int | None] = mapped_column(ForeignKey("piece.id"), index=True)
    object_id: Mapped[int | None] = mapped_column(ForeignKey("found_object.id"), index=True)
    container_id: Mapped[int | None] = mapped_column(ForeignKey("container.id"), index=True)
    deposit_id: Mapped[int | None] = mapped_column(ForeignKey("deposit.id"), index=True)
    vessel_id: Mapped[int | None] = mapped_column(ForeignKey("vessel.id"), index=True)
    ware_id: Mapped[int | None] = mapped_column(ForeignKey("ware.id"), index=True)
    form_id: Mapped[int | None] = mapped_column(ForeignKey("form.id"), index=True)
    discard_list_id: Mapped[int | None] = mapped_column(ForeignKey("discard_list.id"), index=True)
    note: Mapped[str] = mapped_column(default="")
    taken_in_at: Mapped[datetime] = mapped_column(index=True)
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
