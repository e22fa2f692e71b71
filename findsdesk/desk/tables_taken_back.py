"""A table taken back: all rows that it brought go out again, where nothing was done with them since."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.deed_words import DEED_IN_WORDS, KIND_IN_WORDS
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.table_kinds import TableKind
from findsdesk.store.models import Act, Container, Line, Person, SherdGroup, TakenList
from findsdesk.store.rows_of_an_act import changed_since, made_by, pointed_at_since, take_out
from findsdesk.words import N_, plural

_STAY = frozenset({"column_match", Person.__tablename__})
"""What a table brought by the way and stays: how its headers were matched, and names new to the team."""


@dataclass(frozen=True, slots=True)
class TableHere:
    """A table that was taken in as it was called, how many of its rows came in, and when."""

    file_name: str
    rows: int
    taken_at: datetime
    act_id: str
    of_people: bool


def last_table(desk: Desk) -> TableHere | None:
    """Return the table that was taken in last and not taken back since, or None."""
    with desk.reading() as reading:
        return table_taken(reading.session, "")


def take_back_table(desk: Desk, file: str = "", *, sure: bool = False) -> TableHere:
    """Take back a table by the name of its file, or the last one. Opposite: take it in again.

    Numbers and codes that were given stay given. Refusals: ``no_table``, ``changed_since`` (with the later act),
    ``used_since``. Question: ``rows_go_out``.
    """
    with desk.deed("take_back_table") as deed:
        table = table_taken(deed.session, file.strip())
        if table is None:
            raise Refusal("no_table", N_("No such table was taken in, or it was taken back. Look at the journal."))
        kinds = set(made_by(deed.session, table.act_id)) - (_STAY if not table.of_people else {"column_match"})
        refuse_later(deed.session, table, kinds)
        deed.said = f"{table.file_name}: {table.rows}"
        rows = plural("{n} row", "{n} rows", table.rows)
        text = N_("{rows} of {file} would go out again, with all that came along. Take the table back?")
        ask(deed, Question("rows_go_out", text, rows=rows, file=table.file_name), sure)
        _put_totals_right(deed, table.act_id)
        take_out(deed.session, deed.changes, table.act_id, kinds)
    return table


def table_taken(session: Session, file: str, deed: str = "take_in_table") -> TableHere | None:
    """Return the table that a deed took in last, of that name where one is said; None where it was taken back."""
    wanted = (
        select(TakenList, Act.id, Act.said)
        .join(Line, (Line.kind == TakenList.__tablename__) & (Line.row_id == TakenList.id))
        .join(Act, Act.id == Line.act_id)
        .where(Act.deed == deed, Line.before.is_(None))
    )
    if file:
        wanted = wanted.where(TakenList.file_name == file)
    found = session.execute(wanted.order_by(TakenList.taken_at.desc(), TakenList.id.desc()).limit(1)).first()
    if found is None:
        return None
    row, act_id, said = found
    of_people = said.startswith(f"{row.file_name}, {TableKind.PEOPLE}: ")
    return TableHere(row.file_name, row.rows_taken, row.taken_at, act_id, of_people)


def refuse_later(session: Session, table: TableHere, kinds: set[str]) -> None:
    """Refuse where something was done with what a table brought: ``changed_since``, ``used_since``."""
    later = changed_since(session, table.act_id, kinds)
    if later is not None:
        raise changed_later(table, later)
    kind = pointed_at_since(session, table.act_id, kinds)
    if kind is not None:
        raise Refusal(
            "used_since",
            N_("What {file} brought is in use since ({kind}). Correct its rows one by one."),
            file=table.file_name,
            kind=KIND_IN_WORDS.get(kind, kind),
        )


def changed_later(table: TableHere, later: Act) -> Refusal:
    """Return the refusal of a table of which a later act changed a row."""
    return Refusal(
        "changed_since",
        N_("What {file} brought was changed since ({deed}: {said}). Correct its rows one by one."),
        file=table.file_name,
        deed=DEED_IN_WORDS.get(later.deed, later.deed),
        said=later.said,
    )


def _put_totals_right(deed: Deed, act_id: str) -> None:
    """Take the sherds of the rows that go out of the totals of their wares."""
    ours = select(Line.row_id).where(
        Line.act_id == act_id, Line.before.is_(None), Line.kind == SherdGroup.__tablename__
    )
    sums = (
        select(
            Container.deposit_id,
            SherdGroup.ware_id,
            func.sum(SherdGroup.pieces),
            func.sum(func.coalesce(SherdGroup.tenths, 0)),
        )
        .join(Container, SherdGroup.container_id == Container.id)
        .where(SherdGroup.id.in_(ours))
        .group_by(Container.deposit_id, SherdGroup.ware_id)
    )
    for deposit_id, ware_id, pieces, tenths in deed.session.execute(sums):
        deed.totals.ware(deposit_id, ware_id, -pieces, -tenths)
