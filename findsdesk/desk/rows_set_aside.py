"""Rows of field lists with an open question: set aside, answered one by one, or left out."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy import select

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.list_checks import CheckedRow, check_rows
from findsdesk.desk.listed_containers import NEVER_SURE, as_refusal, list_row, refuse_open
from findsdesk.desk.new_containers import IssuedTag, as_tag
from findsdesk.desk.setting_up import season_of
from findsdesk.domain.field_lists import ListedRow, identifier_key
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import RowSetAside
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class AsideRow:
    """A row set aside with its open questions."""

    id: int
    version: int
    file_name: str
    row: ListedRow


def rows_set_aside(desk: Desk) -> tuple[AsideRow, ...]:
    """Return the rows that wait for an answer, in the order of their lists."""
    with desk.reading() as reading:
        rows = reading.session.execute(
            select(RowSetAside).where(RowSetAside.answered_at.is_(None)).order_by(RowSetAside.id)
        ).scalars()
        return tuple(AsideRow(row.id, row.version, row.file_name, ListedRow.from_plain(row.row)) for row in rows)


def answer_row(
    desk: Desk,
    row_id: int,
    *,
    number: str | None = None,
    deposit: str | None = None,
    square: str | None = None,
    collected_on: date | None = None,
    material: str | None = None,
    answer: str = "",
) -> IssuedTag:
    """Answer a row set aside: as corrected here it goes in; what differs from the store replaces it there.

    Refusals: ``answered_already``, ``still_open`` while number, deposit or material are not said, ``unknown_deposit``,
    ``unknown_material``, ``number_taken`` without an ``answer``, and those of a number that stands for no finds.
    """
    with desk.deed("answer_row") as deed:
        waiting = _waiting_row(deed, row_id)
        row = ListedRow.from_plain(waiting.row)
        row = replace(
            row,
            number=row.number if number is None else number.strip(),
            deposit=row.deposit if deposit is None else deposit.strip(),
            square=row.square if square is None else square.strip(),
            collected_on=collected_on or row.collected_on,
            material=row.material if material is None else material,
            doubts=(),
        )
        refuse_open(row)
        season = season_of(deed.session, row.collected_on or deed.today())
        checked = check_rows(deed.session, season, [row], desk.terms)[0]
        for doubt in checked.row.doubts:
            if doubt.code in NEVER_SURE or (doubt.code == "number_taken" and not answer):
                raise as_refusal(doubt)
        container = list_row(deed, season, checked)
        waiting.answered_at, waiting.answer = deed.happened_at, answer or "as corrected"
        deed.said = f"{row.number}: {answer}"
    return as_tag(container)


def drop_row(desk: Desk, row_id: int, *, reason: str) -> None:
    """Answer a row set aside by leaving it out, with the reason."""
    if not reason.strip():
        raise Refusal("reason_needed", N_("Write why the row is left out."))
    with desk.deed("drop_row") as deed:
        waiting = _waiting_row(deed, row_id)
        waiting.answered_at, waiting.answer = deed.happened_at, reason
        deed.said = f"{waiting.row.get('number', '')}: {reason}"


def _waiting_row(deed: Deed, row_id: int) -> RowSetAside:
    waiting = deed.session.get(RowSetAside, row_id)
    if waiting is None or waiting.answered_at is not None:
        raise Refusal("answered_already", N_("This row was answered already. Nothing was changed."))
    return waiting


def set_aside(deed: Deed, file_name: str, digest: str, rows: list[CheckedRow]) -> list[ListedRow]:
    """Set doubtful rows aside, each once: a row that waits already, or was answered already, is not asked again."""
    seen = {
        (row.digest, row.line_number)
        for row in deed.session.execute(select(RowSetAside).where(RowSetAside.digest == digest)).scalars()
    }
    asked = {
        _asked(ListedRow.from_plain(row.row))
        for row in deed.session.execute(select(RowSetAside).where(RowSetAside.answered_at.is_(None))).scalars()
    }
    fresh = [
        checked.row for checked in rows if (digest, checked.row.line) not in seen and _asked(checked.row) not in asked
    ]
    for row in fresh:
        deed.add(
            RowSetAside(
                digest=digest,
                file_name=file_name,
                line_number=row.line,
                row=row.as_plain(),
                doubts={"codes": [doubt.code for doubt in row.doubts]},
            )
        )
    return fresh


def _asked(row: ListedRow) -> tuple[object, ...]:
    codes = tuple(doubt.code for doubt in row.doubts)
    return (identifier_key(row.number), identifier_key(row.deposit), row.collected_on, codes)
