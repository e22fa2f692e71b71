"""Cells that are not plain values: formulas, error values, and our own mark against formulas."""

from __future__ import annotations

import re

from findsdesk.domain.raw_tables import TableNote
from findsdesk.words import N_

_NEEDS_MARK = re.compile(r"'*[=+\-@\t\r]")
_FIRST_SIGNS = frozenset("'=+-@\t\r")
_MARKED = re.compile(r"'+[=+\-@\t\r]")
_TEXT_FORMULA = re.compile(r'="([^"]*)"')
_ERROR = re.compile(r"#(?:DIV/0!|N/A|NAME\?|NULL!|NUM!|REF!|VALUE!|SPILL!|CALC!|GETTING_DATA)|Err:\d{3}")
SIGNS_TO_LOOK_AT = frozenset({"=", "'", "#", "E"})
"""First signs of a cell of a text file that may be odd; all other cells need no look."""


def defused(text: str) -> str:
    """Return a text that no spreadsheet program takes for a formula: an apostrophe goes before a dangerous first sign.

    ``undefused`` gives back exactly the text before.
    """
    # Most texts begin with none of these signs: asking for the first one alone is many times quicker.
    return "'" + text if text[:1] in _FIRST_SIGNS and _NEEDS_MARK.match(text) else text


def undefused(text: str) -> str:
    """Return a text without the mark that ``defused`` put before it."""
    return text[1:] if _MARKED.match(text) else text


def without_error(text: str, line: int, column: int, notes: list[TableNote]) -> str:
    """Return the text of a cell, or nothing and a note for an error value."""
    if _ERROR.fullmatch(text):
        notes.append(error_note(text, line, column))
        return ""
    return text


def plain_cell(text: str, line: int, column: int, notes: list[TableNote]) -> str:
    """Return the value of a cell of a text file; a formula or an error value leaves a note."""
    if _MARKED.match(text):
        return undefused(text)
    text = without_error(text, line, column, notes)
    if not text.startswith("=") or len(text) == 1:
        return text
    if found := _TEXT_FORMULA.fullmatch(text):
        notes.append(formula_note(found[1], line, column))
        return found[1]
    notes.append(formula_without_value_note(text, line, column))
    return ""


def formula_note(value: str, line: int, column: int) -> TableNote:
    """Return the note on a cell that came as a formula and had a value."""
    text = N_("Line {line}: a cell came as a formula; its value {value} is taken.")
    return TableNote("formula", text, {"line": line, "value": value}, line, column)


def formula_without_value_note(formula: str, line: int, column: int) -> TableNote:
    """Return the question on a cell that came as a formula without a value."""
    text = N_("A cell came as a formula ({formula}) without a value. What should stand there?")
    return TableNote("formula_without_value", text, {"formula": formula[:60]}, line, column, asks=True)


def error_note(value: str, line: int, column: int) -> TableNote:
    """Return the question on a cell that holds a spreadsheet's error value."""
    text = N_("A cell holds the error {value} instead of a value. What should stand there?")
    return TableNote("error_value", text, {"value": value}, line, column, asks=True)
