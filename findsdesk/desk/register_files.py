"""Registers that go out as they are shown: a file for spreadsheets or other programs, or a list on paper."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from pathlib import Path

from findsdesk.desk.desk import Desk, Reading
from findsdesk.desk.register_columns import (
    REGISTER_IN_WORDS,
    RegisterField,
    Value,
    fields_chosen,
    fields_of,
    wording,
)
from findsdesk.desk.registers import EVERYTHING, Register, RegisterQuery, all_rows, count
from findsdesk.desk.sheets import PrintedList, RegisterColumn, register_sheet
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.writing import Sheet, write_csv, write_xlsx
from findsdesk.store.journal import short_head, store_head
from findsdesk.words import N_, grouped

MOST_ON_PAPER = 5_000
"""More rows than this are 100 pages: nobody looks through them."""
_SHARES = {
    "description": 2.4,
    "said": 3.0,
    "line": 2.4,
    "code": 1.3,
    "main": 1.3,
    "read": 1.4,
    "written": 1.4,
    "packed": 1.3,
    "labelled": 1.3,
    "arrived": 1.3,
    "list": 0.5,
    "stage": 1.2,
    "reason": 1.6,
    "rule": 1.6,
    "signed": 1.35,
    "carried": 1.35,
    "carried_to": 1.5,
    "why": 2.0,
}
_BETWEEN = 500
"""After so many rows it is asked whether the writing was called off."""


def write_register(
    desk: Desk,
    register: Register,
    query: RegisterQuery = EVERYTHING,
    *,
    path: Path,
    filter_words: str = "",
    columns: Sequence[str] = (),
    called_off: Callable[[], bool] = lambda: False,
) -> int:
    """Write all rows of a register that meet a query into a file, XLSX or CSV by its ending; returns how many.

    ``columns`` are those wanted, in their order, by key or heading; without any, all of them. The rows stand as at
    one moment; identifiers stay texts. An XLSX file has a second sheet that says what it is.
    Refusals: ``unknown_ending``, ``unknown_column``, ``called_off``, those of ``page`` and of writing
    (``cannot_write``, ``sheet_full``).
    """
    say = wording(desk)
    fields = fields_chosen(desk, register, columns) if columns else fields_of(register, for_file=True)
    headers = [say(field.title) for field in fields]
    ending = path.suffix.lower()
    if ending not in (".xlsx", ".csv"):
        raise Refusal(
            "unknown_ending",
            N_("{file} is neither .xlsx nor .csv. Give it one of these endings."),
            file=path.name,
        )
    with desk.reading() as reading:
        rows = _rows(reading, register, query, fields, called_off)
        if ending == ".csv":
            return write_csv(headers, rows, path, for_spreadsheet=True)
        name = say(REGISTER_IN_WORDS[register])
        about = _about(reading, name, filter_words)
        written = write_xlsx([Sheet(name, headers, rows), about], path)
        return written - len(tuple(about.rows))


def _rows(
    reading: Reading,
    register: Register,
    query: RegisterQuery,
    columns: tuple[RegisterField, ...],
    called_off: Callable[[], bool],
) -> Iterator[list[Value]]:
    say, zone = wording(reading.desk), reading.desk.facts.zone

    def plain(value: Value) -> Value:
        return value.astimezone(zone) if isinstance(value, datetime) else value

    for place, row in enumerate(all_rows(reading, register, query)):
        if place % _BETWEEN == 0 and called_off():
            raise Refusal("called_off", N_("Called off. Nothing was written."))
        yield [plain(field.value(row, say)) for field in columns]


def _about(reading: Reading, name: str, filter_words: str) -> Sheet:
    """Return the sheet that says what a list is: excavation, list, choice, when, who, and the store's head."""
    desk = reading.desk
    say, now = wording(desk), reading.now.astimezone(desk.facts.zone)
    rows = (
        (say(N_("Excavation")), desk.facts.name),
        (say(N_("List")), name),
        (say(N_("Choice")), filter_words or say(N_("all"))),
        (say(N_("Written")), f"{now:%Y-%m-%d %H:%M} {now:%z}"),
        (say(N_("By")), desk.person.name),
        (say(N_("Store")), short_head(store_head(reading.session))),
    )
    return Sheet(say(N_("About this list")), ("", ""), rows)


def print_register(
    desk: Desk,
    register: Register,
    query: RegisterQuery = EVERYTHING,
    *,
    filter_words: str = "",
    columns: Sequence[str] = (),
) -> PrintedList:
    """Return the rows of a register that meet a query as a list on paper, with the columns wanted.

    Refusals: ``too_long_for_paper``, ``unknown_column``.
    """
    found = count(desk, register, query)
    if found > MOST_ON_PAPER:
        raise Refusal(
            "too_long_for_paper",
            N_("{n} rows are too many for paper. Narrow the register, or keep it as a file."),
            n=grouped(found),
        )
    say = wording(desk)
    fields = fields_chosen(desk, register, columns) if columns else fields_of(register)
    with desk.reading() as reading:
        rows = [
            [value_in_words(value, desk) for value in row]
            for row in _rows(reading, register, query, fields, lambda: False)
        ]
    return register_sheet(
        desk,
        title=say(REGISTER_IN_WORDS[register]),
        filter_words=filter_words or say(N_("all")),
        columns=[RegisterColumn(say(field.title), _SHARES.get(field.key, 1.0), field.figures) for field in fields],
        rows=rows,
        turned=True,
    )


def value_in_words(value: Value, desk: Desk) -> str:
    """Return a cell as people read it: days and moments as ISO writes them, in the excavation's zone."""
    if value is None:
        return ""
    if isinstance(value, datetime):
        return f"{value.astimezone(desk.facts.zone):%Y-%m-%d %H:%M}"
    if isinstance(value, bool | str):
        return str(value)
    if isinstance(value, int):
        return grouped(value)
    return f"{value:.1f}" if isinstance(value, float) else value.isoformat()
