"""A file of the type series taken back: what it added goes out with its pictures, what it changed says what it said."""

from __future__ import annotations

from typing import Any

from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.tables_taken_back import TableHere, changed_later, refuse_later, table_taken
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.store.models import Form, Ware
from findsdesk.store.rows_of_an_act import ChangedRow, changed_by, last_act_on, made_by, take_out
from findsdesk.words import N_, plural

_MODELS: dict[str, Any] = {Ware.__tablename__: Ware, Form.__tablename__: Form}


def take_back_types(desk: Desk, file: str = "", *, sure: bool = False) -> TableHere:
    """Take back a file of the type series by its name, or the last one; the files of its pictures stay.

    Opposite: take it in again. Refusals: ``no_types_taken``, ``changed_since`` (with the later act), ``used_since``,
    ``ware_gone_since``. Question: ``types_go_out``.
    """
    with desk.deed("take_back_types") as deed:
        table = table_taken(deed.session, file.strip(), "take_in_types")
        if table is None:
            text = N_("No such file of the type series was taken in, or it was taken back. Look at the journal.")
            raise Refusal("no_types_taken", text)
        kinds = made_by(deed.session, table.act_id)
        changed = changed_by(deed.session, table.act_id)
        refuse_later(deed.session, table, set(kinds))
        rows = _as_it_left(deed.session, table, changed)
        deed.said = f"{table.file_name}: {table.rows}"
        ask(deed, _goes_out(table, kinds, len(changed)), sure)
        for row, before in rows:
            for name, value in before.items():
                setattr(row, name, value)
        take_out(deed.session, deed.changes, table.act_id, kinds)
    return table


def _goes_out(table: TableHere, kinds: dict[str, int], changed: int) -> Question:
    codes, pictures = kinds.get("ware", 0) + kinds.get("form", 0), kinds.get("photo", 0)
    return Question(
        "types_go_out",
        N_("Of {file} {codes} and {pictures} would go out again; {changed} would say what they said. Take it back?"),
        file=table.file_name,
        codes=plural("{n} code", "{n} codes", codes),
        pictures=plural("{n} picture", "{n} pictures", pictures),
        changed=plural("{n} changed code", "{n} changed codes", changed),
    )


def _as_it_left(
    session: Session, table: TableHere, changed: tuple[ChangedRow, ...]
) -> list[tuple[Any, dict[str, Any]]]:
    """Return the rows that a file changed with what they said before, as long as they are as it left them."""
    found = []
    for one in changed:
        row = session.get(_MODELS[one.kind], one.row_id)
        if row is None or row.version != one.version:
            raise changed_later(table, last_act_on(session, one.kind, one.row_id))
        ware_id = one.before.get("ware_id")
        ware = session.get(Ware, ware_id) if ware_id is not None else None
        if ware_id is not None and (ware is None or ware.merged_into_id is not None):
            text = N_(
                "{form} was of a ware that was taken away or merged since. Correct what {file} changed one by one."
            )
            raise Refusal("ware_gone_since", text, form=row.code, file=table.file_name)
        found.append((row, dict(one.before)))
    return found
