"""The type series as a file: a table, or one with its pictures; written out, and taken in, all of it or nothing."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.type_pictures import (
    ProvedPicture,
    carried_pictures,
    new_pictures,
    proved_pictures,
    take_pictures_in,
)
from findsdesk.domain.raw_tables import RawTable
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.type_rows import COLUMNS, TypeCode, TypeKind, TypeRow, read_type_row
from findsdesk.store.models import Form, TakenList, Ware
from findsdesk.words import N_, plural


@dataclass(frozen=True, slots=True)
class WrittenTypes:
    """What was written: rows, pictures, and the names of pictures left out since their file is gone or changed."""

    rows: int
    pictures: int = 0
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TakenTypes:
    """What came of a file: codes that are new, that changed, and that were there as the file has them; new pictures."""

    added: tuple[str, ...]
    changed: tuple[str, ...]
    same: int
    pictures: int = 0


def write_types(desk: Desk, path: Path) -> WrittenTypes:
    """Write wares and forms as CSV, or, where the name ends in .zip, with their pictures.

    Codes whose place others took are left out. Refusals: ``cannot_write``, and those of the folder of photographs.
    """
    from findsdesk.exchange.type_archives import SUFFIX, write_type_archive
    from findsdesk.exchange.writing import write_csv

    with desk.at_one_moment() as now:
        with now.reading() as reading:
            rows = [row.as_cells() for row in _stored(reading.session).values()]
        if path.suffix.lower() != SUFFIX:
            return WrittenTypes(write_csv(COLUMNS, rows, path, for_spreadsheet=True))
        carried, missing = carried_pictures(now)
    return WrittenTypes(write_type_archive(rows, carried, path), len(carried), missing)


def take_in_types(desk: Desk, path: Path, *, sure: bool = False) -> TakenTypes:
    """Take wares and forms in from a table with the headers kind, code, name, ware, from, to, source, note.

    An archive or a folder as ``write_types`` writes it brings their pictures too. New codes are added; a code that
    says something else there is asked about first. What the file does not name stays, be it a code, a column or a
    picture. Without anything new, nothing is written. Opposite: ``take_back_types``.

    Refusals: ``type_headers``, ``type_row_unreadable``, ``code_twice_in_file``, ``unknown_ware``, ``code_merged``, and
    those of ``arrived_types`` and of ``proved_pictures``. Question: ``types_differ``.
    """
    from findsdesk.exchange.type_archives import arrived_types

    with arrived_types(path) as arrived:
        file = _Read(*_read(arrived.table, path.name), proved_pictures(desk, arrived))
        with desk.reading() as reading:
            news = _news(reading.session, file)
        if news.nothing:
            return news.taken()
        with desk.deed("take_in_types") as deed:
            news = _news(deed.session, file)
            deed.said = f"{path.name}: {len(news.added)} + {len(news.changed)}"
            if news.pictures:
                deed.said += f" + {plural('{n} picture', '{n} pictures', len(news.pictures))}"
            ask(deed, _types_differ(news.changed), sure)
            _write_news(deed, news)
            take_pictures_in(deed, arrived, news.pictures)
            deed.add(
                TakenList(
                    digest=arrived.table.digest,
                    file_name=path.name,
                    rows_taken=len(news.added) + len(news.changed) + len(news.pictures),
                    rows_set_aside=0,
                    taken_at=deed.happened_at,
                )
            )
    return news.taken()


@dataclass(frozen=True, slots=True)
class _Read:
    """What a file says: its rows, the columns it leaves out, its pictures."""

    rows: tuple[TypeRow, ...]
    left_out: frozenset[str]
    pictures: tuple[ProvedPicture, ...]


@dataclass(frozen=True, slots=True)
class _News:
    """What of a file is new here, beside what the series holds."""

    added: tuple[TypeRow, ...]
    changed: tuple[TypeRow, ...]
    same: int
    pictures: tuple[ProvedPicture, ...]

    @property
    def nothing(self) -> bool:
        return not (self.added or self.changed or self.pictures)

    def taken(self) -> TakenTypes:
        added, changed = (tuple(row.code for row in rows) for rows in (self.added, self.changed))
        return TakenTypes(added, changed, self.same, len(self.pictures))


def _news(session: Session, file: _Read) -> _News:
    here = _stored(session)
    rows = [_with_what_stays(row, here.get((row.kind, row.code)), file.left_out) for row in file.rows]
    named = [*((row.kind, row.code) for row in rows), *((TypeKind.WARE, row.ware) for row in rows)]
    named += (one.said.of for one in file.pictures)
    _refuse_merged(session, named)
    added = tuple(row for row in rows if (row.kind, row.code) not in here)
    changed = tuple(row for row in rows if here.get((row.kind, row.code), row) != row)
    known = {*here, *((row.kind, row.code) for row in added)}
    return _News(added, changed, len(rows) - len(added) - len(changed), new_pictures(session, file.pictures, known))


def _write_news(deed: Deed, news: _News) -> None:
    for row in sorted((*news.added, *news.changed), key=lambda one: one.kind is TypeKind.FORM):
        _write(deed, row)


_FIELD_OF = {"from": "earliest", "to": "latest"}
"""What a column is called in a row, where it is not called the same."""


def _with_what_stays(row: TypeRow, here: TypeRow | None, left_out: Collection[str]) -> TypeRow:
    """Return a row of the file with what its columns leave out as it stands in the store."""
    if here is None:
        return row
    fields = (_FIELD_OF.get(column, column) for column in left_out)
    return replace(row, **{name: getattr(here, name) for name in fields})


def _read(table: RawTable, file: str) -> tuple[tuple[TypeRow, ...], frozenset[str]]:
    """Return the rows of a table, and the columns it leaves out."""
    headers = [header.strip().lower() for header in table.headers]
    if "code" not in headers:
        raise Refusal(
            "type_headers",
            N_("{file} has no column “code”. Its columns are: {columns}."),
            file=file,
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
                file=file,
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


def _refuse_merged(session: Session, named: Iterable[TypeCode]) -> None:
    wares = session.execute(select(Ware.code).where(Ware.merged_into_id.is_not(None))).scalars()
    forms = session.execute(select(Form.code).where(Form.merged_into_id.is_not(None))).scalars()
    gone = {(TypeKind.WARE, code) for code in wares} | {(TypeKind.FORM, code) for code in forms}
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
