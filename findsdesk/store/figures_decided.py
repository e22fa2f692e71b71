"""A container counted or explained in two stores: which sides' ledger entries stand once somebody decided.

An entry stands unless a decision left its side. What answers one, and what says it again, has an id and values that
follow from it: two stores that decide apart write the same rows, and come to the same sum when they meet.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.store.courier_clashes import FIGURES, id_that_follows
from findsdesk.store.journal import Changes
from findsdesk.store.models import Clash, LedgerEntry, Station
from findsdesk.store.told_changes import plain_columns, tell_new

WHY = "counted in two stores"
"""Why an entry was answered by a decision: what a person answered otherwise stays answered."""
_ENTRY = [column.name for column in LedgerEntry.__table__.columns]


def figures_decided(session: Session, rows: Iterable[tuple[str, int]], containers: Collection[int]) -> set[int]:
    """Return the containers with a decided clash about figures, of ``containers`` or of touched rows of clashes."""
    ids = {row_id for kind, row_id in rows if kind == Clash.__tablename__}
    decided = select(Clash.id, Clash.row_id).where(Clash.what == FIGURES, Clash.choice != "")
    return {row_id for clash_id, row_id in session.execute(decided) if clash_id in ids or row_id in containers}


def put_figures_right(session: Session, changes: Changes, container_id: int) -> None:
    """Let the ledger entries of a container stand or be answered as its clashes were decided; kept totals stay."""
    said: set[int] = set()
    left: set[int] = set()
    of_it = (Clash.what == FIGURES, Clash.row_id == container_id, Clash.choice != "")
    clashes = select(Clash.one, Clash.other, Clash.choice, Station.name).where(*of_it)
    for one, other, choice, first in session.execute(clashes.join(Station, Station.id == Clash.one_station_id)):
        sides = set(one["values"]["entries"]), set(other["values"]["entries"])
        said |= sides[0] | sides[1]
        if choice != "both":
            left |= sides[1] if choice == first else sides[0]
    for entry_id in sorted(said):
        _let(session, changes, entry_id, stands=entry_id not in left)


def _let(session: Session, changes: Changes, entry_id: int, *, stands: bool) -> None:
    while (again := plain_columns(session, "ledger_entry", _again_id(entry_id), ["id"])) is not None:
        entry_id = again["id"]
    entry = plain_columns(session, "ledger_entry", entry_id, _ENTRY)
    if entry is None:
        return
    answered = session.execute(
        select(LedgerEntry.why).where(LedgerEntry.answers_id == entry_id).order_by(LedgerEntry.id).limit(1)
    ).scalar()
    if stands and answered == WHY:
        _write(session, changes, entry | {"id": _again_id(entry_id)})
    elif not stands and answered is None:
        answer_entry(session, changes, entry, WHY)


def answer_entry(session: Session, changes: Changes, entry: dict[str, Any], why: str) -> None:
    """Answer a ledger entry, given whole in plain values, by its opposite."""
    opposite = {"pieces": -entry["pieces"], "tenths": -entry["tenths"], "answers_id": entry["id"], "why": why}
    answer_id = id_that_follows("entry answered", entry["id"])
    _write(session, changes, entry | opposite | {"id": answer_id, "person_id": None})


def _again_id(entry_id: int) -> int:
    return id_that_follows("entered again", entry_id)


def _write(session: Session, changes: Changes, entry: dict[str, Any]) -> None:
    tell_new(session, changes, "ledger_entry", entry["id"], None, entry)
