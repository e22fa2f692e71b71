"""What is open on the shelves at the end of a season: taken out, lent, missing since a stock-take, on the way."""

from __future__ import annotations

from typing import Any

from sqlalchemy import String, cast, func, select
from sqlalchemy.orm import aliased

from findsdesk.desk.not_met import on_the_way, still_missing
from findsdesk.desk.season_end_asking import Asking, Statement, columns_of
from findsdesk.store.models import (
    Bag,
    Box,
    Container,
    LabSample,
    Loan,
    LoanLine,
    Piece,
    StockScan,
    TakenOut,
    Transport,
    TransportLine,
)


def _season_of_box(box_id: Any) -> Any:
    """Return the newest season that something in a box is of."""
    its_bag, its_container = aliased(Bag), aliased(Container)
    return (
        select(func.max(its_container.season_id))
        .join(its_bag, its_bag.container_id == its_container.id)
        .where(its_bag.box_id == box_id)
        .scalar_subquery()
    )


def taken_out(asks: Asking) -> Statement:
    """Return what was taken out and not brought back."""
    name = func.coalesce(Bag.code, Box.code)
    season = func.coalesce(Container.season_id, _season_of_box(TakenOut.box_id), asks.by_moment(TakenOut.since))
    said = {"season_id": season, "sort": name, "number": name, "pieces": func.coalesce(Bag.pieces, 0)}
    return (
        select(*columns_of("taken_out", TakenOut.id, **said))
        .select_from(TakenOut)
        .outerjoin(Bag, TakenOut.bag_id == Bag.id)
        .outerjoin(Box, TakenOut.box_id == Box.id)
        .outerjoin(Container, Bag.container_id == Container.id)
        .where(TakenOut.back_at.is_(None))
    )


def on_loan(asks: Asking) -> Statement:
    """Return the lines of loans that are not back."""
    of = func.coalesce(LoanLine.container_id, Bag.container_id, Piece.container_id, LabSample.container_id)
    season = func.coalesce(Container.season_id, _season_of_box(LoanLine.box_id), asks.by_moment(Loan.made_at))
    said = {
        "season_id": season,
        "sort": cast(Loan.number + 1_000_000, String),
        "number": cast(Loan.number, String),
        "part": LoanLine.ordinal,
        "pieces": LoanLine.pieces - LoanLine.pieces_back - LoanLine.pieces_used,
    }
    return (
        select(*columns_of("loan_line", LoanLine.id, **said))
        .select_from(LoanLine)
        .join(Loan, LoanLine.loan_id == Loan.id)
        .outerjoin(Bag, LoanLine.bag_id == Bag.id)
        .outerjoin(Piece, LoanLine.piece_id == Piece.id)
        .outerjoin(LabSample, LoanLine.sample_id == LabSample.id)
        .outerjoin(Container, Container.id == of)
        .where(LoanLine.back_on.is_(None))
    )


def missing_on_shelves(asks: Asking) -> Statement:
    """Return what a stock-take missed and nobody met since."""
    said = _box_or_bag(func.coalesce(Container.season_id, _season_of_box(StockScan.box_id),
                                     asks.by_moment(StockScan.happened_at)))  # fmt: skip
    wanted = still_missing(select(*columns_of("stock_scan", StockScan.id, **said)))
    return wanted.outerjoin(Container, Bag.container_id == Container.id)


def not_arrived_on_shelves(asks: Asking) -> Statement:
    """Return what a transport carries and nobody met where it goes."""
    said = _box_or_bag(func.coalesce(Container.season_id, _season_of_box(TransportLine.box_id),
                                     asks.by_moment(Transport.left_at)))  # fmt: skip
    return (
        on_the_way(select(*columns_of("transport_line", TransportLine.id, **said)))
        .outerjoin(Box, TransportLine.box_id == Box.id)
        .outerjoin(Bag, TransportLine.bag_id == Bag.id)
        .outerjoin(Container, Bag.container_id == Container.id)
    )


def _box_or_bag(season: Any) -> dict[str, Any]:
    name = func.coalesce(Bag.code, Box.code)
    return {"season_id": season, "sort": name, "number": name, "pieces": func.coalesce(Bag.pieces, 0)}
