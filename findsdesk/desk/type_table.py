"""The wares and forms by their ids, as figures name them: a merged code stands under the one it was merged into."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.domain.date_ranges import DateRange, YearsSaid, years_said
from findsdesk.store.models import Form, Ware
from findsdesk.store.sherd_sums import Cell


@dataclass(frozen=True, slots=True)
class TypeName:
    """A ware or a form: code, name, first and last year; empty for sherds of which none was said."""

    code: str = ""
    name: str = ""
    bounds: tuple[int | None, int | None] = (None, None)

    @property
    def years(self) -> DateRange | None:
        """Return its own years where both are said."""
        return years_said(self.bounds).range


NO_TYPE = TypeName()


@dataclass(frozen=True, slots=True)
class TypeTable:
    """All wares and forms by id."""

    wares: Mapping[int, TypeName]
    forms: Mapping[int, TypeName]

    def ware(self, ware_id: int | None) -> TypeName:
        """Return the ware of an id, or that none was said."""
        return NO_TYPE if ware_id is None else self.wares[ware_id]

    def form(self, form_id: int | None) -> TypeName:
        """Return the form of an id, or that none was said."""
        return NO_TYPE if form_id is None else self.forms[form_id]

    def said_of(self, cell: Cell) -> YearsSaid:
        """Return the years of sherds: each that is said of the piece itself, else of its form, else of its ware."""
        return self.said(cell.ware_id, cell.form_id, cell.earliest, cell.latest)

    def years_said(
        self, ware_id: int | None, form_id: int | None, earliest: int | None, latest: int | None
    ) -> DateRange | None:
        """Return the years of sherds, the first alone where no last is said."""
        return self.said(ware_id, form_id, earliest, latest).years

    def said(self, ware_id: int | None, form_id: int | None, earliest: int | None, latest: int | None) -> YearsSaid:
        """Return the years of sherds from what is said of a piece itself, of its form and of its ware."""
        return years_said((earliest, latest), self.form(form_id).bounds, self.ware(ware_id).bounds)


def type_table(session: Session) -> TypeTable:
    """Return the table of types as it stands."""
    return TypeTable(_names(session, Ware), _names(session, Form))


def _names(session: Session, kind: Any) -> dict[int, TypeName]:
    rows = session.execute(select(kind.id, kind.code, kind.name, kind.earliest, kind.latest, kind.merged_into_id)).all()
    own = {row[0]: TypeName(row[1], row[2], (row[3], row[4])) for row in rows}
    into = {row[0]: row[5] for row in rows if row[5] is not None}
    return {row_id: own[_last(row_id, into)] for row_id in own}


def _last(row_id: int, into: Mapping[int, int]) -> int:
    """Return the code that stands at the end of mergers; one that would run in a circle stays where it is."""
    seen = {row_id}
    while row_id in into and into[row_id] not in seen:
        row_id = into[row_id]
        seen.add(row_id)
    return row_id
