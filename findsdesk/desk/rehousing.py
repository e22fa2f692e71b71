"""Containers that go over to another deposit or square: kept totals follow, and what is written is asked for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import func, select

from findsdesk.desk.desk import Deed
from findsdesk.desk.listed_discards import need_no_open_list
from findsdesk.desk.new_containers import number_series, refuse_taken, scope_of
from findsdesk.desk.redoing import Asked, ask_to_redo, papers_of
from findsdesk.desk.steps import write_step
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.domain.settings import NumberScope
from findsdesk.store.models import Container, Deposit, Season, Square
from findsdesk.store.numbers import raise_series
from findsdesk.store.sorted_sherds import sorted_sherds
from findsdesk.words import N_


def rehouse(
    deed: Deed, containers: Sequence[Container], target: Deposit, reason: str, *, with_square: bool = False
) -> Asked:
    """Put containers under another deposit (``with_square``: into its square too); each life says so.

    Refusal: ``container_on_list``.
    """
    ids = [row.id for row in containers]
    need_no_open_list(deed.session, ids)
    before = papers_of(deed.session, deed.desk.facts, ids)
    _carry_wares(deed, ids, target.id)
    square = deed.session.get_one(Square, target.square_id)
    for row in containers:
        was = deed.session.get_one(Deposit, row.deposit_id).number if row.deposit_id is not None else "–"
        row.deposit_id = target.id
        if with_square:
            to_square(deed, row, square)
        write_step(deed, row, StepKind.CORRECTED, note=f"{was} → {target.number}: {reason}")
    deed.session.flush()
    return ask_to_redo(deed, before, f"→ {target.number}: {reason}")


def take_along(deed: Deed, deposit: Deposit, from_square: int, why: str) -> Asked:
    """Let the containers of a deposit follow it into its square; one that was put elsewhere by hand stays there."""
    rows = deed.session.execute(
        select(Container)
        .where(Container.deposit_id == deposit.id, Container.square_id == from_square)
        .order_by(Container.id)
    ).scalars()
    containers = list(rows)
    before = papers_of(deed.session, deed.desk.facts, [row.id for row in containers])
    square = deed.session.get_one(Square, deposit.square_id)
    for row in containers:
        to_square(deed, row, square)
        write_step(deed, row, StepKind.CORRECTED, note=f"→ {square.name}")
    deed.session.flush()
    return ask_to_redo(deed, before, why)


def to_deposit(deed: Deed, container: Container, deposit: Deposit) -> None:
    """Put one container under a deposit and into its square, with what it holds of each ware; writes no step.

    Refusal: ``container_on_list``.
    """
    if Standing(container.standing) in (Standing.SETTLED, Standing.BAGGED):
        need_no_open_list(deed.session, [container.id])
    _carry_wares(deed, [container.id], deposit.id)
    container.deposit_id = deposit.id
    to_square(deed, container, deed.session.get_one(Square, deposit.square_id))


def to_square(deed: Deed, container: Container, square: Square) -> None:
    """Put a container into another square; where numbers run within a square, its number must be free there."""
    if container.square_id == square.id:
        return
    container.square_id = square.id
    season = deed.session.get_one(Season, container.season_id)
    if container.provisional or season.number_scope != NumberScope.SQUARE:
        return
    scope = scope_of(season, square)
    if scope == container.scope:
        return
    refuse_taken(deed.session, scope, container.number)
    container.scope = scope
    if container.number.isdecimal():
        raise_series(deed.session, number_series(scope), int(container.number))


def _carry_wares(deed: Deed, container_ids: Sequence[int], target_id: int) -> None:
    """Move what the containers hold of each ware from the totals of their deposits to those of the new one."""
    sherds = sorted_sherds("container_id", "ware_id", "pieces", "tenths").c
    sums: Any = (func.sum(sherds.pieces), func.coalesce(func.sum(sherds.tenths), 0))
    rows = deed.session.execute(
        select(Container.deposit_id, sherds.ware_id, *sums)
        .join(Container, sherds.container_id == Container.id)
        .where(Container.id.in_(container_ids))
        .group_by(Container.deposit_id, sherds.ware_id)
    ).all()
    for deposit_id, ware_id, pieces, tenths in rows:
        deed.totals.ware(deposit_id, ware_id, -pieces, -tenths)
        deed.totals.ware(target_id, ware_id, pieces, tenths)


def need_reason(reason: str) -> None:
    """Refuse a correction without a reason: ``reason_needed``."""
    if not reason.strip():
        raise Refusal("reason_needed", N_("Write why it is changed. The reason stays with it."))
