"""What the reader of spreadsheets does not tell: which cells are formulas, which hold errors, how far a sheet reaches.

Only names of elements and attributes are looked at; no entity of a hostile file is ever resolved (a document type is
refused).
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from posixpath import join, normpath
from xml.parsers import expat

from findsdesk.exchange.arriving_files import LARGEST_UNPACKED

_MARKS = (b"<f>", b"<f ", b"<f/", b":f>", b":f ", b":f/", b't="e"', b"t='e'", b"r='", b"<!DOCTYPE")
"""What a sheet must not hold if it is not to be walked through: formulas, errors, addresses in another form."""
_FIRST_LOOKS = (b"<f", b":f", b't="e"', b"='", b"<!")
"""Each of those marks holds one of these: a large sheet without any of them is searched half as often."""
_MOST_ROWS, _MOST_COLUMNS = 1_048_576, 16_384
_HARMLESS = 16_000_000
"""As many cells the reader may unfold at most without asking for much memory."""
_ADDRESS = re.compile(r"([A-Z]{1,3})(\d{1,7})")
_RELATION = "http://schemas.openxmlformats.org/officeDocument/2006/relationships id"


class HostileSheet(Exception):
    """The file declares a document type or is no sound XML: it is not read further."""


@dataclass(slots=True)
class SheetContents:
    """Formulas and errors by (row, column), both from 0, and how many rows and columns the filled cells reach over."""

    formulas: dict[tuple[int, int], str] = field(default_factory=dict)
    errors: dict[tuple[int, int], str] = field(default_factory=dict)
    rows: int = 0
    columns: int = 0

    def reach(self, row: int, column: int) -> None:
        """Note that a filled cell stands at a place."""
        self.rows, self.columns = max(self.rows, row + 1), max(self.columns, column + 1)


def column_number(letters: str) -> int:
    """Return the position of a column from its letters: A is 0, Z is 25, AA is 26."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number - 1


def _parse(
    content: bytes,
    start: Callable[[str, dict[str, str]], None],
    end: Callable[[str], None] | None = None,
    text: Callable[[str], None] | None = None,
) -> None:
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = text

    def refuse(*_declaration: object) -> None:
        raise HostileSheet("a document type is declared")

    parser.StartDoctypeDeclHandler = refuse
    try:
        parser.Parse(content, True)
    except expat.ExpatError as fault:
        raise HostileSheet(str(fault)) from fault


def _local(name: str) -> str:
    return name.rpartition(" ")[2]


def read_member(archive: zipfile.ZipFile, name: str) -> bytes:
    """Return a member of an archive, never more than the limit whatever its directory says."""
    with archive.open(name) as stream:
        content = stream.read(LARGEST_UNPACKED + 1)
    if len(content) > LARGEST_UNPACKED:
        raise HostileSheet("a member is larger than any list")
    return content


def sheet_members(archive: zipfile.ZipFile) -> dict[str, str]:
    """Return the member of an XLSX file that holds each sheet, by the sheet's name."""
    relations: dict[str, str] = {}
    sheets: dict[str, str] = {}

    def relation(name: str, attributes: Mapping[str, str]) -> None:
        if _local(name) == "Relationship":
            relations[attributes.get("Id", "")] = attributes.get("Target", "")

    def sheet(name: str, attributes: Mapping[str, str]) -> None:
        if _local(name) == "sheet":
            target = relations.get(attributes.get(_RELATION, ""), "")
            path = target.lstrip("/") if target.startswith("/") else normpath(join("xl", target))
            sheets[attributes.get("name", "")] = path

    _parse(read_member(archive, "xl/_rels/workbook.xml.rels"), relation)
    _parse(read_member(archive, "xl/workbook.xml"), sheet)
    return sheets


class _XlsxSheet:
    """Walks through the cells of one sheet of an XLSX file."""

    def __init__(self) -> None:
        self.contents = SheetContents()
        self._row = -1
        self._column = -1
        self._error = False
        self._inside = ""
        self._text: list[str] = []

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        local = _local(name)
        if local == "row":
            self._row = int(attributes["r"]) - 1 if attributes.get("r", "").isdigit() else self._row + 1
            self._column = -1
        elif local == "c":
            address = _ADDRESS.fullmatch(attributes.get("r", ""))
            self._column = column_number(address[1]) if address else self._column + 1
            if address:
                self._row = int(address[2]) - 1
            self._error = attributes.get("t") == "e"
        elif local in {"f", "v", "is"}:
            self._inside, self._text = local, []
            self.contents.reach(self._row, self._column)

    def text(self, text: str) -> None:
        if self._inside in {"f", "v"}:
            self._text.append(text)

    def end(self, name: str) -> None:
        local = _local(name)
        if local == "f":
            self.contents.formulas[self._row, self._column] = "=" + "".join(self._text)
        elif local == "v" and self._error:
            self.contents.errors[self._row, self._column] = "".join(self._text)
        if local == self._inside:
            self._inside = ""


def _bound(content: bytes) -> int:
    """Return, after a quick search, as many cells as a sheet may unfold to at most."""
    if not re.search(rb'r="(?:[A-Z]{2}|[A-Z]?[0-9]{6})', content):
        return 99_999 * 26
    if re.search(rb'r="[A-Z]{2}', content):
        return _MOST_ROWS * _MOST_COLUMNS
    return _MOST_ROWS * (26 if re.search(rb'r="[P-Z]', content) else 15)


def _is_plain(content: bytes) -> bool:
    """Tell whether a sheet holds none of the marks."""
    return not (any(look in content for look in _FIRST_LOOKS) and any(mark in content for mark in _MARKS))


def look_into_xlsx(archive: zipfile.ZipFile, member: str) -> SheetContents:
    """Return what a sheet of an XLSX file holds besides values.

    A sheet without formulas and errors that cannot reach far is not walked through: a search in its bytes is enough,
    and its reach is left to who reads it.
    """
    content = read_member(archive, member)
    if _is_plain(content) and _bound(content) <= _HARMLESS:
        return SheetContents()
    walk = _XlsxSheet()
    _parse(content, walk.start, walk.end, walk.text)
    return walk.contents


class _OdsSheets:
    """Walks through the cells of all sheets of an ODS file."""

    def __init__(self) -> None:
        self.sheets: dict[str, SheetContents] = {}
        self._sheet = SheetContents()
        self._row = 0
        self._column = 0
        self._row_repeats = 1

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        plain = {_local(key): value for key, value in attributes.items()}
        local = _local(name)
        if local == "table":
            self._sheet = self.sheets[plain.get("name", "")] = SheetContents()
            self._row = 0
        elif local == "table-row":
            self._row_repeats = int(plain.get("number-rows-repeated", "1"))
            self._column = 0
        elif local in {"table-cell", "covered-table-cell"}:
            repeats = int(plain.get("number-columns-repeated", "1"))
            if "value-type" in plain or "formula" in plain:
                self._sheet.reach(self._row + self._row_repeats - 1, self._column + repeats - 1)
                self._mark(plain)
            self._column += repeats

    def _mark(self, plain: Mapping[str, str]) -> None:
        if "formula" in plain:
            self._sheet.formulas[self._row, self._column] = re.sub(r"^\w+:", "", plain["formula"])

    def end(self, name: str) -> None:
        if _local(name) == "table-row":
            self._row += self._row_repeats


def look_into_ods(archive: zipfile.ZipFile) -> dict[str, SheetContents]:
    """Return what each sheet of an ODS file holds besides values."""
    walk = _OdsSheets()
    try:
        _parse(read_member(archive, "content.xml"), walk.start, walk.end)
    except ValueError as fault:
        raise HostileSheet(str(fault)) from fault
    return walk.sheets
