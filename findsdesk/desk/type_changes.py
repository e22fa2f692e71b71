"""What a file of the type series would change, code by code, and which finds a form would leave behind."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.type_uses import TypeUses
from findsdesk.domain.refusals import Question
from findsdesk.domain.type_rows import COLUMNS, TypeKind, TypeRow
from findsdesk.store.models import Form, Piece, SherdGroup, Ware
from findsdesk.words import N_, plural, put

_TOLD = 10
"""So many codes are told with what changes, as a laptop has room for; those beyond by code and what they leave."""
_LONGEST = 40
"""Signs of a text that are shown."""
_CALLED = {
    "name": N_("name"),
    "ware": N_("ware"),
    "from": N_("from"),
    "to": N_("to"),
    "source": N_("source"),
    "note": N_("note"),
}


def types_differ(session: Session, changed: Collection[tuple[TypeRow, TypeRow]]) -> Question | None:
    """Return what is asked of codes that say something else in a file, each as it stands and as the file has it.

    Facts: ``some`` holds the codes, ``what`` what changes of each: "QRS: to 320 → 340".
    """
    if not changed:
        return None
    said = [(was, row, *_left_behind(session, was, row)) for was, row in changed]
    # Those that leave finds behind stand first: nobody may overlook them.
    said.sort(key=lambda one: not one[2])
    told = [f"{was.code}: {_change(was, row)}{_stay(wares, uses)}" for was, row, wares, uses in said[:_TOLD]]
    if beyond := [f"{was.code}{_stay(wares)}" for was, _row, wares, _uses in said[_TOLD:]]:
        told.append(put(N_("also {codes}"), None, {"codes": ", ".join(beyond)}))
    return Question(
        "types_differ",
        N_("{codes} in the file: {what}. Shall they say what the file says?"),
        codes=plural("{n} code says something else", "{n} codes say something else", len(said)),
        what="; ".join(told),
        some=", ".join(was.code for was, _row in changed),
    )


def _change(was: TypeRow, row: TypeRow) -> str:
    """Return "from 180 → 200, to open → 340": what of a code changes, column by column."""
    columns = zip(COLUMNS, was.as_cells(), row.as_cells(), strict=True)
    return ", ".join(f"{put(_CALLED[name])} {_shown(old)} → {_shown(new)}" for name, old, new in columns if old != new)


def _shown(cell: str) -> str:
    if not cell:
        return put(N_("nothing"))
    return cell if len(cell) <= _LONGEST else f"{cell[: _LONGEST - 1]}…"


def _stay(wares: str, uses: str = "") -> str:
    """Return " (stay QRS: 2 pieces …)": what stays under which wares; '' where nothing does."""
    stay = put(N_("stay {ware}"), None, {"ware": wares})
    return f" ({': '.join(part for part in (stay, uses) if part)})" if wares else ""


def _left_behind(session: Session, was: TypeRow, row: TypeRow) -> tuple[str, str]:
    """Return under which wares finds carry a form that it would no longer be of, and which; '' where none does."""
    if row.kind is not TypeKind.FORM or not row.ware or row.ware == was.ware:
        return "", ""
    groups, pieces = (_carried(session, kind, row) for kind in (SherdGroup, Piece))
    if not groups and not pieces:
        return "", ""
    sherds = sum(sherds for found in (groups, pieces) for _rows, sherds in found.values())
    rows_of = [sum(rows for rows, _sherds in found.values()) for found in (groups, pieces)]
    uses = TypeUses(rows_of[0], rows_of[1], 0, 0, 0, sherds).in_words()
    return ", ".join(sorted({*groups, *pieces})), uses


def _carried(session: Session, kind: Any, row: TypeRow) -> dict[str, tuple[int, int]]:
    """Return by ware how many rows carry a form under another ware than it would be of, and their sherds."""
    wanted = (
        select(Ware.code, func.count(), func.coalesce(func.sum(kind.pieces), 0))
        .join(Form, kind.form_id == Form.id)
        .join(Ware, kind.ware_id == Ware.id)
        .where(Form.code == row.code, Ware.code != row.ware)
        .group_by(Ware.code)
    )
    return {ware: (int(rows), int(sherds)) for ware, rows, sherds in session.execute(wanted)}
