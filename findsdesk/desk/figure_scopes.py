"""What figures are of: a container, a deposit, a square, a season or the whole excavation."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import container_of, deposit_of
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.squares import square_named
from findsdesk.domain.deposits import Security
from findsdesk.store.models import Container, Deposit
from findsdesk.store.sherd_sums import Inside, Within
from findsdesk.words import N_


class Of(StrEnum):
    """A kind of thing that figures are of."""

    CONTAINER = "container"
    DEPOSIT = "deposit"
    SQUARE = "square"
    SEASON = "season"
    EXCAVATION = "excavation"


OF_IN_WORDS: dict[Of, str] = {
    Of.CONTAINER: N_("{Container} {name}"),
    Of.DEPOSIT: N_("{Deposit} {name}"),
    Of.SQUARE: N_("{Square} {name}"),
    Of.SEASON: N_("Season {name}"),
    Of.EXCAVATION: N_("{name}"),
}


@dataclass(frozen=True, slots=True)
class Scope:
    """One thing that figures are of; ``deposit_id`` where it is a deposit, or a container out of one."""

    of: Of
    id: int | None
    name: str
    deposit_id: int | None = None

    def within(self) -> Within:
        """Return the containers to look into: for a container its whole deposit, so that late finds can be told."""
        if self.of is Of.CONTAINER and self.deposit_id is not None:
            return Within(Inside.CONTAINER_OF_DEPOSIT, self.id, self.deposit_id)
        return Within(Inside(self.of.value), self.id)


def scope_of(desk: Desk, of: Of, which: str = "") -> Scope:
    """Return the thing meant by a tag, a number or a name. Refusals: those of finding it."""
    with desk.reading() as reading:
        return scope_in(reading.session, desk, of, which)


def scope_in(session: Session, desk: Desk, of: Of, which: str = "") -> Scope:
    """Return the thing meant within a session; a season unnamed is today's."""
    if of is Of.CONTAINER:
        container = container_of(session, desk, which)
        return Scope(of, container.id, container.number, container.deposit_id)
    if of is Of.DEPOSIT:
        deposit = deposit_of(session, which)
        return Scope(of, deposit.id, deposit.number, deposit.id)
    if of is Of.SQUARE:
        square = square_named(session, which)
        return Scope(of, square.id, square.name)
    if of is Of.SEASON:
        season = season_of(session, desk.now().astimezone(desk.facts.zone).date(), which or None)
        return Scope(of, season.id, season.name)
    return Scope(Of.EXCAVATION, None, desk.facts.name)


def container_scope(session: Session, container_id: int) -> Scope:
    """Return a container by its id as a thing that figures are of."""
    row = session.get_one(Container, container_id)
    return Scope(Of.CONTAINER, row.id, row.number, row.deposit_id)


def securities(session: Session, ids: set[int]) -> dict[int, Security]:
    """Return how safe each of some deposits is from later finds."""
    rows = session.execute(select(Deposit.id, Deposit.security).where(Deposit.id.in_(sorted(ids))))
    return {row.id: Security(row.security) for row in rows}
