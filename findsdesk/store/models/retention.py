"""What is kept and what is not: the policy, shares drawn, notes of discards, what stayed in the trench, and PINs."""

from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable, Fact, RowId


class RetentionRule(Editable, Base):
    """One rule of what is kept and what is discarded; the first that fits a group proposes its decision."""

    __tablename__ = "retention_rule"
    __table_args__ = (UniqueConstraint("name"),)

    position: Mapped[int]
    name: Mapped[str]
    fits: Mapped[dict[str, Any]]
    """What a group must be: lists of parts, wares, forms, conditions, securities; an absent list fits everything."""
    decision: Mapped[str]
    reason: Mapped[str] = mapped_column(default="")
    one_in: Mapped[int | None]
    """Keeps one sherd of this many and lets the decision stand for the others; None keeps no share."""
    at_least: Mapped[int | None]
    """At least so many of a deposit are kept before the decision stands."""
    in_force: Mapped[bool] = mapped_column(default=True)


class ShareDrawn(Fact, Base):
    """A share drawn from sherds laid out in a row: where it began, each how many-th was kept, what is carried on."""

    __tablename__ = "share_drawn"
    __table_args__ = (Index(None, "deposit_id", "rule_id"),)

    rule_id: Mapped[int] = mapped_column(ForeignKey("retention_rule.id"))
    deposit_id: Mapped[int] = mapped_column(ForeignKey("deposit.id"))
    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"), index=True)
    group_id: Mapped[int] = mapped_column(RowId, index=True)
    """The group that was laid out; it may be gone since."""
    ware_id: Mapped[int | None] = mapped_column(ForeignKey("ware.id"))
    laid_out: Mapped[int]
    """Below 0, as ``kept`` is then, where this answers a draw that was taken back."""
    step: Mapped[int]
    """0 where no share was drawn and only the minimum kept."""
    first: Mapped[int]
    """The place of the first sherd kept, from 1; above ``laid_out`` when none was; 0 where no share was drawn."""
    kept: Mapped[int]
    carried: Mapped[int]
    """How many sherds of the next row are passed over before one is kept again."""
    happened_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class DiscardNote(Fact, Base):
    """What was said of a discard list, above all after its sherds were carried away."""

    __tablename__ = "discard_note"

    list_id: Mapped[int] = mapped_column(ForeignKey("discard_list.id"), index=True)
    text: Mapped[str]
    happened_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class LeftInTrench(Fact, Base):
    """Finds seen and counted in the trench and never collected: another thing than a discard."""

    __tablename__ = "left_in_trench"

    deposit_id: Mapped[int] = mapped_column(ForeignKey("deposit.id"), index=True)
    material: Mapped[str]
    what: Mapped[str]
    pieces: Mapped[int | None]
    """None where they were seen and not counted."""
    tenths: Mapped[int | None]
    why: Mapped[str] = mapped_column(default="")
    answers_id: Mapped[int | None] = mapped_column(ForeignKey("left_in_trench.id"), index=True)
    happened_at: Mapped[datetime] = mapped_column(index=True)
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class PersonPin(Base):
    """The PIN a person signs with, as an argon2id hash; in no line of the journal, which is handed on."""

    __tablename__ = "person_pin"

    person_id: Mapped[int] = mapped_column(RowId, ForeignKey("person.id"), primary_key=True, autoincrement=False)
    pin_hash: Mapped[str]
    failures: Mapped[int] = mapped_column(default=0)
    waits_until: Mapped[datetime | None]
