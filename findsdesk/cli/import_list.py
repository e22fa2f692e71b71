"""``findsdesk import``: take in a field list, a table of one kind (``--of``), or a data package."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, plural, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.field_lists import ListLook
    from findsdesk.domain.field_lists import ListedRow
    from findsdesk.words import Terms

EXAMPLE = (
    "findsdesk import quay lists/2026-07-14_bryn.csv --dry-run",
    "findsdesk import quay lists/2026-07-14_joren.csv --by tessa",
    "findsdesk import quay-again --package hand-over/quay-bundle      (a new store from a data package)",
    "findsdesk import quay contexts.xlsx --of deposits --columns number=SU square=Sector --try",
    "findsdesk import quay old/2024.xlsx --of season --season 2024 --questions-to old/2024-questions.csv",
    'findsdesk import quay list.csv --column "Pail no.=number" --given material=pottery --day-order dmy',
)

KINDS = ("deposits", "containers", "wares", "people", "places", "season")
"""Kinds of tables, as ``domain.table_kinds`` has them: said here so that the help needs no more than itself."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument(
        "files", nargs="*", type=Path, metavar="FILE", help=_("field lists or tables: CSV, XLSX or ODS")
    )
    parser.add_argument(
        "--package",
        type=Path,
        metavar="PACKAGE",
        help=_("make the store, which must not be there yet, from a data package, a hand-over or a zip of one"),
    )
    parser.add_argument("--of", choices=KINDS, help=_("what the tables hold, where they are no field lists of the day"))
    parser.add_argument(
        "--dry-run",
        "--try",
        action="store_true",
        dest="dry_run",
        help=_("say what would happen and write nothing"),
    )
    parser.add_argument(
        "--questions-to",
        type=Path,
        metavar="FILE",
        help=_("write the rows that wait as a list, to be corrected (--of)"),
    )
    parser.add_argument("--encoding", help=_("how a text file is written, where the program is not sure"))
    parser.add_argument("--sheet", help=_("the sheet of a spreadsheet"))
    parser.add_argument(
        "--column", action="append", default=[], metavar="HEADER=COLUMN", help=_("what a header of the list means")
    )
    parser.add_argument(
        "--columns",
        nargs="+",
        default=[],
        metavar="COLUMN=HEADER",
        help=_("the same the other way round: which header holds what (--of)"),
    )
    parser.add_argument(
        "--given", action="append", default=[], metavar="COLUMN=VALUE", help=_("what the list itself does not say")
    )
    parser.add_argument("--day-order", choices=["dmy", "mdy", "ymd"], help=_("the order of day, month and year"))
    parser.add_argument("--decimal", choices=[",", "."], metavar="SIGN", help=_("the decimal sign of the list: , or ."))
    parser.add_argument(
        "--circles", choices=["percent", "share"], help=_("whether rims are in percent or shares of whole ones (--of)")
    )
    parser.add_argument("--season", metavar="NAME", help=_("the season, where it is not the one of today"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Look at each list, say what becomes of its rows, and take it in unless it is a trial."""
    from findsdesk.desk.field_lists import look_at_list, take_in_list

    if call.package is not None:
        return _take_in_package(call)
    if not call.files:
        raise Refusal("no_list", N_("Name the lists to take in, or a data package: --package FOLDER."))
    if call.of is not None:
        from findsdesk.cli.import_tables import take_in_tables

        return take_in_tables(call)
    if call.columns or call.questions_to is not None:
        raise Refusal("of_needed", N_("Say what the table holds with --of: {kinds}."), kinds=", ".join(KINDS))
    told: list[Any] = []
    with reading_seat(call) if call.dry_run else writing_seat(call) as desk:
        how = _how(call)
        for file in call.files:
            look = look_at_list(desk, file, **how)
            taken = None if call.dry_run else take_in_list(desk, look)
            told.append(_plain(look, dry_run=call.dry_run))
            if not call.json:
                _say(desk, look, None if taken is None else len(taken.taken))
    if call.json:
        say_json(told)
    return DONE


def _take_in_package(call: argparse.Namespace) -> int:
    from findsdesk.desk.package_import import take_in_package

    taken = take_in_package(call.package, call.store)
    if call.json:
        say_json(taken)
        return DONE
    rows = plural("{n} row", "{n} rows", taken.rows)
    say(N_("{rows} in {tables} tables taken in: {file}"), None, rows=rows, tables=taken.tables, file=taken.store)
    say(N_("Its head is {head}. Photographs and results taken in: {files}. PINs are set anew."), None,
        head=taken.head[:12], files=taken.files)  # fmt: skip
    return DONE


def _how(call: argparse.Namespace) -> dict[str, Any]:
    how: dict[str, Any] = {"encoding": call.encoding, "sheet": call.sheet, "season": call.season}
    how["columns"] = {header: _column(name, call.terms) for header, name in _pairs(call.column).items()} or None
    how["given"] = {_column(name, call.terms): value for name, value in _pairs(call.given).items()} or None
    return how | {"day_order": call.day_order, "decimal": call.decimal}


def _column(name: str, terms: Terms) -> str:
    """Return the column that a person names, by any word a list may have for it; empty leaves a header out."""
    from findsdesk.domain.field_lists import COLUMNS, column_in_words, column_of

    column = name if name in COLUMNS or not name else column_of(name, terms)
    if column is None:
        known = ", ".join(column_in_words(one, terms) for one in COLUMNS)
        raise Refusal("no_such_column", N_("A list has no column {name}. It has: {known}."), name=name, known=known)
    return column


def _pairs(texts: Iterable[str]) -> dict[str, str]:
    pairs: dict[str, str] = {}
    for text in texts:
        name, sign, value = text.rpartition("=")
        if not sign or not name:
            raise Refusal("pair_unreadable", N_("{text} is no pair. Write NAME=VALUE."), text=text)
        pairs[name.strip()] = value.strip()
    return pairs


def _plain(look: ListLook, *, dry_run: bool) -> dict[str, Any]:
    from findsdesk.desk.list_checks import Fate

    rows = {fate: [one.row for one in look.with_fate(fate)] for fate in Fate}
    return {
        "file": look.file_name,
        "season": look.season,
        "dry_run": dry_run,
        "in": [row.number for row in rows[Fate.NEW]],
        "same": [row.number for row in rows[Fate.SAME]],
        "questions": [{"line": row.line, "number": row.number, "asked": asked(row)} for row in rows[Fate.ASIDE]],
    }


def asked(row: ListedRow, terms: Terms | None = None) -> list[str]:
    """Return the questions about a row in words."""
    return [put(doubt.text, terms, doubt.facts) for doubt in row.doubts]


def _say(desk: Desk, look: ListLook, taken: int | None) -> None:
    from findsdesk.desk.list_checks import Fate

    new, same, aside = (look.with_fate(fate) for fate in (Fate.NEW, Fate.SAME, Fate.ASIDE))
    parts = [plural("{n} row would go in", "{n} rows would go in", len(new))]
    if taken is not None:
        parts = [plural("{n} row went in", "{n} rows went in", taken)]
    if same:
        parts.append(plural("{n} was here already", "{n} were here already", len(same)))
    if aside:
        parts.append(plural("{n} has a question", "{n} have a question", len(aside)))
    print(f"{look.file_name}: {', '.join(parts)}.")
    for note in look.listed.notes:
        print(f"  {put(note.text, desk.terms, note.facts)}")
    for one in aside:
        for question in asked(one.row, desk.terms):
            print("  " + put(N_("line {line}: {question}"), desk.terms, {"line": one.row.line, "question": question}))
