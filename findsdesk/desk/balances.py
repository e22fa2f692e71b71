"""The balance of a season, a deposit or the whole excavation by material, from the kept totals, and in words."""

from __future__ import annotations

from dataclasses import dataclass, fields

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.signed_discards import signed_not_carried
from findsdesk.domain.balance import Ledger
from findsdesk.store.models import BalanceTotal, Container
from findsdesk.words import N_

CAME_IN = (
    ("counted", N_("counted")),
    ("found_more", N_("found more")),
    ("arrived", N_("arrived from other {containers}")),
)
WENT = (
    ("kept", N_("kept")),
    ("on_hold", N_("on hold")),
    ("to_discard", N_("to discard, unsigned")),
    ("signed", N_("to discard, signed for")),
    ("carried", N_("discarded, carried away")),
    ("used_up", N_("used up as samples")),
    ("moved_out", N_("moved out")),
    ("not_a_sherd", N_("not a sherd")),
    ("not_found", N_("not found")),
    ("unsorted", N_("not yet sorted")),
)
"""The columns of the ledger in the order of the law, with their words; what is signed for is not gone yet."""


@dataclass(frozen=True, slots=True)
class MaterialBalance:
    """One material: its ledger, dry tenths of a gram that came in and are accounted for, how many containers it is of.

    ``unsettled`` are the numbers of containers whose ledger does not balance, with what is unsorted (below 0: over).
    """

    material: str
    ledger: Ledger
    counted_tenths: int
    accounted_tenths: int
    containers: int
    unsettled: tuple[tuple[str, int], ...]
    signed: int = 0
    """Pieces whose discard is signed for and that were not carried away; the ledger counts them as discarded."""


def balances_in(
    session: Session, *, season_id: int | None = None, deposit_id: int | None = None, material: str = ""
) -> tuple[MaterialBalance, ...]:
    """Return the balance of each material, the largest first."""
    names = [field.name for field in fields(Ledger)]
    sums = [func.sum(getattr(BalanceTotal, name)) for name in (*names, "counted_tenths", "accounted_tenths")]
    where = _where(season_id, deposit_id, material)
    rows = session.execute(
        select(BalanceTotal.material, func.count(), *sums)
        .join(Container, BalanceTotal.container_id == Container.id)
        .where(*where)
        .group_by(BalanceTotal.material)
    ).all()
    unsettled = _unsettled(session, where)
    signed = signed_not_carried(session, season_id=season_id, deposit_id=deposit_id)
    found = []
    for row in rows:
        kind, containers, *values = tuple(row)
        *numbers, counted, accounted = (int(value or 0) for value in values)
        left = tuple(unsettled.get(kind, ()))
        found.append(MaterialBalance(kind, Ledger(*numbers), counted, accounted, containers, left, signed.get(kind, 0)))
    return tuple(sorted(found, key=lambda one: (-one.ledger.expected, one.material)))


def _where(season_id: int | None, deposit_id: int | None, material: str) -> list[ColumnElement[bool]]:
    where: list[ColumnElement[bool]] = []
    if season_id is not None:
        where.append(Container.season_id == season_id)
    if deposit_id is not None:
        where.append(Container.deposit_id == deposit_id)
    if material:
        where.append(BalanceTotal.material == material)
    return where


def _unsettled(session: Session, where: list[ColumnElement[bool]]) -> dict[str, list[tuple[str, int]]]:
    b = BalanceTotal
    came_in = b.counted + b.found_more + b.arrived
    went = b.kept + b.on_hold + b.to_discard + b.discarded + b.used_up + b.moved_out + b.not_a_sherd + b.not_found
    rows = session.execute(
        select(b.material, Container.number, came_in - went)
        .join(Container, b.container_id == Container.id)
        .where(*where, came_in != went)
        .order_by(Container.number_key, Container.id)
    )
    found: dict[str, list[tuple[str, int]]] = {}
    for material, number, left in rows:
        found.setdefault(material, []).append((number, int(left)))
    return found


def where_it_is(ledger: Ledger, signed: int) -> tuple[tuple[str, str, int], ...]:
    """Return name, marked words and pieces of each end; ``signed`` are those signed for and not carried away."""
    of_discards = {"signed": signed, "carried": ledger.discarded - signed}
    return tuple((name, words, of_discards.get(name, getattr(ledger, name, 0))) for name, words in WENT)
