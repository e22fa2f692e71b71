"""The journal's own tables: stations with their chains, acts, lines; and the number series."""

from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Canonical, RowId


class Station(Base):
    """A table, laptop or terminal at which acts are written; it has a chain of its own."""

    __tablename__ = "station"
    __table_args__ = (UniqueConstraint("name"),)

    id: Mapped[int] = mapped_column(RowId, primary_key=True, autoincrement=False)
    name: Mapped[str]
    running: Mapped[int] = mapped_column(default=0)
    head: Mapped[str] = mapped_column(default="")
    next_row: Mapped[int] = mapped_column(RowId, default=1)
    elsewhere: Mapped[bool] = mapped_column(default=False)
    """Whether it writes in a store of its own; its acts come by courier."""


class Act(Base):
    """One deed of one person: written once, in the same transaction as what it changed."""

    __tablename__ = "act"
    __table_args__ = (UniqueConstraint("station_id", "running"), Index(None, "written_at", "station_id", "running"))

    id: Mapped[str] = mapped_column(primary_key=True)
    station_id: Mapped[int] = mapped_column(ForeignKey("station.id"))
    running: Mapped[int]
    deed: Mapped[str]
    person_id: Mapped[int | None] = mapped_column(RowId)
    person_name: Mapped[str]
    happened_at: Mapped[datetime]
    zone: Mapped[str]
    written_at: Mapped[datetime]
    said: Mapped[str]
    """What was done, in one line for people."""
    search_text: Mapped[str] = mapped_column(default="")
    """What was said and by whom, folded; follows from the act and is no part of its hash."""
    hash_before: Mapped[str]
    hash: Mapped[str]


class Line(Base):
    """One row's change within an act."""

    __tablename__ = "line"
    __table_args__ = (Index(None, "kind", "row_id"),)

    act_id: Mapped[str] = mapped_column(ForeignKey("act.id"), primary_key=True)
    ordinal: Mapped[int] = mapped_column(primary_key=True)
    kind: Mapped[str]
    row_id: Mapped[int] = mapped_column(RowId)
    row_version: Mapped[int | None]
    before: Mapped[dict[str, Any] | None] = mapped_column(Canonical)
    after: Mapped[dict[str, Any] | None] = mapped_column(Canonical)


class NumberSeries(Base):
    """The next number of a series, e.g. the serials of tag codes or a season's container numbers."""

    __tablename__ = "number_series"

    name: Mapped[str] = mapped_column(primary_key=True)
    next: Mapped[int]


class NumberBlock(Base):
    """A run of numbers handed to one station, so that stations apart never give a number twice."""

    __tablename__ = "number_block"
    __table_args__ = (UniqueConstraint("series", "first"),)

    id: Mapped[int] = mapped_column(RowId, primary_key=True, autoincrement=False)
    series: Mapped[str]
    station_id: Mapped[int] = mapped_column(ForeignKey("station.id"))
    next: Mapped[int]
    first: Mapped[int]
    last: Mapped[int]
