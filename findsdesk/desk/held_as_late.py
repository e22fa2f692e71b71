"""Sherds that were held because they looked late when their row was typed: few were dated then, and more may be now."""

from __future__ import annotations

from collections import Counter

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.figure_scopes import Scope
from findsdesk.desk.type_table import type_table
from findsdesk.domain.balance import Decision
from findsdesk.domain.intrusions import LOOKS_LATE
from findsdesk.store.models import Container
from findsdesk.store.sorted_sherds import sorted_sherds


def held_as_late(session: Session, scope: Scope) -> Counter[str]:
    """Return how many sherds of a deposit, or of a container of none, are held as looking late, by ware and form."""
    sherds = sorted_sherds("container_id", "ware_id", "form_id", "decision", "reason", "pieces").c
    here = Container.deposit_id == scope.deposit_id if scope.deposit_id is not None else Container.id == scope.id
    rows = session.execute(
        select(sherds.ware_id, sherds.form_id, func.sum(sherds.pieces))
        .join(Container, sherds.container_id == Container.id)
        .where(here, sherds.decision == Decision.HOLD, sherds.reason == LOOKS_LATE)
        .group_by(sherds.ware_id, sherds.form_id)
    ).all()
    types, held = type_table(session) if rows else None, Counter[str]()
    for ware_id, form_id, pieces in rows:
        assert types is not None
        held[" ".join(code for code in (types.ware(ware_id).code, types.form(form_id).code) if code)] += pieces
    return held
