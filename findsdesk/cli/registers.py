"""``findsdesk registers``: look into a register, search it, save how it is set out, or write it as a file."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.words import N_, _, plural

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.registers import Register, RegisterQuery

EXAMPLE = (
    "findsdesk registers quay containers --search 2017",
    "findsdesk registers quay deposits --sort opened --descending",
    "findsdesk registers quay containers --filter standing=dry --json",
    "findsdesk registers quay groups --filter ware=QRS --columns container,part,pieces,grams",
    "findsdesk registers quay bags --filter labelled=no --save-view 'without a label'",
    "findsdesk registers quay bags --view 'without a label' --xlsx bags.xlsx",
)
_NAMES = (
    "deposits",
    "containers",
    "groups",
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
    "drawings",
    "marks",
    "readings",
    "discards",
    "left",
    "prints",
    "people",
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
    parser.add_argument("--columns", default="", metavar="A,B,C", help=_("these columns, in this order"))
    parser.add_argument("--first", type=int, default=1, metavar="N", help=_("the first row to show"))
    parser.add_argument("--rows", type=int, default=50, metavar="N", help=_("how many rows to show (0: all)"))
    parser.add_argument(
        "--view", metavar="NAME", help=_("as it was saved under this name; what else is said goes first")
    )
    parser.add_argument("--views", action="store_true", help=_("list the saved views of the register"))
    parser.add_argument("--save-view", metavar="NAME", help=_("save search, filters, order and columns under a name"))
    parser.add_argument("--drop-view", metavar="NAME", help=_("take a saved view away"))
    parser.add_argument("--xlsx", type=Path, metavar="FILE", help=_("write all rows as a spreadsheet"))
    parser.add_argument("--csv", type=Path, metavar="FILE", help=_("write all rows as CSV"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Show a page of the register, write all of it, or save, list or take away a view of it."""
    from findsdesk.desk.registers import Register

    register = Register(call.register)
    if call.save_view is not None or call.drop_view is not None:
        with writing_seat(call) as desk:
            _change_views(desk, register, call)
    elif call.views:
        with reading_seat(call) as desk:
            _list_views(desk, register, call)
    else:
        with reading_seat(call) as desk:
            _show(desk, register, call)
    return DONE


def _show(desk: Desk, register: Register, call: argparse.Namespace) -> None:
    from findsdesk.desk.register_files import write_register
    from findsdesk.desk.registers import count, page

    query, columns = _wanted(desk, register, call)
    files = [path for path in (call.xlsx, call.csv) if path is not None]
    for path in files:
        words = _choice(query)
        written = write_register(desk, register, query, path=path, filter_words=words, columns=columns)
        rows = plural("{n} row", "{n} rows", written)
        say(N_("{rows} written: {file}"), call.terms, rows=rows, file=path)
    if files:
        return
    total = count(desk, register, query)
    shown = page(desk, register, query, max(call.first - 1, 0), call.rows or total, total=total)
    if call.json:
        say_json({"total": total, "rows": shown})
    else:
        say_register(desk, register, shown, columns)
        say(N_("{shown} of {total}"), call.terms, shown=len(shown), total=total)


def _wanted(desk: Desk, register: Register, call: argparse.Namespace) -> tuple[RegisterQuery, tuple[str, ...]]:
    """Return what is asked for: the saved view that is named, and over it what else is said."""
    from findsdesk.desk.filter_words import filter_said
    from findsdesk.desk.registers import RegisterQuery
    from findsdesk.desk.saved_views import pair_of, view_named

    filters = tuple(filter_said(desk, register, *pair_of(one)) for one in call.filter)
    columns = tuple(one.strip() for one in call.columns.split(",") if one.strip())
    if call.view is None:
        return RegisterQuery(call.search, filters, call.sort, call.descending), columns
    view = view_named(desk, register, call.view)
    said = {name for name, _value in filters}
    kept = tuple(pair for pair in view.query.filters if pair[0] not in said)
    sort, falls = call.sort, call.descending
    if not sort:
        sort, falls = view.query.sort, view.query.descending is not call.descending
    query = RegisterQuery(call.search or view.query.text, (*kept, *filters), sort, falls)
    return query, columns or view.columns


def say_register(desk: Desk, register: Register, rows: Iterable[Any], columns: Sequence[str] = ()) -> None:
    """Print rows of a register with its columns, or those that are wanted, in the excavation's words."""
    from findsdesk.desk.register_columns import fields_chosen, fields_of, wording
    from findsdesk.desk.register_files import value_in_words

    say_it = wording(desk)
    fields = fields_chosen(desk, register, columns) if columns else fields_of(register)
    heads = [say_it(field.title) for field in fields]
    say_table(heads, [[value_in_words(one.value(row, say_it), desk) for one in fields] for row in rows])


def _change_views(desk: Desk, register: Register, call: argparse.Namespace) -> None:
    from findsdesk.desk.saved_views import drop_view, save_view

    if call.drop_view is not None:
        gone = drop_view(desk, register, call.drop_view)
        say(N_("The view {name} is taken away."), call.terms, name=gone.name)
    if call.save_view is not None:
        query, columns = _wanted(desk, register, call)
        kept = save_view(
            desk,
            register,
            call.save_view,
            search=query.text,
            filters=[f"{name}={value}" for name, value in query.filters],
            sort=query.sort,
            descending=query.descending,
            columns=columns,
        )
        say(N_("Saved as the view {name}."), call.terms, name=kept.name)


def _list_views(desk: Desk, register: Register, call: argparse.Namespace) -> None:
    from findsdesk.desk.saved_views import views

    found = views(desk, register)
    if call.json:
        say_json(found)
        return
    heads = [_("Name"), _("Search"), _("Filters"), _("Order"), _("Columns")]
    rows = [(one.name, one.query.text, _filters(one.query), one.query.sort, ", ".join(one.columns)) for one in found]
    say_table(heads, rows)


def _filters(query: RegisterQuery) -> str:
    return ", ".join(f"{name}={value}" for name, value in query.filters)


def _choice(query: RegisterQuery) -> str:
    return ", ".join(part for part in (query.text, _filters(query)) if part)
