"""Bags into boxes by scan, out of them again, and what a bag weighs: a bag lies in one box or in none."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.bag_loads import load_of, loads_in
from findsdesk.desk.bags import BagFacts, facts_of_bags
from findsdesk.desk.box_kinds import box_rule
from findsdesk.desk.boxes import BoxFacts, box_rows
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.finding import bag_of
from findsdesk.desk.finding_shelves import box_of, is_a
from findsdesk.desk.kept_places import home_kept
from findsdesk.desk.lying import close_taking_out, lay_bag, refuse_lent
from findsdesk.desk.one_at_a_time import only_here_in_store
from findsdesk.desk.shipped import cautions_at, route_of
from findsdesk.domain.box_rules import Load, check_material, over_full, over_limit, usable_ml
from findsdesk.domain.cautions import At, Caution
from findsdesk.domain.codes import Kind
from findsdesk.domain.numbers import MOST_TENTHS
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.store.models import Bag, Box, Container, ProxySlip
from findsdesk.words import N_

MOST_ML = 1_000_000


@dataclass(frozen=True, slots=True)
class BagInBox:
    """A bag in a box, or none's yet: what it holds, what it weighs for the box, how many slips stand in it."""

    bag: BagFacts
    tenths: int | None
    volume_ml: int
    slips: int


@dataclass(frozen=True, slots=True)
class BoxWithBags:
    """A box with its bags in natural order, and the cautions shown when it is packed or carried."""

    box: BoxFacts
    bags: tuple[BagInBox, ...]
    cautions: tuple[Caution, ...]


def box_with_bags(desk: Desk, box: str) -> BoxWithBags:
    """Return a box by its code or number, with its bags. Refusals: those of finding it."""
    with desk.reading() as reading:
        return with_bags(reading.session, box_of(reading.session, desk, box).id)


def with_bags(session: Session, box_id: int) -> BoxWithBags:
    """Return a box with its bags."""
    return all_with_bags(session, [box_id])[0]


def all_with_bags(session: Session, box_ids: Sequence[int]) -> tuple[BoxWithBags, ...]:
    """Return boxes with their bags, by their ids in that order."""
    lying: dict[int, int | None] = {}
    for first in range(0, len(box_ids), 5000):
        some = box_ids[first : first + 5000]
        wanted = select(Bag.id, Bag.box_id).where(Bag.box_id.in_(some), Bag.pieces > 0)
        lying |= dict(session.execute(wanted).all())
    held: dict[int | None, list[BagInBox]] = {}
    for one in bags_in_box(session, list(lying)):
        held.setdefault(lying[one.bag.id], []).append(one)
    cautions = cautions_at(At.CARRY)
    return tuple(BoxWithBags(box, tuple(held.get(box.id, ())), cautions) for box in box_rows(session, box_ids))


def bags_in_box(session: Session, ids: Sequence[int]) -> tuple[BagInBox, ...]:
    """Return bags with what they weigh for a box, in natural order of deposit and container."""
    facts = facts_of_bags(session, ids)
    rows: dict[int, Bag] = {}
    slips: dict[int, int] = {}
    for first in range(0, len(ids), 5000):
        some = ids[first : first + 5000]
        rows |= {row.id: row for row in session.execute(select(Bag).where(Bag.id.in_(some))).scalars()}
        standing = select(ProxySlip.bag_id).where(ProxySlip.bag_id.in_(some), ProxySlip.laid_back_at.is_(None))
        for bag_id in session.execute(standing).scalars():
            slips[bag_id] = slips.get(bag_id, 0) + 1
    return tuple(_in_box(rows[one.id], one, slips.get(one.id, 0)) for one in facts)


def _in_box(row: Bag, facts: BagFacts, slips: int) -> BagInBox:
    load = load_of(row, facts.material)
    return BagInBox(facts, None if load.unweighed else load.tenths, load.volume_ml, slips)


def put_into_box(desk: Desk, box: str, bags: Sequence[str], *, sure: bool = False) -> BoxWithBags:
    """Put bags into a box, all in one act. Opposite: ``take_out_of_box``.

    A bag that was taken out of this very box is back by it. Refusals: ``in_another_box``, ``in_this_box``,
    ``bag_is_empty``, ``never_together``, ``on_loan``, ``nothing_scanned``, those of finding. Questions:
    ``seldom_together``, ``box_over_limit``, ``box_over_full``, ``desiccant_missing``.
    """
    with desk.deed("put_into_box") as deed:
        row = box_of(deed.session, desk, box)
        put(deed, row, bags, sure=sure)
        return with_bags(deed.session, row.id)


def pack_by_scan(desk: Desk, scans: Sequence[str], *, sure: bool = False) -> tuple[BoxWithBags, ...]:
    """Pack as it is scanned, box, bag, bag, box, bag: each bag into the box before it, all in one act.

    Opposite: ``take_out_of_box``. Refusals: ``no_box_first``, those of ``put_into_box``; Questions: of the same.
    """
    with desk.deed("put_into_box") as deed:
        packed: list[Box] = []
        for box, bags in _by_box(desk, scans):
            row = box_of(deed.session, desk, box)
            put(deed, row, bags, sure=sure)
            packed.append(row)
        if not packed:
            raise Refusal("nothing_scanned", N_("Nothing was scanned. Scan a box, then its bags."))
        return all_with_bags(deed.session, list(dict.fromkeys(row.id for row in packed)))


def _by_box(desk: Desk, scans: Sequence[str]) -> Iterator[tuple[str, list[str]]]:
    box, bags = "", list[str]()
    for scan in scans:
        if is_a(desk, scan, Kind.BAG):
            if not box:
                raise Refusal("no_box_first", N_("Bag {code} came before any box. Scan the box first."), code=scan)
            bags.append(scan)
            continue
        if bags:
            yield box, bags
        box, bags = scan, []
    if box:
        yield box, bags


def put(deed: Deed, box: Box, codes: Sequence[str], *, sure: bool) -> None:
    """Put bags into a box in a deed under way."""
    bags = [bag_of(deed.session, deed.desk, code) for code in dict.fromkeys(codes)]
    only_here_in_store(deed, box, *bags)
    box_of(deed.session, deed.desk, box.code)
    refuse_lent(deed.session, box)
    if not bags:
        raise Refusal("nothing_scanned", N_("Nothing was scanned. Scan a box, then its bags."))
    load = loads_in(deed.session, [box.id]).get(box.id, Load())
    for bag in bags:
        material = deed.session.get_one(Container, bag.container_id).material
        back = _refuse_placed(deed, bag, box)
        ask(deed, _material_fits(box, bag, material), sure)
        if not back:
            load += load_of(bag, material)
            lay_bag(deed, bag, box=box)
    deed.said = f"{deed.said} · {box.number}: {', '.join(bag.code for bag in bags)}".lstrip(" ·")
    for question in _questions(box, load):
        ask(deed, question, sure)
    deed.session.flush()


def _refuse_placed(deed: Deed, bag: Bag, box: Box) -> bool:
    """Refuse a bag that cannot go in; returns whether it belongs there and only came back."""
    if not bag.pieces:
        raise Refusal("bag_is_empty", N_("Bag {code} holds nothing any more. Scan the bag it was packed into."),
                      code=bag.code)  # fmt: skip
    refuse_lent(deed.session, bag)
    came_back = close_taking_out(deed, bag) is not None
    if bag.box_id == box.id and not came_back:
        raise Refusal("in_this_box", N_("Bag {code} lies in box {number} already."), code=bag.code, number=box.number)
    if bag.box_id is not None and bag.box_id != box.id:
        other = deed.session.get_one(Box, bag.box_id)
        raise Refusal(
            "in_another_box",
            N_("Bag {code} lies in box {other}. Take it out there before it goes into box {number}."),
            code=bag.code,
            other=other.number,
            number=box.number,
        )
    return bag.box_id == box.id


def _material_fits(box: Box, bag: Bag, material: str) -> Question | None:
    return check_material(box_rule(box.kind), material, bag=bag.code, material_name=route_of(material).name)


def _questions(box: Box, load: Load) -> Iterator[Question | None]:
    if box_rule(box.kind).desiccant and box.desiccant_on is None:
        yield Question(
            "desiccant_missing",
            N_("Box {number} is to be kept dry, and no desiccant is written for it. Is there some in it?"),
            number=box.number,
        )
    yield over_limit(box.number, box.empty_tenths + load.tenths, box.limit_tenths)
    yield over_full(box.number, load.volume_ml, usable_ml((box.length_mm, box.width_mm, box.height_mm)))


def take_out_of_box(desk: Desk, bags: Sequence[str], *, place: str = "", why: str = "") -> tuple[BagInBox, ...]:
    """Take bags out of their boxes for good, to a place or nowhere yet, in one act. Opposite: ``put_into_box``.

    Refusals: ``in_no_box``, ``on_loan``, ``for_a_while_only``, ``nothing_scanned``, those of finding.
    """
    with desk.deed("take_out_of_box") as deed:
        at = home_kept(deed, place) if place.strip() else None
        rows = [bag_of(deed.session, desk, code) for code in dict.fromkeys(bags)]
        if not rows:
            raise Refusal("nothing_scanned", N_("Nothing was scanned. Scan the bags to take out."))
        for row in rows:
            if row.box_id is None:
                raise Refusal("in_no_box", N_("Bag {code} lies in no box."), code=row.code)
            refuse_lent(deed.session, row)
            lay_bag(deed, row, place=at, why=why.strip())
        deed.said = ", ".join(row.code for row in rows)
        deed.session.flush()
        return bags_in_box(deed.session, [row.id for row in rows])


def weigh_bag(desk: Desk, bag: str, *, gross_tenths: int | None = None, volume_ml: int | None = None) -> BagInBox:
    """Write what a whole bag weighs and the room it takes, in tenths of a gram and millilitres; None leaves it.

    Opposite: the same again. Refusals: ``nothing_measured``, ``bag_weight``, those of finding.
    """
    if gross_tenths is None and volume_ml is None:
        raise Refusal("nothing_measured", N_("Write what the bag weighs, or the room it takes."))
    for value, most in ((gross_tenths, MOST_TENTHS), (volume_ml, MOST_ML)):
        if value is not None and not 0 < value <= most:
            raise Refusal("bag_weight", N_("No bag weighs or measures that. Weigh it again."))
    with desk.deed("weigh_bag") as deed:
        row = bag_of(deed.session, desk, bag)
        row.gross_tenths = row.gross_tenths if gross_tenths is None else gross_tenths
        row.volume_ml = row.volume_ml if volume_ml is None else volume_ml
        deed.said = f"{row.code}: {(row.gross_tenths or 0) / 10:g} g, {row.volume_ml or 0} ml"
        deed.session.flush()
        return bags_in_box(deed.session, [row.id])[0]
