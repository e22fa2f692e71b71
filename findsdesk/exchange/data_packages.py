"""Data packages (Frictionless Data Package, version 1): tables as CSV with a schema that says what they mean."""

from __future__ import annotations

import csv
import hashlib
import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from findsdesk.exchange.outgoing_folders import in_words, write_json

DESCRIPTOR = "datapackage.json"
MOMENT_PATTERN = "%Y-%m-%dT%H:%M:%S.%fZ"
_DIALECT = {"delimiter": ",", "lineTerminator": "\r\n", "quoteChar": '"', "doubleQuote": True, "header": True}


@dataclass(frozen=True, slots=True)
class PackageField:
    """A field of a table: its name, its type of the Table Schema, what it means, and what its values must be."""

    name: str
    type: str
    description: str
    constraints: dict[str, Any]

    def as_plain(self) -> dict[str, Any]:
        """Return the field as a Table Schema writes it."""
        plain: dict[str, Any] = {"name": self.name, "type": self.type, "description": self.description}
        if self.type == "datetime":
            plain["format"] = MOMENT_PATTERN
        return plain | ({"constraints": self.constraints} if self.constraints else {})


@dataclass(frozen=True, slots=True)
class PackageTable:
    """A table of a package: name, meaning, fields, key, and per pointing field the table and field it points at."""

    name: str
    description: str
    fields: tuple[PackageField, ...]
    key: tuple[str, ...] = ()
    points_at: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class WrittenTable:
    """A table's file as it was written."""

    table: PackageTable
    path: str
    rows: int
    size_bytes: int
    sha256: str


class _Counted(io.RawIOBase):
    """A stream that counts and hashes what goes through it."""

    def __init__(self, under: IO[bytes]) -> None:
        self._under, self.size, self.hash = under, 0, hashlib.sha256()

    def writable(self) -> bool:
        return True

    def write(self, part: Any, /) -> int:
        self._under.write(part)
        self.hash.update(part)
        self.size += len(part)
        return len(part)


def write_table(folder: Path, table: PackageTable, rows: Iterable[Sequence[Any]]) -> WrittenTable:
    """Write a table's rows as ``data/NAME.csv`` (RFC 4180, UTF-8 without a mark) below a folder; they are streamed.

    Cells are as they are: a reader must get back exactly what went in. Refusal: ``cannot_write``.
    """
    path = folder / "data" / f"{table.name}.csv"
    written = _Tally()
    with in_words(path):
        path.parent.mkdir(exist_ok=True)
        with path.open("wb") as file:
            counted = _Counted(file)
            buffered = io.BufferedWriter(counted, 1 << 20)
            stream = io.TextIOWrapper(buffered, encoding="utf-8", newline="")
            writer = csv.writer(stream, lineterminator="\r\n")
            writer.writerow([field.name for field in table.fields])
            writer.writerows(written.passing(rows))
            stream.close()
    return WrittenTable(table, f"data/{table.name}.csv", written.rows, counted.size, counted.hash.hexdigest())


class _Tally:
    rows = 0

    def passing(self, rows: Iterable[Sequence[Any]]) -> Iterator[Sequence[Any]]:
        for row in rows:
            self.rows += 1
            yield row


def write_descriptor(folder: Path, about: dict[str, Any], tables: Iterable[WrittenTable]) -> Path:
    """Write ``datapackage.json``: what the package is, and of each table its file, hash and schema."""
    package = {"profile": "tabular-data-package", **about, "resources": [_resource(one) for one in tables]}
    write_json(package, folder / DESCRIPTOR)
    return folder / DESCRIPTOR


def _resource(one: WrittenTable) -> dict[str, Any]:
    return {
        "profile": "tabular-data-resource",
        "name": one.table.name,
        "path": one.path,
        "title": one.table.name.replace("_", " "),
        "description": one.table.description,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": one.size_bytes,
        "hash": f"sha256:{one.sha256}",
        "dialect": _DIALECT,
        "schema": _schema(one.table),
    }


def _schema(table: PackageTable) -> dict[str, Any]:
    schema: dict[str, Any] = {"fields": [field.as_plain() for field in table.fields], "missingValues": [""]}
    if table.key:
        schema["primaryKey"] = list(table.key)
    if table.points_at:
        # The standard names a table itself by nothing (Table Schema, foreign keys).
        schema["foreignKeys"] = [
            {"fields": [field], "reference": {"resource": "" if to == table.name else to, "fields": [key]}}
            for field, to, key in table.points_at
        ]
    return schema
