"""The squares of the grid: added, listed, named."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Square
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class SquareFacts:
    """A square of the grid; ``version`` goes back as ``seen`` with a change."""

    id: int
    name: str
    version: int


def add_squares(desk: Desk, names: Iterable[str]) -> tuple[str, ...]:
    """Add squares of the grid; those already there, however they are written, are passed over. Returns those added."""
    with desk.deed("add_squares") as deed:
        there = {folded(name) for name in deed.session.execute(select(Square.name)).scalars()}
        wanted = {folded(name): name.strip() for name in reversed(list(names)) if name.strip()}
        added = [name for alike, name in reversed(wanted.items()) if alike not in there]
        for name in added:
            deed.add(Square(name=name, name_key=sort_key(name)))
        deed.said = ", ".join(added)
    return tuple(added)


def squares(desk: Desk) -> tuple[str, ...]:
    """Return the names of the squares in natural order."""
    with desk.reading() as reading:
        return tuple(reading.session.execute(select(Square.name).order_by(Square.name_key)).scalars())


def square_list(desk: Desk) -> tuple[SquareFacts, ...]:
    """Return the squares in natural order, each in the version in which it stands."""
    with desk.reading() as reading:
        rows = reading.session.execute(select(Square).order_by(Square.name_key)).scalars()
        return tuple(SquareFacts(row.id, row.name, row.version) for row in rows)


def square_named(session: Session, name: str) -> Square:
    """Return the square of a name, however it is written; raises ``unknown_square``."""
    wanted = folded(name)
    for row in session.execute(select(Square)).scalars():
        if folded(row.name) == wanted:
            return row
    raise Refusal(
        "unknown_square", N_("There is no {square} {name}. Add it in Set-up, or check the name."), name=name.strip()
    )
