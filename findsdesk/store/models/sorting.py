"""What the sorting table leaves: sherd groups, bags, printings; and the kept totals."""

from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable, Journaled, RowId


class SherdGroup(Editable, Base):
    """Sherds of one container recorded together."""

    __tablename__ = "sherd_group"
    __table_args__ = (Index(None, "container_id", "ordinal"),)

    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"))
    ordinal: Mapped[int]
    ware_id: Mapped[int | None] = mapped_column(ForeignKey("ware.id"), index=True)
    form_id: Mapped[int | None] = mapped_column(ForeignKey("form.id"), index=True)
    part: Mapped[str]
    surface: Mapped[str] = mapped_column(default="")
    decoration: Mapped[str] = mapped_column(default="")
    condition: Mapped[str] = mapped_column(default="")
    """Keys of the list of conditions with a blank between them."""
    pieces: Mapped[int]
    tenths: Mapped[int | None]
    rim_permille: Mapped[int | None]
    """All rims of the group together: 1000 is one whole rim."""
    base_permille: Mapped[int | None]
    decision: Mapped[str]
    reason: Mapped[str] = mapped_column(default="")
    rule: Mapped[str] = mapped_column(default="")
    """The name of the retention rule that proposed the decision; nothing where nobody's rule did."""
    diagnostic: Mapped[bool] = mapped_column(default=False)
    """By the excavation's rule when the group was written."""
    discarded: Mapped[bool] = mapped_column(default=False)
    """True once the discard list it stands on was signed."""
    vessel_id: Mapped[int | None] = mapped_column(ForeignKey("vessel.id"), index=True)
    note: Mapped[str] = mapped_column(default="")


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


_LIES_BY_KEY = {"sqlite_with_rowid": False}
"""A row lies where its key is looked up: sums over many totals need no second look."""


class BalanceTotal(Base):
    """The ledger of one container and material, kept by store/totals.py alone and proved by ``prove``."""

    __tablename__ = "balance_total"
    __table_args__ = _LIES_BY_KEY

    container_id: Mapped[int] = mapped_column(RowId, ForeignKey("container.id"), primary_key=True, autoincrement=False)
    material: Mapped[str] = mapped_column(primary_key=True)
    counted: Mapped[int] = mapped_column(default=0)
    found_more: Mapped[int] = mapped_column(default=0)
    arrived: Mapped[int] = mapped_column(default=0)
    kept: Mapped[int] = mapped_column(default=0)
    on_hold: Mapped[int] = mapped_column(default=0)
    to_discard: Mapped[int] = mapped_column(default=0)
    discarded: Mapped[int] = mapped_column(default=0)
    used_up: Mapped[int] = mapped_column(default=0)
    moved_out: Mapped[int] = mapped_column(default=0)
    not_a_sherd: Mapped[int] = mapped_column(default=0)
    not_found: Mapped[int] = mapped_column(default=0)
    counted_tenths: Mapped[int] = mapped_column(default=0)
    accounted_tenths: Mapped[int] = mapped_column(default=0)


class WareTotal(Base):
    """Pieces and tenths of a gram by deposit and ware, kept by store/totals.py alone and proved by ``prove``."""

    __tablename__ = "ware_total"
    __table_args__ = _LIES_BY_KEY

    deposit_id: Mapped[int] = mapped_column(RowId, ForeignKey("deposit.id"), primary_key=True, autoincrement=False)
    ware_id: Mapped[int] = mapped_column(RowId, ForeignKey("ware.id"), primary_key=True, autoincrement=False)
    pieces: Mapped[int] = mapped_column(default=0)
    tenths: Mapped[int] = mapped_column(default=0)
