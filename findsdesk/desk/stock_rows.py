"""A stock-take as it is shown: what was found, what is missing, what stands in the wrong place."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.lying import Tree, tree_of
from findsdesk.domain.shelving import Met
from findsdesk.store.models import Bag, Box, Person, StockScan, StockTake


@dataclass(frozen=True, slots=True)
class MetThing:
    """A box (by its number) or a bag of a stock-take, where it was seen and where it belongs, each in words."""

    code: str
    number: int | None
    verdict: Met
    seen: str
    belongs: str
    happened_at: datetime


@dataclass(frozen=True, slots=True)
class StockTakeFacts:
    """A stock-take of a place, open or closed; what is missing is known once it is closed."""

    id: int
    number: int
    place: str
    place_code: str
    person: str
    begun_at: datetime
    closed_at: datetime | None
    things: tuple[MetThing, ...]

    def of(self, verdict: Met) -> tuple[MetThing, ...]:
        """Return the things met in one way."""
        return tuple(one for one in self.things if one.verdict is verdict)


def stock_facts(session: Session, row: StockTake) -> StockTakeFacts:
    """Return a stock-take with what was met until it was closed, in the order of the scans."""
    tree = tree_of(session)
    found = session.execute(
        select(StockScan, Box.code, Box.number, Bag.code)
        .outerjoin(Box, StockScan.box_id == Box.id)
        .outerjoin(Bag, StockScan.bag_id == Bag.id)
        .where(StockScan.stock_take_id == row.id)
        .order_by(StockScan.happened_at, StockScan.id)
    ).all()
    boxes = {scan.seen_in_box_id for scan, *_ in found} | {scan.belongs_in_box_id for scan, *_ in found}
    numbers = box_numbers(session, boxes)
    person = session.get(Person, row.person_id) if row.person_id is not None else None
    return StockTakeFacts(
        id=row.id,
        number=row.number,
        place=tree.path(row.place_id),
        place_code=tree.places[row.place_id].code,
        person=person.name if person else "",
        begun_at=row.begun_at,
        closed_at=row.closed_at,
        things=tuple(
            MetThing(
                code=bag_code if scan.box_id is None else box_code,
                number=None if scan.box_id is None else number,
                verdict=Met(scan.verdict),
                seen=where_in_words(tree, numbers, scan.seen_in_box_id, scan.seen_at_place_id),
                belongs=where_in_words(tree, numbers, scan.belongs_in_box_id, scan.belongs_at_place_id),
                happened_at=scan.happened_at,
            )
            for scan, box_code, number, bag_code in found
            if row.closed_at is None or scan.happened_at <= row.closed_at
        ),
    )


def box_numbers(session: Session, ids: set[int | None]) -> dict[int, int]:
    """Return the numbers of boxes by their ids."""
    wanted = select(Box.id, Box.number).where(Box.id.in_(ids - {None}))
    return {box_id: number for box_id, number in session.execute(wanted).all()}  # noqa: C416


def where_in_words(tree: Tree, numbers: dict[int, int], box_id: int | None, place_id: int | None) -> str:
    """Return a box by its number, with the place it was seen at, or the place alone."""
    path = tree.path(place_id)
    return path if box_id is None else " · ".join(part for part in (path, str(numbers[box_id])) if part)
