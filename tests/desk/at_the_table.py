"""Ways to the sorting table for tests, and sums made afresh from the rows to prove the kept totals."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from sqlalchemy import select

from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.washing import dip_and_look
from findsdesk.domain.balance import COLUMN_OF_DECISION, COLUMN_OF_ENTRY, Decision, Entry
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import BalanceTotal, Container, LedgerEntry, Piece, SherdGroup, WareTotal
from tests.yard import advance, put_container


def dry_container(desk: Desk, number: int, pieces: int, **facts: object) -> str:
    """Wash and count a container by the real use cases and let it lie until it is dry; returns its code."""
    code = put_container(desk, number, **facts)  # type: ignore[arg-type]
    dip_and_look(desk, code)
    log_count(desk, code, pieces=pieces)
    advance(desk, hours=desk.facts.settings.dry_h)
    return code


@contextmanager
def refused(desk: Desk, code: str) -> Iterator[pytest.ExceptionInfo[Refusal]]:
    """Expect a refusal by its code, and that the store is as it was, to the last act and total."""
    before = (desk.head(), kept_balances(desk), kept_wares(desk))
    with pytest.raises(Refusal) as caught:
        yield caught
    assert caught.value.code == code
    assert caught.value.in_words(desk.terms)
    assert (desk.head(), kept_balances(desk), kept_wares(desk)) == before


def kept_balances(desk: Desk) -> dict[tuple[int, str], dict[str, int]]:
    """Return the kept totals of the balance, columns at 0 left out."""
    columns = [column.name for column in BalanceTotal.__table__.columns if not column.primary_key]
    with desk.reading() as reading:
        rows = reading.session.execute(select(BalanceTotal)).scalars()
        return {
            (row.container_id, row.material): {name: getattr(row, name) for name in columns if getattr(row, name)}
            for row in rows
        }


def kept_wares(desk: Desk) -> dict[tuple[int, int], tuple[int, int]]:
    """Return the kept totals by deposit and ware, those at 0 left out."""
    with desk.reading() as reading:
        rows = reading.session.execute(select(WareTotal)).scalars()
        return {(row.deposit_id, row.ware_id): (row.pieces, row.tenths) for row in rows if row.pieces or row.tenths}


def prove_totals(desk: Desk) -> None:
    """Sum groups, pieces and entries afresh and compare with what is kept."""
    balances: dict[tuple[int, str], Counter[str]] = {}
    pieces: Counter[tuple[int, int]] = Counter()
    tenths: Counter[tuple[int, int]] = Counter()
    with desk.reading() as reading:
        for entry in reading.session.execute(select(LedgerEntry)).scalars():
            sums = balances.setdefault((entry.container_id, entry.material), Counter())
            sums[COLUMN_OF_ENTRY[Entry(entry.kind)]] += entry.pieces
            incoming = Entry(entry.kind) in (Entry.COUNTED, Entry.RECOUNTED, Entry.FOUND_MORE, Entry.ARRIVED)
            sums["counted_tenths" if incoming else "accounted_tenths"] += entry.tenths
        rows = (
            *reading.session.execute(
                select(SherdGroup, Container).join(Container, SherdGroup.container_id == Container.id)
            ),
            *reading.session.execute(select(Piece, Container).join(Container, Piece.container_id == Container.id)),
        )
        for row, container in rows:
            sums = balances.setdefault((container.id, container.material), Counter())
            sums[COLUMN_OF_DECISION[Decision(row.decision)]] += row.pieces
            sums["accounted_tenths"] += row.tenths or 0
            if container.deposit_id and row.ware_id:
                pieces[container.deposit_id, row.ware_id] += row.pieces
                tenths[container.deposit_id, row.ware_id] += row.tenths or 0
    summed = {key: {name: n for name, n in sums.items() if n} for key, sums in balances.items()}
    assert {key: kept for key, kept in kept_balances(desk).items() if kept} == {k: v for k, v in summed.items() if v}
    assert kept_wares(desk) == {key: (n, tenths[key]) for key, n in pieces.items() if n or tenths[key]}
