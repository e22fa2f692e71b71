"""Bags proved: the bags of a packed container hold no more than is kept of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sqlalchemy import case, func, select
from sqlalchemy.orm import Session

from findsdesk.store.models import Bag, BalanceTotal, Container


@dataclass(frozen=True, slots=True)
class WrongBags:
    """A container whose bags hold more pieces than its ledger says can be in them."""

    container: str
    bagged: int
    kept: int
    container_id: int


def wrong_bags(
    session: Session, packed: Sequence[str], sorted_here: Sequence[str], counted: Sequence[str]
) -> Iterator[WrongBags]:
    """Yield packed containers (standings ``packed``) with more in their bags than stays of them.

    Of materials ``sorted_here`` what is kept or on hold stays; of others that are ``counted`` all that did not leave.
    A closed sample is not counted and is one bag. On the table what is kept still changes: nothing is asked there.
    """
    total = BalanceTotal
    left = total.discarded + total.used_up + total.moved_out + total.not_a_sherd + total.not_found
    came = total.counted + total.found_more + total.arrived
    stays = case((Container.material.in_(sorted_here), total.kept + total.on_hold), else_=came - left)
    bagged = (
        select(Bag.container_id, func.sum(Bag.pieces).label("pieces")).group_by(Bag.container_id).subquery("bagged")
    )
    kept = func.coalesce(stays, 0)
    rows = session.execute(
        select(Container.number, bagged.c.pieces, kept, Container.id)
        .join(bagged, bagged.c.container_id == Container.id)
        .outerjoin(total, (total.container_id == Container.id) & (total.material == Container.material))
        .where(
            bagged.c.pieces > kept,
            Container.standing.in_(packed),
            Container.material.in_([*sorted_here, *counted]),
        )
        .order_by(Container.number_key, Container.id)
    )
    for number, pieces, of, container_id in rows:
        yield WrongBags(number, int(pieces), int(of), container_id)
