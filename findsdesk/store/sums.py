"""Kept totals summed afresh, and the standings of containers folded afresh from their steps."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from sqlalchemy import func, insert, select, true, update
from sqlalchemy.orm import Session

from findsdesk.domain.balance import COLUMN_OF_ENTRY, COMES_IN, Decision, Entry, column_of
from findsdesk.domain.standings import Standing, StepKind, StepTaken, fold
from findsdesk.store.batches import batches
from findsdesk.store.models import BalanceTotal, Container, Deposit, LedgerEntry, Step, Ware, WareTotal
from findsdesk.store.numbers import STATION_SHIFT
from findsdesk.store.sorted_sherds import sorted_sherds

Sums = dict[tuple[Any, Any], dict[str, int]]


@dataclass(frozen=True, slots=True)
class WrongTotal:
    """A kept number that is not the sum of what it was kept from."""

    of: str
    """A container's number, or a deposit's."""
    by: str
    """A material, or a ware's code."""
    column: str
    kept: int
    summed: int


@dataclass(frozen=True, slots=True)
class WrongStanding:
    """A container whose kept standing is not where its steps lead."""

    number: str
    code: str
    kept: str
    folded: str


def wrong_balances(session: Session) -> Iterator[WrongTotal]:
    """Yield each column of a container's ledger that differs from the sum of its entries, groups and pieces."""
    names = [column.name for column in BalanceTotal.__table__.columns if not column.primary_key]
    kept = _kept(session, BalanceTotal, (BalanceTotal.container_id, BalanceTotal.material), names)
    wrong = list(_differences(kept, _summed_balances(session)))
    numbers = _names(session, Container.id, Container.number, {container_id for (container_id, _), *_ in wrong})
    for (container_id, material), column, was, summed in wrong:
        yield WrongTotal(numbers.get(container_id, str(container_id)), material, column, was, summed)


def wrong_wares(session: Session) -> Iterator[WrongTotal]:
    """Yield each total of a ware in a deposit that differs from the sum of its groups and pieces."""
    kept = _kept(session, WareTotal, (WareTotal.deposit_id, WareTotal.ware_id), ["pieces", "tenths"])
    wrong = list(_differences(kept, _summed_wares(session)))
    deposits = _names(session, Deposit.id, Deposit.number, {deposit_id for (deposit_id, _), *_ in wrong})
    wares = _names(session, Ware.id, Ware.code, {ware_id for (_, ware_id), *_ in wrong})
    for (deposit_id, ware_id), column, was, summed in wrong:
        of, by = deposits.get(deposit_id, str(deposit_id)), wares.get(ware_id, str(ware_id))
        yield WrongTotal(of, by, column, was, summed)


def wrong_standings(session: Session) -> Iterator[WrongStanding]:
    """Yield each container that does not stand where its steps, in the order in which they were written, lead."""
    containers = select(Container.id, Container.number, Container.code, Container.standing)
    stand = {row.id: row for row in session.execute(containers)}
    steps = session.execute(
        select(Step.container_id, Step.id, Step.entered_at, Step.kind, Step.pieces, Step.back_to)
        .order_by(Step.container_id, Step.id)
        .execution_options(yield_per=5000)
    )
    for container_id, of_one in groupby(steps, key=lambda row: row.container_id):
        row = stand.pop(container_id, None)
        folded = fold(_taken(of_one))
        if row is not None and row.standing != folded:
            yield WrongStanding(row.number, row.code, row.standing, folded)
    for row in stand.values():
        if row.standing != Standing.ISSUED:
            yield WrongStanding(row.number, row.code, row.standing, Standing.ISSUED)


def standing_of_steps(session: Session, container_id: int, *, without_none: bool = False) -> Standing:
    """Return where the steps of a container lead; ``without_none``: as if nobody had counted none in it."""
    steps = session.execute(
        select(Step.id, Step.entered_at, Step.kind, Step.pieces, Step.back_to)
        .where(Step.container_id == container_id)
        .order_by(Step.id)
    ).all()
    taken = _taken(steps) if steps else iter(())
    return fold(one for one in taken if not (without_none and one.kind is StepKind.COUNTED and one.pieces == 0))


def standing_when_it_left(session: Session, container_id: int) -> Standing:
    """Return where a container stood when it was handed on last; what was never handed on stands as issued."""
    steps = session.execute(
        select(Step.id, Step.entered_at, Step.kind, Step.pieces, Step.back_to)
        .where(Step.container_id == container_id)
        .order_by(Step.id)
    ).all()
    taken = list(_taken(steps)) if steps else []
    left = [place for place, step in enumerate(taken) if step.kind is StepKind.HANDED_ON]
    # Two stores may both have handed it on: it left from where it stood before it was away.
    stood = (fold(taken[:place]) for place in reversed(left))
    return next((standing for standing in stood if standing is not Standing.AWAY), Standing.ISSUED)


def _taken(rows: Iterable[Any]) -> Iterator[StepTaken]:
    """Yield steps as they were written: at one station by their ids, at several by the moment of writing."""
    steps = list(rows)
    if steps[0].id >> STATION_SHIFT != steps[-1].id >> STATION_SHIFT:
        steps.sort(key=lambda row: (row.entered_at, row.id))
    for row in steps:
        yield StepTaken(StepKind(row.kind), row.pieces, Standing(row.back_to) if row.back_to else None)


def deposits_of(session: Session, containers: Collection[int]) -> set[int]:
    """Return the deposits of some containers."""
    found: set[int] = set()
    for some in batches(containers):
        wanted = select(Container.deposit_id).where(Container.id.in_(some), Container.deposit_id.is_not(None))
        found |= {one for one in session.execute(wanted).scalars() if one is not None}
    return found


def put_totals_right(session: Session, containers: Collection[int], were_of: Collection[int] = ()) -> None:
    """Write the kept totals of some containers, and of the deposits they are of or ``were_of``, as their rows sum."""
    by_material = (BalanceTotal.container_id, BalanceTotal.material)
    for some in batches(sorted(containers)):
        _put_right(session, BalanceTotal, by_material, frozenset(some), _summed_balances)
    by_ware = (WareTotal.deposit_id, WareTotal.ware_id)
    for some in batches(sorted(deposits_of(session, containers) | set(were_of))):
        _put_right(session, WareTotal, by_ware, frozenset(some), _summed_wares)


def _put_right(
    session: Session,
    model: Any,
    key: tuple[Any, Any],
    of: frozenset[int],
    summed: Callable[[Session, frozenset[int]], Sums],
) -> None:
    names = [column.name for column in model.__table__.columns if not column.primary_key]
    kept = _kept(session, model, key, names, of)
    by_key: dict[tuple[Any, Any], dict[str, int]] = defaultdict(dict)
    for at, column, _was, now in _differences(kept, summed(session, of)):
        by_key[at][column] = now
    for at, values in by_key.items():
        keys = {key[0].key: at[0], key[1].key: at[1]}
        if at in kept:
            session.execute(update(model).where(key[0] == at[0], key[1] == at[1]).values(**values))
        else:
            session.execute(insert(model).values(**dict.fromkeys(names, 0), **keys).values(**values))


def _kept(
    session: Session, model: Any, key: tuple[Any, Any], names: list[str], only: frozenset[int] | None = None
) -> Sums:
    wanted = select(*key, *(getattr(model, name) for name in names))
    rows = session.execute(wanted if only is None else wanted.where(key[0].in_(only)))
    return {(row[0], row[1]): dict(zip(names, row[2:], strict=True)) for row in rows}


def _summed_balances(session: Session, only: frozenset[int] | None = None) -> Sums:
    """Sum the ledgers of all containers, or of some."""
    sums: Sums = defaultdict(lambda: defaultdict(int))
    entries = session.execute(
        select(
            LedgerEntry.container_id,
            LedgerEntry.material,
            LedgerEntry.kind,
            func.sum(LedgerEntry.pieces),
            func.sum(LedgerEntry.tenths),
        )
        .where(_of(LedgerEntry.container_id, only))
        .group_by(LedgerEntry.container_id, LedgerEntry.material, LedgerEntry.kind)
    )
    for container_id, material, kind, pieces, tenths in entries:
        entry = Entry(kind)
        sums[container_id, material][COLUMN_OF_ENTRY[entry]] += pieces or 0
        sums[container_id, material]["counted_tenths" if entry in COMES_IN else "accounted_tenths"] += tenths or 0
    sherds = sorted_sherds("container_id", "decision", "discarded", "pieces", "tenths").c
    rows = session.execute(
        select(
            sherds.container_id,
            Container.material,
            sherds.decision,
            sherds.discarded,
            func.sum(sherds.pieces),
            func.sum(sherds.tenths),
        )
        .join(Container, sherds.container_id == Container.id)
        .where(_of(sherds.container_id, only))
        .group_by(sherds.container_id, Container.material, sherds.decision, sherds.discarded)
    )
    for container_id, material, decision, discarded, some, weighed in rows:
        sums[container_id, material][column_of(Decision(decision), discarded=discarded)] += some or 0
        sums[container_id, material]["accounted_tenths"] += weighed or 0
    return sums


def _of(column: Any, only: frozenset[int] | None) -> Any:
    return true() if only is None else column.in_(only)


def _summed_wares(session: Session, only: frozenset[int] | None = None) -> Sums:
    """Sum the wares of all deposits, or of some."""
    sherds = sorted_sherds("container_id", "ware_id", "pieces", "tenths").c
    rows = session.execute(
        select(Container.deposit_id, sherds.ware_id, func.sum(sherds.pieces), func.sum(sherds.tenths))
        .join(Container, sherds.container_id == Container.id)
        .where(Container.deposit_id.is_not(None), sherds.ware_id.is_not(None), _of(Container.deposit_id, only))
        .group_by(Container.deposit_id, sherds.ware_id)
    )
    return {(row[0], row[1]): {"pieces": row[2] or 0, "tenths": row[3] or 0} for row in rows}


def _differences(kept: Sums, summed: Sums) -> Iterator[tuple[tuple[Any, Any], str, int, int]]:
    nothing: Mapping[str, int] = {}
    for key in sorted(kept.keys() | summed.keys()):
        was, afresh = kept.get(key, nothing), summed.get(key, nothing)
        for column in sorted(was.keys() | afresh.keys()):
            if was.get(column, 0) != afresh.get(column, 0):
                yield key, column, was.get(column, 0), afresh.get(column, 0)


def _names(session: Session, key: Any, name: Any, ids: set[int]) -> dict[int, str]:
    some = sorted(ids)[:1000]
    return {row[0]: row[1] for row in session.execute(select(key, name).where(key.in_(some)))}
