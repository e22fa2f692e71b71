"""Work that was done in two stores on one thing: bags packed, loans, ticks of marks. One of the two stands.

Nothing is taken away: the bags that do not stand are empty, the line of the loan and the ticks are answered. The ids of
the answers follow from what they answer, so that both stores write the same ones.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import func, or_, select
from sqlalchemy.orm import Session, aliased

from findsdesk.domain.standings import Standing
from findsdesk.store.courier_clashes import id_that_follows
from findsdesk.store.journal import Changes, plain
from findsdesk.store.models import (
    Act,
    Bag,
    BalanceTotal,
    Clash,
    Container,
    Loan,
    LoanLine,
    LoanReturn,
    MarkEntry,
    ProxySlip,
    Station,
)
from findsdesk.store.put_right import put_right
from findsdesk.store.told_changes import plain_columns, tell_change, tell_new

PACKED, LENT, MARKED = "packed", "lent", "marked"
TWICE = frozenset({PACKED, LENT, MARKED})
"""Clashes of work done in both stores."""
IN_BAGS = (Standing.BAGGED, Standing.AWAY)
WHY = "done in two stores"
"""Why something was answered; also what is said of the condition of a loan's line that does not stand."""
HOLDS = ("pieces", "tenths", "gross_tenths", "volume_ml")
"""What a bag holds."""
_EMPTY: dict[str, Any] = {"pieces": 0, "tenths": None, "gross_tenths": None, "volume_ml": None}
_LENDS = ("bag_id", "box_id", "piece_id", "container_id", "sample_id")
_ENTRY = [column.name for column in MarkEntry.__table__.columns]


@dataclass(frozen=True, slots=True)
class TwoSides:
    """What both sides of a clash did, by the values the clash keeps of them."""

    what: str
    row_id: int
    one: Mapping[str, Any]
    other: Mapping[str, Any]


def stand(session: Session, sides: TwoSides) -> tuple[bool, bool]:
    """Tell of each side whether what it did stands now."""
    one, other = sides.one, sides.other
    if sides.what == PACKED:
        return _filled(session, own_bags(one, other)), _filled(session, own_bags(other, one))
    if sides.what == LENT:
        return _out(session, one["line"]), _out(session, other["line"])
    return _any_stands(session, one), _any_stands(session, other)


def let_one_stand(
    session: Session, changes: Changes, sides: TwoSides, *, first: bool, now: datetime, decided: bool = False
) -> None:
    """Let what one side did stand and undo what the other did; each with a line of its own.

    ``decided``: bags are told even where they hold that already, as somebody says so.
    """
    kept, left = (sides.one, sides.other) if first else (sides.other, sides.one)
    if sides.what == PACKED:
        _let_bags(session, changes, kept, left, decided=decided)
    elif sides.what == LENT:
        for side, answered in ((left, True), (kept, False)):
            _let_line(session, changes, side["line"], answered=answered, now=now)
        put_right(session, changes, [("loan_line", side["line"]) for side in (left, kept)])
    else:
        for entry_id in left["ticks"]:
            _answer_tick(session, changes, _newest(session, entry_id), now)
        for entry_id in kept["ticks"]:
            _tick_again(session, changes, _newest(session, entry_id))


def put_twice_right(
    session: Session, changes: Changes, now: datetime, *, new: Collection[int], beyond: Callable[[], Collection[int]]
) -> None:
    """Let one of two stand wherever both do and cannot, or neither does: what was decided, else the later.

    ``new`` are clashes found just now; ``beyond`` finds containers of which more is in bags or marked than is kept.
    """
    clashes = select(Clash.id, Clash.what, Clash.row_id, Clash.one, Clash.other, Clash.choice, Station.name)
    rows = session.execute(
        clashes.join(Station, Station.id == Clash.one_station_id).where(Clash.what.in_(TWICE)).order_by(Clash.id)
    ).all()
    for clash_id, what, row_id, one, other, choice, station in rows:
        sides = TwoSides(what, row_id, one["values"], other["values"])
        if _needs_one(session, sides, is_new=clash_id in new, beyond=beyond):
            later = when(session, one["act"]) > when(session, other["act"])
            first = choice == station if choice not in ("", "both") else later
            let_one_stand(session, changes, sides, first=first, now=now)


def when(session: Session, act_id: str) -> tuple[Any, ...]:
    """Return when an act was written, by which two stores order two acts alike."""
    row = session.execute(select(Act.written_at, Act.station_id, Act.running).where(Act.id == act_id)).one()
    return tuple(row)


def _needs_one(session: Session, sides: TwoSides, *, is_new: bool, beyond: Callable[[], Collection[int]]) -> bool:
    one, other = stand(session, sides)
    if one and other:
        return is_new or sides.what == LENT or sides.row_id in beyond()
    if one or other:
        return False
    if sides.what == PACKED:
        return _in_bags(session, sides.row_id) and _bags_lost(session, sides.row_id)
    if sides.what == LENT:
        lines = [side["line"] for side in (sides.one, sides.other)]
        return all(_answered(session, line) for line in lines) and not _out_otherwise(session, lines[0])
    return not _bears_any(session, sides.row_id)


# Bags


def own_bags(side: Mapping[str, Any], other: Mapping[str, Any]) -> set[int]:
    """Return the bags that one side packed and the other did not."""
    return {bag["id"] for bag in side["bags"]} - {bag["id"] for bag in other["bags"]}


def filled_bags(session: Session, container_id: int) -> set[int]:
    """Return the bags of a container that hold something."""
    return set(session.execute(select(Bag.id).where(Bag.container_id == container_id, Bag.pieces > 0)).scalars())


def _filled(session: Session, bags: Collection[int]) -> bool:
    return session.execute(select(Bag.id).where(Bag.id.in_(bags), Bag.pieces > 0).limit(1)).first() is not None


def _in_bags(session: Session, container_id: int) -> bool:
    return session.execute(select(Container.standing).where(Container.id == container_id)).scalar() in IN_BAGS


def _bags_lost(session: Session, container_id: int) -> bool:
    """Tell whether something is kept of a container and lies in no bag."""
    kept = select(func.sum(BalanceTotal.kept + BalanceTotal.on_hold)).where(BalanceTotal.container_id == container_id)
    return bool(session.execute(kept).scalar()) and not filled_bags(session, container_id)


def _let_bags(
    session: Session, changes: Changes, kept: Mapping[str, Any], left: Mapping[str, Any], *, decided: bool
) -> None:
    for bag_id in sorted(own_bags(left, kept)):
        tell_change(session, changes, "bag", bag_id, _EMPTY, even_if_same=decided)
    for bag in kept["bags"]:
        holds = plain_columns(session, "bag", bag["id"], HOLDS) or _EMPTY
        if not holds["pieces"]:
            holds = {name: bag[name] for name in HOLDS}
        tell_change(session, changes, "bag", bag["id"], holds, even_if_same=decided)


# Loans


def _out(session: Session, line_id: int) -> bool:
    wanted = select(LoanLine.id).where(LoanLine.id == line_id, LoanLine.back_on.is_(None))
    return session.execute(wanted).first() is not None


def _out_otherwise(session: Session, line_id: int) -> bool:
    """Tell whether what a line lent is out on another loan."""
    line, other = aliased(LoanLine), aliased(LoanLine)
    same = or_(*(getattr(other, name) == getattr(line, name) for name in _LENDS))
    out = select(other.id).join(line, same).where(line.id == line_id, other.back_on.is_(None)).limit(1)
    return session.execute(out).first() is not None


def _answered(session: Session, line_id: int) -> int:
    """Return how many pieces of a line count as back since it does not stand."""
    wanted = select(func.sum(LoanReturn.pieces)).where(LoanReturn.loan_line_id == line_id, LoanReturn.condition == WHY)
    return int(session.execute(wanted).scalar() or 0)


def _let_line(session: Session, changes: Changes, line_id: int, *, answered: bool, now: datetime) -> None:
    line = session.execute(
        select(LoanLine.pieces, Loan.lent_on).join(Loan, LoanLine.loan_id == Loan.id).where(LoanLine.id == line_id)
    ).one_or_none()
    if line is None:
        return
    returns = select(func.sum(LoanReturn.pieces + LoanReturn.used_up), func.count())
    of_line = LoanReturn.loan_line_id == line_id
    back, _many = session.execute(returns.where(of_line, LoanReturn.condition != WHY)).one()
    written, many = session.execute(returns.where(of_line, LoanReturn.condition == WHY)).one()
    wanted = line.pieces - int(back or 0) if answered else 0
    if wanted == int(written or 0):
        return
    row_id = id_that_follows("loan_return", line_id, many)
    values = {
        "id": row_id, "loan_line_id": line_id, "pieces": wanted - int(written or 0), "used_up": 0, "condition": WHY,
        "back_on": plain(line.lent_on), "happened_at": plain(now), "person_id": None,
    }  # fmt: skip
    tell_new(session, changes, "loan_return", row_id, None, values)
    _let_slips(session, changes, line_id, laid_back=plain(now) if answered else None)


def _let_slips(session: Session, changes: Changes, line_id: int, *, laid_back: Any) -> None:
    """Let the slips that stand in for a line's piece be taken away, or lie there again."""
    lies = ProxySlip.laid_back_at.is_(None) if laid_back else ProxySlip.laid_back_at.is_not(None)
    slips = session.execute(select(ProxySlip.id).where(ProxySlip.loan_line_id == line_id, lies).order_by(ProxySlip.id))
    for slip_id in slips.scalars().all():
        tell_change(session, changes, "proxy_slip", slip_id, {"laid_back_at": laid_back})


# Ticks of marks


def _there(session: Session, entry_id: int) -> bool:
    return session.execute(select(MarkEntry.id).where(MarkEntry.id == entry_id)).first() is not None


def _newest(session: Session, entry_id: int) -> int:
    """Return the tick that says it now: one that was answered and let stand again was written again."""
    while _there(session, again := id_that_follows("ticked again", entry_id)):
        entry_id = again
    return entry_id


def _stands(session: Session, entry_id: int) -> bool:
    return session.execute(select(MarkEntry.id).where(MarkEntry.answers_id == entry_id).limit(1)).first() is None


def _any_stands(session: Session, side: Mapping[str, Any]) -> bool:
    return any(_stands(session, _newest(session, entry_id)) for entry_id in side["ticks"])


def _bears_any(session: Session, container_id: int) -> bool:
    """Tell whether a tick of a container stands."""
    later = aliased(MarkEntry)
    answered = select(later.id).where(later.answers_id == MarkEntry.id).exists()
    of_it = select(MarkEntry.id).where(MarkEntry.container_id == container_id, MarkEntry.answers_id.is_(None))
    return session.execute(of_it.where(~answered).limit(1)).first() is not None


def _answer_tick(session: Session, changes: Changes, entry_id: int, now: datetime) -> None:
    entry = plain_columns(session, "mark_entry", entry_id, _ENTRY)
    if entry is None or not _stands(session, entry_id):
        return
    row_id = id_that_follows("tick answered", entry_id)
    answer = {"id": row_id, "pieces": -entry["pieces"], "why": WHY, "answers_id": entry_id, "happened_at": plain(now)}
    tell_new(session, changes, "mark_entry", row_id, None, entry | answer)


def _tick_again(session: Session, changes: Changes, entry_id: int) -> None:
    """Write a tick again that was answered since it was done in two stores; what a person answered stays answered."""
    entry = plain_columns(session, "mark_entry", entry_id, _ENTRY)
    if entry is not None and _there(session, id_that_follows("tick answered", entry_id)):
        row_id = id_that_follows("ticked again", entry_id)
        tell_new(session, changes, "mark_entry", row_id, None, entry | {"id": row_id})
