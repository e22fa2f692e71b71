"""Where boxes and bags are at the moment: where they belong, or away at a table, with a person or on loan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed
from findsdesk.desk.finding_shelves import name_of
from findsdesk.desk.not_met import NotMet, all_not_met
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import way_out
from findsdesk.store.models import Bag, Box, Lay, Loan, LoanLine, Place, TakenOut
from findsdesk.words import N_

STEP = " › "
"""Between the names of places, from the outside in."""


@dataclass(frozen=True, slots=True)
class Away:
    """A thing that is away: at which table, with whom, or on which loan; ``loan`` 0: not on loan."""

    to: str
    since: datetime
    why: str
    loan: int = 0
    taken_out_id: int = 0


@dataclass(frozen=True, slots=True)
class Tree:
    """All places at one moment, and how they are called from the outside in."""

    places: Mapping[int, Place]
    parents: Mapping[int, int | None]

    def path(self, place_id: int | None) -> str:
        """Return "Store › Room 1 › Shelf 3", or nothing where no place is said."""
        if place_id is None:
            return ""
        ids = [place_id, *way_out(place_id, self.parents)]
        return STEP.join(self.places[one].name for one in reversed(ids))


def tree_of(session: Session) -> Tree:
    """Read all places."""
    rows = session.execute(select(Place)).scalars().all()
    return Tree({row.id: row for row in rows}, {row.id: row.parent_id for row in rows})


@dataclass(frozen=True, slots=True)
class AllAway:
    """What is away at the moment, boxes and bags by their ids."""

    boxes: Mapping[int, Away]
    bags: Mapping[int, Away]

    def of(self, thing: Box | Bag) -> Away | None:
        """Return whether a thing itself is away; a bag in a box that is away is not asked for."""
        return (self.boxes if isinstance(thing, Box) else self.bags).get(thing.id)


def all_away(session: Session, tree: Tree | None = None) -> AllAway:
    """Read what is away: few things, beside all that there are."""
    paths = tree or tree_of(session)
    boxes: dict[int, Away] = {}
    bags: dict[int, Away] = {}
    for row in session.execute(select(TakenOut).where(TakenOut.back_at.is_(None))).scalars():
        away = Away(paths.path(row.to_place_id), row.since, row.why, taken_out_id=row.id)
        _enter(boxes, bags, row.box_id, row.bag_id, away)
    lent = select(LoanLine, Loan).join(Loan, LoanLine.loan_id == Loan.id).where(LoanLine.back_on.is_(None))
    for line, loan in session.execute(lent):
        away = Away(loan.borrower, loan.made_at, loan.purpose, loan=loan.number)
        _enter(boxes, bags, line.box_id, line.bag_id, away)
    return AllAway(boxes, bags)


def _enter(boxes: dict[int, Away], bags: dict[int, Away], box_id: int | None, bag_id: int | None, away: Away) -> None:
    if box_id is not None:
        boxes[box_id] = away
    elif bag_id is not None:
        bags[bag_id] = away


def refuse_lent(session: Session, thing: Box | Bag) -> None:
    """Refuse a box or bag that is on loan (``on_loan``)."""
    column = LoanLine.box_id if isinstance(thing, Box) else LoanLine.bag_id
    loan = session.execute(
        select(Loan).join(LoanLine, LoanLine.loan_id == Loan.id).where(column == thing.id, LoanLine.back_on.is_(None))
    ).scalar()
    if loan is not None:
        raise Refusal(
            "on_loan",
            N_("{thing} is on loan {number}, to {who}. Write its return first."),
            thing=name_of(thing),
            number=loan.number,
            who=loan.borrower,
        )


def refuse_bags_lent(session: Session, container_id: int) -> None:
    """Refuse to open a container of which a bag is on loan, by itself or in its box (``on_loan``)."""
    for bag in session.execute(select(Bag).where(Bag.container_id == container_id, Bag.pieces > 0)).scalars():
        refuse_lent(session, bag)
        if bag.box_id is not None:
            refuse_lent(session, session.get_one(Box, bag.box_id))


def taken_out_now(session: Session, thing: Box | Bag) -> TakenOut | None:
    """Return how a thing is taken out at the moment, or None where it is where it belongs."""
    column = TakenOut.box_id if isinstance(thing, Box) else TakenOut.bag_id
    return session.execute(select(TakenOut).where(column == thing.id, TakenOut.back_at.is_(None))).scalar()


def close_taking_out(deed: Deed, thing: Box | Bag) -> TakenOut | None:
    """Write that a thing is back where it belongs, where it was taken out."""
    row = taken_out_now(deed.session, thing)
    if row is not None:
        row.back_at, row.back_by_id = deed.happened_at, deed.person_id
    return row


def lay_bag(deed: Deed, bag: Bag, *, box: Box | None = None, place: Place | None = None, why: str = "") -> None:
    """Lay a bag into a box, loose at a place, or nowhere yet; the fact and the row say the same."""
    bag.box_id, bag.place_id = (box.id if box else None), (place.id if place else None)
    _write(deed, {"bag_id": bag.id, "in_box_id": bag.box_id, "at_place_id": bag.place_id, "why": why})


def lay_box(deed: Deed, box: Box, place: Place | None, *, transport_id: int | None = None, why: str = "") -> None:
    """Lay a box at a place, or nowhere yet; the fact and the row say the same."""
    box.place_id = place.id if place else None
    _write(deed, {"box_id": box.id, "at_place_id": box.place_id, "transport_id": transport_id, "why": why})


def _write(deed: Deed, facts: dict[str, object]) -> None:
    who = {"happened_at": deed.happened_at, "entered_at": deed.written_at, "person_id": deed.person_id}
    deed.write(Lay, **facts, **who)


@dataclass(frozen=True, slots=True)
class BagLies:
    """Where a bag lies: the number of its box (None: in none), where that or the bag belongs, to whom it is away."""

    box: int | None = None
    place: str = ""
    away: str = ""
    not_met: NotMet | None = None
    """Why nobody met it there."""


def where_bags_lie(session: Session, bags: Sequence[Bag]) -> dict[int, BagLies]:
    """Return where bags lie, by their ids; asks nothing more where none of them was laid anywhere yet."""
    if not any(bag.box_id or bag.place_id for bag in bags):
        return {}
    tree = tree_of(session)
    away, not_met = all_away(session, tree), all_not_met(session)
    wanted = select(Box).where(Box.id.in_([bag.box_id for bag in bags if bag.box_id]))
    boxes = {row.id: row for row in session.execute(wanted).scalars()}
    lying: dict[int, BagLies] = {}
    for bag in bags:
        box = boxes.get(bag.box_id) if bag.box_id is not None else None
        out = away.of(bag) or (away.of(box) if box is not None else None)
        place = tree.path(bag.place_id if box is None else box.place_id)
        lying[bag.id] = BagLies(box.number if box else None, place, out.to if out else "", not_met.of_bag(bag))
    return lying
