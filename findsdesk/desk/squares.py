"""The squares of the grid: added, listed, named."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Square
from findsdesk.words import N_


def add_squares(desk: Desk, names: Iterable[str]) -> tuple[str, ...]:
    """Add squares of the grid; those already there are passed over. Returns the names added."""
    with desk.deed("add_squares") as deed:
        there = set(deed.session.execute(select(Square.name)).scalars())
        added = [name for name in dict.fromkeys(name.strip() for name in names) if name and name not in there]
        for name in added:
            deed.add(Square(name=name, name_key=sort_key(name)))
        deed.said = ", ".join(added)
    return tuple(added)


def squares(desk: Desk) -> tuple[str, ...]:
    """Return the names of the squares in natural order."""
    with desk.reading() as reading:
        return tuple(reading.session.execute(select(Square.name).order_by(Square.name_key)).scalars())


def square_named(session: Session, name: str) -> Square:
    """Return the square of a name, however it is written; raises ``unknown_square``."""
    wanted = folded(name)
    for row in session.execute(select(Square)).scalars():
        if folded(row.name) == wanted:
            return row
    raise Refusal(
        "unknown_square", N_("There is no {square} {name}. Add it in Set-up, or check the name."), name=name.strip()
    )
