"""What bags weigh and how much room they take, and what that makes of boxes: sums of the bags in them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Select, case, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.box_kinds import rule_for
from findsdesk.domain.box_rules import Load, room_of
from findsdesk.store.models import Bag, Container

AT_ONCE = 5_000
WEIGHS = func.coalesce(Bag.gross_tenths, Bag.tenths)
"""A bag weighed whole counts as such, any other as its finds."""


def load_of(bag: Bag, material: str) -> Load:
    """Return what one bag adds to a box."""
    tenths = bag.tenths if bag.gross_tenths is None else bag.gross_tenths
    room = bag.volume_ml if bag.volume_ml is not None else room_of(tenths, rule_for(material).litres_per_kg)
    return Load(tenths or 0, room, bag.pieces, 1, 1 if tenths is None else 0)


def loads_in(session: Session, box_ids: Sequence[int] | None = None) -> dict[int, Load]:
    """Return the load of each box that has bags; None means of all boxes."""
    return _summed(session, Bag.box_id, box_ids)


def loads_at(session: Session) -> dict[int, Load]:
    """Return the load of the bags that lie loose at each place."""
    return _summed(session, Bag.place_id, None)


def _summed(session: Session, where: Any, ids: Sequence[int] | None) -> dict[int, Load]:
    loads: dict[int, Load] = {}
    chunks = [None] if ids is None else [ids[first : first + AT_ONCE] for first in range(0, len(ids), AT_ONCE)]
    for some in chunks:
        wanted = _sums(where) if some is None else _sums(where).where(where.in_(some))
        for place, material, tenths, reckoned, measured, pieces, bags, unweighed in session.execute(wanted):
            room = int(measured) + room_of(int(reckoned), rule_for(material).litres_per_kg)
            load = Load(int(tenths), room, int(pieces), int(bags), int(unweighed))
            loads[place] = loads.get(place, Load()) + load
    return loads


def _sums(where: Any) -> Select[Any]:
    reckoned = case((Bag.volume_ml.is_(None), func.coalesce(WEIGHS, 0)), else_=0)
    return (
        select(
            where,
            Container.material,
            func.sum(func.coalesce(WEIGHS, 0)),
            func.sum(reckoned),
            func.sum(func.coalesce(Bag.volume_ml, 0)),
            func.sum(Bag.pieces),
            func.count(),
            func.sum(case((WEIGHS.is_(None), 1), else_=0)),
        )
        .join(Container, Bag.container_id == Container.id)
        .where(where.is_not(None), Bag.pieces > 0)
        .group_by(where, Container.material)
    )
