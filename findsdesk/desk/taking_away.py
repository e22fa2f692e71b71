"""Boxes and bags taken out to a table or a person by scan, since when and why, and brought back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding_shelves import box_or_bag_of, name_of
from findsdesk.desk.kept_places import place_kept
from findsdesk.desk.lying import Tree, close_taking_out, refuse_lent, taken_out_now, tree_of
from findsdesk.desk.one_at_a_time import only_here_in_store
from findsdesk.desk.opening import find_person
from findsdesk.desk.store_places import new_place
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import FOR_A_WHILE, PlaceKind
from findsdesk.store.models import Bag, Box, Person, Place, TakenOut
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class OutNow:
    """A box or bag that is away: which, to where, who took it, since when, why, and where it belongs."""

    id: int
    kind: str
    """'box' or 'bag'."""
    thing_id: int
    code: str
    number: int | None
    to: str
    person: str
    why: str
    since: datetime
    back_at: datetime | None
    belongs: str


def take_away(desk: Desk, what: Sequence[str], *, to: str, why: str = "") -> tuple[OutNow, ...]:
    """Take boxes and bags out to a table or to somebody of the team, in one act. Opposite: ``bring_back``.

    Refusals: ``nothing_scanned``, ``out_already``, ``on_loan``, ``belongs_to_places``, those of finding.
    """
    with desk.deed("take_away") as deed:
        place = _table_or_person(deed, to)
        rows = []
        for thing in _things(deed, what):
            _refuse_out(deed.session, thing)
            rows.append(_write(deed, thing, place, why.strip()))
        deed.said = f"{place.name}: {', '.join(what)}"
        deed.session.flush()
        return out_rows(deed.session, [row.id for row in rows])


def _write(deed: Deed, thing: Box | Bag, place: Place, why: str) -> TakenOut:
    return deed.add(
        TakenOut(
            box_id=thing.id if isinstance(thing, Box) else None,
            bag_id=thing.id if isinstance(thing, Bag) else None,
            to_place_id=place.id,
            why=why,
            since=deed.happened_at,
            person_id=deed.person_id,
        )
    )


def _things(deed: Deed, what: Sequence[str]) -> list[Box | Bag]:
    if not what:
        raise Refusal("nothing_scanned", N_("Nothing was scanned. Scan the boxes and bags."))
    things = [box_or_bag_of(deed.session, deed.desk, one) for one in dict.fromkeys(what)]
    only_here_in_store(deed, *things)
    return things


def _refuse_out(session: Session, thing: Box | Bag) -> None:
    refuse_lent(session, thing)
    row = taken_out_now(session, thing)
    if row is not None:
        raise Refusal(
            "out_already",
            N_("{thing} is out at {place} already. Bring it back first."),
            thing=name_of(thing),
            place=session.get_one(Place, row.to_place_id).name,
        )


def _table_or_person(deed: Deed, to: str) -> Place:
    """Return the table or person meant; somebody of the team becomes a place the first time they take something."""
    try:
        place = place_kept(deed, to)
    except Refusal as refusal:
        if refusal.code != "unknown_place" or not to.strip():
            raise
        return _place_of_person(deed, to, refusal)
    if PlaceKind(place.kind) not in FOR_A_WHILE:
        raise Refusal(
            "belongs_to_places",
            N_("{place} is no table and no person: move things there, so that they belong there."),
            place=place.name,
        )
    return place


def _place_of_person(deed: Deed, name: str, unknown: Refusal) -> Place:
    try:
        person = find_person(deed.session, name)
    except Refusal:
        raise unknown from None
    there = deed.session.execute(select(Place).where(Place.person_id == person.id, Place.gone_at.is_(None))).scalar()
    if there is not None:
        return there
    place = new_place(deed, person.name, PlaceKind.PERSON, person_id=person.id)
    deed.session.flush()
    return place


def bring_back(desk: Desk, what: Sequence[str]) -> tuple[OutNow, ...]:
    """Write that boxes and bags are back where they belong, in one act. Opposite: ``take_away``.

    Refusals: ``nothing_scanned``, ``not_out``, those of finding.
    """
    with desk.deed("bring_back") as deed:
        rows = []
        for thing in _things(deed, what):
            row = close_taking_out(deed, thing)
            if row is None:
                raise Refusal("not_out", N_("{thing} is not taken out. It lies where it belongs."),
                              thing=name_of(thing))  # fmt: skip
            rows.append(row)
        deed.said = ", ".join(what)
        deed.session.flush()
        return out_rows(deed.session, [row.id for row in rows])


def out_now(desk: Desk) -> tuple[OutNow, ...]:
    """Return what is taken out at the moment, the longest first."""
    with desk.reading() as reading:
        ids = reading.session.execute(
            select(TakenOut.id).where(TakenOut.back_at.is_(None)).order_by(TakenOut.since, TakenOut.id)
        ).scalars()
        return out_rows(reading.session, list(ids))


def out_rows(session: Session, ids: Sequence[int]) -> tuple[OutNow, ...]:
    """Return what was taken out by the ids of its rows, in that order."""
    found = session.execute(
        select(TakenOut, Box, Bag, Person.name)
        .outerjoin(Box, TakenOut.box_id == Box.id)
        .outerjoin(Bag, TakenOut.bag_id == Bag.id)
        .outerjoin(Person, TakenOut.person_id == Person.id)
        .where(TakenOut.id.in_(ids))
    ).all()
    tree = tree_of(session)
    numbers: dict[int, int] = dict(session.execute(select(Box.id, Box.number)).all())
    rows = {
        row.id: _out(row, bag if row.box_id is None else box, name or "", tree, numbers)
        for row, box, bag, name in found
    }
    return tuple(rows[one] for one in ids if one in rows)


def _out(row: TakenOut, thing: Box | Bag, person: str, tree: Tree, numbers: dict[int, int]) -> OutNow:
    in_box = numbers.get(thing.box_id) if isinstance(thing, Bag) and thing.box_id is not None else None
    return OutNow(
        id=row.id,
        kind="box" if isinstance(thing, Box) else "bag",
        thing_id=thing.id,
        code=thing.code,
        number=thing.number if isinstance(thing, Box) else None,
        to=tree.path(row.to_place_id),
        person=person,
        why=row.why,
        since=row.since,
        back_at=row.back_at,
        belongs=tree.path(thing.place_id) if in_box is None else f"{in_box}",
    )
