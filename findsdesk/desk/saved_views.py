"""Saved views: a register as somebody set it out (search, filters, order, columns), under a name, for everybody."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.filter_words import filter_said
from findsdesk.desk.register_columns import fields_chosen
from findsdesk.desk.registers import Register, RegisterQuery, check_query
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import SavedView
from findsdesk.words import N_

LONGEST_NAME = 60
NEW = 0
"""The version of a view that nobody has seen yet."""


@dataclass(frozen=True, slots=True)
class View:
    """A saved view: its register, its name, what is asked of the register, and which columns (none: its own)."""

    version: int
    register: Register
    name: str
    query: RegisterQuery
    columns: tuple[str, ...]


def views(desk: Desk, register: Register | None = None) -> tuple[View, ...]:
    """Return the saved views, of one register or of all, by name."""
    with desk.reading() as reading:
        rows = reading.session.execute(select(SavedView)).scalars().all()
    found = [_view(row) for row in rows if register is None or row.register == register]
    return tuple(sorted(found, key=lambda one: (list(Register).index(one.register), sort_key(one.name))))


def view_named(desk: Desk, register: Register, name: str) -> View:
    """Return a saved view; refuses ``unknown_view``."""
    with desk.reading() as reading:
        return _view(_there(reading.session, register, name))


def save_view(
    desk: Desk,
    register: Register,
    name: str,
    *,
    search: str = "",
    filters: Sequence[str] = (),
    sort: str = "",
    descending: bool = False,
    columns: Sequence[str] = (),
    seen: int | None = None,
) -> View:
    """Save a view under a name, or write it anew where there is one; filters are NAME=VALUE. Opposite: ``drop_view``.

    ``seen`` is the version of the view that was chosen, 0 where a new one is meant. Refusals: ``view_unnamed``,
    ``view_name_long``, ``same_view``, ``view_there``, ``changed_meanwhile``, ``unknown_column``, ``unknown_sort``,
    ``pair_unreadable`` and those of the filters.
    """
    named = " ".join(name.split())
    if not named:
        raise Refusal("view_unnamed", N_("A view is found again by its name. Write one."))
    if len(named) > LONGEST_NAME:
        raise Refusal("view_name_long", N_("A name of at most {n} letters fits the menu. Shorten it."), n=LONGEST_NAME)
    pairs = tuple(filter_said(desk, register, *pair_of(one)) for one in filters)
    query = RegisterQuery(" ".join(search.split()), pairs, sort, descending)
    check_query(desk, register, query)
    chosen = tuple(one.key for one in fields_chosen(desk, register, columns)) if columns else ()
    with desk.deed("save_view") as deed:
        row = _row(deed.session, register, named)
        if row is not None and seen == NEW:
            text = N_("A view is called {name} already. Choose it first to save it anew, or write another name.")
            raise Refusal("view_there", text, name=row.name)
        if row is not None and seen is not None:
            refuse_if_moved(deed.session, row, seen, {"search": query.text, "columns": list(chosen)})
        kept = _put(deed, row, register, named, query, chosen)
        deed.said = f"{register}: {kept.name}"
    return kept


def drop_view(desk: Desk, register: Register, name: str, *, seen: int | None = None) -> View:
    """Take a saved view away; nothing of the register changes. Opposite: ``save_view``.

    Refusals: ``unknown_view``, ``changed_meanwhile``.
    """
    with desk.deed("drop_view") as deed:
        row = _there(deed.session, register, name)
        if seen is not None:
            refuse_if_moved(deed.session, row, seen, {})
        gone = _view(row)
        deed.session.delete(row)
        deed.said = f"{register}: {gone.name}"
    return gone


def pair_of(text: str) -> tuple[str, str]:
    """Return name and value of NAME=VALUE; refuses ``pair_unreadable``."""
    name, sign, value = text.partition("=")
    if not sign:
        raise Refusal("pair_unreadable", N_("{text} is no pair. Write NAME=VALUE."), text=text)
    return name.strip(), value.strip()


def _put(
    deed: Deed, row: SavedView | None, register: Register, name: str, query: RegisterQuery, columns: tuple[str, ...]
) -> View:
    if row is None:
        row = deed.add(SavedView(register=register.value, name=name))
    elif (_view(row).query, _view(row).columns) == (query, columns):
        raise Refusal("same_view", N_("{name} is saved like that already. Nothing was changed."), name=row.name)
    row.search, row.sort, row.descending = query.text, query.sort, query.descending
    row.filters = [{"name": one, "value": value} for one, value in query.filters]
    row.columns = list(columns)
    deed.session.flush()
    return _view(row)


def _row(session: Session, register: Register, name: str) -> SavedView | None:
    rows = session.execute(select(SavedView).where(SavedView.register == register.value)).scalars()
    return next((row for row in rows if folded(row.name) == folded(name)), None)


def _there(session: Session, register: Register, name: str) -> SavedView:
    row = _row(session, register, name)
    if row is None:
        raise Refusal("unknown_view", N_("This register has no view {name}. Look at its list of views."), name=name)
    return row


def _view(row: SavedView) -> View:
    filters = tuple((one["name"], one["value"]) for one in row.filters)
    query = RegisterQuery(row.search, filters, row.sort, row.descending)
    return View(row.version, Register(row.register), row.name, query, tuple(row.columns))
