"""One cell of a table, read as its column says: a value, or the doubt that it brings."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from findsdesk.domain.doubts import Doubt
from findsdesk.domain.natural_order import folded
from findsdesk.domain.numbers import MOST_PERMILLE, MOST_PIECES, MOST_TENTHS
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.table_kinds import Reads
from findsdesk.domain.written_dates import DayOrder, Season, written_date
from findsdesk.domain.written_numbers import (
    DecimalSign,
    WrittenNumber,
    read_identifier,
    read_millimetres,
    visible,
    written_metres,
    written_number,
)
from findsdesk.domain.years import read_year
from findsdesk.words import N_, Terms

Value = str | int | date | bool | None
Circles = Literal["percent", "share"]
"""How much of a circle a rim or base has: in percent, or as a share of a whole one (0.12 is 12 %)."""

_WHOLE = re.compile(r"([0-9]{1,9})(?:[.,](?!0{3}$)0+)?")
"""A whole number, also with the zeros of a spreadsheet behind it; three of them may be thousands."""
_PARTED = re.compile(r"[0-9]{1,3}(?:(?:[,'’][0-9]{3})+|(?:\.000)+)")
_YES = {"yes": True, "y": True, "true": True, "1": True, "x": True, "no": False, "n": False, "false": False, "0": False}
_PERMILLE: dict[Circles, int] = {"percent": 10, "share": 1000}
_UNIT = re.compile(r"(?:g|gr|grams?|%)\.?$")


@dataclass(frozen=True, slots=True)
class CellHabits:
    """How a table is written throughout: the order of its dates, its decimal sign, its season."""

    day_order: DayOrder | None = "ymd"
    decimal: DecimalSign | None = "."
    """None where the table writes both."""
    season: Season | None = None
    terms: Terms = Terms()
    circles: Circles = "percent"


def reader_of(reads: Reads, column: str, what: str, habits: CellHabits) -> Callable[[str], Value | Doubt]:
    """Return what reads the cells of a column; ``what`` names the column to people. An empty cell is no doubt."""
    readers: dict[Reads, Callable[[str], Value | Doubt]] = {
        Reads.TEXT: visible,
        Reads.NUMBER: lambda text: _number(text, column, what, habits.terms),
        Reads.DAY: lambda text: _day(text, column, what, habits),
        Reads.PIECES: lambda text: _pieces(text, column, what),
        Reads.GRAMS: lambda text: _measured(text, column, what, habits.decimal, 10, MOST_TENTHS),
        Reads.PERCENT: lambda text: _measured(
            text, column, what, habits.decimal, _PERMILLE[habits.circles], MOST_PERMILLE
        ),
        Reads.METRES: lambda text: _metres(text, column, what, habits.decimal),
        Reads.YEAR: lambda text: _year(text, column),
        Reads.YES: lambda text: _yes(text, column, what),
    }
    read = readers[reads]
    return lambda text: read(text) if text and not text.isspace() else None


def _unreadable(text: str, column: str, what: str) -> Doubt:
    words = N_("“{written}” cannot be read as {what}. Write it plainly.")
    return Doubt("cell_unreadable", words, {"written": visible(text)[:60], "what": what}, column)


def _number(text: str, column: str, what: str, terms: Terms) -> Value | Doubt:
    """Return a number or code as it is written; what a spreadsheet probably changed is asked about."""
    bare = visible(text)
    if read_identifier(bare, column, terms).cleaned == "spreadsheet":
        words = N_("Changed by a spreadsheet? {what} reads “{written}”. Write what the paper says.")
        return Doubt("changed_by_spreadsheet", words, {"written": bare, "what": what}, column)
    if _PARTED.fullmatch(bare):
        words = N_("“{written}” seems to have a sign between its thousands. Write the {what} plainly.")
        return Doubt("thousands_parted", words, {"written": bare, "what": what}, column)
    found = _WHOLE.fullmatch(bare)
    return found[1] if found and len(bare) > len(found[1]) else bare


def _day(text: str, column: str, what: str, habits: CellHabits) -> Value | Doubt:
    written = written_date(text, habits.season)
    day = written.reading(habits.day_order) if written else None
    if written is None or day is None:
        return _unreadable(text, column, what)
    if habits.day_order is None and written.ambiguous:
        words = N_("“{written}” is {first} or {second}: this list writes dates in both orders. Which is meant?")
        facts = {"written": text, "first": str(written.as_dmy), "second": str(written.as_mdy)}
        return Doubt("date_two_ways", words, facts, column)
    return day


def _pieces(text: str, column: str, what: str) -> Value | Doubt:
    found = _WHOLE.fullmatch(visible(text))
    return int(found[1]) if found and int(found[1]) <= MOST_PIECES else _unreadable(text, column, what)


def _measured(text: str, column: str, what: str, decimal: DecimalSign | None, times: int, most: int) -> Value | Doubt:
    """Return a measure in whole parts: grams in tenths, percent in per mille; half a part is rounded up."""
    written = written_number(_UNIT.sub("", visible(text).lower()))
    quantity = written.reading(decimal)
    if quantity is None:
        return _other_sign(text, column, what, written)
    parts = int((quantity * times).quantize(Decimal(1), ROUND_HALF_UP))
    return parts if parts <= most else _unreadable(text, column, what)


def _metres(text: str, column: str, what: str, decimal: DecimalSign | None) -> Value | Doubt:
    millimetres = read_millimetres(text, decimal)
    sign, written = written_metres(text)
    if millimetres is None and written.reading(decimal) is None:
        return _other_sign(text, column, what, written, "-" if sign < 0 else "")
    return _unreadable(text, column, what) if millimetres is None else millimetres


def _other_sign(text: str, column: str, what: str, written: WrittenNumber, sign: str = "") -> Doubt:
    """Ask about a quantity that has another decimal sign than its table, or may be read with either of two."""
    if written.as_point is not None and written.as_comma is not None:
        words = N_("“{written}” is {first} or {second}: this table has both decimal signs. Which is meant?")
        either = sorted((written.as_point, written.as_comma), reverse=True)
        facts = {"written": visible(text), "first": f"{sign}{either[0]}", "second": f"{sign}{either[1]}"}
        return Doubt("number_two_ways", words, facts, column)
    only = written.as_comma if written.as_point is None else written.as_point
    if only is None:
        return _unreadable(text, column, what)
    words = N_(
        "“{written}” has another decimal sign than this table. Is {value} meant? Write it with the table's sign."
    )
    return Doubt("other_decimal_sign", words, {"written": visible(text), "value": f"{sign}{only}"}, column)


def _year(text: str, column: str) -> Value | Doubt:
    try:
        return read_year(text)
    except Refusal as refusal:
        return Doubt(refusal.code, refusal.text, refusal.facts, column)


def _yes(text: str, column: str, what: str) -> Value | Doubt:
    found = _YES.get(folded(text))
    return _unreadable(text, column, what) if found is None else found
