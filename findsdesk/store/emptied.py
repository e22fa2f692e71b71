"""A container counted as empty beside sorted sherds: within one store it is refused, two stores together may say both.

Until somebody decides, what lies in rows stands: the count of none is answered, and the container is where it would be
without it. Ids and values of the answers follow from that count, so that both stores write the same ones.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from findsdesk.domain.balance import Entry
from findsdesk.domain.standings import Standing, StepKind
from findsdesk.store.courier_clashes import ClashFound, Said, found, id_that_follows
from findsdesk.store.courier_rows import Row
from findsdesk.store.figures_decided import answer_entry
from findsdesk.store.journal import Changes
from findsdesk.store.models import BalanceTotal, Container, Count, LedgerEntry, Part, Step
from findsdesk.store.sums import put_totals_right, standing_of_steps
from findsdesk.store.told_changes import plain_columns, table_of, tell_change, tell_new

EMPTIED = "emptied"
"""A clash: counted as empty in one store, sorted or explained in the other."""
WHY = "sorted in another store"
_BESIDE = {"sherd_group": "sorted", "piece": "sorted", "ledger_entry": "explained"}
_COUNTS = (Entry.COUNTED, Entry.RECOUNTED)


@dataclass(frozen=True, slots=True)
class EmptyBeside:
    """A container that counts as empty, and how many of its sherds are sorted, and explained, all the same."""

    container_id: int
    container: str
    sorted: int
    explained: int


def empty_beside_sorted(
    session: Session, sorted_here: Sequence[str], only: Collection[int] | None = None
) -> Iterator[EmptyBeside]:
    """Yield containers of materials ``sorted_here``, or some of them, that are empty beside sorted sherds."""
    total = BalanceTotal
    lies = total.kept + total.on_hold + total.to_discard + total.discarded
    explained = total.not_a_sherd + total.not_found + total.found_more + total.used_up
    rows = session.execute(
        select(Container.id, Container.number, lies, explained)
        .join(total, (total.container_id == Container.id) & (total.material == Container.material))
        .where(
            Container.standing == Standing.EMPTY,
            Container.material.in_(sorted_here),
            or_(lies != 0, explained != 0),
        )
        .order_by(Container.number_key, Container.id)
    ).all()
    for container_id, number, pieces, told in rows:
        if only is None or container_id in only:
            yield EmptyBeside(container_id, number, int(pieces), int(told))


def emptied_in_one(
    session: Session, container_id: int, ours: Mapping[Row, Said], theirs: Mapping[Row, Said]
) -> ClashFound | None:
    """Return the clash of a container that one side counted as empty and the other sorted, or None."""
    empty = _count_of_none(session, container_id)
    for one, other in ((ours, theirs), (theirs, ours)):
        counted = None if empty is None else one.get(("step", empty.id))
        beside = _beside(session, container_id, other)
        if counted is not None and beside is not None:
            none = Said(counted.station_id, counted.act_id, {"none": True})
            return found(EMPTIED, ("container", container_id), none, beside)
    return None


def _count_of_none(session: Session, container_id: int) -> Step | None:
    """Return the step of the last count that said there is none."""
    of_it = select(Step).where(Step.container_id == container_id, Step.kind == StepKind.COUNTED, Step.pieces == 0)
    return session.execute(of_it.order_by(Step.entered_at.desc(), Step.id.desc()).limit(1)).scalar()


def _beside(session: Session, container_id: int, said: Mapping[Row, Said]) -> Said | None:
    """Return what one side says of the sherds that lie in rows, as pieces or are explained; None where nothing."""
    values = {"sorted": 0, "explained": 0}
    last: tuple[int, Said] | None = None
    for kind, name in _BESIDE.items():
        table = table_of(kind)
        rows = select(table.c.id, table.c.pieces).where(table.c.container_id == container_id)
        if kind == "ledger_entry":
            rows = rows.where(table.c.kind.not_in(_COUNTS))
        for row_id, pieces in session.execute(rows.order_by(table.c.id)):
            one = said.get((kind, row_id))
            if one is not None:
                values[name] += pieces
                last = row_id, one
    return None if last is None else Said(last[1].station_id, last[1].act_id, values)


def let_sorted_stand(session: Session, changes: Changes, container_id: int) -> None:
    """Answer the count of none of a container: the entry, the step and the count that say so."""
    empty = _count_of_none(session, container_id)
    if empty is None:
        return
    for entry_id in _entries_of(session, container_id, empty):
        entry = plain_columns(session, "ledger_entry", entry_id, [one.name for one in LedgerEntry.__table__.columns])
        assert entry is not None
        answer_entry(session, changes, entry, WHY)
    _take_back(session, changes, container_id, empty)
    put_totals_right(session, {container_id})
    _count_again(session, changes, container_id, empty)
    standing = str(standing_of_steps(session, container_id))
    tell_change(session, changes, "container", container_id, {"standing": standing})
    parts = select(Part.id).where(Part.container_id == container_id, Part.place_kind == "gone").order_by(Part.id)
    for part_id in session.execute(parts).scalars().all() if standing != Standing.BAGGED else ():
        tell_change(session, changes, "part", part_id, {"place_kind": "yard", "place": ""})


def _entries_of(session: Session, container_id: int, empty: Step) -> list[int]:
    """Return the entries that the count of none wrote and that nobody answered."""
    answered = select(LedgerEntry.answers_id).where(LedgerEntry.answers_id.is_not(None))
    wrote = select(LedgerEntry.id).where(
        LedgerEntry.container_id == container_id,
        LedgerEntry.happened_at == empty.happened_at,
        LedgerEntry.kind.in_(_COUNTS),
        LedgerEntry.pieces <= 0,
        LedgerEntry.answers_id.is_(None),
        LedgerEntry.id.not_in(answered),
    )
    return list(session.execute(wrote.order_by(LedgerEntry.id)).scalars())


def _take_back(session: Session, changes: Changes, container_id: int, empty: Step) -> None:
    """Take a step back to where the container would stand if nobody had counted none."""
    values = plain_columns(session, "step", empty.id, [column.name for column in Step.__table__.columns]) or {}
    back_to = str(standing_of_steps(session, container_id, without_none=True))
    taken = {"kind": str(StepKind.TAKEN_BACK), "pieces": None, "back_to": back_to, "note": WHY}
    row_id = id_that_follows("not empty", empty.id)
    nobody = {"person_id": None, "entered_by_id": None}
    tell_new(session, changes, "step", row_id, None, values | taken | nobody | {"id": row_id})


def _count_again(session: Session, changes: Changes, container_id: int, empty: Step) -> None:
    """Let a count say what the ledger has of it now."""
    of_it = select(Count.id).where(
        Count.container_id == container_id, Count.pieces == 0, Count.happened_at == empty.happened_at
    )
    counted = session.execute(of_it.order_by(Count.id.desc()).limit(1)).scalar()
    its_own = (BalanceTotal.container_id == Container.id) & (BalanceTotal.material == Container.material)
    total = session.execute(select(BalanceTotal).join(Container, its_own).where(Container.id == container_id)).scalar()
    if counted is None or total is None:
        return
    came = total.counted + total.found_more + total.arrived
    gone = total.discarded + total.used_up + total.moved_out + total.not_a_sherd + total.not_found
    values = plain_columns(session, "count", counted, [column.name for column in Count.__table__.columns]) or {}
    row_id = id_that_follows("counted still", counted)
    said = {"id": row_id, "pieces": max(0, came - gone), "tenths": None, "person_id": None}
    tell_new(session, changes, "count", row_id, None, values | said)
