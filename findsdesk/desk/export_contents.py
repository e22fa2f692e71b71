"""What an export will contain and where it will lie, said before it is written."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import func, select

from findsdesk.desk.desk import Desk, Reading
from findsdesk.desk.export_tables import TABLES
from findsdesk.desk.exporting import FileForm, export_path
from findsdesk.desk.register_columns import wording
from findsdesk.desk.sealed_hand_over import papers_handed_over
from findsdesk.store.models import Deposit, LoanFile, Photo, Square
from findsdesk.store.whole_tables import counted, whole_tables
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class Contained:
    """A part of an export in words, and how many rows, files or areas it is."""

    what: str
    many: int


@dataclass(frozen=True, slots=True)
class ToExport:
    """What an export will contain, where it will lie, and whether an older one lies there that it replaces."""

    form: FileForm
    parts: tuple[Contained, ...]
    path: Path
    there: bool


def to_export(desk: Desk, form: FileForm, into: Path) -> ToExport:
    """Return what an export of the store as it stands now would be, into a folder. Writes nothing."""
    say, path = wording(desk), export_path(desk, form, into)
    with desk.reading() as reading:
        parts = tuple(Contained(say(what), many) for what, many in _PARTS[form](reading))
    return ToExport(form, parts, path, path.exists())


Counted = Iterator[tuple[str, int]]


def _tables(reading: Reading) -> Counted:
    for table in TABLES:
        yield table.title, table.count(reading)


def _package(reading: Reading) -> Counted:
    tables = whole_tables()
    yield N_("tables of the store, each with its meaning"), len(tables)
    yield N_("rows in them"), sum(counted(reading.session, one.name) for one in tables)


def _map(reading: Reading) -> Counted:
    yield N_("{squares} of the grid"), _many(reading, Square)
    yield N_("{deposits}, each drawn as its {square}"), _many(reading, Deposit)


def _photos(reading: Reading) -> Counted:
    yield N_("photographs, named by the mark of what they show"), _many(reading, Photo)


def _bundle(reading: Reading) -> Counted:
    yield from _package(reading)
    yield N_("sheets and reports as PDF"), len(papers_handed_over(reading.desk))
    yield from _photos(reading)
    yield N_("results that came back with loans"), _many(reading, LoanFile)
    yield from _map(reading)


def _many(reading: Reading, kind: type) -> int:
    return int(reading.session.execute(select(func.count()).select_from(kind)).scalar_one())


_PARTS: dict[FileForm, Callable[[Reading], Counted]] = {
    FileForm.CSV: _tables,
    FileForm.XLSX: _tables,
    FileForm.JSON: _tables,
    FileForm.DATA_PACKAGE: _package,
    FileForm.GEOPACKAGE: _map,
    FileForm.PHOTOS: _photos,
    FileForm.BUNDLE: _bundle,
}
