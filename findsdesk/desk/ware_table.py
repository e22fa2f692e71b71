"""The excavation's wares by deposit, from the kept totals: read, not summed; ``prove`` sums them afresh."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.type_table import type_table
from findsdesk.store.models import Deposit, Square, WareTotal


@dataclass(frozen=True, slots=True)
class DepositRow:
    """A deposit of the table, its sherds and their tenths of a gram by the wares of the table in their order."""

    deposit_id: int
    deposit: str
    square: str
    pieces: tuple[int, ...]
    tenths: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class WareTable:
    """Deposits in natural order by wares in the order of their codes; sherds without a ware are in no total."""

    wares: tuple[str, ...]
    rows: tuple[DepositRow, ...]


def ware_table(desk: Desk, deposits: Sequence[str] = ()) -> WareTable:
    """Return the table of all deposits that have sherds of a ware, or of those numbered. Refusals: of finding them."""
    with desk.reading() as reading:
        chosen = [deposit_of(reading.session, number).id for number in deposits]
        return ware_table_in(reading.session, chosen)


def sherds_sorted(desk: Desk) -> int:
    """Return how many sherds with a ware are sorted in the excavation."""
    with desk.reading() as reading:
        return int(reading.session.execute(select(func.coalesce(func.sum(WareTotal.pieces), 0))).scalar_one())


def ware_table_in(session: Session, deposit_ids: Sequence[int] = ()) -> WareTable:
    """Return the table within a session; without ids that of all deposits."""
    types = type_table(session)
    totals = select(WareTotal.deposit_id, WareTotal.ware_id, WareTotal.pieces, WareTotal.tenths)
    if deposit_ids:
        totals = totals.where(WareTotal.deposit_id.in_(deposit_ids))
    found = session.execute(totals.where(WareTotal.pieces != 0)).all()
    code_of = {ware_id: types.ware(ware_id).code for ware_id in {row[1] for row in found}}
    wares = tuple(sorted(set(code_of.values())))
    place = {ware_id: wares.index(code) for ware_id, code in code_of.items()}
    sums: dict[int, tuple[list[int], list[int]]] = {}
    for deposit_id, ware_id, some, weighed in found:
        pieces, tenths = sums.setdefault(deposit_id, ([0] * len(wares), [0] * len(wares)))
        pieces[place[ware_id]] += some
        tenths[place[ware_id]] += weighed
    names = session.execute(
        select(Deposit.id, Deposit.number, Square.name)
        .join(Square, Deposit.square_id == Square.id)
        .order_by(Deposit.number_key)
    )
    return WareTable(
        wares,
        tuple(
            DepositRow(deposit_id, number, square, tuple(sums[deposit_id][0]), tuple(sums[deposit_id][1]))
            for deposit_id, number, square in names
            if deposit_id in sums
        ),
    )
