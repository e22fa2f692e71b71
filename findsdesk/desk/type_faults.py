"""What is wrong with a file of the type series: every line of it that can be read is looked at, and all is told."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.type_pictures import ProvedPicture, of_nothing_known, proved_pictures
from findsdesk.domain.raw_tables import RawTable
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.type_rows import COLUMNS, TypeCode, TypeKind, TypeRow, read_type_row
from findsdesk.store.models import Form, Ware
from findsdesk.words import N_, plural, put

if TYPE_CHECKING:
    from findsdesk.exchange.type_archives import ArrivedTypes

_TOLD = 20
"""So many faults are told in words; of what is beyond only the number."""


@dataclass(frozen=True, slots=True)
class FileRead:
    """What a file says: its rows, the columns it leaves out, its pictures, and what of it is wrong.

    ``unread`` are the codes of lines that are wrong: nothing is said of what only follows from them.
    """

    name: str
    rows: tuple[TypeRow, ...]
    left_out: frozenset[str]
    pictures: tuple[ProvedPicture, ...]
    faults: tuple[Refusal, ...]
    unread: frozenset[str]


def file_read(desk: Desk, arrived: ArrivedTypes, name: str) -> FileRead:
    """Read all that came. Refusals: ``type_headers``, ``no_photo_folder``; what is wrong in a line stands beside it."""
    headers = [header.strip().lower() for header in arrived.table.headers]
    if "code" not in headers:
        text = N_("{file} has no column “code”. Its columns are: {columns}.")
        raise Refusal("type_headers", text, file=name, columns=", ".join(COLUMNS))
    rows: dict[TypeCode, TypeRow] = {}
    faults: list[Refusal] = []
    unread: set[str] = set()
    for line, cells in _lines(arrived.table, headers):
        try:
            row = read_type_row(cells, line)
        except Refusal as fault:
            faults.append(fault)
            unread.add(cells.get("code", "").strip().upper())
            continue
        if rows.setdefault((row.kind, row.code), row) is not row:
            faults.append(_twice(row, name))
    pictures, of_pictures = proved_pictures(desk, arrived)
    left_out = frozenset(COLUMNS) - {"kind"} - set(headers)
    wrong = (*faults, *arrived.faults, *of_pictures)
    return FileRead(name, tuple(rows.values()), left_out, pictures, wrong, frozenset(unread))


def _lines(table: RawTable, headers: Sequence[str]) -> Iterator[tuple[int, dict[str, str]]]:
    for raw in table.rows:
        if any(cell.strip() for cell in raw.cells):
            yield raw.line_number, dict(zip(headers, raw.cells, strict=False))


def _twice(row: TypeRow, file: str) -> Refusal:
    text = N_("{code} stands twice in {file}, the second time in line {line}. Leave one of them.")
    return Refusal("code_twice_in_file", text, code=row.code, file=file, line=row.line)


def codes_not_met(session: Session, file: FileRead, here: Collection[TypeCode]) -> tuple[Refusal, ...]:
    """Return what a file names that is not there, or whose place another code took; ``here`` is the series.

    Each of ``unknown_ware``, ``unknown_type`` (of a picture) and ``code_merged`` once a code.
    """
    merged = _merged(session)
    known = {*here, *((row.kind, row.code) for row in file.rows)}
    found: dict[tuple[str, TypeCode], Refusal] = {}
    for row in file.rows:
        for of in ((row.kind, row.code), (TypeKind.WARE, row.ware)):
            if of in merged:
                found.setdefault(("code_merged", of), _was_merged(of))
            elif of[1] and of not in known and of[1] not in file.unread:
                text = N_("There is no ware {name}. Look at the list of wares.")
                found.setdefault(("unknown_ware", of), Refusal("unknown_ware", text, name=of[1]))
    for said in (one.said for one in file.pictures):
        if said.of in merged:
            found.setdefault(("code_merged", said.of), _was_merged(said.of))
        elif said.of not in known and said.code not in file.unread:
            found.setdefault(("unknown_type", said.of), of_nothing_known(said))
    return tuple(found.values())


def _merged(session: Session) -> set[TypeCode]:
    wares = session.execute(select(Ware.code).where(Ware.merged_into_id.is_not(None))).scalars()
    forms = session.execute(select(Form.code).where(Form.merged_into_id.is_not(None))).scalars()
    return {(TypeKind.WARE, code) for code in wares} | {(TypeKind.FORM, code) for code in forms}


def _was_merged(of: TypeCode) -> Refusal:
    text = N_("{code} was merged into another code here. Take its line out of the file.")
    return Refusal("code_merged", text, code=of[1])


def refuse_faults(faults: Sequence[Refusal], file: str) -> None:
    """Refuse a file: with its one fault as it is, or with ``type_file_faulty``, which tells all of them."""
    if len(faults) == 1:
        raise faults[0]
    if faults:
        said = [_in_short(fault) for fault in faults[:_TOLD]]
        if len(faults) > _TOLD:
            said.append(plural("And {n} more.", "And {n} more.", len(faults) - _TOLD))
        raise Refusal(
            "type_file_faulty",
            N_("{file} cannot be taken in, {faults}. {said} Mend the file; nothing was written."),
            file=file,
            faults=plural("for {n} fault", "for {n} faults", len(faults)),
            said=" ".join(said),
        )


def _in_short(fault: Refusal) -> str:
    """Return a fault without what is said once of all of them."""
    if "why" not in fault.facts:
        return fault.in_words()
    text = N_("Line {line}: {why}") if fault.code == "type_row_unreadable" else N_("Line {line} of the pictures: {why}")
    return put(text, None, fault.facts)
