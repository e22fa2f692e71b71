"""Tables in text files: the encoding found or asked for, the separator found, the cells read."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections import Counter
from collections.abc import Callable, Iterator

from findsdesk.domain.raw_tables import RawRow, TableNote
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.exchange.arriving_files import MOST_CELLS, ArrivedFile, not_a_table, too_many_cells
from findsdesk.exchange.odd_cells import SIGNS_TO_LOOK_AT, plain_cell
from findsdesk.words import N_

SEPARATORS = (",", ";", "\t", "|")
_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_USUAL_GUESSES = ("cp1252", "cp1250", "cp1251", "cp1253", "cp1254", "cp1255", "cp1256", "mac_roman", "cp850")
_SAMPLE_LINES = 60
_MOST_HEADERS = 2_000
"""So many cells of a line are looked at for names of columns: no list has more."""
_HINT = re.compile(r"^\s*\"?sep=(.)\"?\s*$", re.IGNORECASE)


def _guesses(content: bytes) -> list[str]:
    """Return encodings a file may have, the likeliest first; a detector only orders the usual ones."""
    from charset_normalizer import from_bytes  # large, and needed only where a file is not UTF-8

    ordered = [match.encoding for match in from_bytes(content[:20_000], cp_isolation=list(_USUAL_GUESSES))]
    possible = [*_USUAL_GUESSES[:1], *ordered, *_USUAL_GUESSES]
    fitting: list[str] = []
    for encoding in dict.fromkeys(possible):
        try:
            content.decode(encoding)
        except (UnicodeDecodeError, LookupError):
            continue
        fitting.append(encoding)
    return fitting or ["latin-1"]


def _preview(content: bytes, encoding: str) -> str:
    """Return the first line that has a sign outside ASCII, as it would read in an encoding."""
    text = content.decode(encoding, errors="replace")
    line = next((line for line in text.splitlines() if not line.isascii()), text[:80])
    return line.strip()[:80]


def _ask_encoding(name: str, content: bytes) -> Question:
    guesses = ["utf-16-le", "utf-16-be"] if b"\x00" in content[:2000] else _guesses(content)
    text = N_(
        "The encoding of {file} is unsure. Does this line read well: “{preview}”? Otherwise choose another encoding."
    )
    previews = {guess: _preview(content, guess) for guess in guesses}
    return Question(
        "encoding_unsure",
        text,
        file=name,
        encoding=guesses[0],
        preview=previews[guesses[0]],
        choices=tuple(guesses),
        previews=previews,
    )


def decode(arrived: ArrivedFile, encoding: str | None) -> tuple[str, str]:
    """Return the text of a file and its encoding: by its byte order mark, as strict UTF-8, or as told.

    Raises the question ``encoding_unsure`` with the likeliest encoding, how a line reads in it, and all choices;
    the refusals ``encoding_wrong`` and ``not_a_table``.
    """
    content = arrived.content
    marked = next((name for mark, name in _MARKS if content.startswith(mark)), None)
    chosen = marked or encoding or "utf-8"
    try:
        text = content.decode(chosen)
    except LookupError as fault:
        message = N_("There is no encoding named {encoding}. Try utf-8, utf-16 or cp1252.")
        raise Refusal("encoding_unknown", message, encoding=chosen) from fault
    except UnicodeDecodeError as fault:
        if marked or encoding:
            message = N_("{file} cannot be read as {encoding}. Choose another encoding, or save the list as UTF-8.")
            raise Refusal("encoding_wrong", message, file=arrived.name, encoding=chosen) from fault
        raise _ask_encoding(arrived.name, content) from fault
    if "\x00" in text:
        if encoding is None and marked is None and content.count(b"\x00") > len(content) // 3:
            raise _ask_encoding(arrived.name, content)
        raise not_a_table(arrived.name, "data")
    return text, "utf-8" if chosen == "utf-8-sig" else chosen


def _separator_of(text: str, is_known: Callable[[str], bool]) -> str:
    """Return the separator under which most headers are known; else the one that gives the steadiest rows."""
    sample = "\n".join(text.splitlines()[:_SAMPLE_LINES])
    best, best_score = ",", (-1, -1, -1)
    for separator in SEPARATORS:
        rows = _parted(sample, separator)
        known = max((sum(map(is_known, row[:_MOST_HEADERS])) for row in rows), default=0)
        widths = Counter(len(row) for row in rows if len(row) > 1)
        width, steady = widths.most_common(1)[0] if widths else (0, 0)
        if (score := (known if known > 1 else 0, steady, width)) > best_score:
            best, best_score = separator, score
    return best


def _parted(sample: str, separator: str) -> list[list[str]]:
    """Return the rows of a sample; a cell longer than any text (a line of a million columns) is not parted so."""
    try:
        return [row for row in csv.reader(io.StringIO(sample, newline=""), delimiter=separator) if any(row)]
    except csv.Error:
        return []


def _records(name: str, text: str, separator: str, strict: bool) -> Iterator[tuple[int, list[str]]]:
    """Yield each record with the number of the line it begins on."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=strict)
    start = 1
    try:
        for record in reader:
            yield start, record
            start = reader.line_num + 1
    except csv.Error as fault:
        if "unexpected end" in str(fault) or "field larger" in str(fault):
            message = N_("In {file}, line {line}, a quotation mark opens and never closes. Mend it and try again.")
            raise Refusal("quote_open", message, file=name, line=start) from fault
        raise


def read_text(
    arrived: ArrivedFile, encoding: str | None, is_known: Callable[[str], bool]
) -> tuple[list[RawRow], list[TableNote], str, str]:
    """Return the rows of a text table (blank ones left out), the notes, the encoding and the separator."""
    text, found = decode(arrived, encoding)
    if "\n" not in text:
        text = text.replace("\r", "\n")
    first, _, rest = text.partition("\n")
    skipped = 0
    if hint := _HINT.match(first):
        text, skipped, separator = rest, 1, hint[1]
    else:
        separator = _separator_of(text, is_known)
    notes: list[TableNote] = []
    try:
        rows = _rows(arrived.name, text, separator, skipped, True, notes)
    except csv.Error:
        notes.clear()
        rows = _rows(arrived.name, text, separator, skipped, False, notes)
    return rows, notes, found, separator


def _rows(name: str, text: str, separator: str, skipped: int, strict: bool, notes: list[TableNote]) -> list[RawRow]:
    rows: list[RawRow] = []
    cells = 0
    for line, record in _records(name, text, separator, strict):
        cells += len(record)
        if cells > MOST_CELLS:
            raise too_many_cells(name)
        if not any(cell and not cell.isspace() for cell in record):
            continue
        number = line + skipped
        if any(cell[:1] in SIGNS_TO_LOOK_AT for cell in record):
            record = [plain_cell(cell, number, column, notes) for column, cell in enumerate(record)]
        rows.append(RawRow(number, tuple(record)))
    return rows
