"""Boxes and bags that the store writes where nobody met them: missed by a stock-take, or still on the way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import Any

from sqlalchemy import ColumnElement, and_, exists, func, or_, select
from sqlalchemy.orm import Session, aliased

from findsdesk.desk.register_fields import Say
from findsdesk.domain.shelving import Met
from findsdesk.store.models import (
    Bag,
    Box,
    Lay,
    Loan,
    LoanLine,
    StockScan,
    StockTake,
    TakenOut,
    Transport,
    TransportLine,
)
from findsdesk.words import N_


class Why(StrEnum):
    """Why nobody can say that a thing is where it is written."""

    MISSING = "missing"
    ON_THE_WAY = "on the way"


@dataclass(frozen=True, slots=True)
class NotMet:
    """Why a thing was not met where it is written, by which stock-take or transport, since when."""

    why: Why
    number: int
    since: datetime


@dataclass(frozen=True, slots=True)
class AllNotMet:
    """What was not met where it is written, boxes and bags by their ids; a bag in such a box is not named."""

    boxes: Mapping[int, NotMet] = field(default_factory=dict)
    bags: Mapping[int, NotMet] = field(default_factory=dict)

    def of_bag(self, bag: Bag) -> NotMet | None:
        """Return why a bag, or the box it lies in, was not met."""
        own = self.bags.get(bag.id)
        return own or (self.boxes.get(bag.box_id) if bag.box_id is not None else None)


def all_not_met(session: Session) -> AllNotMet:
    """Read what was not met where it is written: few things, beside all that there are."""
    boxes: dict[int, NotMet] = {}
    bags: dict[int, NotMet] = {}
    missed: Any = select(StockScan.box_id, StockScan.bag_id, StockTake.number, StockScan.happened_at)
    carried: Any = select(TransportLine.box_id, TransportLine.bag_id, Transport.number, Transport.left_at)
    for why, rows in ((Why.ON_THE_WAY, on_the_way(carried)), (Why.MISSING, still_missing(missed))):
        for box_id, bag_id, number, since in session.execute(rows):
            if box_id is not None:
                boxes[box_id] = NotMet(why, number, since)
            elif bag_id is not None:
                bags[bag_id] = NotMet(why, number, since)
    return AllNotMet(boxes, bags)


def not_met_in_words(one: NotMet | None, say: Say) -> str:
    """Return why a thing was not met where it is written; '' for one that is there as far as anybody knows."""
    if one is None:
        return ""
    text = N_("missing since stock-take {number}") if one.why is Why.MISSING else N_("on the way, transport {number}")
    return say(text, number=one.number)


def on_the_way(wanted: Any) -> Any:
    """Return what is asked of lines of a transport and their transports, of those alone that were not met there."""
    return (
        wanted.select_from(TransportLine)
        .join(Transport, TransportLine.transport_id == Transport.id)
        .where(TransportLine.arrived_at.is_(None))
    )


def still_missing(wanted: Any) -> Any:
    """Return what is asked of scans, stock-takes, boxes and bags, of what was missed and is missing to this day.

    What was met, laid, carried, taken out or lent since is not missing any more; nor is a box given up or a bag that
    holds nothing.
    """
    return (
        wanted.select_from(StockScan)
        .join(StockTake, StockScan.stock_take_id == StockTake.id)
        .outerjoin(Box, StockScan.box_id == Box.id)
        .outerjoin(Bag, StockScan.bag_id == Bag.id)
        .where(
            StockScan.verdict == Met.MISSING,
            func.coalesce(Bag.pieces, 1) > 0,
            Box.gone_at.is_(None),
            ~or_(*_met_since()),
        )
    )


def _met_since() -> list[ColumnElement[bool]]:
    later, missed = aliased(StockScan), StockScan.happened_at
    in_order = or_(later.happened_at > missed, and_(later.happened_at == missed, later.id > StockScan.id))
    carried = or_(TransportLine.arrived_at > missed, and_(TransportLine.checked_out, Transport.left_at > missed))
    return [
        exists().where(_same(later), in_order),
        # What moved by the word of the store alone was not met by anybody.
        exists().where(_same(Lay), Lay.transport_id.is_(None), Lay.entered_at > missed),
        exists().where(_same(TransportLine), TransportLine.transport_id == Transport.id, carried),
        exists().where(_same(TakenOut), TakenOut.since > missed),
        exists().where(_same(LoanLine), LoanLine.loan_id == Loan.id, Loan.made_at > missed),
    ]


def _same(of: Any) -> ColumnElement[bool]:
    """Return that a row is of the box or the bag that was missed."""
    return or_(of.box_id == StockScan.box_id, of.bag_id == StockScan.bag_id)
