"""The type series as a file: a table, or one with its pictures; written out, and taken in, all of it or nothing."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.type_changes import types_differ
from findsdesk.desk.type_faults import FileRead, codes_not_met, file_read, refuse_faults
from findsdesk.desk.type_pictures import ProvedPicture, carried_pictures, new_pictures, take_pictures_in
from findsdesk.domain.type_rows import COLUMNS, TypeKind, TypeRow
from findsdesk.store.models import Form, TakenList, Ware
from findsdesk.words import plural


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
    says something else there is asked about first, with what changes. Lines that are wrong are all told at once. What
    the file does not name stays, be it a code, a column or a picture. Without anything new, nothing is written.
    Opposite: ``take_back_types``.

    Refusals: ``type_headers``, ``type_row_unreadable``, ``code_twice_in_file``, ``unknown_ware``, ``code_merged``,
    those of ``arrived_types`` and of ``proved_pictures``, and ``type_file_faulty``, of more than one of them at once.
    Question: ``types_differ``.
    """
    from findsdesk.exchange.type_archives import arrived_types

    with arrived_types(path) as arrived:
        file = file_read(desk, arrived, path.name)
        with desk.reading() as reading:
            news = _news(reading.session, file)
        if news.nothing:
            return news.taken()
        with desk.deed("take_in_types") as deed:
            news = _news(deed.session, file)
            deed.said = f"{path.name}: {len(news.added)} + {len(news.changed)}"
            if news.pictures:
                deed.said += f" + {plural('{n} picture', '{n} pictures', len(news.pictures))}"
            ask(deed, types_differ(deed.session, news.changed), sure)
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
class _News:
    """What of a file is new here, beside what the series holds."""

    added: tuple[TypeRow, ...]
    changed: tuple[tuple[TypeRow, TypeRow], ...]
    """Each as it stands, and as the file has it."""
    same: int
    pictures: tuple[ProvedPicture, ...]

    @property
    def nothing(self) -> bool:
        return not (self.added or self.changed or self.pictures)

    def taken(self) -> TakenTypes:
        added, changed = tuple(row.code for row in self.added), tuple(row.code for _was, row in self.changed)
        return TakenTypes(added, changed, self.same, len(self.pictures))


def _news(session: Session, file: FileRead) -> _News:
    here = _stored(session)
    rows = [_with_what_stays(row, here.get((row.kind, row.code)), file.left_out) for row in file.rows]
    refuse_faults((*file.faults, *codes_not_met(session, replace(file, rows=tuple(rows)), here)), file.name)
    added = tuple(row for row in rows if (row.kind, row.code) not in here)
    there = ((here[row.kind, row.code], row) for row in rows if (row.kind, row.code) in here)
    changed = tuple((was, row) for was, row in there if was != row)
    return _News(added, changed, len(rows) - len(added) - len(changed), new_pictures(session, file.pictures))


def _write_news(deed: Deed, news: _News) -> None:
    changed = (row for _was, row in news.changed)
    for row in sorted((*news.added, *changed), key=lambda one: one.kind is TypeKind.FORM):
        _write(deed, row)


_FIELD_OF = {"from": "earliest", "to": "latest"}
"""What a column is called in a row, where it is not called the same."""


def _with_what_stays(row: TypeRow, here: TypeRow | None, left_out: Collection[str]) -> TypeRow:
    """Return a row of the file with what its columns leave out as it stands in the store."""
    if here is None:
        return row
    fields = (_FIELD_OF.get(column, column) for column in left_out)
    return replace(row, **{name: getattr(here, name) for name in fields})


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
        ware_id = deed.session.execute(select(Ware.id).where(Ware.code == row.ware)).scalar_one()
    _put(deed, Form, row.code, said | {"ware_id": ware_id})


def _put(deed: Deed, model: type[Ware] | type[Form], code: str, said: dict[str, object]) -> None:
    row = deed.session.execute(select(model).where(model.code == code)).scalar_one_or_none()
    if row is None:
        deed.add(model(code=code, **said))
        deed.session.flush()
        return
    for name, value in said.items():
        setattr(row, name, value)
