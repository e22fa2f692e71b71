"""What the cells of an old season mean here: deposits, squares, materials, wares, forms, words of the lists."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any, TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.checked_tables import full_names, unknown
from findsdesk.desk.desk import Desk
from findsdesk.desk.group_checks import form_named, part_named, ware_named, words_named
from findsdesk.desk.shipped import material_named, routes
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.deposits import HowNumbered
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.read_tables import ReadTable
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.written_numbers import identifier_key
from findsdesk.store.models import Deposit, FormerNumber, Season, Square
from findsdesk.words import N_

AS_WRITTEN = ("collected_on", "description", "counted", "pieces", "grams", "rim", "base", "note", "mark")

Found = TypeVar("Found")
Means = dict[str, list[Any]]
"""Column to what each of its cells means, None where it says nothing."""


def find_meanings(session: Session, desk: Desk, read: ReadTable, season: Season) -> Means:
    """Return what the cells of a table mean here; what is unknown or does not fit is asked about."""
    means: Means = {column: read.values[column] for column in AS_WRITTEN if column in read.values}
    _find_deposits(session, read, means, season)
    _find_words(session, desk, read, means)
    means["supervisor"] = _resolved(read, "supervisor", full_names(session))
    return means


def _resolved(read: ReadTable, column: str, find: Callable[[str], Found | Doubt]) -> list[Found | None]:
    """Return what each cell of a column means, every different cell looked up once; what is unknown is asked about."""
    cells = read.column(column)
    meant = {cell: find(str(cell)) for cell in set(cells) if cell is not None}
    doubts = {cell: found for cell, found in meant.items() if isinstance(found, Doubt)}
    if doubts:
        for row, cell in enumerate(cells):
            if cell in doubts:
                read.ask(row, doubts[cell])
    plain: dict[Any, Found | None] = {
        cell: None if isinstance(found, Doubt) else found for cell, found in meant.items()
    }
    plain[None] = None
    return list(map(plain.__getitem__, cells))


def _find_deposits(session: Session, read: ReadTable, means: Means, season: Season) -> None:
    every = {row.id: row for row in session.execute(select(Deposit)).scalars()}
    deposits = {identifier_key(row.number): row for row in every.values() if row.merged_into_id is None}
    once = select(FormerNumber).where(FormerNumber.how != HowNumbered.SPLIT)
    for former in session.execute(once.order_by(FormerNumber.happened_at.desc(), FormerNumber.id.desc())).scalars():
        deposits.setdefault(identifier_key(former.number), every[former.deposit_id])
    squares = {identifier_key(row.name): row for row in session.execute(select(Square)).scalars()}
    numbers, names = [row.number for row in deposits.values()], [row.name for row in squares.values()]

    def deposit(said: str) -> Deposit | Doubt:
        found = deposits.get(identifier_key(said))
        return unknown("deposit", read.terms.deposit, said, numbers) if found is None else _in_season(found, season)

    def square(said: str) -> Square | Doubt:
        return squares.get(identifier_key(said)) or unknown("square", read.terms.square, said, names)

    means["deposit"] = _resolved(read, "deposit", deposit)
    means["square"] = _resolved(read, "square", square)
    by_id = {row.id: row.name for row in squares.values()}
    _ask_of_pairs(read, means, "square", lambda one, said: _other_square(one, said, by_id))
    _ask_of_pairs(read, means, "collected_on", lambda one, day: _outside(one, day, season))


def _in_season(deposit: Deposit, season: Season) -> Deposit | Doubt:
    if deposit.opened <= season.ends and (deposit.closed is None or deposit.closed >= season.starts):
        return deposit
    text = N_("{Deposit} {number} was open from {opened} to {closed}, not in season {season}. Is the number right?")
    closed = str(deposit.closed or "…")
    facts = {"number": deposit.number, "opened": str(deposit.opened), "closed": closed, "season": season.name}
    return Doubt("not_open_in_season", text, facts, "deposit")


def _ask_of_pairs(read: ReadTable, means: Means, column: str, ask: Callable[[Deposit, Any], Doubt | None]) -> None:
    """Ask about rows whose deposit and another column do not fit; every different pair is looked at once."""
    deposits = means["deposit"]
    others = means.get(column) or read.column(column)
    pairs = {(one.id, other): (one, other) for one, other in zip(deposits, others, strict=True) if one and other}
    doubts = {key: doubt for key, pair in pairs.items() if (doubt := ask(*pair)) is not None}
    if doubts:
        for row, (one, other) in enumerate(zip(deposits, others, strict=True)):
            if one and other and (one.id, other) in doubts:
                read.ask(row, doubts[one.id, other])


def _other_square(deposit: Deposit, said: Square, names: Mapping[int, str]) -> Doubt | None:
    if said.id == deposit.square_id:
        return None
    text = N_("{Deposit} {number} lies in {square} {its}, the list says {said}. Which is right?")
    facts = {"number": deposit.number, "its": names[deposit.square_id], "said": said.name}
    return Doubt("other_square", text, facts, "square")


def _outside(deposit: Deposit, day: date, season: Season) -> Doubt | None:
    if not season.starts <= day <= season.ends:
        text = N_("{day} lies outside the season ({first} to {last}). Is the date right?")
        facts = {"day": str(day), "first": str(season.starts), "last": str(season.ends)}
        return Doubt("date_outside_season", text, facts, "collected_on")
    if deposit.opened <= day and (deposit.closed is None or day <= deposit.closed):
        return None
    text = N_("{Deposit} {number} was open from {opened} to {closed}, not on {day}. Are date and number right?")
    facts = {
        "number": deposit.number,
        "opened": str(deposit.opened),
        "closed": str(deposit.closed or "…"),
        "day": str(day),
    }
    return Doubt("outside_open_days", text, facts, "collected_on")


def _find_words(session: Session, desk: Desk, read: ReadTable, means: Means) -> None:
    """Find what the words of each column mean: materials, wares and forms, and the words of the excavation's lists."""
    lists = words_of(desk)

    def named(column: str, find: Callable[[str], Any]) -> Callable[[str], Any]:
        def found(said: str) -> Any:
            try:
                return find(said)
            except Refusal as no:
                return Doubt(no.code, no.text, no.facts, column)

        return found

    def material(said: str) -> str | Doubt:
        names = [route.name for route in routes().values()]
        return material_named(said) or unknown("material", read.called("material"), said, names)

    means["material"] = _resolved(read, "material", material)
    finders: dict[str, Callable[[str], Any]] = {
        "ware": lambda said: _id_of(ware_named(session, said)),
        "form": lambda said: _id_of(form_named(session, said)),
        "part": lambda said: part_named(said, lists),
        "surface": lambda said: words_named("surfaces", said, lists),
        "decoration": lambda said: words_named("decorations", said, lists),
        "condition": lambda said: words_named("conditions", said, lists),
    }
    for column, find in finders.items():
        if column in read.values:
            means[column] = _resolved(read, column, named(column, find))


def _id_of(row: Any) -> int | None:
    return None if row is None else int(row.id)
