"""Containers, their parts, their dated steps, counts and ledger entries."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable, Fact, Journaled, Searched


class Container(Searched, Editable, Base):
    """What one tag stands for. The code is for ever; number, deposit, square and date may be corrected."""

    __tablename__ = "container"
    __table_args__ = (
        UniqueConstraint("code"),
        UniqueConstraint("scope", "number"),
        Index(None, "standing", "number_key"),
        Index(None, "standing", "material", "season_id"),
        Index(None, "material", "number_key"),
        Index(None, "collected_on", "number_key"),
        Index(None, "search_text", "deposit_id", "number_key"),
    )

    SEARCHED = ("number", "code", "description")

    code: Mapped[str]
    season_id: Mapped[int] = mapped_column(ForeignKey("season.id"))
    scope: Mapped[str]
    """Within what the number is used once: the excavation, a season or a season's square."""
    number: Mapped[str]
    number_key: Mapped[str] = mapped_column(index=True)
    number_folded: Mapped[str] = mapped_column(index=True)
    provisional: Mapped[bool] = mapped_column(default=False, index=True)
    deposit_id: Mapped[int | None] = mapped_column(ForeignKey("deposit.id"), index=True)
    square_id: Mapped[int | None] = mapped_column(ForeignKey("square.id"), index=True)
    collected_on: Mapped[date | None]
    supervisor_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    material: Mapped[str]
    description: Mapped[str] = mapped_column(default="")
    standing: Mapped[str]
    """Kept, and proved equal to the fold of the steps."""
    held_for: Mapped[str | None]
    on_list: Mapped[bool] = mapped_column(default=False)
    arrived_at: Mapped[datetime | None] = mapped_column(index=True)
    tag_copy: Mapped[int] = mapped_column(default=1)
    block_id: Mapped[int | None] = mapped_column(ForeignKey("tag_block.id"))
    from_container_id: Mapped[int | None] = mapped_column(ForeignKey("container.id"))
    """The container this one was split off or taken out of."""
    into_container_id: Mapped[int | None] = mapped_column(ForeignKey("container.id"))
    """The container this one was emptied into."""


class Part(Editable, Base):
    """Where one part of a container stands: most have one part, a big one stands in two tubs."""

    __tablename__ = "part"
    __table_args__ = (UniqueConstraint("container_id", "ordinal"), Index(None, "place_kind", "place"))

    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"))
    ordinal: Mapped[int]
    place_kind: Mapped[str]
    """'yard', 'tub', 'tray', 'crate', 'held', 'table' or 'gone'."""
    place: Mapped[str] = mapped_column(default="")
    since: Mapped[datetime]


class Step(Fact, Base):
    """One dated act on a container. Never edited; a later step answers it."""

    __tablename__ = "step"
    __table_args__ = (Index(None, "container_id", "happened_at"), Index(None, "kind", "happened_at"))

    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"))
    kind: Mapped[str]
    happened_at: Mapped[datetime]
    entered_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    entered_by_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    place: Mapped[str] = mapped_column(default="")
    pieces: Mapped[int | None]
    back_to: Mapped[str | None]
    note: Mapped[str] = mapped_column(default="")


class Count(Fact, Base):
    """A number of pieces and grams taken at a moment. The newest stands, the first stays readable."""

    __tablename__ = "count"

    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"), index=True)
    pieces: Mapped[int]
    tenths: Mapped[int | None]
    wet: Mapped[bool] = mapped_column(default=False)
    purpose: Mapped[str]
    happened_at: Mapped[datetime] = mapped_column(index=True)
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class LedgerEntry(Fact, Base):
    """An explanation in the balance: signed whole pieces and tenths of a gram, never edited, only answered."""

    __tablename__ = "ledger_entry"

    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"), index=True)
    material: Mapped[str]
    kind: Mapped[str]
    pieces: Mapped[int]
    tenths: Mapped[int] = mapped_column(default=0)
    other_container_id: Mapped[int | None] = mapped_column(ForeignKey("container.id"))
    answers_id: Mapped[int | None] = mapped_column(ForeignKey("ledger_entry.id"))
    why: Mapped[str] = mapped_column(default="")
    happened_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class Note(Journaled, Base):
    """Something said about a container that moves nothing, e.g. a difference between tag and list to ask about."""

    __tablename__ = "note"

    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"), index=True)
    kind: Mapped[str]
    facts: Mapped[dict[str, Any]]
    happened_at: Mapped[datetime]
    answered_at: Mapped[datetime | None]
    answer: Mapped[str] = mapped_column(default="")
