"""A table as it came in: rows of text with their line numbers, and what was noticed while reading it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from findsdesk.words import Terms, put


@dataclass(frozen=True, slots=True)
class TableNote:
    """Something noticed in a table: on one cell, on one line, or (without a line) on the whole of it.

    ``asks`` says that a person must look before the line goes in; without it the note is only told.
    """

    code: str
    text: str
    facts: Mapping[str, object] = field(default_factory=dict)
    line_number: int | None = None
    column: int | None = None
    asks: bool = False

    def in_words(self, terms: Terms | None = None, language: str | None = None) -> str:
        """Return the sentence a person reads."""
        return put(self.text, terms, self.facts, language)


@dataclass(frozen=True, slots=True)
class RawRow:
    """One line of a table, as text; the line number is the one a spreadsheet or an editor shows."""

    line_number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RawTable:
    """A table as it came in.

    ``encoding`` and ``separator`` are None for a spreadsheet, ``sheet`` is None for a text file. ``title_lines`` stand
    above the header row. ``digest`` is the SHA-256 of the whole file, in hex.
    """

    headers: tuple[str, ...]
    rows: tuple[RawRow, ...]
    format: str
    encoding: str | None
    separator: str | None
    notes: tuple[TableNote, ...]
    digest: str
    sheet: str | None = None
    sheets: tuple[str, ...] = ()
    title_lines: tuple[str, ...] = ()
