"""Sherds recorded on their own, and the vessels they make."""

from datetime import datetime
from typing import Any, ClassVar

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable, Searched


class Piece(Searched, Editable, Base):
    """A sherd (or sherds that join) lifted out of a group, numbered within its container and with a code of its own.

    Its pieces and grams stand in the balance by its own decision; those of its group no longer count them.
    """

    __tablename__ = "piece"
    __table_args__ = (UniqueConstraint("code"), UniqueConstraint("container_id", "number"), Index(None, "drawing"))

    SEARCHED: ClassVar[tuple[str, ...]] = ("code", "note", "parallels", "drawing")

    code: Mapped[str]
    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"))
    number: Mapped[int]
    """Within the container, from 1; never used again."""
    ware_id: Mapped[int | None] = mapped_column(ForeignKey("ware.id"), index=True)
    form_id: Mapped[int | None] = mapped_column(ForeignKey("form.id"), index=True)
    part: Mapped[str]
    surface: Mapped[str] = mapped_column(default="")
    decoration: Mapped[str] = mapped_column(default="")
    condition: Mapped[str] = mapped_column(default="")
    """Keys of the list of conditions with a blank between them."""
    pieces: Mapped[int] = mapped_column(default=1)
    tenths: Mapped[int | None]
    decision: Mapped[str]
    reason: Mapped[str] = mapped_column(default="")
    rule: Mapped[str] = mapped_column(default="")
    proposed: Mapped[str] = mapped_column(default="")
    """What that rule proposed where somebody decided otherwise; nothing where it is decided as proposed."""
    diagnostic: Mapped[bool] = mapped_column(default=False)
    discarded: Mapped[bool] = mapped_column(default=False)
    """True once the discard list it stands on was signed."""
    rim_permille: Mapped[int | None]
    base_permille: Mapped[int | None]
    rim_diameter_mm: Mapped[int | None]
    base_diameter_mm: Mapped[int | None]
    diameter_method: Mapped[str] = mapped_column(default="")
    """How the diameter of the rim, or where there is none of the base, was found: 'chart', 'chord', 'points' or ''."""
    diameter_uncertainty_mm: Mapped[int | None]
    base_method: Mapped[str] = mapped_column(default="")
    """How the diameter of the base was found beside that of the rim: 'chart', 'chord', 'points' or nothing."""
    base_uncertainty_mm: Mapped[int | None]
    chord_tenths_mm: Mapped[int | None]
    sagitta_tenths_mm: Mapped[int | None]
    height_mm: Mapped[int | None]
    wall_tenths_mm: Mapped[int | None]
    colour_surface: Mapped[str] = mapped_column(default="")
    colour_inside: Mapped[str] = mapped_column(default="")
    colour_core: Mapped[str] = mapped_column(default="")
    colour_slip: Mapped[str] = mapped_column(default="")
    firing: Mapped[str] = mapped_column(default="")
    inclusions: Mapped[list[dict[str, Any]]] = mapped_column(default=list)
    """Each with kind, frequency, size, sorting and rounding by the published charts."""
    earliest: Mapped[int | None]
    latest: Mapped[int | None]
    dated_by: Mapped[str] = mapped_column(default="")
    parallels: Mapped[str] = mapped_column(default="")
    conservation: Mapped[str] = mapped_column(default="")
    drawing: Mapped[str] = mapped_column(default="")
    drawing_wanted: Mapped[bool] = mapped_column(default=False)
    photo_wanted: Mapped[bool] = mapped_column(default=False)
    vessel_id: Mapped[int | None] = mapped_column(ForeignKey("vessel.id"), index=True)
    note: Mapped[str] = mapped_column(default="")
    shared: Mapped[str] = mapped_column(default="")
    """Which of 'grams', 'rim' and 'base' were not measured on it but are its even share of its group's."""
    lifted_at: Mapped[datetime] = mapped_column(index=True)
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class Vessel(Editable, Base):
    """Sherds and pieces of one pot, over containers and seasons."""

    __tablename__ = "vessel"
    __table_args__ = (UniqueConstraint("number"),)

    number: Mapped[int]
    note: Mapped[str] = mapped_column(default="")
    for_mending: Mapped[bool] = mapped_column(default=False)
