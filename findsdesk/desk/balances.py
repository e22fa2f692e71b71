"""The balance of a season, a deposit or the whole excavation by material, from the kept totals, and in words."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import NamedTuple

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.signed_discards import signed_not_carried
from findsdesk.domain.balance import Ledger
from findsdesk.store.models import BalanceTotal, Container, Season
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
    ("over", N_("sorted beyond what came in")),
)
"""The columns of the ledger in the order of the law, with their words; what is signed for is not gone yet.

What one container holds too many is not what another still has to sort: the two are never set off against each other.
"""


class Unsettled(NamedTuple):
    """A container whose ledger does not balance, its season, and what is left to sort (below 0: over)."""

    number: str
    season: str
    left: int


@dataclass(frozen=True, slots=True)
class MaterialBalance:
    """One material: its ledger, dry tenths of a gram that came in and are accounted for, how many containers it is of.

    ``unsettled`` are the containers whose ledger does not balance.
    """

    material: str
    ledger: Ledger
    counted_tenths: int
    accounted_tenths: int
    containers: int
    unsettled: tuple[Unsettled, ...]
    signed: int = 0
    """Pieces whose discard is signed for and that were not carried away; the ledger counts them as discarded."""

    @property
    def over(self) -> int:
        """Return how many pieces more than came in are accounted for, summed over the containers where it is so."""
        return sum(-one.left for one in self.unsettled if one.left < 0)

    @property
    def unsorted(self) -> int:
        """Return how many pieces are not yet sorted, summed over the containers where some are left."""
        return self.ledger.unsorted + self.over


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


def _unsettled(session: Session, where: list[ColumnElement[bool]]) -> dict[str, list[Unsettled]]:
    b = BalanceTotal
    came_in = b.counted + b.found_more + b.arrived
    went = b.kept + b.on_hold + b.to_discard + b.discarded + b.used_up + b.moved_out + b.not_a_sherd + b.not_found
    rows = session.execute(
        select(b.material, Container.number, Season.name, came_in - went)
        .join(Container, b.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .where(*where, came_in != went)
        .order_by(Season.starts, Container.number_key, Container.id)
    )
    found: dict[str, list[Unsettled]] = {}
    for material, number, season, left in rows:
        found.setdefault(material, []).append(Unsettled(number, season, int(left)))
    return found


def where_it_is(ledger: Ledger, signed: int, over: int | None = None) -> tuple[tuple[str, str, int], ...]:
    """Return name, marked words and pieces of each end; together they are what came in.

    ``signed`` are those signed for and not carried away. Of several containers ``over`` is how many are over, summed
    over those where it is so; "over" is below 0, as it was never among what came in.
    """
    too_many = ledger.over if over is None else over
    apart = {
        "signed": signed,
        "carried": ledger.discarded - signed,
        "unsorted": ledger.unsorted + too_many,
        "over": -too_many,
    }
    return tuple((name, words, apart.get(name, getattr(ledger, name, 0))) for name, words in WENT)
