"""A file as it arrives: read whole, within limits, and known by what is in it, not by its name."""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path, PurePosixPath

from findsdesk.domain.refusals import Refusal
from findsdesk.domain.type_rows import TABLE_NAME
from findsdesk.exchange.archives import unpacks_without_end, whole_or
from findsdesk.words import N_

MEGABYTE = 1_000_000
LARGEST_FILE = 200 * MEGABYTE
MOST_CELLS = 1_000_000
MOST_MEMBERS = 2_000
LARGEST_UNPACKED = 1_000 * MEGABYTE

_TEXT_FORMAT, _XLSX, _ODS = "csv", "xlsx", "ods"
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_OTHER_KINDS: tuple[tuple[bytes, str], ...] = (
    (b"%PDF", "PDF"),
    (b"\x89PNG", "PNG"),
    (b"\xff\xd8\xff", "JPEG"),
    (b"GIF8", "GIF"),
    (b"II*\x00", "TIFF"),
    (b"MM\x00*", "TIFF"),
    (b"SQLite format 3", "SQLite"),
    (b"{\\rtf", "RTF"),
    (b"\x1f\x8b", "gzip"),
    (b"7z\xbc\xaf", "7z"),
    (b"Rar!", "RAR"),
    (b"\x7fELF", "ELF"),
    (b"MZ", "EXE"),
)


@dataclass(frozen=True, slots=True)
class ArrivedFile:
    """A file read whole: its name, bytes, format ("csv", "xlsx" or "ods") and SHA-256 in hex."""

    name: str
    content: bytes
    format: str
    digest: str


def damaged(name: str) -> Refusal:
    """Return the refusal of a spreadsheet that cannot be opened."""
    text = N_("{file} is damaged and cannot be read. Open it in a spreadsheet program and save it again.")
    return Refusal("file_damaged", text, file=name)


def too_many_cells(name: str) -> Refusal:
    """Return the refusal of a table that holds more cells than one list may."""
    text = N_("{file} has more than {limit} cells. Delete empty rows and columns far out, or divide the list.")
    return Refusal("table_too_large", text, file=name, limit=f"{MOST_CELLS:,}")


def locked_by_password(name: str) -> Refusal:
    """Return the refusal of a file that is protected by a password."""
    text = N_("{file} is protected by a password. Open it, take the password off, save it, and bring it again.")
    return Refusal("file_password", text, file=name)


def not_a_table(name: str, kind: str) -> Refusal:
    """Return the refusal of a file that is no table at all."""
    text = N_("{file} is not a table but {kind}. Save the list as CSV, XLSX or ODS and bring that file.")
    return Refusal("not_a_table", text, file=name, kind=kind)


def _read_whole(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise Refusal("file_is_folder", N_("{file} is a folder. Choose the list inside it."), file=path.name)
        size = path.stat().st_size
        if size > LARGEST_FILE:
            text = N_("{file} has {size} MB; the most is {limit} MB. Save only the list's sheet in a file of its own.")
            raise Refusal("file_too_large", text, file=path.name, size=size // MEGABYTE, limit=LARGEST_FILE // MEGABYTE)
        with path.open("rb") as stream:
            return stream.read(LARGEST_FILE)
    except FileNotFoundError as fault:
        text = N_("There is no file {file}. Check the name and the folder.")
        raise Refusal("file_missing", text, file=str(path)) from fault
    except OSError as fault:
        text = N_("{file} cannot be read ({why}). Close it in other programs, or copy it to this computer first.")
        raise Refusal("file_unreadable", text, file=path.name, why=fault.strerror or type(fault).__name__) from fault


def _zip_format(name: str, content: bytes) -> str:
    """Return whether a ZIP file is an XLSX or an ODS, after looking at its directory for a bomb."""
    with whole_or(damaged(name)), zipfile.ZipFile(io.BytesIO(content)) as archive:
        members = archive.infolist()
        kind = archive.read("mimetype")[:60] if "mimetype" in archive.NameToInfo else b""
    unpacked = sum(member.file_size for member in members)
    bomb = unpacks_without_end(members, len(content))
    if len(members) > MOST_MEMBERS or unpacked > LARGEST_UNPACKED or bomb:
        text = N_("{file} unpacks to far more than a list holds; it was not opened. Save its sheet as CSV.")
        raise Refusal("file_unpacks_too_large", text, file=name)
    if any(member.flag_bits & 0x1 for member in members):
        raise locked_by_password(name)
    names = {member.filename for member in members}
    if "xl/workbook.xml" in names:
        return _XLSX
    if kind == b"application/vnd.oasis.opendocument.spreadsheet":
        return _ODS
    if "[Content_Types].xml" in names and any(one.startswith("xl/") for one in names):
        raise damaged(name)
    if any(PurePosixPath(one).stem == TABLE_NAME for one in names):
        text = N_("{file} is a type series with pictures. Take it in under Wares, or with: findsdesk types --take-in.")
        raise Refusal("type_archive", text, file=name)
    raise not_a_table(name, "ZIP")


def _format_of(name: str, content: bytes) -> str:
    if content.startswith(b"PK\x03\x04"):
        return _zip_format(name, content)
    if content.startswith(b"PK"):
        raise damaged(name)
    if content.startswith(_OLE):
        if "EncryptedPackage".encode("utf-16-le") in content:
            raise locked_by_password(name)
        text = N_("{file} has an old spreadsheet format. Open it in a spreadsheet program and save it as XLSX or CSV.")
        raise Refusal("file_old_format", text, file=name)
    for magic, kind in _OTHER_KINDS:
        if content.startswith(magic):
            raise not_a_table(name, kind)
    start = content[:1000].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if start.startswith((b"<html", b"<!doctype", b"<?xml", b"<svg")):
        raise not_a_table(name, "HTML/XML")
    if Path(name).suffix.lower() in {".xlsx", ".ods", ".xlsm"}:
        raise damaged(name)
    return _TEXT_FORMAT


def take_file(path: Path) -> ArrivedFile:
    """Read a file whole and find out what it is. Nothing is unpacked beyond its directory.

    Raises the refusals ``file_missing``, ``file_is_folder``, ``file_unreadable``, ``file_empty``, ``file_too_large``,
    ``file_damaged``, ``file_password``, ``file_old_format``, ``file_unpacks_too_large``, ``type_archive`` and
    ``not_a_table``.
    """
    content = _read_whole(path)
    if not content:
        text = N_("{file} is empty (0 bytes). Ask for the list again; it was perhaps never saved.")
        raise Refusal("file_empty", text, file=path.name)
    return ArrivedFile(path.name, content, _format_of(path.name, content), sha256(content).hexdigest())


def take_text(path: Path) -> str:
    """Read a file of plain text in UTF-8 (a file of acts, of settings). Raises ``not_utf8`` besides the above."""
    content = _read_whole(path)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        text = N_("{file} is not plain text in UTF-8. Save it as UTF-8 and try again.")
        raise Refusal("not_utf8", text, file=path.name) from fault
