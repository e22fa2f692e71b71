"""A container counted in two stores: which of the two sides' ledger entries stand, whatever was decided before."""

from __future__ import annotations

from typing import Any

from sqlalchemy import select

from findsdesk.desk.desk import Deed
from findsdesk.desk.ledgers import enter
from findsdesk.domain.balance import Entry
from findsdesk.store.models import Clash, Container, LedgerEntry

WHY = "counted in two stores"
"""Why an entry was answered by a decision: what a person answered otherwise stays answered."""


def keep_figures(deed: Deed, row: Clash, *, one: bool, other: bool) -> None:
    """Let the ledger entries of the sides that are kept stand and answer the others; groups are put right at the table.

    What an earlier decision answered is entered again; the new entry stands on its side in place of the answered one.
    """
    container = deed.session.get_one(Container, row.row_id)
    row.one = _side(deed, container, row.one, stands=one)
    row.other = _side(deed, container, row.other, stands=other)


def _side(deed: Deed, container: Container, side: dict[str, Any], *, stands: bool) -> dict[str, Any]:
    entries = [_put(deed, container, entry_id, stands=stands) for entry_id in side["values"]["entries"]]
    return {**side, "values": {**side["values"], "entries": entries}}


def _put(deed: Deed, container: Container, entry_id: int, *, stands: bool) -> int:
    """Let an entry stand or be answered; returns the id of the one that says it from now on."""
    entry = deed.session.get(LedgerEntry, entry_id)
    if entry is None:
        return entry_id
    answered = deed.session.execute(
        select(LedgerEntry.why).where(LedgerEntry.answers_id == entry_id).order_by(LedgerEntry.id).limit(1)
    ).scalar()
    kind = Entry(entry.kind)
    if stands and answered == WHY:
        return enter(deed, container, kind, entry.pieces, tenths=entry.tenths, why=entry.why)
    if not stands and answered is None:
        enter(deed, container, kind, -entry.pieces, tenths=-entry.tenths, why=WHY, answers=entry)
    return entry_id
