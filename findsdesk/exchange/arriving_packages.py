"""Data packages that come in: a folder or a zip of one, looked through before anything is taken from it."""

from __future__ import annotations

import csv
import hashlib
import io
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.data_packages import DESCRIPTOR
from findsdesk.words import N_

_LARGEST_DESCRIPTOR = 20_000_000
_LONGEST_CELL = 1 << 30


@dataclass(frozen=True, slots=True)
class ArrivedTable:
    """A table of a package: its file, the names of its fields in their order."""

    name: str
    file: Path
    fields: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ArrivedPackage:
    """A package as it was found, its files proved to be those it speaks of; ``said`` is what it says of itself."""

    folder: Path
    said: Mapping[str, Any]
    tables: Mapping[str, ArrivedTable]


def read_package(folder: Path) -> ArrivedPackage:
    """Read what a package says of itself and prove each file by its hash.

    Refusals: ``no_package``, ``package_unreadable``, ``package_path_outside``, ``package_file_gone``,
    ``package_changed``.
    """
    said = _descriptor(folder / DESCRIPTOR)
    tables: dict[str, ArrivedTable] = {}
    for resource in said["resources"]:
        try:
            name, path = str(resource["name"]), str(resource["path"])
            fields = tuple(str(field["name"]) for field in resource["schema"]["fields"])
            wanted = str(resource.get("hash", ""))
        except (KeyError, TypeError, AttributeError) as fault:
            raise _unreadable(folder) from fault
        file = _inside(folder, path)
        _prove(file, wanted)
        tables[name] = ArrivedTable(name, file, fields)
    return ArrivedPackage(folder, said, tables)


def _unreadable(where: Path) -> Refusal:
    text = N_("{file} is no description of a data package that can be read. Ask for the package again.")
    return Refusal("package_unreadable", text, file=str(where))


def _descriptor(file: Path) -> dict[str, Any]:
    try:
        if file.stat().st_size > _LARGEST_DESCRIPTOR:
            raise _unreadable(file)
        said = json.loads(file.read_bytes())
    except FileNotFoundError as fault:
        text = N_("There is no data package in {folder}: {name} is missing. Choose the folder that holds it.")
        raise Refusal("no_package", text, folder=str(file.parent), name=file.name) from fault
    except (OSError, ValueError, RecursionError) as fault:
        raise _unreadable(file) from fault
    if not isinstance(said, dict) or not isinstance(said.get("resources"), list):
        raise _unreadable(file)
    return said


def _inside(folder: Path, path: str) -> Path:
    """Return a file of the package; a path that leads out of its folder, by a link too, is refused."""
    file = folder / path
    if not file.resolve().is_relative_to(folder.resolve()):
        text = N_("The package names a file outside its folder ({path}). It was not opened; ask where it comes from.")
        raise Refusal("package_path_outside", text, path=path[:60])
    return file


def _prove(file: Path, wanted: str) -> None:
    algorithm, _colon, digest = wanted.rpartition(":")
    try:
        with file.open("rb") as stream:
            found = hashlib.file_digest(stream, algorithm or "md5").hexdigest()
    except OSError as fault:
        text = N_("The file {file} of the package is missing or cannot be read. Ask for the whole package again.")
        raise Refusal("package_file_gone", text, file=file.name) from fault
    except ValueError as fault:
        raise _unreadable(file) from fault
    if found != digest:
        text = N_(
            "The file {file} is not what the package says of it. Ask for the package again; nothing was taken in."
        )
        raise Refusal("package_changed", text, file=file.name)


def rows_in(table: ArrivedTable, wanted: tuple[str, ...]) -> Iterator[list[str]]:
    """Yield a table's rows with their cells in the order of the wanted fields; a few are held at a time.

    Refusal: ``package_row_broken`` for a row that has more or fewer cells than the head, or a head unlike the schema.
    """
    # The journal's lines may be long; lists that people bring keep the module's own limit.
    usual = csv.field_size_limit(_LONGEST_CELL)
    try:
        yield from _rows_in(table, wanted)
    finally:
        csv.field_size_limit(usual)


def _rows_in(table: ArrivedTable, wanted: tuple[str, ...]) -> Iterator[list[str]]:
    places = [table.fields.index(name) for name in wanted]
    with table.file.open("rb") as file, io.TextIOWrapper(file, encoding="utf-8", newline="") as stream:
        reader = csv.reader(stream, strict=True)
        try:
            if tuple(next(reader, ())) != table.fields:
                raise _broken(table, 1)
            for row in reader:
                if len(row) != len(table.fields):
                    raise _broken(table, reader.line_num)
                yield [row[place] for place in places]
        except (csv.Error, UnicodeDecodeError) as fault:
            raise _broken(table, reader.line_num) from fault


def _broken(table: ArrivedTable, line: int) -> Refusal:
    text = N_("Line {line} of {file} is no row of its table. Nothing was taken in; ask for the package again.")
    return Refusal("package_row_broken", text, line=line, file=table.file.name)
