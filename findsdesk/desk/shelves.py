"""The shelves as they are shown: places as a tree with how full they are, bags without a box, what lies where."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.bag_loads import loads_at
from findsdesk.desk.boxes import BoxFacts, every_box
from findsdesk.desk.boxing import BagInBox, bags_in_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.finding_shelves import box_or_bag_of, place_of
from findsdesk.desk.lying import Tree, all_away, tree_of
from findsdesk.desk.not_met import NotMet, all_not_met
from findsdesk.domain.box_rules import Load
from findsdesk.domain.shelving import PlaceKind, all_within
from findsdesk.store.models import Bag, Box, Lay, Person, Place, TakenOut


@dataclass(frozen=True, slots=True)
class PlaceInTree:
    """A place in the tree: its depth from the outermost, and what is in it and within it, loose bags too.

    ``boxes_here`` stand at the place itself, all other figures hold what lies within too. ``tenths`` is the weight.
    ``full_permille`` is of ``holds_boxes``, and None where nobody said how much it holds. ``taken_here`` is what was
    taken out to this table or person.
    """

    id: int
    version: int
    code: str
    name: str
    kind: PlaceKind
    depth: int
    path: str
    within: int | None
    boxes_here: int
    boxes: int
    boxes_away: int
    loose_bags: int
    bags: int
    pieces: int
    tenths: int
    holds_boxes: int | None
    full_permille: int | None
    taken_here: int
    note: str
    label_copy: int
    not_met: int
    """How many of the boxes and loose bags nobody met there: missing since a stock-take, or on the way there."""


@dataclass(frozen=True, slots=True)
class PlaceWithBoxes:
    """A place with the boxes and loose bags that belong right there."""

    place: PlaceInTree
    boxes: tuple[BoxFacts, ...]
    loose: tuple[BagInBox, ...]


def places_tree(desk: Desk) -> tuple[PlaceInTree, ...]:
    """Return the places in use, each before those within it, in natural order, with sums from the inside out."""
    with desk.reading() as reading:
        return tree_rows(reading.session)


def place_with_boxes(desk: Desk, place: str) -> PlaceWithBoxes:
    """Return a place with what belongs right there. Refusals: those of finding it."""
    with desk.reading() as reading:
        session = reading.session
        row = place_of(session, desk, place)
        here = next(one for one in tree_rows(session) if one.id == row.id)
        ids = session.execute(select(Bag.id).where(Bag.place_id == row.id, Bag.pieces > 0)).scalars().all()
        boxes = tuple(one for one in every_box(session) if one.place_code == row.code)
        return PlaceWithBoxes(here, boxes, bags_in_box(session, ids))


def boxes_within(desk: Desk, place: str) -> tuple[BoxFacts, ...]:
    """Return the boxes that belong to a place or to one within it, by number. Refusals: those of finding it."""
    with desk.reading() as reading:
        tree = tree_of(reading.session)
        inside = all_within(place_of(reading.session, desk, place).id, tree.parents)
        codes = {tree.places[one].code for one in inside}
        return tuple(box for box in every_box(reading.session) if box.place_code in codes)


def bags_without_box(desk: Desk) -> tuple[BagInBox, ...]:
    """Return the bags that lie in no box, in natural order of deposit and container."""
    with desk.reading() as reading:
        ids = reading.session.execute(select(Bag.id).where(Bag.box_id.is_(None), Bag.pieces > 0)).scalars().all()
        return bags_in_box(reading.session, ids)


def tree_rows(session: Session, *, gone: bool = False) -> tuple[PlaceInTree, ...]:
    """Return the places in use, or with ``gone`` those given up too, each before those within it."""
    tree = tree_of(session)
    here = _here(session)
    loose = loads_at(session)
    taken: dict[int, int] = defaultdict(int)
    for place_id in session.execute(select(TakenOut.to_place_id).where(TakenOut.back_at.is_(None))).scalars():
        taken[place_id] += 1
    unmet = _bags_not_met(session, here)
    return tuple(_in_tree(row, depth, tree, here, loose, taken, unmet) for row, depth in _in_order(tree, gone=gone))


def _bags_not_met(session: Session, here: Mapping[int | None, list[BoxFacts]]) -> Mapping[int, int]:
    """Return how many bags nobody met, loose or in a box, by the place where they belong."""
    bags = all_not_met(session).bags
    if not bags:
        return {}
    codes = {box.id: place_id for place_id, boxes in here.items() for box in boxes}
    unmet: dict[int, int] = defaultdict(int)
    for bag in session.execute(select(Bag).where(Bag.id.in_(bags))).scalars():
        place_id = bag.place_id if bag.box_id is None else codes.get(bag.box_id)
        if place_id is not None:
            unmet[place_id] += 1
    return unmet


def _here(session: Session) -> Mapping[int | None, list[BoxFacts]]:
    ids = {row.code: row.id for row in session.execute(select(Place)).scalars()}
    here: dict[int | None, list[BoxFacts]] = defaultdict(list)
    for box in every_box(session):
        here[ids.get(box.place_code)].append(box)
    return here


def _in_order(tree: Tree, outer: int | None = None, depth: int = 0, *, gone: bool) -> Iterator[tuple[Place, int]]:
    inner = [row for row in tree.places.values() if row.parent_id == outer and (gone or row.gone_at is None)]
    for row in sorted(inner, key=lambda one: (one.name_key, one.id)):
        yield row, depth
        yield from _in_order(tree, row.id, depth + 1, gone=gone)


def _in_tree(
    row: Place,
    depth: int,
    tree: Tree,
    here: Mapping[int | None, list[BoxFacts]],
    loose: Mapping[int, Load],
    taken: Mapping[int, int],
    unmet: Mapping[int, int],
) -> PlaceInTree:
    inside = all_within(row.id, tree.parents)
    boxes = [box for place_id in inside for box in here.get(place_id, ())]
    bags = sum((loose[place_id] for place_id in inside if place_id in loose), Load())
    return PlaceInTree(
        id=row.id,
        version=row.version,
        code=row.code,
        name=row.name,
        kind=PlaceKind(row.kind),
        depth=depth,
        path=tree.path(row.id),
        within=row.parent_id,
        boxes_here=len(here.get(row.id, ())),
        boxes=len(boxes),
        boxes_away=sum(1 for box in boxes if box.away is not None),
        loose_bags=bags.bags,
        bags=bags.bags + sum(box.bags for box in boxes),
        pieces=bags.pieces + sum(box.pieces for box in boxes),
        tenths=bags.tenths + sum(box.tenths for box in boxes),
        holds_boxes=row.holds_boxes,
        full_permille=len(boxes) * 1000 // row.holds_boxes if row.holds_boxes else None,
        taken_here=taken.get(row.id, 0),
        note=row.note,
        label_copy=row.label_copy,
        not_met=sum(unmet.get(place_id, 0) for place_id in inside) + sum(1 for box in boxes if box.not_met is not None),
    )


@dataclass(frozen=True, slots=True)
class Lain:
    """Where a box or bag lay from a moment on: a place from the outside in, a box by its number, or nowhere ('')."""

    since: datetime
    box: int | None
    place: str
    person: str
    why: str


@dataclass(frozen=True, slots=True)
class WhereItIs:
    """Where a box or bag is now, in one line from the outside in, whether it is away, and where it lay before."""

    code: str
    number: int | None
    box: int | None
    place: str
    away_to: str
    away_since: datetime | None
    not_met: NotMet | None
    lain: tuple[Lain, ...]


def where_it_is(desk: Desk, what: str) -> WhereItIs:
    """Return where a box or bag is and where it lay, the newest first. Refusals: those of finding it."""
    with desk.reading() as reading:
        session = reading.session
        thing = box_or_bag_of(session, desk, what)
        tree, box = tree_of(session), None
        if isinstance(thing, Bag) and thing.box_id is not None:
            box = session.get_one(Box, thing.box_id)
        all_out, unmet = all_away(session, tree), all_not_met(session)
        away = all_out.of(thing) or (all_out.of(box) if box is not None else None)
        return WhereItIs(
            code=thing.code,
            number=thing.number if isinstance(thing, Box) else None,
            box=box.number if box is not None else None,
            place=tree.path(thing.place_id if box is None else box.place_id),
            away_to=away.to if away is not None else "",
            away_since=away.since if away is not None else None,
            not_met=unmet.of_bag(thing) if isinstance(thing, Bag) else unmet.boxes.get(thing.id),
            lain=tuple(_lain(session, thing, tree)),
        )


def _lain(session: Session, thing: Box | Bag, tree: Tree) -> Iterator[Lain]:
    column = Lay.box_id if isinstance(thing, Box) else Lay.bag_id
    rows = session.execute(
        select(Lay, Box.number, Person.name)
        .outerjoin(Box, Lay.in_box_id == Box.id)
        .outerjoin(Person, Lay.person_id == Person.id)
        .where(column == thing.id)
        .order_by(Lay.entered_at.desc(), Lay.id.desc())
    ).all()
    for row, number, person in rows:
        yield Lain(row.happened_at, number, tree.path(row.at_place_id), person or "", row.why)
