"""Writing in a container's ledger: every explanation an entry, every entry in the kept totals."""

from __future__ import annotations

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed
from findsdesk.desk.shipped import route_of
from findsdesk.domain.balance import COLUMN_OF_ENTRY, COMES_IN, Entry, Ledger
from findsdesk.domain.count_doubts import refuse_none_beside_sorted
from findsdesk.store.models import BalanceTotal, Container, Count, LedgerEntry, Piece

NOT_COUNTED = "not counted"
"""The purpose of a count that says there is none: the finds under a tag were swapped for some nobody counted."""


def enter(
    deed: Deed,
    container: Container,
    kind: Entry,
    pieces: int,
    *,
    tenths: int = 0,
    why: str = "",
    other: Container | None = None,
    answers: LedgerEntry | None = None,
) -> int:
    """Write one entry: signed pieces (and tenths of a gram, dry) with who and why; returns its id."""
    entry_id = deed.write(
        LedgerEntry,
        container_id=container.id,
        material=container.material,
        kind=kind,
        pieces=pieces,
        tenths=tenths,
        other_container_id=other.id if other else None,
        answers_id=answers.id if answers else None,
        why=why,
        happened_at=deed.happened_at,
        person_id=deed.person_id,
    )
    deed.totals.balance(container.id, container.material, COLUMN_OF_ENTRY[kind], pieces)
    if tenths:
        column = "counted_tenths" if kind in COMES_IN else "accounted_tenths"
        deed.totals.balance(container.id, container.material, column, tenths)
    return entry_id


def write_count(
    deed: Deed, container: Container, pieces: int, purpose: str, *, tenths: int | None = None, wet: bool = False
) -> None:
    """Write what was counted in a container, for a purpose: first, again, sorting, swapped, ``NOT_COUNTED``.

    The ledger is not told.
    """
    deed.write(
        Count,
        container_id=container.id,
        pieces=pieces,
        tenths=tenths,
        wet=wet,
        purpose=purpose,
        happened_at=deed.happened_at,
        person_id=deed.person_id,
    )


def count_that_stands(session: Session, container_id: int) -> int | None:
    """Return how many pieces the newest count of a container says, None where nobody counted what lies in it."""
    newest = session.execute(
        select(Count.pieces, Count.purpose)
        .where(Count.container_id == container_id)
        .order_by(Count.happened_at.desc(), Count.id.desc())
        .limit(1)
    ).first()
    return None if newest is None or newest.purpose == NOT_COUNTED else newest.pieces


def ledger_of(session: Session, container_id: int, material: str) -> Ledger:
    """Return the ledger of a container from the kept totals, as it stood when this deed began."""
    row = session.execute(
        select(BalanceTotal).where(BalanceTotal.container_id == container_id, BalanceTotal.material == material)
    ).scalar_one_or_none()
    return ledger_from(row)


def ledger_from(row: BalanceTotal | None) -> Ledger:
    """Return a kept total as the domain's ledger."""
    if row is None:
        return Ledger()
    return Ledger(
        counted=row.counted,
        found_more=row.found_more,
        arrived=row.arrived,
        kept=row.kept,
        on_hold=row.on_hold,
        to_discard=row.to_discard,
        discarded=row.discarded,
        used_up=row.used_up,
        moved_out=row.moved_out,
        not_a_sherd=row.not_a_sherd,
        not_found=row.not_found,
    )


def there_now(ledger: Ledger) -> int:
    """Return how many pieces should lie in the container: what came in less what has left it."""
    gone = ledger.discarded + ledger.used_up + ledger.moved_out + ledger.not_a_sherd + ledger.not_found
    return ledger.expected - gone


def tenths_there(session: Session, container_id: int) -> int:
    """Return the dry tenths of a gram that should lie in the container: what was weighed in less what was taken out."""
    rows = session.execute(
        select(LedgerEntry.kind, func.sum(LedgerEntry.tenths))
        .where(LedgerEntry.container_id == container_id)
        .group_by(LedgerEntry.kind)
    ).all()
    return sum(int(tenths) if Entry(kind) in COMES_IN else -int(tenths) for kind, tenths in rows)


def need_nothing_sorted(deed: Deed, container: Container, ledger: Ledger) -> None:
    """Refuse a count of 0 where what is sorted here stands in rows, as pieces or explained.

    Refusals: ``sorted_stand``, ``discarded_stand``, ``explained_stand``.
    """
    if not route_of(container.material).sorted_here:
        return
    lifted = deed.session.execute(select(func.sum(Piece.pieces)).where(Piece.container_id == container.id)).scalar()
    refuse_none_beside_sorted(ledger, lifted or 0, container.number)
