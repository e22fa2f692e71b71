"""What the store has to say about the rows of a field list: new, as before, changed, or with a question."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.new_containers import scope_of
from findsdesk.desk.shipped import material_named
from findsdesk.domain.deposits import HowNumbered
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.field_lists import ListedRow, changed_columns, column_in_words, identifier_key, twice_doubt
from findsdesk.domain.route_refusals import BY_STANDING
from findsdesk.domain.settings import NumberScope
from findsdesk.domain.standings import NOT_YET_HERE, Standing
from findsdesk.store.models import Container, Deposit, FormerNumber, Part, Person, Season, Square
from findsdesk.words import N_, Terms

NO_HOME = frozenset({Standing.VOID, Standing.UNUSED, Standing.JOINED})
"""Standings in which a number stands for no finds: a row with it asks first."""
NOT_TREATED = NOT_YET_HERE | {Standing.ARRIVED}
"""Standings in which nothing was done yet that another material would have forbidden."""


class Fate(StrEnum):
    """What will become of a row when its list is taken in."""

    NEW = "new"
    SAME = "same"
    ASIDE = "aside"


@dataclass(frozen=True, slots=True)
class CheckedRow:
    """A row of a field list, and what will become of it."""

    row: ListedRow
    fate: Fate
    container_id: int | None
    deposit_id: int | None
    """The deposit meant, by a number it has or once had; None where the row names none that is known."""


@dataclass(frozen=True, slots=True)
class _Known:
    """What the store knows of containers of that season, deposits and squares, read once for a whole list."""

    deposits: Mapping[str, Deposit]
    squares: Mapping[str, Square]
    people: Mapping[int, str]
    containers: Mapping[tuple[str, str], Container]
    parts: Mapping[int, int]


def known_names(session: Session) -> dict[str, list[str]]:
    """Return the numbers of deposits, old ones too, and the names of squares, which are never taken for slips."""
    deposits = list(session.execute(select(Deposit.number)).scalars())
    return {
        "deposit": deposits + list(session.execute(select(FormerNumber.number)).scalars()),
        "square": list(session.execute(select(Square.name)).scalars()),
    }


def check_rows(session: Session, season: Season, rows: Iterable[ListedRow], terms: Terms) -> tuple[CheckedRow, ...]:
    """Check rows against the store: each gets its fate, and the doubts that only the store can have."""
    known = _known(session, season)
    checked = (_checked(row, season, known, terms) for row in rows)
    return tuple(_once_each(checked, season, known))


def _once_each(rows: Iterable[CheckedRow], season: Season, known: _Known) -> Iterator[CheckedRow]:
    """Let a number go in once: two rows may write its square differently, and only the store knows that it is one."""
    first: dict[tuple[str, str], ListedRow] = {}
    for checked in rows:
        row = checked.row
        before = first.setdefault((_scope(row, season, known), identifier_key(row.number)), row)
        if checked.fate is Fate.NEW and before is not row:
            yield _judged(checked, [twice_doubt(row, before)])
        else:
            yield checked


def _known(session: Session, season: Season) -> _Known:
    all_deposits = {row.id: row for row in session.execute(select(Deposit)).scalars()}
    deposits = {identifier_key(row.number): row for row in all_deposits.values() if row.merged_into_id is None}
    once = select(FormerNumber).where(FormerNumber.how != HowNumbered.SPLIT)
    for former in session.execute(once.order_by(FormerNumber.happened_at.desc(), FormerNumber.id.desc())).scalars():
        deposits.setdefault(identifier_key(former.number), all_deposits[former.deposit_id])
    squares = {identifier_key(row.name): row for row in session.execute(select(Square)).scalars()}
    if season.number_scope == NumberScope.EXCAVATION:
        here: Any = Container.scope == "excavation"
    else:
        here = Container.season_id == season.id
    containers = {
        (row.scope, identifier_key(row.number)): row for row in session.execute(select(Container).where(here)).scalars()
    }
    parts: dict[int, int] = {}
    for container_id in session.execute(select(Part.container_id)).scalars():
        parts[container_id] = parts.get(container_id, 0) + 1
    people = dict(session.execute(select(Person.id, Person.name)).all())
    return _Known(deposits, squares, people, containers, parts)


def _checked(row: ListedRow, season: Season, known: _Known, terms: Terms) -> CheckedRow:
    material = material_named(row.material)
    doubts = [*row.doubts, *_place_doubts(row, known)]
    if material is None and not any(doubt.column == "material" for doubt in doubts):
        doubts.append(
            Doubt(
                "unknown_material",
                N_("“{material}” is no material known here. Which one is it?"),
                {"material": row.material},
                "material",
            )
        )
    row = replace(row, material=material or row.material)
    there = known.containers.get((_scope(row, season, known), identifier_key(row.number))) if row.number else None
    deposit = known.deposits.get(identifier_key(row.deposit))
    judged = CheckedRow(row, Fate.NEW, there.id if there else None, deposit.id if deposit else None)
    if there is None:
        return _judged(judged, doubts)
    if Standing(there.standing) in NO_HOME:
        code, text = BY_STANDING[Standing(there.standing)]
        return _judged(judged, [*doubts, Doubt(code, text, {"number": there.number}, "number")])
    as_known = _as_listed(there, row.line, known)
    if there.on_list or there.deposit_id is not None:
        changed = _really_changed(as_known, row)
        if changed:
            doubts.append(_difference(as_known, row, changed, terms))
        elif there.on_list and not row.doubts:
            return replace(judged, fate=Fate.SAME)
    elif Standing(there.standing) not in NOT_TREATED and there.material != row.material:
        doubts.append(_difference(as_known, row, ("material",), terms))
    return _judged(judged, doubts)


def _judged(checked: CheckedRow, doubts: list[Doubt]) -> CheckedRow:
    if not doubts:
        return checked
    return replace(checked, row=replace(checked.row, doubts=tuple(doubts)), fate=Fate.ASIDE)


def _scope(row: ListedRow, season: Season, known: _Known) -> str:
    square = known.squares.get(identifier_key(row.square))
    if season.number_scope == NumberScope.SQUARE and square is None:
        deposit = known.deposits.get(identifier_key(row.deposit))
        return f"season {season.id} square {deposit.square_id}" if deposit else ""
    return scope_of(season, square)


def _place_doubts(row: ListedRow, known: _Known) -> list[Doubt]:
    if not row.deposit:
        return []
    deposit = known.deposits.get(identifier_key(row.deposit))
    if deposit is None:
        text = N_("There is no {deposit} {number} yet. Is the number right, or was it opened that day?")
        return [Doubt("unknown_deposit", text, {"number": row.deposit}, "deposit")]
    doubts = []
    square = known.squares.get(identifier_key(row.square)) if row.square else None
    if row.square and (square is None or square.id != deposit.square_id):
        its = next(one.name for one in known.squares.values() if one.id == deposit.square_id)
        text = N_("{Deposit} {number} lies in {square} {its}, the list says {said}. Which is right?")
        doubts.append(Doubt("other_square", text, {"number": row.deposit, "its": its, "said": row.square}, "square"))
    if row.collected_on is not None:
        doubts += _day_doubt(row.deposit, deposit, row.collected_on)
    return doubts


def _day_doubt(number: str, deposit: Deposit, day: date) -> list[Doubt]:
    if deposit.opened <= day and (deposit.closed is None or day <= deposit.closed):
        return []
    text = N_("{Deposit} {number} was open from {opened} to {closed}, not on {day}. Are date and number right?")
    facts: dict[str, object] = {
        "number": number,
        "opened": deposit.opened.isoformat(),
        "closed": deposit.closed.isoformat() if deposit.closed else "…",
        "day": day.isoformat(),
    }
    return [Doubt("outside_open_days", text, facts, "collected_on")]


def _as_listed(container: Container, line: int, known: _Known) -> ListedRow:
    deposit = next((one.number for one in known.deposits.values() if one.id == container.deposit_id), "")
    square = next((one.name for one in known.squares.values() if one.id == container.square_id), "")
    return ListedRow(
        line=line,
        number=container.number,
        deposit=deposit,
        square=square,
        collected_on=container.collected_on,
        supervisor=known.people.get(container.supervisor_id or 0, ""),
        material=container.material,
        description=container.description,
        parts=known.parts.get(container.id, 1),
    )


def _really_changed(old: ListedRow, new: ListedRow) -> tuple[str, ...]:
    """What the list leaves empty, and what only the list knows, is no change."""
    given: dict[str, Callable[[], bool]] = {
        "square": lambda: bool(new.square),
        "supervisor": lambda: (
            bool(new.supervisor) and not identifier_key(old.supervisor).startswith(identifier_key(new.supervisor))
        ),
        "description": lambda: bool(new.description),
        "elevation_mm": lambda: False,
        "parts": lambda: False,
    }
    return tuple(column for column in changed_columns(old, new) if given.get(column, lambda: True)())


def _difference(old: ListedRow, new: ListedRow, columns: tuple[str, ...], terms: Terms) -> Doubt:
    was = ", ".join(f"{column_in_words(column, terms)} {getattr(old, column) or '–'}" for column in columns)
    says = ", ".join(f"{column_in_words(column, terms)} {getattr(new, column) or '–'}" for column in columns)
    if "collected_on" in columns and old.collected_on is not None:
        text = N_("{Container} {number} exists already ({was}). Is the number right? The list says {says}.")
        return Doubt("number_taken", text, {"number": new.number, "was": was, "says": says}, "number")
    text = N_("{Container} {number} was taken in with {was}. The list now says {says}. Which is right?")
    return Doubt("differs", text, {"number": new.number, "was": was, "says": says}, None)
