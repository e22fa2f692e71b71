"""A data package taken in: the same store again, with its journal, where no store is yet."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import text as statement
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from findsdesk.desk.following import Follow, quietly
from findsdesk.desk.handed_files import take_files_in
from findsdesk.desk.package_export import OURS
from findsdesk.desk.package_schema import TERMS
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.arriving_packages import ArrivedPackage, ArrivedTable, read_package, rows_in
from findsdesk.exchange.outgoing_folders import in_words
from findsdesk.exchange.sealed_folders import PAYLOAD, is_sealed, prove_sealed
from findsdesk.exchange.unpacking import unpack
from findsdesk.store.journal import store_head
from findsdesk.store.photo_folder import SUFFIX as PHOTOS
from findsdesk.store.schema import KNOWN, bring_up
from findsdesk.store.search_index import make_index_anew
from findsdesk.store.session import Store, is_url, store_path
from findsdesk.store.soundness import dangling
from findsdesk.store.whole_tables import CellUnreadable, WholeTable, put_rows, whole_tables
from findsdesk.words import N_

PACKAGE_IN_BUNDLE = "records"
"""The folder of the data package within the payload of what is handed over."""


@dataclass(frozen=True, slots=True)
class TakenIn:
    """A package that became a store: its file, how many rows and tables, the store's head, files of photographs."""

    store: Path
    tables: int
    rows: int
    head: str
    files: int


def take_in_package(source: Path, into: str | Path, *, follow: Follow = quietly) -> TakenIn:
    """Make a store from a data package, a hand-over folder or a zip of one; all of it or nothing.

    The store must not be there yet. The journal comes along as it is; PINs are set anew. ``follow`` is told rows.

    Refusals: ``store_not_empty``, ``package_needs_file`` (a server), ``package_newer``, ``not_our_package``,
    ``package_unknown_table``, ``package_unknown_column``, ``package_incomplete``, ``package_value``,
    ``package_row_refused``, ``package_broken_reference``, ``package_other_head``, and those of ``read_package``,
    ``prove_sealed`` and ``unpack``.
    """
    target = _target(into)
    with _beside(target) as beside:
        folder = unpack(source, _made(beside / "unpacked")) if source.is_file() else source
        if is_sealed(folder):
            prove_sealed(folder)
            package = read_package(folder / PAYLOAD / PACKAGE_IN_BUNDLE)
        else:
            package = read_package(folder)
        tables = _checked(package)
        store = Store(_made(beside / "store") / target.name)
        try:
            bring_up(store)
            with store.writing() as session:
                rows = sum(_put(session, one, package.tables[one.name], follow) for one in tables)
                head = _sound(session, package)
                make_index_anew(session)
        finally:
            store.close()
        files = take_files_in(folder / PAYLOAD, store) if is_sealed(folder) else 0
        with in_words(target):
            _put_in_place(beside / "store", target)
    return TakenIn(target, len(tables), rows, head, files)


def _made(folder: Path) -> Path:
    folder.mkdir()
    return folder


def _target(into: str | Path) -> Path:
    if is_url(str(into)):
        raise Refusal(
            "package_needs_file",
            N_("A package becomes a store in a file, not on a server. Name a file for it."),
        )
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
    # What points at a row may come before it; all is checked together at the end.
    session.connection().execute(statement("PRAGMA defer_foreign_keys = ON"))
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
