"""Everything known goes out: as tables for people, as a data package, as a map, or as a hand-over of all of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import chain, islice
from pathlib import Path
from typing import Any

from findsdesk import __version__
from findsdesk.desk.desk import Desk, Reading
from findsdesk.desk.export_tables import TABLES, ExportTable
from findsdesk.desk.following import Counting, Follow, quietly
from findsdesk.desk.handed_files import write_photos
from findsdesk.desk.map_export import write_map
from findsdesk.desk.package_export import write_package
from findsdesk.desk.register_columns import Value, wording
from findsdesk.desk.sealed_hand_over import write_hand_over
from findsdesk.domain.square_grid import GridPlace
from findsdesk.exchange.json_tables import write_json_table
from findsdesk.exchange.outgoing_folders import make_room, write_about, written_folder
from findsdesk.exchange.writing import MOST_ROWS, Sheet, write_csv, write_xlsx
from findsdesk.store.journal import short_head, store_head
from findsdesk.words import N_


class FileForm(StrEnum):
    """In which form it goes out."""

    CSV = "csv"
    XLSX = "xlsx"
    JSON = "json"
    DATA_PACKAGE = "data-package"
    GEOPACKAGE = "geopackage"
    PHOTOS = "photos"
    BUNDLE = "bundle"


@dataclass(frozen=True, slots=True)
class How:
    """What may be said of an export: a byte order mark before CSV (for spreadsheet programs), where the grid lies.

    Where it is not said the grid lies as the excavation has it (``Settings.grid``).
    """

    with_mark: bool = True
    grid: GridPlace | None = None


@dataclass(frozen=True, slots=True)
class Exported:
    """What was written: its file or folder, the store's head at that moment, rows by table, what could not go along."""

    form: FileForm
    path: Path
    head: str
    rows: dict[str, int]
    missing: tuple[str, ...] = ()
    """Photographs and results whose files are gone or changed."""


def export(desk: Desk, form: FileForm, into: Path, *, how: How | None = None, follow: Follow = quietly) -> Exported:
    """Write the store, as it stands at one moment, into a folder; an older export of the same form is replaced.

    It is written beside its place and put there whole. ``follow`` is told how much is done and of how much (rows,
    files or pages, as the form has them) and calls the work off by raising.

    Refusals: ``cannot_write``, ``not_ours``, ``grid_impossible``, ``cell_too_long``, those of the papers.
    """
    wanted = how or How()
    path = export_path(desk, form, into)
    with desk.at_one_moment() as moment, moment.reading() as reading:
        work = _Work(moment, reading, path, wanted, follow)
        rows, missing = _WAYS[form](work)
        return Exported(form, path, short_head(store_head(reading.session)), rows, missing)


def export_path(desk: Desk, form: FileForm, into: Path) -> Path:
    """Return the file or folder that an export of a form is, in a folder."""
    ending = {FileForm.XLSX: ".xlsx", FileForm.GEOPACKAGE: ".gpkg"}.get(form)
    return into / (f"{desk.store.name}{ending}" if ending else f"{desk.store.name}-{form}")


@dataclass(frozen=True, slots=True)
class _Work:
    """One export under way."""

    desk: Desk
    reading: Reading
    path: Path
    how: How
    follow: Follow

    def about(self) -> dict[str, Any]:
        """Return what a folder says of itself."""
        facts = self.desk.facts
        return {
            "excavation": facts.name,
            "written": self.reading.now.astimezone(facts.zone).isoformat(timespec="seconds"),
            "by": self.desk.person.name,
            "head": short_head(store_head(self.reading.session)),
            "version": __version__,
        }

    def tables(self) -> Iterator[tuple[ExportTable, list[str], Iterator[list[Value]]]]:
        """Yield each table for people with its heads and its rows."""
        say = wording(self.desk)
        counting = Counting(sum(table.count(self.reading) for table in TABLES), self.follow)
        for table in TABLES:
            rows = counting.passing(table.cells(self.reading, say))
            yield table, [say(one.title) for one in table.columns], rows
        counting.finish()


Written = tuple[dict[str, int], tuple[str, ...]]


def _as_csv(work: _Work) -> Written:
    with written_folder(work.path) as folder:
        rows = {
            table.key: write_csv(heads, cells, folder / f"{table.key}.csv", for_spreadsheet=work.how.with_mark)
            for table, heads, cells in work.tables()
        }
        write_about(folder, {**work.about(), "rows": rows})
    return rows, ()


def _as_json(work: _Work) -> Written:
    say = wording(work.desk)
    with written_folder(work.path) as folder:
        rows = {}
        for table, heads, cells in work.tables():
            keys = [one.key for one in table.columns]
            said = {"table": say(table.title), "columns": dict(zip(keys, heads, strict=True))}
            rows[table.key] = write_json_table(said, keys, cells, folder / f"{table.key}.json")
        write_about(folder, {**work.about(), "rows": rows})
    return rows, ()


def _as_xlsx(work: _Work) -> Written:
    say, rows = wording(work.desk), {}

    def sheets() -> Iterator[Sheet]:
        for table, heads, cells in work.tables():
            rows[table.key] = 0
            for part, some in enumerate(_in_parts(cells, MOST_ROWS - 1), 1):
                title = say(table.title)
                yield Sheet(title if part == 1 else f"{title} {part}", heads, _tallied(some, rows, table.key))
        yield Sheet(say(N_("About this list")), ("", ""), [(name, str(said)) for name, said in work.about().items()])

    make_room(work.path)
    write_xlsx(sheets(), work.path)
    return rows, ()


def _tallied(rows: Iterator[list[Value]], tally: dict[str, int], key: str) -> Iterator[list[Value]]:
    for row in rows:
        tally[key] += 1
        yield row


def _in_parts(rows: Iterator[list[Value]], most: int) -> Iterator[Iterator[list[Value]]]:
    """Cut rows into parts of so many, at least one part; each must be read to its end before the next."""
    yield islice(rows, most)
    for first in rows:
        yield chain([first], islice(rows, most - 1))


def _as_package(work: _Work) -> Written:
    with written_folder(work.path) as folder:
        written = write_package(work.desk, folder, work.follow)
        rows = {one.table.name: one.rows for one in written}
        write_about(folder, {**work.about(), "rows": rows})
    return rows, ()


def _grid(work: _Work) -> GridPlace:
    return work.desk.facts.settings.grid if work.how.grid is None else work.how.grid


def _as_map(work: _Work) -> Written:
    make_room(work.path)
    return {"features": write_map(work.desk, work.path, _grid(work))}, ()


def _as_photos(work: _Work) -> Written:
    with written_folder(work.path) as folder:
        written = write_photos(work.desk, folder, work.follow)
        write_about(folder, work.about())
    return {"photographs": written.files}, written.missing


def _as_bundle(work: _Work) -> Written:
    with written_folder(work.path) as folder:
        write_about(folder, work.about())
        written = write_hand_over(work.desk, folder, _grid(work), work.follow)
    return {"files": written.files, "papers": written.papers}, written.missing


_WAYS: dict[FileForm, Callable[[_Work], Written]] = {
    FileForm.CSV: _as_csv,
    FileForm.XLSX: _as_xlsx,
    FileForm.JSON: _as_json,
    FileForm.DATA_PACKAGE: _as_package,
    FileForm.GEOPACKAGE: _as_map,
    FileForm.PHOTOS: _as_photos,
    FileForm.BUNDLE: _as_bundle,
}
