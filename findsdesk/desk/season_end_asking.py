"""Who asks what is open at the end of a season, and the columns in which it is answered."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any

from sqlalchemy import ColumnElement, Select, case, literal, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.store.models import Container, Season

Statement = Select[Any] | Any


@dataclass(frozen=True, slots=True)
class Asking:
    """Who asks: the desk, and the seasons by their first day, the newest first."""

    desk: Desk
    seasons: Sequence[Season]

    def by_moment(self, column: Any) -> ColumnElement[Any]:
        """Return the season of a moment: the newest that had begun by then, or else the oldest."""
        zone = self.desk.facts.zone
        return self._by(column, lambda day: datetime.combine(day, time(), tzinfo=zone))

    def by_day(self, column: Any) -> ColumnElement[Any]:
        """Return the season of a day."""
        return self._by(column, lambda day: day)

    def _by(self, column: Any, begins: Callable[[date], Any]) -> ColumnElement[Any]:
        whens = [(column >= begins(one.starts), one.id) for one in self.seasons]
        return case(*whens, else_=self.seasons[-1].id)


def asking(session: Session, desk: Desk) -> Asking:
    """Return who asks; there is a season at least."""
    return Asking(desk, session.execute(select(Season).order_by(Season.starts.desc())).scalars().all())


def columns_of(subject: str, row_id: Any, **said: Any) -> list[Any]:
    """Return the columns of a row of a container; what is said otherwise takes the place of the container's."""
    of_container = {
        "container_id": Container.id,
        "season_id": Container.season_id,
        "sort": Container.number_key,
        "number": Container.number,
        "part": literal(0),
        "pieces": literal(0),
    }
    columns = {"subject": literal(subject), "id": row_id} | of_container | said
    return [column.label(name) for name, column in columns.items()]
