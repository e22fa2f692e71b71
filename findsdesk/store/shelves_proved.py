"""Shelves and loans proved: what lies where is what the newest laying says, and loans sum up to their returns."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Select, and_, func, or_, select
from sqlalchemy.orm import Session, aliased

from findsdesk.domain.shelving import circles
from findsdesk.store.models import (
    Bag,
    Box,
    Lay,
    Loan,
    LoanLine,
    LoanReturn,
    Place,
    TakenOut,
    Transport,
    TransportLine,
)


@dataclass(frozen=True, slots=True)
class WrongShelf:
    """What is wrong of a thing: a bag or place by its code, a box, loan or transport by its number."""

    why: str
    """'lies' (not where it was laid last), 'both' (in a box and at a place), 'gone' (in what was given up), 'circle',
    'out twice', 'lent twice', 'returns' (a line does not sum up), 'closed' (back or not, and written otherwise)."""
    kind: str
    name: str


def wrong_shelves(session: Session) -> Iterator[WrongShelf]:
    """Yield what is wrong of bags, boxes, places and transports."""
    for row in _not_as_laid(session, Bag, Lay.bag_id):
        yield WrongShelf("lies", "bag", row)
    for row in _not_as_laid(session, Box, Lay.box_id):
        yield WrongShelf("lies", "box", str(row))
    for code in _those(session, select(Bag.code).where(Bag.box_id.is_not(None), Bag.place_id.is_not(None))):
        yield WrongShelf("both", "bag", code)
    yield from _in_what_is_gone(session)
    parents: dict[int, int | None] = dict(session.execute(select(Place.id, Place.parent_id)).all())
    for code in _those(session, select(Place.code).where(Place.id.in_(circles(parents))).order_by(Place.id)):
        yield WrongShelf("circle", "place", code)
    yield from _out_twice(session)
    yield from _not_closed(session)


def _those(session: Session, wanted: Select[Any]) -> list[Any]:
    return list(session.execute(wanted).scalars())


def _not_as_laid(session: Session, kind: Any, column: Any) -> Iterator[Any]:
    """Yield the names of things whose row is not what their newest laying says; never laid is nowhere."""
    newest = (
        select(
            column.label("thing"),
            Lay.in_box_id,
            Lay.at_place_id,
            func.row_number().over(partition_by=column, order_by=(Lay.entered_at.desc(), Lay.id.desc())).label("place"),
        )
        .where(column.is_not(None))
        .subquery()
    )
    differs = kind.place_id.is_distinct_from(newest.c.at_place_id)
    if kind is Bag:
        differs = or_(differs, Bag.box_id.is_distinct_from(newest.c.in_box_id))
    name = Bag.code if kind is Bag else Box.number
    yield from _those(
        session,
        select(name)
        .outerjoin(newest, and_(newest.c.thing == kind.id, newest.c.place == 1))
        .where(differs)
        .order_by(kind.id),
    )


def _in_what_is_gone(session: Session) -> Iterator[WrongShelf]:
    outer = aliased(Place)
    gone_box = select(Bag.code).join(Box, Bag.box_id == Box.id).where(Box.gone_at.is_not(None), Bag.pieces > 0)
    loose = select(Bag.code).join(Place, Bag.place_id == Place.id).where(Place.gone_at.is_not(None), Bag.pieces > 0)
    boxes = (
        select(Box.number)
        .join(Place, Box.place_id == Place.id)
        .where(Place.gone_at.is_not(None), Box.gone_at.is_(None))
    )
    places = (
        select(Place.code)
        .join(outer, Place.parent_id == outer.id)
        .where(outer.gone_at.is_not(None), Place.gone_at.is_(None))
    )
    for kind, wanted in (("bag", gone_box), ("bag", loose), ("box", boxes), ("place", places)):
        for name in _those(session, wanted):
            yield WrongShelf("gone", kind, str(name))


def _out_twice(session: Session) -> Iterator[WrongShelf]:
    for kind, name, column in (("box", Box.number, TakenOut.box_id), ("bag", Bag.code, TakenOut.bag_id)):
        model = Box if kind == "box" else Bag
        twice = select(column).where(TakenOut.back_at.is_(None), column.is_not(None)).group_by(column)
        many = twice.having(func.count() > 1)
        for said in _those(session, select(name).where(model.id.in_(many))):
            yield WrongShelf("out twice", kind, str(said))


def _not_closed(session: Session) -> Iterator[WrongShelf]:
    under_way = (
        select(TransportLine.id)
        .where(TransportLine.transport_id == Transport.id, TransportLine.arrived_at.is_(None))
        .exists()
    )
    wrong = or_(and_(Transport.arrived_at.is_not(None), under_way), and_(Transport.arrived_at.is_(None), ~under_way))
    for number in _those(session, select(Transport.number).where(wrong)):
        yield WrongShelf("closed", "transport", str(number))


def wrong_loans(session: Session) -> Iterator[WrongShelf]:
    """Yield what is wrong of loans: sums of returns, days of return, things lent twice."""
    for number in _those(session, _lines_that_do_not_sum()):
        yield WrongShelf("returns", "loan", str(number))
    out = select(LoanLine.id).where(LoanLine.loan_id == Loan.id, LoanLine.back_on.is_(None)).exists()
    wrong = or_(and_(Loan.back_on.is_not(None), out), and_(Loan.back_on.is_(None), ~out))
    for number in _those(session, select(Loan.number).where(wrong).order_by(Loan.number)):
        yield WrongShelf("closed", "loan", str(number))
    for column in (
        LoanLine.bag_id,
        LoanLine.box_id,
        LoanLine.piece_id,
        LoanLine.container_id,
        LoanLine.sample_id,
    ):
        twice = (
            select(func.max(Loan.number))
            .join(LoanLine, LoanLine.loan_id == Loan.id)
            .where(LoanLine.back_on.is_(None), column.is_not(None))
            .group_by(column)
            .having(func.count() > 1)
        )
        for number in _those(session, twice):
            yield WrongShelf("lent twice", "loan", str(number))


def _lines_that_do_not_sum() -> Select[int]:
    back, used = func.coalesce(func.sum(LoanReturn.pieces), 0), func.coalesce(func.sum(LoanReturn.used_up), 0)
    all_back = LoanLine.pieces_back + LoanLine.pieces_used == LoanLine.pieces
    return (
        select(Loan.number)
        .join(LoanLine, LoanLine.loan_id == Loan.id)
        .outerjoin(LoanReturn, LoanReturn.loan_line_id == LoanLine.id)
        .group_by(
            Loan.number,
            LoanLine.id,
            LoanLine.pieces,
            LoanLine.pieces_back,
            LoanLine.pieces_used,
            LoanLine.back_on,
        )
        .having(
            or_(
                back != LoanLine.pieces_back,
                used != LoanLine.pieces_used,
                and_(LoanLine.back_on.is_(None), all_back),
                and_(LoanLine.back_on.is_not(None), ~all_back),
            )
        )
        .order_by(Loan.number)
    )
