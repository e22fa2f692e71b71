"""What a ware or form is used for, counted in one way wherever it is said: rows, pieces, forms, and sherds in all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.store.models import Form, Piece, SherdGroup, Ware, WareTotal
from findsdesk.store.references import references_to
from findsdesk.words import N_, plural, put


@dataclass(frozen=True, slots=True)
class TypeUses:
    """Rows of sherds, pieces and forms of a code, and the sherds of rows and pieces together.

    ``old_codes`` are those that became it, ``others`` whatever else names it.
    """

    groups: int
    pieces: int
    forms: int
    old_codes: int
    others: int
    sherds: int

    @property
    def any(self) -> bool:
        """Return whether anything names the code."""
        return bool(self.groups or self.pieces or self.forms or self.old_codes or self.others)

    def in_words(self) -> str:
        """Return "2 rows at the sorting table and 3 pieces, 15 sherds in all"; nothing that is not there."""
        parts = [
            said
            for n, said in (
                (self.groups, plural("{n} row at the sorting table", "{n} rows at the sorting table", self.groups)),
                (self.pieces, plural("{n} piece", "{n} pieces", self.pieces)),
                (self.forms, plural("{n} form", "{n} forms", self.forms)),
                (self.old_codes, plural("{n} old code", "{n} old codes", self.old_codes)),
                (self.others, plural("{n} line elsewhere", "{n} lines elsewhere", self.others)),
            )
            if n
        ]
        if not parts:
            return put(N_("nothing uses it"))
        sherds = plural("{n} sherd in all", "{n} sherds in all", self.sherds)
        return ", ".join([*parts, sherds] if self.groups or self.pieces else parts)


def uses_of(session: Session, row: Ware | Form) -> TypeUses:
    """Return what a ware or form is used for. Kept totals follow from rows and pieces and are no use of their own."""
    column = "ware_id" if isinstance(row, Ware) else "form_id"
    groups, in_groups = _sherds(session, SherdGroup, column, row.id)
    pieces, in_pieces = _sherds(session, Piece, column, row.id)
    named = references_to(session, row.__tablename__, row.id)
    old_codes = named.pop(row.__tablename__, 0)
    forms = named.pop(Form.__tablename__, 0)
    for counted in (SherdGroup, Piece, WareTotal):
        named.pop(counted.__tablename__, None)
    return TypeUses(groups, pieces, forms, old_codes, sum(named.values()), in_groups + in_pieces)


def _sherds(session: Session, kind: Any, column: str, row_id: int) -> tuple[int, int]:
    """Return how many rows of a kind have a code, and their sherds."""
    wanted = select(func.count(), func.coalesce(func.sum(kind.pieces), 0)).where(getattr(kind, column) == row_id)
    rows, sherds = session.execute(wanted).one()
    return int(rows), int(sherds)
