"""A data package taken in: the same store again, with its journal, where no store is yet."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from findsdesk.desk.following import Follow, quietly
from findsdesk.desk.handed_files import brings_files, take_files_in
from findsdesk.desk.package_export import OURS
from findsdesk.desk.package_schema import TERMS
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.arriving_packages import ArrivedPackage, ArrivedTable, read_package, rows_in
from findsdesk.exchange.outgoing_folders import in_words
from findsdesk.exchange.sealed_folders import PAYLOAD, is_sealed, prove_sealed
from findsdesk.exchange.unpacking import unpack
from findsdesk.store.courier_chains import stations_told
from findsdesk.store.faults import faults_in_words
from findsdesk.store.journal import store_head
from findsdesk.store.loose_references import looked_at_in_the_end
from findsdesk.store.photo_folder import SUFFIX as PHOTOS
from findsdesk.store.photo_folder import photo_folder
from findsdesk.store.schema import KNOWN, bring_up, empty_schema, holds_tables
from findsdesk.store.search_index import make_index_anew
from findsdesk.store.session import Store, is_url, store_path
from findsdesk.store.soundness import dangling
from findsdesk.store.whole_tables import CellUnreadable, WholeTable, put_rows, whole_tables
from findsdesk.words import N_

PACKAGE_IN_BUNDLE = "records"
"""The folder of the data package within the payload of what is handed over."""


@dataclass(frozen=True, slots=True)
class TakenIn:
    """A package that became a store: its file or address, its rows and tables, its head, files of photographs."""

    store: str
    tables: int
    rows: int
    head: str
    files: int


def take_in_package(source: Path, into: str | Path, *, follow: Follow = quietly) -> TakenIn:
    """Make a store from a data package, a hand-over folder or a zip of one; all of it or nothing.

    ``into`` is a file that is not there yet, or a server's address whose schema holds no store. The journal comes along
    as it is; PINs are set anew. ``follow`` is told rows.

    Refusals: ``store_not_empty``, ``no_photo_folder`` (a hand-over with photographs into a server of which nobody said
    where they lie), ``package_newer``, ``not_our_package``, ``package_unknown_table``, ``package_unknown_column``,
    ``package_incomplete``, ``package_value``, ``package_row_refused``, ``package_broken_reference``,
    ``package_other_head``, and those of ``read_package``, ``prove_sealed`` and ``unpack``.
    """
    if is_url(str(into)):
        with tempfile.TemporaryDirectory(prefix="findsdesk-package-") as beside:
            return _into_a_server(_arrived(source, Path(beside)), str(into), follow)
    target = _target(into)
    with _beside(target) as beside:
        arrived = _arrived(source, beside)
        store = Store(_made(beside / "store") / target.name)
        try:
            bring_up(store)
            rows, head = _put_all(store, arrived, follow)
        finally:
            store.close()
        files = take_files_in(arrived.payload, store) if arrived.payload else 0
        with in_words(target):
            _put_in_place(beside / "store", target)
    return TakenIn(str(target), len(arrived.tables), rows, head, files)


@dataclass(frozen=True, slots=True)
class _Arrived:
    """A package that was read and compared with what a store has; ``payload`` is what was handed over with it."""

    package: ArrivedPackage
    tables: tuple[WholeTable, ...]
    payload: Path | None


def _arrived(source: Path, beside: Path) -> _Arrived:
    folder = unpack(source, _made(beside / "unpacked")) if source.is_file() else source
    if not is_sealed(folder):
        package = read_package(folder)
        return _Arrived(package, _checked(package), None)
    prove_sealed(folder)
    package = read_package(folder / PAYLOAD / PACKAGE_IN_BUNDLE)
    return _Arrived(package, _checked(package), folder / PAYLOAD)


def _put_all(store: Store, arrived: _Arrived, follow: Follow) -> tuple[int, str]:
    """Put every row in, follow every reference, and return how many rows there are and the head."""
    with store.writing() as session:
        with _references_in_words(), looked_at_in_the_end(session):
            rows = sum(_put(session, one, arrived.package.tables[one.name], follow) for one in arrived.tables)
        head = _sound(session, arrived.package)
        make_index_anew(session)
    return rows, head


def _into_a_server(arrived: _Arrived, where: str, follow: Follow) -> TakenIn:
    """Fill an empty schema; one that was made for it goes again where that fails."""
    store = Store(where)
    try:
        with faults_in_words():
            if holds_tables(store):
                text = N_("There is already something at {path}. A package makes a new store; choose another name.")
                raise Refusal("store_not_empty", text, path=store.address)
            if arrived.payload is not None and brings_files(arrived.payload):
                photo_folder(store)
            bring_up(store)
            rows, head = _all_or_nothing(store, arrived, follow)
            files = _files_or_nothing(store, arrived)
    finally:
        store.close()
    return TakenIn(store.address, len(arrived.tables), rows, head, files)


def _all_or_nothing(store: Store, arrived: _Arrived, follow: Follow) -> tuple[int, str]:
    """Put every row in; where that fails the schema goes again, unless somebody else filled it meanwhile."""
    try:
        return _put_all(store, arrived, follow)
    except BaseException:
        with store.reading() as session:
            ours = not stations_told(session)
        if ours:
            empty_schema(store)
        raise


def _files_or_nothing(store: Store, arrived: _Arrived) -> int:
    """Put the files beside a store that was just filled; where that fails its schema goes again."""
    try:
        return take_files_in(arrived.payload, store) if arrived.payload else 0
    except BaseException:
        empty_schema(store)
        raise


@contextmanager
def _references_in_words() -> Iterator[None]:
    """Turn a reference that a server finds to lead nowhere into a refusal; on a file it is named row by row."""
    try:
        yield
    except IntegrityError as fault:
        text = N_("A row of the package points at one that the package has not ({why}). Nothing was taken in.")
        raise Refusal("package_broken_reference", text, why=str(fault.orig).split("\n")[0][:80]) from fault


def _made(folder: Path) -> Path:
    folder.mkdir()
    return folder


def _target(into: str | Path) -> Path:
    target = store_path(into)
    if target.exists() or target.with_suffix(PHOTOS).exists():
        text = N_("There is already something at {path}. A package makes a new store; choose another name.")
        raise Refusal("store_not_empty", text, path=str(target))
    return target


@contextmanager
def _beside(target: Path) -> Iterator[Path]:
    with in_words(target):
        target.parent.mkdir(parents=True, exist_ok=True)
        folder = Path(tempfile.mkdtemp(dir=target.parent, prefix=f".{target.name}."))
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _put_in_place(made: Path, target: Path) -> None:
    """Move the photographs first: a store is there only when everything it speaks of is."""
    photos = (made / target.name).with_suffix(PHOTOS)
    if photos.exists():
        photos.rename(target.with_suffix(PHOTOS))
    (made / target.name).rename(target)


def _checked(package: ArrivedPackage) -> tuple[WholeTable, ...]:
    """Return the tables to take in, after comparing what the package has with what a store has."""
    ours = package.said.get(OURS)
    if not isinstance(ours, dict) or not isinstance(ours.get("schema"), str):
        text = N_("The package in {folder} does not hold a store of this program. Its tables can be read as CSV.")
        raise Refusal("not_our_package", text, folder=str(package.folder))
    if ours["schema"] not in KNOWN:
        text = N_("The package was written by a newer version of this program. Take it in with that version.")
        raise Refusal("package_newer", text)
    tables = whole_tables()
    known = {one.name for one in tables}
    for name in package.tables:
        if name not in known | {TERMS}:
            raise Refusal(
                "package_unknown_table",
                N_("The package has a table {table} that no store has. Nothing was taken in."),
                table=name,
            )
    for table in tables:
        _check_columns(table, package.tables.get(table.name))
    return tables


def _check_columns(table: WholeTable, arrived: ArrivedTable | None) -> None:
    if arrived is None:
        text = N_("The package has no table {table}. Ask for the whole package; nothing was taken in.")
        raise Refusal("package_incomplete", text, table=table.name)
    names = [one.name for one in table.columns]
    for name in arrived.fields:
        if name not in names:
            text = N_("The table {table} of the package has a column {column} that no store has. Nothing was taken in.")
            raise Refusal("package_unknown_column", text, table=table.name, column=name)
    for name in names:
        if name not in arrived.fields:
            text = N_("The table {table} of the package has no column {column}. Nothing was taken in.")
            raise Refusal("package_incomplete", text, table=table.name, column=name)


def _put(session: Session, table: WholeTable, arrived: ArrivedTable, follow: Follow) -> int:
    done = 0
    try:
        for done in put_rows(session, table.name, rows_in(arrived, tuple(one.name for one in table.columns))):
            follow(done, 0)
    except CellUnreadable as fault:
        text = N_("Row {row} of {table} has in {column} what cannot be there: “{value}”. Nothing was taken in.")
        facts = {"row": fault.row + 1, "table": table.name, "column": fault.column, "value": fault.text[:40]}
        raise Refusal("package_value", text, **facts) from fault
    except IntegrityError as fault:
        text = N_("A row of {table} after row {row} cannot stand beside the others ({why}). Nothing was taken in.")
        raise Refusal("package_row_refused", text, table=table.name, row=done, why=str(fault.orig)) from fault
    return done


def _sound(session: Session, package: ArrivedPackage) -> str:
    """Return the head of what was put in, after every reference was followed and the head compared."""
    for one in dangling(session):
        text = N_(
            "A row of {table} ({row_id}) points at a row of {parent} that the package has not. Nothing was taken in."
        )
        raise Refusal("package_broken_reference", text, table=one.table, row_id=one.row_id, parent=one.parent)
    head = store_head(session)
    if head != package.said[OURS].get("head"):
        text = N_("The journal of the package does not end where it says. Ask for it again; nothing was taken in.")
        raise Refusal("package_other_head", text)
    return head
