"""``findsdesk registers``: look into a register, search it, or write it as a file."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, plural

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.registers import Register

EXAMPLE = (
    "findsdesk registers quay containers --search 2017",
    "findsdesk registers quay deposits --sort opened --descending",
    "findsdesk registers quay containers --filter standing=dry --json",
    "findsdesk registers quay bags --xlsx bags.xlsx",
)
_NAMES = (
    "deposits",
    "containers",
    "bags",
    "boxes",
    "places",
    "loans",
    "pieces",
    "objects",
    "vessels",
    "joins",
    "samples",
    "photos",
    "marks",
    "readings",
    "discards",
    "left",
    "prints",
    "journal",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("register", choices=_NAMES, metavar="REGISTER", help=", ".join(_NAMES))
    parser.add_argument("--search", default="", metavar="TEXT", help=_("rows that hold these words, old numbers too"))
    parser.add_argument("--filter", action="append", default=[], metavar="NAME=VALUE", help=_("rows of one kind only"))
    parser.add_argument("--sort", default="", metavar="COLUMN", help=_("another order than the register's own"))
    parser.add_argument("--descending", action="store_true", help=_("the other way round"))
    parser.add_argument("--first", type=int, default=1, metavar="N", help=_("the first row to show"))
    parser.add_argument("--rows", type=int, default=50, metavar="N", help=_("how many rows to show (0: all)"))
    parser.add_argument("--xlsx", type=Path, metavar="FILE", help=_("write all rows as a spreadsheet"))
    parser.add_argument("--csv", type=Path, metavar="FILE", help=_("write all rows as CSV"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Show a page of the register, or write all of it."""
    from findsdesk.desk.filter_words import filter_said
    from findsdesk.desk.register_files import write_register
    from findsdesk.desk.registers import Register, RegisterQuery, count, page

    register = Register(call.register)
    with reading_seat(call) as desk:
        filters = tuple(filter_said(desk, register, *_pair(one)) for one in call.filter)
        query = RegisterQuery(call.search, filters, call.sort, call.descending)
        files = [path for path in (call.xlsx, call.csv) if path is not None]
        for path in files:
            written = write_register(desk, register, query, path=path, filter_words=_choice(call))
            rows = plural("{n} row", "{n} rows", written)
            say(N_("{rows} written: {file}"), call.terms, rows=rows, file=path)
        if files:
            return DONE
        total = count(desk, register, query)
        shown = page(desk, register, query, max(call.first - 1, 0), call.rows or total, total=total)
        if call.json:
            say_json({"total": total, "rows": shown})
        else:
            say_register(desk, register, shown)
            say(N_("{shown} of {total}"), call.terms, shown=len(shown), total=total)
    return DONE


def say_register(desk: Desk, register: Register, rows: Iterable[Any]) -> None:
    """Print rows of a register with its columns, in the excavation's words."""
    from findsdesk.desk.register_columns import fields_of, wording
    from findsdesk.desk.register_files import value_in_words

    say_it, columns = wording(desk), fields_of(register)
    heads = [say_it(column.title) for column in columns]
    say_table(heads, [[value_in_words(one.value(row, say_it), desk) for one in columns] for row in rows])


def _choice(call: argparse.Namespace) -> str:
    return ", ".join(part for part in (call.search, *call.filter) if part)


def _pair(text: str) -> tuple[str, str]:
    name, sign, value = text.partition("=")
    if not sign:
        raise Refusal("pair_unreadable", N_("{text} is no pair. Write NAME=VALUE."), text=text)
    return name.strip(), value.strip()
