"""Kept totals, changed here alone: by ``n = n + :d`` at the end of a deed, in key order, in the same transaction.

Kept so that a ledger, the season's balance and the deposit by ware table are read and not summed; ``prove`` sums them
afresh and says where they differ.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from itertools import groupby
from typing import Any

from sqlalchemy import Insert, Table, bindparam, delete
from sqlalchemy.orm import Session

from findsdesk.store.models import BalanceTotal, WareTotal
from findsdesk.store.put_or_add import insert_for

Delta = dict[str, int]


def _no_delta() -> Delta:
    return defaultdict(int)


@dataclass(slots=True)
class TotalChanges:
    """What one deed does to the kept totals, gathered and written at its end."""

    balances: dict[tuple[int, str], Delta] = field(default_factory=lambda: defaultdict(_no_delta))
    wares: dict[tuple[int, int], Delta] = field(default_factory=lambda: defaultdict(_no_delta))

    def balance(self, container_id: int, material: str, column: str, pieces: int) -> None:
        """Add signed pieces (or tenths of a gram, by the column) to one column of a container's ledger."""
        self.balances[container_id, material][column] += pieces

    def ware(self, deposit_id: int | None, ware_id: int | None, pieces: int, tenths: int) -> None:
        """Add signed pieces and tenths of a gram to a deposit's ware; unknown deposit or ware counts nowhere."""
        if deposit_id is not None and ware_id is not None:
            delta = self.wares[deposit_id, ware_id]
            delta["pieces"] += pieces
            delta["tenths"] += tenths

    def write(self, session: Session) -> None:
        """Write the gathered changes, in key order so that two stations never wait for each other in a circle."""
        _add(session, BalanceTotal.__table__, ("container_id", "material"), self.balances)
        _add(session, WareTotal.__table__, ("deposit_id", "ware_id"), self.wares)


def drop_empty_wares(session: Session, ware_id: int) -> None:
    """Take the kept totals of a ware away that hold nothing, so that the ware itself can go."""
    session.execute(delete(WareTotal).where(WareTotal.ware_id == ware_id, WareTotal.pieces == 0, WareTotal.tenths == 0))


def _add(session: Session, table: Any, names: tuple[str, str], changes: Mapping[tuple[Any, Any], Delta]) -> None:
    """Add to the kept totals in key order; neighbours in which the same columns moved go in one call."""
    dialect = session.get_bind().dialect.name
    counters = [column.name for column in table.columns if not column.primary_key]
    told = [(key, {column: n for column, n in delta.items() if n}) for key, delta in sorted(changes.items())]
    for moved, some in groupby((one for one in told if one[1]), key=lambda one: tuple(sorted(one[1]))):
        rows = [
            dict(zip(names, key, strict=True))
            | {column: delta.get(column, 0) for column in counters}
            | {f"d_{column}": n for column, n in delta.items()}
            for key, delta in some
        ]
        session.execute(_statement(dialect, table, moved), rows)


@cache
def _statement(dialect: str, table: Table, moved: tuple[str, ...]) -> Insert:
    """Build the statement once: put the row in, or add to the columns that moved."""
    key = [column.name for column in table.primary_key]
    added: dict[str, Any] = {column: table.c[column] + bindparam(f"d_{column}") for column in moved}
    statement: Insert = (
        insert_for(dialect)(table)
        .values({column.name: bindparam(column.name) for column in table.columns})
        .on_conflict_do_update(index_elements=key, set_=added)
    )
    return statement
