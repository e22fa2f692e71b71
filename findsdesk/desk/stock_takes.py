"""Stock-takes: somebody goes along the shelves of a place and scans; found, missing, in the wrong place."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import case, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.finding_shelves import box_or_bag_of, is_a, name_of, parents_of, place_of
from findsdesk.desk.lying import AllAway, all_away
from findsdesk.desk.stock_rows import StockTakeFacts, stock_facts
from findsdesk.desk.transports import things_within
from findsdesk.domain.codes import Kind
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.shelving import Met, all_within
from findsdesk.store.models import Bag, Box, Place, StockScan, StockTake
from findsdesk.store.numbers import take_numbers
from findsdesk.words import N_, CountOf

SERIES = "stock_take"
SHOWN = 5


@dataclass(slots=True)
class _Walk:
    """Where somebody who scans along the shelves stands: at a place, before an open box or none."""

    row: StockTake
    place: Place
    box: Box | None
    parents: Mapping[int, int | None]
    away: AllAway
    met: set[tuple[str, int]]


def begin_stock_take(desk: Desk, place: str) -> StockTakeFacts:
    """Begin a stock-take of a place and all within it. Opposite: ``close_stock_take``.

    Refusals: ``stock_take_open`` (of that very place), those of finding.
    """
    with desk.deed("begin_stock_take") as deed:
        at = place_of(deed.session, desk, place)
        begun = select(StockTake).where(StockTake.place_id == at.id, StockTake.closed_at.is_(None))
        open_one = deed.session.execute(begun).scalar()
        if open_one is not None:
            raise Refusal(
                "stock_take_open",
                N_("Stock-take {number} of {place} is not closed yet. Go on with it, or close it."),
                number=open_one.number,
                place=at.name,
            )
        number = take_numbers(deed.session, SERIES, 1, station_id=desk.station_id)[0]
        row = deed.add(StockTake(number=number, place_id=at.id, begun_at=deed.happened_at, person_id=deed.person_id))
        deed.said = f"{number}: {at.name}"
        deed.session.flush()
        return stock_facts(deed.session, row)


def scan_stock(desk: Desk, number: int, scans: Sequence[str]) -> StockTakeFacts:
    """Write what was met, in the order in which it was scanned; opposite: none, what was seen was seen.

    A place's code says where what follows stands, a box's code that it is there and which box the bags after it lie
    in. What was met before is passed over. Refusals: ``unknown_stock_take``, ``stock_take_closed``,
    ``nothing_scanned``, ``outside_the_stock_take``, those of finding.
    """
    with desk.deed("scan_stock") as deed:
        row = _open(deed.session, number)
        if not scans:
            raise Refusal("nothing_scanned", N_("Nothing was scanned. Scan the boxes on the shelf."))
        walk = _walk(deed.session, row)
        for scan in scans:
            _scan(deed, walk, scan)
        deed.said = f"{row.number}: {len(scans)}"
        deed.session.flush()
        return stock_facts(deed.session, row)


def _walk(session: Session, row: StockTake) -> _Walk:
    scans = session.execute(select(StockScan.box_id, StockScan.bag_id).where(StockScan.stock_take_id == row.id)).all()
    met = {("box", box) for box, _bag in scans if box is not None} | {
        ("bag", bag) for _box, bag in scans if bag is not None
    }
    place = session.get_one(Place, row.place_id)
    return _Walk(row, place, None, parents_of(session), all_away(session), met)


def _scan(deed: Deed, walk: _Walk, scan: str) -> None:
    if is_a(deed.desk, scan, Kind.PLACE):
        walk.place, walk.box = _inside(walk, place_of(deed.session, deed.desk, scan), deed), None
        return
    thing = box_or_bag_of(deed.session, deed.desk, scan)
    if isinstance(thing, Box):
        walk.box = thing
    key = _key(thing)
    if key not in walk.met:
        walk.met.add(key)
        _write(deed, walk, thing, _verdict(walk, thing))


def _inside(walk: _Walk, place: Place, deed: Deed) -> Place:
    if place.id not in all_within(walk.row.place_id, walk.parents):
        whole = deed.session.get_one(Place, walk.row.place_id)
        raise Refusal(
            "outside_the_stock_take",
            N_("{place} is outside of {whole}, of which stock is taken. Begin another stock-take there."),
            place=place.name,
            whole=whole.name,
        )
    return place


def _verdict(walk: _Walk, thing: Box | Bag) -> Met:
    if walk.away.of(thing) is not None:
        return Met.OUT
    if isinstance(thing, Bag) and thing.box_id is not None:
        return Met.FOUND if walk.box is not None and thing.box_id == walk.box.id else Met.ELSEWHERE
    here = thing.place_id in all_within(walk.place.id, walk.parents)
    return Met.FOUND if here else Met.ELSEWHERE


def _write(deed: Deed, walk: _Walk, thing: Box | Bag, verdict: Met) -> None:
    in_box = walk.box if isinstance(thing, Bag) else None
    missing = verdict is Met.MISSING
    deed.write(
        StockScan,
        stock_take_id=walk.row.id,
        verdict=verdict,
        box_id=thing.id if isinstance(thing, Box) else None,
        bag_id=thing.id if isinstance(thing, Bag) else None,
        seen_in_box_id=in_box.id if in_box is not None and not missing else None,
        seen_at_place_id=None if missing else walk.place.id,
        belongs_in_box_id=thing.box_id if isinstance(thing, Bag) else None,
        belongs_at_place_id=thing.place_id,
        happened_at=deed.happened_at,
        person_id=deed.person_id,
    )


def close_stock_take(desk: Desk, number: int, *, sure: bool = False) -> StockTakeFacts:
    """Close a stock-take and write down what is missing: it belongs there, is not written as away, and was not met.

    Bags in boxes count where a bag of the box's own was scanned in it: then it was looked into. Opposite: none; a
    later stock-take or ``find_missing`` answers it. Refusals: ``unknown_stock_take``, ``stock_take_closed``.
    Questions: ``things_missing``, ``not_looked_into``.
    """
    with desk.deed("close_stock_take") as deed:
        row = _open(deed.session, number)
        walk = _walk(deed.session, row)
        missing = [thing for thing in _expected(deed.session, walk) if _key(thing) not in walk.met]
        for question in (_are_missing(missing), _not_looked_into(deed.session, row)):
            ask(deed, question, sure)
        for thing in missing:
            _write(deed, walk, thing, Met.MISSING)
        row.closed_at = deed.happened_at
        deed.said = f"{row.number}: {len(missing)}"
        deed.session.flush()
        return stock_facts(deed.session, row)


def _expected(session: Session, walk: _Walk) -> list[Box | Bag]:
    """Return what should be met: boxes and loose bags of the place that are not away, bags of the boxes opened."""
    there = [thing for thing in things_within(session, walk.row.place_id) if walk.away.of(thing) is None]
    # A bag from elsewhere may lie on a box that nobody opened: one of its own says that it was looked into.
    opened = select(StockScan.seen_in_box_id).where(
        StockScan.stock_take_id == walk.row.id, StockScan.seen_in_box_id == StockScan.belongs_in_box_id
    )
    bags = session.execute(select(Bag).where(Bag.box_id.in_(opened), Bag.pieces > 0).order_by(Bag.code)).scalars()
    return [*there, *(bag for bag in bags if walk.away.of(bag) is None)]


def _are_missing(missing: Sequence[Box | Bag]) -> Question | None:
    if not missing:
        return None
    return Question(
        "things_missing",
        N_("{things}: {names}. Is the stock-take at its end?"),
        things=CountOf(
            "{n} was not met and is written as missing", "{n} were not met and are written as missing", len(missing)
        ),
        names=", ".join(name_of(one) for one in missing[:SHOWN]),
    )


def _not_looked_into(session: Session, row: StockTake) -> Question | None:
    """Return a question about boxes in which bags from elsewhere alone were scanned: none of their own is missing."""
    own = (StockScan.seen_in_box_id == StockScan.belongs_in_box_id) & StockScan.belongs_in_box_id.is_not(None)
    boxes = (
        select(Box.number)
        .join(StockScan, StockScan.seen_in_box_id == Box.id)
        .where(StockScan.stock_take_id == row.id)
        .group_by(Box.number)
        .having(func.sum(case((own, 1), else_=0)) == 0)
        .order_by(Box.number)
    )
    numbers = session.execute(boxes).scalars().all()
    if not numbers:
        return None
    return Question(
        "not_looked_into",
        N_("Box {numbers}: none of its own bags was scanned, so none counts as missing. Was it not looked into?"),
        numbers=", ".join(str(one) for one in numbers[:SHOWN]),
    )


def _key(thing: Box | Bag) -> tuple[str, int]:
    return "box" if isinstance(thing, Box) else "bag", thing.id


def _open(session: Session, number: int) -> StockTake:
    row = _numbered(session, number)
    if row.closed_at is not None:
        raise Refusal("stock_take_closed", N_("Stock-take {number} is closed. Begin another one."), number=number)
    return row


def _numbered(session: Session, number: int) -> StockTake:
    row = session.execute(select(StockTake).where(StockTake.number == number)).scalar_one_or_none()
    if row is None:
        raise Refusal("unknown_stock_take", N_("There is no stock-take {number}. Begin one at a place."), number=number)
    return row


def stock_take(desk: Desk, number: int) -> StockTakeFacts:
    """Return a stock-take by its number. Refusal: ``unknown_stock_take``."""
    with desk.reading() as reading:
        return stock_facts(reading.session, _numbered(reading.session, number))


def stock_takes(desk: Desk) -> tuple[StockTakeFacts, ...]:
    """Return all stock-takes, the newest first."""
    with desk.reading() as reading:
        rows = reading.session.execute(select(StockTake).order_by(StockTake.number.desc())).scalars().all()
        return tuple(stock_facts(reading.session, row) for row in rows)
