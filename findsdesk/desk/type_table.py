"""The wares and forms by their ids, as figures name them: a merged code stands under the one it was merged into."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.domain.date_ranges import DateRange
from findsdesk.store.models import Form, Ware
from findsdesk.store.sherd_sums import Cell


@dataclass(frozen=True, slots=True)
class TypeName:
    """A ware or a form: code, name and years; empty for sherds of which none was said."""

    code: str = ""
    name: str = ""
    years: DateRange | None = None


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

    def years_of(self, cell: Cell) -> DateRange | None:
        """Return the years of sherds: those said of the piece itself, else of its form, else of its ware."""
        return self.years_said(cell.ware_id, cell.form_id, cell.earliest, cell.latest)

    def years_said(
        self, ware_id: int | None, form_id: int | None, earliest: int | None, latest: int | None
    ) -> DateRange | None:
        """Return the years said of a piece itself (both or none), else of its form, else of its ware."""
        if earliest is not None and latest is not None:
            return DateRange(earliest, latest)
        return self.form(form_id).years or self.ware(ware_id).years


def type_table(session: Session) -> TypeTable:
    """Return the table of types as it stands."""
    return TypeTable(_names(session, Ware), _names(session, Form))


def _names(session: Session, kind: Any) -> dict[int, TypeName]:
    rows = session.execute(select(kind.id, kind.code, kind.name, kind.earliest, kind.latest, kind.merged_into_id)).all()
    own = {row[0]: TypeName(row[1], row[2], _years(row[3], row[4])) for row in rows}
    into = {row[0]: row[5] for row in rows if row[5] is not None}
    return {row_id: own[_last(row_id, into)] for row_id in own}


def _last(row_id: int, into: Mapping[int, int]) -> int:
    """Return the code that stands at the end of mergers; one that would run in a circle stays where it is."""
    seen = {row_id}
    while row_id in into and into[row_id] not in seen:
        row_id = into[row_id]
        seen.add(row_id)
    return row_id


def _years(earliest: int | None, latest: int | None) -> DateRange | None:
    return None if earliest is None or latest is None else DateRange(earliest, latest)
