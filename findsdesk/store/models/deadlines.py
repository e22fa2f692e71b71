"""The days by which something of a season is due."""

from datetime import date

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable


class Deadline(Editable, Base):
    """A day by which something of a season is due: a rule of the excavation, or the permit's own word over it."""

    __tablename__ = "deadline"
    __table_args__ = (UniqueConstraint("season_id", "deliverable"),)

    season_id: Mapped[int] = mapped_column(ForeignKey("season.id"))
    deliverable: Mapped[str]
    counts_from: Mapped[str]
    """A ``domain.season_end.CountsFrom``."""
    offset: Mapped[int]
    """So many of ``unit`` after that day; below 0 before it."""
    unit: Mapped[str]
    source: Mapped[str] = mapped_column(default="")
    counted_from: Mapped[date | None]
    """The day it is counted from, where the season's own dates do not say it or say another."""
    permit_says: Mapped[str] = mapped_column(default="")
    permit_on: Mapped[date | None]
    """The day by the permit's own text; it goes before the rule."""
    done_on: Mapped[date | None]
    in_force: Mapped[bool] = mapped_column(default=True)
