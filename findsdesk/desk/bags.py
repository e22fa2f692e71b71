"""The bags there are: what is in each, which wait for a label, and which containers wait to be bagged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import container_of
from findsdesk.domain.routes import Standing
from findsdesk.store.models import Bag, BalanceTotal, Container, Deposit, Square

AT_ONCE = 5000


@dataclass(frozen=True, slots=True)
class BagFacts:
    """A bag: its code for ever, of which container, what it holds; ``label_copy`` 0 means not yet labelled."""

    id: int
    code: str
    container_id: int
    container_code: str
    number: str
    deposit: str
    square: str
    material: str
    what: str
    pieces: int
    tenths: int | None
    packed_at: datetime
    label_copy: int
    labelled_at: datetime | None
    is_new: bool = field(default=False, compare=False)
    """Whether the packing just done made it; what was packed before keeps its code."""


@dataclass(frozen=True, slots=True)
class SettledContainer:
    """A settled container that is not in bags yet; ``pieces`` are those that stay."""

    container_id: int
    code: str
    number: str
    deposit: str
    square: str
    material: str
    pieces: int


def bags_of(desk: Desk, tag: str) -> tuple[BagFacts, ...]:
    """Return the bags of a container that hold something."""
    with desk.reading() as reading:
        container = container_of(reading.session, desk, tag)
        return _bags(reading.session, _query().where(Bag.container_id == container.id, Bag.pieces > 0))


_STAYS = BalanceTotal.kept + BalanceTotal.on_hold
_ITS_BALANCE = (BalanceTotal.container_id == Container.id) & (BalanceTotal.material == Container.material)
_TO_BAG = (Container.standing == Standing.SETTLED, _STAYS > 0)


def bags_to_label(desk: Desk) -> tuple[BagFacts, ...]:
    """Return the bags without a label, in natural order of deposit and container."""
    with desk.reading() as reading:
        return _bags(reading.session, _query().where(Bag.labelled_at.is_(None), Bag.pieces > 0))


def facts_of_bags(session: Session, ids: Sequence[int]) -> tuple[BagFacts, ...]:
    """Return the facts of bags, in natural order of deposit and container."""
    found: list[BagFacts] = []
    for first in range(0, len(ids), AT_ONCE):
        found.extend(_bags(session, _query().where(Bag.id.in_(ids[first : first + AT_ONCE]))))
    return tuple(found)


def settled_to_bag(desk: Desk) -> tuple[SettledContainer, ...]:
    """Return the settled containers of which something stays and which are not in bags yet, in natural order."""
    wanted = (
        select(Container, Deposit.number, Square.name, _STAYS)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .join(BalanceTotal, _ITS_BALANCE)
        .where(*_TO_BAG)
        .order_by(Deposit.number_key, Container.number_key, Container.id)
    )
    with desk.reading() as reading:
        return tuple(
            SettledContainer(row.id, row.code, row.number, deposit or "", square or "", row.material, pieces)
            for row, deposit, square, pieces in reading.session.execute(wanted)
        )


def how_many_to_bag(session: Session) -> int:
    """Return how many settled containers are not in bags yet, without reading them."""
    wanted = select(func.count()).select_from(Container).join(BalanceTotal, _ITS_BALANCE).where(*_TO_BAG)
    return session.execute(wanted).scalar_one()


def _query() -> Select[Bag, Container, str, str]:
    return (
        select(Bag, Container, Deposit.number, Square.name)
        .join(Container, Bag.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .order_by(Deposit.number_key, Container.number_key, Container.id, Bag.id)
    )


def _bags(session: Session, wanted: Select[Bag, Container, str, str]) -> tuple[BagFacts, ...]:
    return tuple(
        BagFacts(
            id=row.id,
            code=row.code,
            container_id=container.id,
            container_code=container.code,
            number=container.number,
            deposit=deposit or "",
            square=square or "",
            material=container.material,
            what=row.what,
            pieces=row.pieces,
            tenths=row.tenths,
            packed_at=row.packed_at,
            label_copy=row.label_copy,
            labelled_at=row.labelled_at,
        )
        for row, container, deposit, square in session.execute(wanted)
    )
