"""``findsdesk registers``: deposits, containers, bags or the journal, searched, sorted, and written as a table."""

from __future__ import annotations

import argparse
from dataclasses import fields
from typing import Any

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import plain, say_json, say_table
from findsdesk.cli.seat import reading_seat
from findsdesk.words import _

EXAMPLE = (
    "findsdesk registers quay containers --search 2017",
    "findsdesk registers quay journal --last 20",
    "findsdesk registers quay deposits --json",
)
HIDDEN = frozenset({"id", "version"})


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("register", choices=("deposits", "containers", "bags", "journal"), help=_("which register"))
    parser.add_argument("--search", default="", metavar="TEXT", help=_("only rows with this text; old numbers too"))
    parser.add_argument("--sort", default="", metavar="COLUMN", help=_("by which column"))
    parser.add_argument("--descending", action="store_true", help=_("from the end"))
    parser.add_argument("--first", type=int, default=0, metavar="N", help=_("leave out so many rows first"))
    parser.add_argument("--rows", type=int, default=200, metavar="N", help=_("how many rows at most"))
    parser.add_argument("--last", type=int, metavar="N", help=_("the last so many rows"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Print a window of the register."""
    from findsdesk.desk.registers import Register, RegisterQuery, count, page

    register = Register(call.register)
    query = RegisterQuery(text=call.search, sort=call.sort, descending=call.descending)
    with reading_seat(call) as desk:
        total = count(desk, register, query)
        how_many = call.last or call.rows
        first = max(total - call.last, 0) if call.last else call.first
        rows = page(desk, register, query, first, how_many, total=total)
    if call.json:
        say_json({"register": register, "total": total, "first": first, "rows": rows})
    else:
        _say(rows, total)
    return DONE


def _say(rows: tuple[Any, ...], total: int) -> None:
    if rows:
        names = [field.name for field in fields(rows[0]) if field.name not in HIDDEN]
        say_table(names, [[_cell(getattr(row, name)) for name in names] for row in rows])
    print(_("{shown} of {total} rows").format(shown=len(rows), total=total))


def _cell(value: Any) -> object:
    shown = plain(value)
    return ", ".join(map(str, shown)) if isinstance(shown, list) else shown
