"""The type series as a file: written out as CSV, taken in from CSV, XLSX or ODS, all of it or nothing."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.type_rows import COLUMNS, TypeKind, TypeRow, read_type_row
from findsdesk.store.models import Form, Ware
from findsdesk.words import N_, plural


@dataclass(frozen=True, slots=True)
class TakenTypes:
    """What came of a file: codes that are new, that changed, and that were there as the file has them."""

    added: tuple[str, ...]
    changed: tuple[str, ...]
    same: int


def write_types(desk: Desk, path: Path) -> int:
    """Write wares and forms as CSV; returns how many. Codes whose place others took are left out.

    Refusals: ``cannot_write``.
    """
    from findsdesk.exchange.writing import write_csv

    with desk.reading() as reading:
        rows = _stored(reading.session)
    return write_csv(COLUMNS, (row.as_cells() for row in rows.values()), path, for_spreadsheet=True)


def take_in_types(desk: Desk, path: Path, *, sure: bool = False) -> TakenTypes:
    """Take wares and forms in from a file with the headers kind, code, name, ware, from, to, source, note.

    New codes are added; a code that says something else there is asked about first. What the file does not name
    stays, be it a code or a column. Opposite: the file as it was before. Refusals: ``type_headers``,
    ``type_row_unreadable``, ``code_twice_in_file``, ``unknown_ware``, ``code_merged`` and those of reading a table.
    Question: ``types_differ``.
    """
    read, left_out = _read(path)
    with desk.deed("take_in_types") as deed:
        here = _stored(deed.session)
        rows = [_with_what_stays(row, here.get((row.kind, row.code)), left_out) for row in read]
        _refuse_merged(deed.session, rows)
        added = [row for row in rows if (row.kind, row.code) not in here]
        changed = [row for row in rows if here.get((row.kind, row.code), row) != row]
        deed.said = f"{path.name}: {len(added)} + {len(changed)}"
        ask(deed, _types_differ(changed), sure)
        for row in sorted((*added, *changed), key=lambda one: one.kind is TypeKind.FORM):
            _write(deed, row)
        return TakenTypes(
            tuple(row.code for row in added),
            tuple(row.code for row in changed),
            len(rows) - len(added) - len(changed),
        )


_FIELD_OF = {"from": "earliest", "to": "latest"}
"""What a column is called in a row, where it is not called the same."""


def _with_what_stays(row: TypeRow, here: TypeRow | None, left_out: Collection[str]) -> TypeRow:
    """Return a row of the file with what its columns leave out as it stands in the store."""
    if here is None:
        return row
    fields = (_FIELD_OF.get(column, column) for column in left_out)
    return replace(row, **{name: getattr(here, name) for name in fields})


def _read(path: Path) -> tuple[tuple[TypeRow, ...], frozenset[str]]:
    """Return the rows of a file, and the columns it leaves out."""
    from findsdesk.exchange.tables import read_table

    table = read_table(path, is_known=lambda header: header.strip().lower() in COLUMNS)
    headers = [header.strip().lower() for header in table.headers]
    if "code" not in headers:
        raise Refusal(
            "type_headers",
            N_("{file} has no column “code”. Its columns are: {columns}."),
            file=path.name,
            columns=", ".join(COLUMNS),
        )
    rows: dict[tuple[TypeKind, str], TypeRow] = {}
    for raw in table.rows:
        if not any(cell.strip() for cell in raw.cells):
            continue
        row = read_type_row(dict(zip(headers, raw.cells, strict=False)), raw.line_number)
        if (row.kind, row.code) in rows:
            raise Refusal(
                "code_twice_in_file",
                N_("{code} stands twice in {file}, the second time in line {line}. Leave one of them."),
                code=row.code,
                file=path.name,
                line=raw.line_number,
            )
        rows[row.kind, row.code] = row
    return tuple(rows.values()), frozenset(COLUMNS) - {"kind"} - set(headers)


def _types_differ(changed: Iterable[TypeRow]) -> Question | None:
    codes = [row.code for row in changed]
    if not codes:
        return None
    return Question(
        "types_differ",
        N_("{codes} say something else in the file ({some}). Shall they say what the file says?"),
        codes=plural("{n} code", "{n} codes", len(codes)),
        some=", ".join(codes[:6]),
    )


def _stored(session: Session) -> dict[tuple[TypeKind, str], TypeRow]:
    """Return the series as it stands, the wares first, each by its code."""
    wares = session.execute(select(Ware).where(Ware.merged_into_id.is_(None)).order_by(Ware.code)).scalars().all()
    forms = session.execute(
        select(Form, Ware.code)
        .outerjoin(Ware, Form.ware_id == Ware.id)
        .where(Form.merged_into_id.is_(None))
        .order_by(Form.code)
    ).all()
    rows = [_as_row(TypeKind.WARE, ware, "") for ware in wares]
    rows += [_as_row(TypeKind.FORM, form, ware or "") for form, ware in forms]
    return {(row.kind, row.code): row for row in rows}


def _as_row(kind: TypeKind, row: Ware | Form, ware: str) -> TypeRow:
    return TypeRow(kind, row.code, row.name, ware, row.earliest, row.latest, row.source, row.note)


def _refuse_merged(session: Session, rows: Iterable[TypeRow]) -> None:
    wares = session.execute(select(Ware.code).where(Ware.merged_into_id.is_not(None))).scalars()
    forms = session.execute(select(Form.code).where(Form.merged_into_id.is_not(None))).scalars()
    gone = {(TypeKind.WARE, code) for code in wares} | {(TypeKind.FORM, code) for code in forms}
    for row in rows:
        named = [(row.kind, row.code), (TypeKind.WARE, row.ware)]
        for _kind, code in (one for one in named if one in gone):
            raise Refusal(
                "code_merged",
                N_("{code} was merged into another code here. Take its line out of the file."),
                code=code,
            )


def _write(deed: Deed, row: TypeRow) -> None:
    said: dict[str, object] = {
        "name": row.name,
        "earliest": row.earliest,
        "latest": row.latest,
        "source": row.source,
        "note": row.note,
    }
    if row.kind is TypeKind.WARE:
        _put(deed, Ware, row.code, said)
        return
    ware_id = None
    if row.ware:
        ware_id = deed.session.execute(select(Ware.id).where(Ware.code == row.ware)).scalar()
        if ware_id is None:
            raise Refusal("unknown_ware", N_("There is no ware {name}. Look at the list of wares."), name=row.ware)
    _put(deed, Form, row.code, said | {"ware_id": ware_id})


def _put(deed: Deed, model: type[Ware] | type[Form], code: str, said: dict[str, object]) -> None:
    row = deed.session.execute(select(model).where(model.code == code)).scalar_one_or_none()
    if row is None:
        deed.add(model(code=code, **said))
        deed.session.flush()
        return
    for name, value in said.items():
        setattr(row, name, value)
