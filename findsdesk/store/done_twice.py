"""What both of two stores did to one thing since they parted, of which one alone can stand: bags, loans, marks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.domain.standings import StepKind
from findsdesk.store.courier_clashes import ClashFound, Said, found
from findsdesk.store.courier_rows import Row
from findsdesk.store.models import Act, Bag, Container, Line, Loan, LoanLine
from findsdesk.store.one_of_two import HOLDS, IN_BAGS, LENT, MARKED, PACKED, WHY, own_bags, when
from findsdesk.store.told_changes import plain_columns

_LENT_AS = {
    "bag": LoanLine.bag_id,
    "box": LoanLine.box_id,
    "piece": LoanLine.piece_id,
    "container": LoanLine.container_id,
    "lab_sample": LoanLine.sample_id,
}


def done_twice(
    session: Session, ours: Mapping[Row, Said], theirs: Mapping[Row, Said], overmarked: Collection[int]
) -> Iterator[ClashFound]:
    """Yield containers that both packed or marked, and things that both lent; ``overmarked``: marked beyond what is."""
    yield from _packed(session, ours, theirs)
    yield from _lent(session)
    mine, yours = _ticks(ours), _ticks(theirs)
    for container_id in sorted(mine.keys() & yours.keys() & set(overmarked)):
        yield found(MARKED, ("container", container_id), mine[container_id], yours[container_id])


def _packed(session: Session, ours: Mapping[Row, Said], theirs: Mapping[Row, Said]) -> Iterator[ClashFound]:
    mine, yours = _bagged(ours), _bagged(theirs)
    both = mine.keys() & yours.keys()
    in_bags = select(Container.id).where(Container.id.in_(both), Container.standing.in_(IN_BAGS))
    for container_id in sorted(session.execute(in_bags).scalars()):
        one = _with_bags(session, container_id, mine[container_id], ours)
        other = _with_bags(session, container_id, yours[container_id], theirs)
        if own_bags(one.values, other.values) and own_bags(other.values, one.values):
            yield found(PACKED, ("container", container_id), one, other)


def _bagged(said: Mapping[Row, Said]) -> dict[int, Said]:
    """Return the first time one side bagged each container."""
    first: dict[int, Said] = {}
    for (kind, _row_id), one in sorted(said.items()):
        if kind == "step" and one.new and one.values["kind"] == StepKind.BAGGED:
            first.setdefault(one.values["container_id"], one)
    return first


def _with_bags(session: Session, container_id: int, step: Said, said: Mapping[Row, Said]) -> Said:
    bags: list[dict[str, Any]] = []
    of_it = select(Bag.id, Bag.code).where(Bag.container_id == container_id).order_by(Bag.id)
    for bag_id, code in session.execute(of_it):
        one = said.get(("bag", bag_id))
        if one is not None and one.values.get("pieces"):
            holds = plain_columns(session, "bag", bag_id, HOLDS) or {}
            told = {name: one.values.get(name, value) for name, value in holds.items()}
            bags.append({"id": bag_id, "code": code, **told})
    return Said(step.station_id, step.act_id, {"bags": bags})


def _lent(session: Session) -> Iterator[ClashFound]:
    """Yield what is out on two loans; the line that was written last is one side of each."""
    for kind, column in _LENT_AS.items():
        out: dict[int, list[Said]] = defaultdict(list)
        still = LoanLine.back_on.is_(None)
        twice = select(column).where(still, column.is_not(None)).group_by(column).having(func.count() > 1)
        for thing, line_id in session.execute(select(column, LoanLine.id).where(still, column.in_(twice))):
            if thing is not None:
                out[thing].append(_line(session, line_id))
        for thing, lines in sorted(out.items()):
            *others, last = sorted(lines, key=lambda side: when(session, side.act_id))
            for other in others:
                yield found(LENT, (kind, thing), other, last)


def _line(session: Session, line_id: int) -> Said:
    told = select(Act.station_id, Act.id).join(Line, Line.act_id == Act.id)
    station_id, act_id = session.execute(
        told.where(Line.kind == "loan_line", Line.row_id == line_id, Line.before.is_(None))
        .order_by(Act.written_at, Act.station_id, Act.running)
        .limit(1)
    ).one()
    number, borrower = session.execute(
        select(Loan.number, Loan.borrower).join(LoanLine, LoanLine.loan_id == Loan.id).where(LoanLine.id == line_id)
    ).one()
    return Said(station_id, act_id, {"line": line_id, "loan": number, "borrower": borrower})


def _ticks(said: Mapping[Row, Said]) -> dict[int, Said]:
    """Return the ticks of each container that one side wrote and did not take back itself, by the first act of them."""
    entries = {row_id: one for (kind, row_id), one in sorted(said.items()) if kind == "mark_entry" and one.new}
    answered = {one.values["answers_id"] for one in entries.values()}
    sides: dict[int, Said] = {}
    for row_id, one in entries.items():
        undone = row_id in answered or one.values["answers_id"] in entries
        if not undone and one.values["why"] != WHY:
            side = sides.setdefault(
                one.values["container_id"], Said(one.station_id, one.act_id, {"ticks": [], "marked": 0})
            )
            side.values["ticks"].append(row_id)
            side.values["marked"] += one.values["pieces"]
    return sides
