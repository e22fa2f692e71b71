"""What the marking table shows: the lines of so many containers, whole deposits at a time, and which there are.

Long into a dig tens of thousands of containers bear marks; the table reads those with something open, and of the
others only what somebody asks for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sqlalchemy import ColumnElement, false, func, or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.mark_lines import MarkLine, lines_where
from findsdesk.desk.mark_sums import SORTED
from findsdesk.desk.open_marks import deposits_with_open_marks
from findsdesk.domain.marks import MARKED_MATERIALS
from findsdesk.store.models import BalanceTotal, Container, Deposit

MOST_SHOWN = 400
"""Containers read at once; a single deposit is read whole, however many it has."""


@dataclass(frozen=True, slots=True)
class MarksShown:
    """Lines of the marking list, those of whole deposits.

    ``deposits`` are the numbers of all that could be chosen, in natural order ("" for containers of none);
    ``containers`` is how many stand in these lines, ``of`` how many there are in all those deposits; ``deposit`` is
    the one that was asked for by itself, ``anything_kept`` whether any deposit has kept sherds, done or not.
    """

    lines: tuple[MarkLine, ...] = ()
    deposits: tuple[str, ...] = ()
    containers: int = 0
    of: int = 0
    deposit: str | None = None
    anything_kept: bool = False

    @property
    def is_part(self) -> bool:
        """Tell whether some deposits were left out because all together are too many."""
        return self.deposit is None and self.containers < self.of


@dataclass(frozen=True, slots=True)
class _Kept:
    """A deposit with its containers of which something is kept."""

    deposit_id: int | None
    number: str
    containers: int


def marks_shown(desk: Desk, deposit: str | None = None, *, done_too: bool = False) -> MarksShown:
    """Return the lines of deposits with something open (or ``done_too``), whole deposits up to ``MOST_SHOWN``.

    With a ``deposit``, by a number it has or once had ("" for containers of none), all its lines. Refusals: those of
    finding it.
    """
    with desk.reading() as reading:
        session = reading.session
        every = _kept(session)
        open_ids = None if done_too else deposits_with_open_marks(session, desk.facts.settings)
        kept = [one for one in every if open_ids is None or one.deposit_id in open_ids]
        if deposit is None:
            chosen = list(_up_to(kept, MOST_SHOWN))
        else:
            wanted = deposit_of(session, deposit).id if deposit else None
            chosen = [one for one in every if one.deposit_id == wanted]
        return MarksShown(
            lines=lines_where(session, desk.facts, _of_these(chosen)) if chosen else (),
            deposits=tuple(one.number for one in kept),
            containers=sum(one.containers for one in chosen),
            of=sum(one.containers for one in kept),
            deposit=deposit,
            anything_kept=bool(every),
        )


def _kept(session: Session) -> list[_Kept]:
    """Return the deposits of sorted containers of marked materials of which something is kept, in natural order."""
    rows = session.execute(
        select(Container.deposit_id, Deposit.number, func.count(Container.id.distinct()))
        .join(BalanceTotal, (BalanceTotal.container_id == Container.id) & (BalanceTotal.material == Container.material))
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .where(Container.standing.in_(SORTED), Container.material.in_(MARKED_MATERIALS), BalanceTotal.kept > 0)
        .group_by(Container.deposit_id, Deposit.number, Deposit.number_key)
        .order_by(Deposit.number_key, Container.deposit_id)
    )
    return [_Kept(deposit_id, number or "", containers) for deposit_id, number, containers in rows]


def _up_to(kept: Sequence[_Kept], most: int) -> Iterator[_Kept]:
    """Yield deposits until their containers are more than are read at once; one at least."""
    taken = 0
    for one in kept:
        if taken and taken + one.containers > most:
            return
        taken += one.containers
        yield one


def _of_these(chosen: Sequence[_Kept]) -> ColumnElement[bool]:
    ids = [one.deposit_id for one in chosen if one.deposit_id is not None]
    of_none = Container.deposit_id.is_(None) if len(ids) < len(chosen) else false()
    return or_(Container.deposit_id.in_(ids), of_none)
