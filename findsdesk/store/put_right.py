"""What follows from facts, put right after the facts of two stores came together: standings, places, loans, moves.

Each is what the facts of both say, so that both stores come to the same.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from typing import Any

from sqlalchemy import func, or_, select
from sqlalchemy.orm import Session, aliased

from findsdesk.store.batches import batches
from findsdesk.store.journal import Changes, plain
from findsdesk.store.models import Bag, Box, Lay, LoanLine, LoanReturn, Place, TransportLine
from findsdesk.store.sums import standing_of_steps
from findsdesk.store.told_changes import plain_columns, table_of, tell_change

FOLLOWS: dict[str, frozenset[str]] = {
    "container": frozenset({"standing", "arrived_at"}),
    "bag": frozenset({"box_id", "place_id"}),
    "box": frozenset({"place_id"}),
    "loan": frozenset({"back_on"}),
    "loan_line": frozenset({"pieces_back", "pieces_used", "back_on"}),
    "transport": frozenset({"arrived_at"}),
}
"""Columns that follow from facts: two stores cannot clash in them."""


def put_right(session: Session, changes: Changes, touched: Collection[tuple[str, int]]) -> None:
    """Put right what follows from the touched rows, each with a line of its own."""
    ids: dict[str, set[int]] = defaultdict(set)
    for kind, row_id in touched:
        ids[kind].add(row_id)
    containers = ids["container"] | containers_of(session, touched, kinds={"step"})
    for container_id in sorted(containers):
        standing = str(standing_of_steps(session, container_id))
        tell_change(session, changes, "container", container_id, {"standing": standing})
    _put_lying_right(session, changes, ids)
    _put_loans_right(session, changes, ids)
    _put_moves_right(session, changes, ids)


def containers_of(session: Session, rows: Iterable[tuple[str, int]], *, kinds: Collection[str] = ()) -> set[int]:
    """Return the containers that rows belong to now; only of some kinds, where named."""
    by_kind: dict[str, list[int]] = defaultdict(list)
    for kind, row_id in rows:
        if not kinds or kind in kinds:
            by_kind[kind].append(row_id)
    found: set[int] = set(by_kind["container"]) if not kinds else set()
    for kind, row_ids in by_kind.items():
        table = table_of(kind)
        if "container_id" in table.columns:
            for some in batches(row_ids):
                wanted = select(table.c.container_id).where(table.c.id.in_(some), table.c.container_id.is_not(None))
                found |= set(session.execute(wanted).scalars())
    return found


def _put_lying_right(session: Session, changes: Changes, ids: dict[str, set[int]]) -> None:
    lays = [
        lay
        for some in batches(ids["lay"])
        for lay in session.execute(select(Lay.bag_id, Lay.box_id).where(Lay.id.in_(some))).all()
    ]
    bags = ids["bag"] | {bag for bag, _box in lays if bag is not None}
    boxes = ids["box"] | {box for _bag, box in lays if box is not None}
    newest = select(Lay.in_box_id, Lay.at_place_id).order_by(Lay.entered_at.desc(), Lay.id.desc()).limit(1)
    for kind, column, things in (("bag", Lay.bag_id, bags), ("box", Lay.box_id, boxes)):
        for row_id in sorted(things):
            laid = session.execute(newest.where(column == row_id)).one_or_none()
            in_box, at_place = (None, None) if laid is None else (laid.in_box_id, laid.at_place_id)
            lies: dict[str, Any] = {"box_id": in_box, "place_id": at_place}
            tell_change(session, changes, kind, row_id, lies if kind == "bag" else {"place_id": at_place})


def _put_loans_right(session: Session, changes: Changes, ids: dict[str, set[int]]) -> None:
    of_returns = session.execute(select(LoanReturn.loan_line_id).where(LoanReturn.id.in_(ids["loan_return"]))).scalars()
    lines = session.execute(
        select(LoanLine).where(
            or_(LoanLine.id.in_(ids["loan_line"] | set(of_returns)), LoanLine.loan_id.in_(ids["loan"]))
        )
    ).scalars()
    sums = (
        func.coalesce(func.sum(LoanReturn.pieces), 0),
        func.coalesce(func.sum(LoanReturn.used_up), 0),
        func.max(LoanReturn.back_on),
    )
    loans: set[int] = set()
    for line in lines.all():
        back, used, last = session.execute(select(*sums).where(LoanReturn.loan_line_id == line.id)).one()
        day = (line.back_on or last) if int(back) + int(used) == line.pieces else None
        values = {"pieces_back": int(back), "pieces_used": int(used), "back_on": plain(day)}
        tell_change(session, changes, "loan_line", line.id, values)
        loans.add(line.loan_id)
    for loan_id in sorted(loans):
        of_loan = select(LoanLine.back_on).where(LoanLine.loan_id == loan_id)
        _put_end_right(session, changes, ("loan", loan_id, "back_on"), of_loan)


def _put_moves_right(session: Session, changes: Changes, ids: dict[str, set[int]]) -> None:
    of_lines = select(TransportLine.transport_id).where(TransportLine.id.in_(ids["transport_line"]))
    for transport_id in sorted(ids["transport"] | set(session.execute(of_lines).scalars())):
        arrived = select(TransportLine.arrived_at).where(TransportLine.transport_id == transport_id)
        _put_end_right(session, changes, ("transport", transport_id, "arrived_at"), arrived)


def _put_end_right(session: Session, changes: Changes, of: tuple[str, int, str], ends: Any) -> None:
    """Let a whole be at its end when its last part is, and not before; the moment that stands there stays."""
    kind, row_id, column = of
    found = list(session.execute(ends).scalars())
    there = plain_columns(session, kind, row_id, [column])
    last = None if not found or any(one is None for one in found) else max(found)
    if there is not None and (there[column] is None) != (last is None):
        tell_change(session, changes, kind, row_id, {column: plain(last)})


def given_up_but_used(session: Session) -> list[tuple[str, int]]:
    """Return boxes and places that were given up and hold something: bags with pieces, boxes, places."""
    filled = select(Bag.id).where(Bag.pieces > 0)
    inner, lying = aliased(Place), aliased(Box)
    boxes = select(Box.id).where(Box.gone_at.is_not(None), filled.where(Bag.box_id == Box.id).exists())
    places = select(Place.id).where(
        Place.gone_at.is_not(None),
        or_(
            filled.where(Bag.place_id == Place.id).exists(),
            select(lying.id).where(lying.place_id == Place.id, lying.gone_at.is_(None)).exists(),
            select(inner.id).where(inner.parent_id == Place.id, inner.gone_at.is_(None)).exists(),
        ),
    )
    found = [("box", row_id) for row_id in session.execute(boxes.order_by(Box.id)).scalars()]
    return found + [("place", row_id) for row_id in session.execute(places.order_by(Place.id)).scalars()]
