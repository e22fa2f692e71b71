"""What stock-takes missed and is missing to this day: to be looked for, and found again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding_shelves import box_or_bag_of, name_of
from findsdesk.desk.lying import tree_of
from findsdesk.desk.not_met import Why, all_not_met, still_missing
from findsdesk.desk.stock_rows import box_numbers, where_in_words
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import Met
from findsdesk.store.models import Bag, Box, StockScan, StockTake
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class MissingThing:
    """A box (by its number) or a bag that is missing: where it belongs, by which stock-take it was missed, when."""

    code: str
    number: int | None
    belongs: str
    pieces: int
    """Of a bag; 0 of a box."""
    stock_take: int
    since: datetime


def missing_things(desk: Desk) -> tuple[MissingThing, ...]:
    """Return what stock-takes missed and is missing to this day, the newest stock-take first, boxes before bags."""
    with desk.reading() as reading:
        return _missing(reading.session)


def _missing(session: Session) -> tuple[MissingThing, ...]:
    wanted = still_missing(select(StockScan, StockTake.number, Box, Bag)).order_by(
        StockTake.number.desc(), Bag.id.is_not(None), Box.number, Bag.code
    )
    rows = session.execute(wanted).all()
    tree, numbers = tree_of(session), box_numbers(session, {scan.belongs_in_box_id for scan, *_ in rows})
    return tuple(
        MissingThing(
            code=bag.code if bag is not None else box.code,
            number=None if box is None else box.number,
            belongs=where_in_words(tree, numbers, scan.belongs_in_box_id, scan.belongs_at_place_id),
            pieces=bag.pieces if bag is not None else 0,
            stock_take=number,
            since=scan.happened_at,
        )
        for scan, number, box, bag in rows
    )


def find_missing(desk: Desk, what: Sequence[str]) -> tuple[MissingThing, ...]:
    """Write that missing boxes and bags were found; returns what is still missing. Opposite: none, it was seen.

    It stands with the stock-take that missed them. Refusals: ``nothing_scanned``, ``not_missing``, those of finding.
    """
    with desk.deed("find_missing") as deed:
        if not what:
            raise Refusal("nothing_scanned", N_("Nothing was scanned. Scan what was found."))
        found = [_find(deed, one) for one in dict.fromkeys(what)]
        deed.said = ", ".join(found)
        deed.session.flush()
        return _missing(deed.session)


def _find(deed: Deed, what: str) -> str:
    thing = box_or_bag_of(deed.session, deed.desk, what)
    known = all_not_met(deed.session)
    why = (known.boxes if isinstance(thing, Box) else known.bags).get(thing.id)
    if why is None or why.why is not Why.MISSING:
        raise Refusal(
            "not_missing", N_("{thing} is not missing. Look it up to see where it belongs."), thing=name_of(thing)
        )
    row = deed.session.execute(select(StockTake).where(StockTake.number == why.number)).scalar_one()
    deed.write(
        StockScan,
        stock_take_id=row.id,
        verdict=Met.FOUND,
        box_id=thing.id if isinstance(thing, Box) else None,
        bag_id=thing.id if isinstance(thing, Bag) else None,
        seen_in_box_id=None,
        seen_at_place_id=None,
        belongs_in_box_id=thing.box_id if isinstance(thing, Bag) else None,
        belongs_at_place_id=thing.place_id,
        happened_at=deed.happened_at,
        person_id=deed.person_id,
    )
    return name_of(thing)
