"""Finding a place, a box, a bag on the shelves or a loan from what was scanned or typed."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import bag_of
from findsdesk.domain.codes import Kind, could_be_code, read_code
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Bag, Box, Loan, Place
from findsdesk.words import N_


def parents_of(session: Session) -> dict[int, int | None]:
    """Return the place around each place, gone ones too; places are counted in hundreds."""
    rows = session.execute(select(Place.id, Place.parent_id)).all()
    return {place_id: parent_id for place_id, parent_id in rows}  # noqa: C416


def place_of(session: Session, desk: Desk, which: str) -> Place:
    """Return the place of a code, a name, or names from the outside in with a slash between them (Room 1/Shelf 3).

    Refusals: ``unknown_place``, ``place_twice``, ``place_gone``, those of a code.
    """
    if could_be_code(which):
        return _place_coded(session, desk, which)
    names = [part for part in (folded(part) for part in which.split("/")) if part]
    found = [row for row in _named(session, names[-1]) if _lies_in(session, row, names[:-1])] if names else []
    if not found:
        raise Refusal("unknown_place", N_("There is no place {place}. Add it, or scan its label."), place=which.strip())
    if len(found) > 1:
        raise Refusal(
            "place_twice",
            N_("Several places are called {place}. Scan its label, or write what is around it: Room/Shelf."),
            place=which.strip(),
        )
    return found[0]


def _place_coded(session: Session, desk: Desk, which: str) -> Place:
    code = read_code(which, desk.facts.code)
    row = session.execute(select(Place).where(Place.code == code.text)).scalar_one_or_none()
    if row is None:
        raise Refusal(
            "unknown_place", N_("No place has the code {place}. Scan the label of a shelf, room or table."),
            place=code.text,
        )  # fmt: skip
    if row.gone_at is not None:
        raise Refusal("place_gone", N_("{place} was given up. Choose another place."), place=row.name)
    return row


def _named(session: Session, name: str) -> list[Place]:
    wanted = select(Place).where(Place.name_folded == name, Place.gone_at.is_(None)).order_by(Place.id)
    return list(session.execute(wanted).scalars())


def _lies_in(session: Session, row: Place, names: list[str]) -> bool:
    """Tell whether the places around a place bear these names, from the outside in."""
    for name in reversed(names):
        outer = session.get(Place, row.parent_id) if row.parent_id is not None else None
        if outer is None or outer.name_folded != name:
            return False
        row = outer
    return True


def box_of(session: Session, desk: Desk, which: str) -> Box:
    """Return the box of a code or a number. Refusals: ``unknown_box``, ``box_gone``, those of a code."""
    if could_be_code(which):
        wanted = select(Box).where(Box.code == read_code(which, desk.facts.code).text)
    else:
        number = which.strip()
        wanted = select(Box).where(Box.number == (int(number) if number.isdecimal() and len(number) < 10 else -1))
    row = session.execute(wanted).scalar_one_or_none()
    if row is None:
        raise Refusal("unknown_box", N_("There is no box {box}. Make it first, or scan its label."), box=which.strip())
    if row.gone_at is not None:
        raise Refusal("box_gone", N_("Box {number} was given up. Take another box."), number=row.number)
    return row


def is_a(desk: Desk, which: str, kind: Kind) -> bool:
    """Tell whether something is a code of a kind; refuses a code that is misread or of another excavation."""
    return could_be_code(which) and read_code(which, desk.facts.code).kind is kind


def box_or_bag_of(session: Session, desk: Desk, which: str) -> Box | Bag:
    """Return the box or the bag of a code, or the box of a number. Refusals: ``neither_box_nor_bag``, of both."""
    if is_a(desk, which, Kind.BAG):
        return bag_of(session, desk, which)
    if could_be_code(which) and not is_a(desk, which, Kind.BOX):
        raise Refusal(
            "neither_box_nor_bag", N_("{code} is neither a box nor a bag. Scan one of those."), code=which.strip()
        )
    return box_of(session, desk, which)


def loan_of(session: Session, desk: Desk, which: str) -> Loan:
    """Return the loan of a code or a number. Refusals: ``unknown_loan``, those of a code."""
    if could_be_code(which):
        wanted = select(Loan).where(Loan.code == read_code(which, desk.facts.code).text)
    else:
        number = which.strip()
        wanted = select(Loan).where(Loan.number == (int(number) if number.isdecimal() and len(number) < 10 else -1))
    row = session.execute(wanted).scalar_one_or_none()
    if row is None:
        raise Refusal("unknown_loan", N_("There is no loan {loan}. Look at the register of loans."), loan=which.strip())
    return row


def name_of(thing: Box | Bag) -> str:
    """Return how a box or a bag is called in a sentence: a box by its number, a bag by its code."""
    return str(thing.number) if isinstance(thing, Box) else thing.code
