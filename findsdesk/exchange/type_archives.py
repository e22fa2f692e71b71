"""A type series with its pictures: a zip (or a folder) with a table, a list of pictures, and the pictures themselves.

Open and plain: ``type-series.csv`` as it is written alone, ``pictures.csv`` with a line for each picture, and
``pictures/`` with the files, named by the SHA-256 of their bytes.
"""

from __future__ import annotations

import hashlib
import tempfile
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from findsdesk.domain.refusals import Refusal
from findsdesk.domain.type_pictures import PICTURE_COLUMNS, TypePicture, of_line, read_type_picture
from findsdesk.domain.type_rows import COLUMNS, TABLE_NAME
from findsdesk.exchange.arriving_files import LARGEST_FILE, MEGABYTE
from findsdesk.exchange.outgoing_folders import in_words
from findsdesk.exchange.tables import RawTable, read_table
from findsdesk.exchange.unpacking import unpack
from findsdesk.exchange.writing import see_the_folder, write_csv, written_whole
from findsdesk.words import N_, put

SUFFIX = ".zip"
LIST, FOLDER = "pictures", "pictures/"
_ENDINGS = (".csv", ".xlsx", ".ods")
"""What a table may end in: whoever corrects one in a spreadsheet may save it as such."""
_TABLES = frozenset(TABLE_NAME + ending for ending in _ENDINGS)


@dataclass(frozen=True, slots=True)
class CarriedPicture:
    """A picture that goes along: its line of the list, and where its file lies now."""

    said: TypePicture
    path: Path


def write_type_archive(rows: Iterable[Sequence[str]], pictures: Iterable[CarriedPicture], path: Path) -> int:
    """Write a type series with its pictures, whole or not at all; returns how many rows. Refusal: ``cannot_write``.

    A picture of two codes goes along once and is listed twice.
    """
    see_the_folder(path)
    carried = list(pictures)
    with in_words(path), tempfile.TemporaryDirectory(prefix="findsdesk-types-") as beside:
        table, listed = Path(beside) / f"{TABLE_NAME}.csv", Path(beside) / f"{LIST}.csv"
        written = write_csv(COLUMNS, rows, table, for_spreadsheet=True)
        write_csv(PICTURE_COLUMNS, (one.said.as_cells() for one in carried), listed, for_spreadsheet=True)
        with (
            written_whole(path) as whole,
            zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED, strict_timestamps=False) as archive,
        ):
            for file in (table, listed):
                archive.write(file, file.name)
            for name, source in {one.said.file: one.path for one in carried}.items():
                archive.write(source, name, zipfile.ZIP_STORED)
    return written


@dataclass(frozen=True, slots=True)
class ArrivedTypes:
    """A type series that came in: its table, and the pictures listed with it, of which none was looked at yet."""

    table: RawTable
    folder: Path | None
    pictures: tuple[TypePicture, ...]
    faults: tuple[Refusal, ...] = ()
    """Lines of the list that could not be read: ``type_picture_unreadable``."""

    def content(self, picture: TypePicture) -> bytes:
        """Return the bytes of a picture, proved to be those that the list names.

        Refusals, each with the line: ``picture_missing``, ``picture_too_large``, ``picture_changed``.
        """
        content = b"" if self.folder is None else _content(self.folder, picture.file)
        if not content:
            why = put(N_("there is no file {file} with it."), None, {"file": picture.file[:100]})
            raise of_line("picture_missing", picture.line, why)
        if len(content) > LARGEST_FILE:
            facts = {"file": picture.name, "limit": LARGEST_FILE // MEGABYTE}
            raise of_line("picture_too_large", picture.line, put(N_("{file} has more than {limit} MB."), None, facts))
        if picture.sha256 and hashlib.sha256(content).hexdigest() != picture.sha256:
            why = put(N_("{file} was changed since it was written."), None, {"file": picture.name})
            raise of_line("picture_changed", picture.line, why)
        return content


@contextmanager
def arrived_types(path: Path) -> Iterator[ArrivedTypes]:
    """Open what somebody brought: a table alone, or an archive or folder with its pictures, unpacked meanwhile.

    Refusals: ``no_type_series`` (an archive without the table), and those of reading a table and of ``unpack``.
    """
    if path.is_dir():
        yield _in_folder(path, path)
    elif path.is_file() and _is_archive(path):
        with ExitStack() as meanwhile:
            with in_words(Path(tempfile.gettempdir())):
                room = tempfile.TemporaryDirectory(prefix="findsdesk-types-", ignore_cleanup_errors=True)
                beside = meanwhile.enter_context(room)
            yield _in_folder(unpack(path, Path(beside)), path)
    else:
        yield ArrivedTypes(_read(path, COLUMNS), None, ())


def _is_archive(path: Path) -> bool:
    """Tell an archive from a spreadsheet, which is a zip too; what cannot be read is told by the reader of tables."""
    try:
        with path.open("rb") as file:
            if not file.read(1):
                return False
        if path.suffix.lower() == SUFFIX:
            return True
        with zipfile.ZipFile(path) as archive:
            return any(PurePosixPath(name).name in _TABLES for name in archive.namelist())
    except (OSError, ValueError, zipfile.BadZipFile, NotImplementedError):
        return False


def _in_folder(folder: Path, brought: Path) -> ArrivedTypes:
    table, listed = _table(folder, TABLE_NAME), _table(folder, LIST)
    if table is None:
        text = N_("{file} holds no {table}. Choose a type series that was written with its pictures.")
        raise Refusal("no_type_series", text, file=brought.name, table=f"{TABLE_NAME}.csv")
    pictures: list[TypePicture] = []
    faults: list[Refusal] = []
    if listed is not None:
        lines = _read(listed, PICTURE_COLUMNS)
        headers = [header.strip().lower() for header in lines.headers]
        for row in (one for one in lines.rows if any(cell.strip() for cell in one.cells)):
            try:
                pictures.append(read_type_picture(dict(zip(headers, row.cells, strict=False)), row.line_number))
            except Refusal as fault:
                faults.append(fault)
    return ArrivedTypes(_read(table, COLUMNS), folder, tuple(pictures), tuple(faults))


def _table(folder: Path, name: str) -> Path | None:
    """Return the table of a name, whatever it was saved as."""
    return next((file for ending in _ENDINGS if (file := folder / f"{name}{ending}").is_file()), None)


def _read(path: Path, columns: tuple[str, ...]) -> RawTable:
    return read_table(path, is_known=lambda header: header.strip().lower() in columns)


def _content(folder: Path, name: str) -> bytes:
    """Return the bytes of a file by its name in the list, one more at most than may be; none of what lies outside."""
    parts = PurePosixPath(name)
    if parts.is_absolute() or ":" in name:
        return b""
    try:
        file = (folder / parts).resolve()
        if not file.is_relative_to(folder.resolve()) or not file.is_file():
            return b""
        with file.open("rb") as stream:
            return stream.read(LARGEST_FILE + 1)
    except (OSError, ValueError):
        return b""
