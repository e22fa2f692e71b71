"""One row of a field list, read: what the supervisor says of a container, and the questions about it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from findsdesk.domain.doubts import Doubt
from findsdesk.domain.list_columns import COLUMN_NAMES, REQUIRED
from findsdesk.domain.list_habits import ListHabits
from findsdesk.domain.written_dates import Season, written_date
from findsdesk.domain.written_numbers import (
    DecimalSign,
    identifier_key,
    is_plain_identifier,
    read_identifier,
    read_millimetres,
    read_parts,
    visible,
)
from findsdesk.words import N_, Terms, put


@dataclass(frozen=True, slots=True)
class ListedRow:
    """A container as a field list names it. A value that could not be read is empty (or None) and has a doubt.

    ``collected_on`` is the date in the field, ``elevation_mm`` whole millimetres.
    """

    line: int
    number: str
    deposit: str
    square: str
    collected_on: date | None
    supervisor: str
    material: str
    description: str
    parts: int = 1
    elevation_mm: int | None = None
    doubts: tuple[Doubt, ...] = ()

    def as_plain(self) -> dict[str, Any]:
        """Return the row as texts and numbers, to be kept until its questions are answered."""
        plain: dict[str, Any] = {name: getattr(self, name) for name in self.__slots__ if name != "doubts"}
        plain["collected_on"] = self.collected_on.isoformat() if self.collected_on else None
        plain["doubts"] = [
            {"code": one.code, "text": one.text, "facts": dict(one.facts), "column": one.column} for one in self.doubts
        ]
        return plain

    @classmethod
    def from_plain(cls, plain: Mapping[str, Any]) -> ListedRow:
        """Return the row that ``as_plain`` wrote down."""
        day = plain["collected_on"]
        doubts = tuple(Doubt(**one) for one in plain["doubts"])
        return cls(**{**plain, "collected_on": date.fromisoformat(day) if day else None, "doubts": doubts})


_IDENTIFIERS = ("number", "deposit", "square")
_CLEANED_TEXTS: Mapping[str, tuple[str, str]] = {
    "word": ("cleaned", N_("Written as “{written}”. Is {what} {value} meant?")),
    "zeros": ("cleaned", N_("Written as “{written}”. Is {what} {value} meant?")),
    "thousands": ("cleaned", N_("Written as “{written}”. Is {what} {value} meant?")),
    "gap": ("cleaned", N_("Written as “{written}”, with a blank inside. Is {what} {value} meant?")),
    "mark": ("marked_unsure", N_("The list itself is unsure: “{written}”. Is {what} {value} right?")),
    "signs": ("odd_signs", N_("“{written}” holds signs that no {what} has. Write what the paper says.")),
    "spreadsheet": (
        "changed_by_spreadsheet",
        N_("Changed by a spreadsheet? {What} reads “{written}”. Look at the paper and write what it says."),
    ),
}
_MISSING = N_("No {what} in this row. Write it in, or leave the row out.")
_NO_DIGIT = N_("“{written}” is not a {container} number. Write the number, or leave the row out.")
_LOST_ZEROS = N_("“{written}” is shorter than the other numbers. Did a spreadsheet drop zeros: is it {value}?")
_DATE_UNREADABLE = N_("“{written}” cannot be read as a date. Write it as year-month-day.")
_DATE_TWO_WAYS = N_("“{written}” is {first} or {second}: this list writes dates in both orders. Which is meant?")
_DATE_OUTSIDE = N_("{day} lies outside the season ({first} to {last}). Is the date right?")
_DATE_FUTURE = N_("{day} has not come yet. Is the date right?")
_DATE_SERIAL = N_("The date came as a spreadsheet's day number, {written}. Is {day} meant?")
_PARTS_UNREADABLE = N_("“{written}” does not say in how many parts the {container} came. Write a number from 1 to 99.")
_ELEVATION_UNREADABLE = N_("“{written}” cannot be read as an elevation in metres. Write it with one decimal sign.")


def _identifier(column: str, text: str, habits: ListHabits, terms: Terms, doubts: list[Doubt]) -> str:
    """Read one identifier; what was cleaned by guessing becomes a doubt unless the whole list is written so."""
    width = habits.zero_widths.get(column, 0)
    if is_plain_identifier(text) and not width:
        return text
    if column in habits.known and identifier_key(text) in habits.known[column]:
        return visible(text)
    read = read_identifier(text, column, terms)
    if read.cleaned and (column, read.cleaned) not in habits.usual:
        code, message = _CLEANED_TEXTS[read.cleaned]
        what = put(COLUMN_NAMES[column], terms)
        facts = {"written": visible(text), "value": read.value, "what": what, "What": what[:1].upper() + what[1:]}
        doubts.append(Doubt(code, message, facts, column))
    if width and read.value.isdigit() and len(read.value) < width:
        filled = read.value.zfill(width)
        doubts.append(Doubt("changed_by_spreadsheet", _LOST_ZEROS, {"written": read.value, "value": filled}, column))
        return filled
    return read.value


def _collected_on(
    text: str, habits: ListHabits, season: Season | None, today: date | None, doubts: list[Doubt]
) -> date | None:
    written = written_date(text, season)
    if written is None:
        doubts.append(Doubt("date_unreadable", _DATE_UNREADABLE, {"written": text}, "collected_on"))
        return None
    day = written.reading(habits.day_order)
    if day is None:  # one of the two readings always stands
        return None
    if habits.day_order is None and written.ambiguous:
        facts = {"written": text, "first": str(written.as_dmy), "second": str(written.as_mdy)}
        doubts.append(Doubt("date_two_ways", _DATE_TWO_WAYS, facts, "collected_on"))
    inside = season is None or season[0] <= day <= season[1]
    if not inside and season is not None:
        facts = {"day": str(day), "first": str(season[0]), "last": str(season[1])}
        doubts.append(Doubt("date_outside_season", _DATE_OUTSIDE, facts, "collected_on"))
    elif today is not None and day > today:
        doubts.append(Doubt("date_in_future", _DATE_FUTURE, {"day": str(day)}, "collected_on"))
    elif written.supplied == "serial" and season is None:
        doubts.append(Doubt("date_serial", _DATE_SERIAL, {"written": text, "day": str(day)}, "collected_on"))
    return day


def _parts(text: str, doubts: list[Doubt]) -> int:
    parts = read_parts(text)
    if parts is None:
        doubts.append(Doubt("parts_unreadable", _PARTS_UNREADABLE, {"written": text}, "parts"))
    return parts or 1


def _elevation(text: str, decimal: DecimalSign | None, doubts: list[Doubt]) -> int | None:
    millimetres = read_millimetres(text, decimal)
    if millimetres is None:
        doubts.append(Doubt("elevation_unreadable", _ELEVATION_UNREADABLE, {"written": text}, "elevation"))
    return millimetres


def read_row(
    line: int,
    cells: Sequence[str],
    mapping: Mapping[str, int],
    *,
    habits: ListHabits | None = None,
    season: Season | None = None,
    today: date | None = None,
    terms: Terms | None = None,
    given: Mapping[str, str] | None = None,
) -> ListedRow:
    """Read one row of a field list; whatever is unsure becomes a doubt of the row, never a refusal.

    ``mapping`` says where each column stands, ``given`` holds values told beside the list for columns it lacks (or
    for cells left empty). Questions that need the store (unknown deposit, number already used …) are added later.
    """
    habits, terms, told = habits or ListHabits(), terms or Terms(), given or {}
    width = len(cells)
    doubts: list[Doubt] = []
    texts = dict(told)
    for column, place in mapping.items():
        if place < width and (text := cells[place]) and not text.isspace():
            texts[column] = text if column in _IDENTIFIERS else visible(text)
    number, deposit, square = (
        _identifier(column, texts[column], habits, terms, doubts) if column in texts else "" for column in _IDENTIFIERS
    )
    day_text, material = texts.get("collected_on", ""), texts.get("material", "")
    if not (number and deposit and day_text and material):
        _ask_for_missing((number, deposit, day_text, material), terms, doubts)
    if number and not number.isdigit() and not any(character.isdigit() for character in number):
        doubts.append(Doubt("number_unreadable", _NO_DIGIT, {"written": number}, "number"))
    return ListedRow(
        line,
        number,
        deposit,
        square,
        _collected_on(day_text, habits, season, today, doubts) if day_text else None,
        texts.get("supervisor", ""),
        material,
        texts.get("description", ""),
        _parts(texts["parts"], doubts) if "parts" in texts else 1,
        _elevation(texts["elevation"], habits.decimal, doubts) if "elevation" in texts else None,
        tuple(doubts),
    )


def _ask_for_missing(values: tuple[str, ...], terms: Terms, doubts: list[Doubt]) -> None:
    """Ask for each required value that a row leaves empty; the values stand in the order of the columns."""
    for column, value in zip(REQUIRED, values, strict=True):
        if not value:
            facts = {"what": put(COLUMN_NAMES[column], terms)}
            doubts.append(Doubt(f"{column}_missing", _MISSING, facts, column))
