"""A transport as it is shown and printed: each box and loose bag, where it stood, whether it was met at both ends."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.bag_loads import load_of, loads_in
from findsdesk.desk.lying import tree_of
from findsdesk.desk.shipped import cautions_at
from findsdesk.domain.box_rules import Load
from findsdesk.domain.cautions import At, Caution
from findsdesk.store.models import Bag, Box, Container, Person, Transport, TransportLine


@dataclass(frozen=True, slots=True)
class Carried:
    """One thing on a transport list: a box by its number or a bag by its code; weight in tenths of a gram."""

    code: str
    number: int | None
    stood: str
    bags: int
    pieces: int
    tenths: int
    checked_out: bool
    arrived_at: datetime | None


@dataclass(frozen=True, slots=True)
class TransportList:
    """A transport: where it goes, who sent it when, its things, and the cautions of carrying."""

    id: int
    number: int
    to: str
    moved_place: str
    note: str
    person: str
    left_at: datetime
    arrived_at: datetime | None
    things: tuple[Carried, ...]
    cautions: tuple[Caution, ...]

    @property
    def not_arrived(self) -> tuple[Carried, ...]:
        """Return what was not met at the other end yet."""
        return tuple(one for one in self.things if one.arrived_at is None)

    @property
    def tenths(self) -> int:
        """Return what all of it weighs."""
        return sum(one.tenths for one in self.things)


def loaded(session: Session, transport_id: int) -> dict[str, TransportLine]:
    """Return the lines of a transport by the code of what they carry."""
    found = session.execute(
        select(TransportLine, Box.code, Bag.code)
        .outerjoin(Box, TransportLine.box_id == Box.id)
        .outerjoin(Bag, TransportLine.bag_id == Bag.id)
        .where(TransportLine.transport_id == transport_id)
        .order_by(Box.number, Bag.code)
    ).all()
    return {bag if line.box_id is None else box: line for line, box, bag in found}


def transport_list_of(session: Session, row: Transport) -> TransportList:
    """Return a transport with its things, boxes first."""
    tree = tree_of(session)
    found = session.execute(
        select(TransportLine, Box, Bag, Container.material)
        .outerjoin(Box, TransportLine.box_id == Box.id)
        .outerjoin(Bag, TransportLine.bag_id == Bag.id)
        .outerjoin(Container, Bag.container_id == Container.id)
        .where(TransportLine.transport_id == row.id)
        .order_by(Bag.id.is_not(None), Box.number, Bag.code)
    ).all()
    loads = loads_in(session, [line.box_id for line, _box, _bag, _material in found if line.box_id is not None])
    person = session.get(Person, row.person_id) if row.person_id is not None else None
    return TransportList(
        id=row.id,
        number=row.number,
        to=tree.path(row.to_place_id),
        moved_place=tree.places[row.moved_place_id].name if row.moved_place_id is not None else "",
        note=row.note,
        person=person.name if person else "",
        left_at=row.left_at,
        arrived_at=row.arrived_at,
        things=tuple(
            _carried(line, box, bag, _load(box, bag, material, loads), tree.path(line.from_place_id))
            for line, box, bag, material in found
        ),
        cautions=cautions_at(At.CARRY),
    )


def _load(box: Box | None, bag: Bag | None, material: str | None, loads: dict[int, Load]) -> Load:
    if box is not None:
        return loads.get(box.id, Load()) + Load(box.empty_tenths)
    return load_of(bag, material) if bag is not None and material is not None else Load()


def _carried(line: TransportLine, box: Box | None, bag: Bag | None, load: Load, stood: str) -> Carried:
    return Carried(
        code=box.code if box is not None else bag.code if bag is not None else "",
        number=box.number if box is not None else None,
        stood=stood,
        bags=load.bags,
        pieces=load.pieces,
        tenths=load.tenths,
        checked_out=line.checked_out,
        arrived_at=line.arrived_at,
    )
