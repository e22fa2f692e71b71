"""A store room with shelves and bags in it, for tests of boxes, places and loans."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import select

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.group_rows import count_in
from findsdesk.desk.ledgers import enter, write_count
from findsdesk.desk.shipped import route_of
from findsdesk.desk.store_places import add_place
from findsdesk.domain.balance import Decision, Entry
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.routes import StepKind
from findsdesk.domain.shelving import PlaceKind
from findsdesk.store.models import Bag, Container, SherdGroup
from findsdesk.store.numbers import take_numbers
from tests.yard import SETTLED, put_container

BAGGED = (*SETTLED, StepKind.BAGGED)


def furnish_store(desk: Desk) -> None:
    """Add a dig house with two rooms: three shelves in the store, a table in the drawing room."""
    add_place(desk, name="Dig house", kind=PlaceKind.BUILDING)
    add_place(desk, name="Store", kind=PlaceKind.ROOM, within="Dig house")
    add_place(desk, name="Drawing room", kind=PlaceKind.ROOM, within="Dig house")
    for number in (1, 2, 3):
        add_place(desk, name=f"Shelf {number}", kind=PlaceKind.SHELF, within="Store")
    add_place(desk, name="Drawing table", kind=PlaceKind.TABLE, within="Drawing room")


def put_bags(
    desk: Desk,
    number: int,
    grams: Iterable[float | None],
    *,
    deposit: str = "2017",
    material: str = "pottery",
    pieces: int = 10,
) -> list[str]:
    """Put a bagged container into the store with a bag of each weight; returns the codes of the bags."""
    code = put_container(desk, number, deposit=deposit, material=material, steps=BAGGED)
    codes = []
    with desk.deed("put_bags") as deed:
        container = deed.session.execute(select(Container).where(Container.code == code)).scalar_one()
        for weight in grams:
            serial = take_numbers(deed.session, "serial:B", 1, station_id=desk.station_id)[0]
            row = deed.add(
                Bag(
                    code=make_code(desk.facts.code, Kind.BAG, serial),
                    container_id=container.id,
                    what="all",
                    pieces=pieces,
                    tenths=None if weight is None else round(weight * 10),
                    packed_at=deed.happened_at,
                )
            )
            codes.append(row.code)
        _keep(deed, container, pieces * len(codes))
    return codes


def _keep(deed: Deed, container: Container, pieces: int) -> None:
    """Let as many pieces be counted and kept as lie in the bags."""
    write_count(deed, container, pieces, "first")
    enter(deed, container, Entry.COUNTED, pieces)
    if route_of(container.material).sorted_here:
        kept = SherdGroup(container_id=container.id, ordinal=1, part="body", pieces=pieces, decision=Decision.KEEP)
        count_in(deed, container, deed.add(kept), 1)
