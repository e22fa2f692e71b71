"""The excavation with its seasons, squares, people, periods and wares."""

from datetime import date
from typing import Any

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable


class Excavation(Editable, Base):
    """The site's project: exactly one row in a store."""

    __tablename__ = "excavation"

    name: Mapped[str]
    code: Mapped[str]
    director: Mapped[str] = mapped_column(default="")
    time_zone: Mapped[str]
    terms: Mapped[dict[str, Any]]
    settings: Mapped[dict[str, Any]]
    example: Mapped[bool] = mapped_column(default=False)
    """True for the invented excavation: marked on every screen and sheet."""


class Season(Editable, Base):
    """One campaign with its permit, dates, number scope and mark pattern."""

    __tablename__ = "season"
    __table_args__ = (UniqueConstraint("name"),)

    name: Mapped[str]
    permit: Mapped[str]
    starts: Mapped[date]
    ends: Mapped[date]
    number_scope: Mapped[str]
    mark_pattern: Mapped[str]


class Square(Editable, Base):
    """A unit of the grid."""

    __tablename__ = "square"
    __table_args__ = (UniqueConstraint("name"),)

    name: Mapped[str]
    name_key: Mapped[str]


class Person(Editable, Base):
    """Somebody of the team with a role."""

    __tablename__ = "person"
    __table_args__ = (UniqueConstraint("name"),)

    name: Mapped[str]
    role: Mapped[str]
    active: Mapped[bool] = mapped_column(default=True)


class Period(Editable, Base):
    """A period of the excavation's list; years before 1 CE are astronomical (0 = 1 BCE)."""

    __tablename__ = "period"
    __table_args__ = (UniqueConstraint("code"),)

    code: Mapped[str]
    name: Mapped[str]
    earliest: Mapped[int]
    latest: Mapped[int]
    position: Mapped[int]


class Ware(Editable, Base):
    """A ware with its code and date range."""

    __tablename__ = "ware"
    __table_args__ = (UniqueConstraint("code"),)

    code: Mapped[str]
    name: Mapped[str]
    earliest: Mapped[int | None]
    latest: Mapped[int | None]
    source: Mapped[str] = mapped_column(default="")
    note: Mapped[str] = mapped_column(default="")
    merged_into_id: Mapped[int | None] = mapped_column(ForeignKey("ware.id"))


class Form(Editable, Base):
    """A vessel form of the type series, of one ware or of any, with its code, date range and source."""

    __tablename__ = "form"
    __table_args__ = (UniqueConstraint("code"),)

    code: Mapped[str]
    name: Mapped[str]
    ware_id: Mapped[int | None] = mapped_column(ForeignKey("ware.id"), index=True)
    earliest: Mapped[int | None]
    latest: Mapped[int | None]
    source: Mapped[str] = mapped_column(default="")
    note: Mapped[str] = mapped_column(default="")
    merged_into_id: Mapped[int | None] = mapped_column(ForeignKey("form.id"))


class Word(Editable, Base):
    """A word of one of the excavation's lists: added to the shipped ones, or said in place of one, or put away."""

    __tablename__ = "word"
    __table_args__ = (UniqueConstraint("list", "key"),)

    list: Mapped[str]
    key: Mapped[str]
    name: Mapped[str]
    position: Mapped[int]
    diagnostic: Mapped[bool] = mapped_column(default=False)
    in_use: Mapped[bool] = mapped_column(default=True)
    address: Mapped[str] = mapped_column(default="")
    """The web address of the same concept in an open thesaurus."""
    counts_as: Mapped[str] = mapped_column(default="")
    """What a part of the vessel counts as in the figures: rim, base, both, handle, neither; empty as it ships."""
