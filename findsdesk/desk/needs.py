"""What needs a person: what is missing, forgotten, held, doubtful, over, without a tag, to see or write again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby
from typing import Any

from sqlalchemy import func, select, union_all
from sqlalchemy.orm import Session

from findsdesk.desk.box_label_words import WHY, boxes_said_wrong
from findsdesk.desk.discard_lists import stage_of_row
from findsdesk.desk.not_met import on_the_way, still_missing
from findsdesk.desk.reading_rows import readings_that_wait
from findsdesk.desk.wanting_why import wanting_why_in
from findsdesk.domain.balance import Decision
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.store.models import (
    Bag,
    Box,
    Clash,
    Container,
    DiscardLine,
    DiscardList,
    FoundObject,
    Loan,
    LoanLine,
    Note,
    Piece,
    Place,
    Redo,
    RowSetAside,
    SherdGroup,
    Step,
    StockScan,
    StockTake,
    Transport,
    TransportLine,
)


@dataclass(frozen=True, slots=True)
class Need:
    """Something that waits for a person: what kind, about which containers, since when, with its facts."""

    kind: str
    numbers: tuple[str, ...]
    since: datetime | None
    facts: Mapping[str, Any]


def needs_of(
    session: Session, too_long: list[tuple[str, datetime]], over: tuple[str, ...], today: date
) -> tuple[Need, ...]:
    """Return what needs a person; what lies too long in a tub and what is over were looked up already."""
    needs = [
        *_missing(session),
        *(
            [Need("soaking_too_long", tuple(n for n, _ in too_long), min(s for _, s in too_long), {})]
            if too_long
            else []
        ),
        *_held(session),
        *_differences(session),
        *_rows_set_aside(session),
        *_clashes(session),
        *([Need("over", over, None, {})] if over else []),
        *_no_reason(session),
        *_untagged(session),
        *_to_look_at(session),
        *_new_objects(session),
        *_discard_lists(session),
        *_called_back(session),
        *_loans_overdue(session, today),
        *_not_met_on_the_shelves(session),
        *_to_redo(session),
    ]
    return tuple(needs)


def _missing(session: Session) -> list[Need]:
    rows = session.execute(
        select(Container.number, func.max(Step.happened_at))
        .join(Step, Step.container_id == Container.id)
        .where(Container.standing.in_((Standing.LISTED, Standing.MISSING)))
        .group_by(Container.id, Container.number, Container.number_key)
        .order_by(Container.number_key)
        .limit(50)
    ).all()
    return [Need("not_on_pallet", tuple(n for n, _ in rows), min(s for _, s in rows), {})] if rows else []


def _held(session: Session) -> list[Need]:
    rows = session.execute(
        select(Container.number, Container.held_for, func.max(Step.happened_at))
        .join(Step, (Step.container_id == Container.id) & (Step.kind == StepKind.HELD))
        .where(Container.held_for.is_not(None))
        .group_by(Container.id, Container.number, Container.number_key, Container.held_for)
        .order_by(Container.number_key)
    ).all()
    if not rows:
        return []
    why = tuple(dict.fromkeys(held_for for _, held_for, _ in rows))
    return [Need("held", tuple(n for n, _, _ in rows), min(s for _, _, s in rows), {"why": why})]


def _differences(session: Session) -> list[Need]:
    rows = session.execute(
        select(Container.number, Note.facts, Note.happened_at)
        .join(Note, Note.container_id == Container.id)
        .where(Note.answered_at.is_(None))
        .order_by(Note.id)
        .limit(20)
    ).all()
    return [Need("other_deposit", (number,), since, facts) for number, facts, since in rows]


def _no_reason(session: Session) -> list[Need]:
    """Return the containers with rows that are decided against a rule and say no reason."""
    rows = wanting_why_in(session)
    return (
        [Need("no_reason", tuple(one.number for one in rows), None, {"n": sum(one.rows for one in rows)})]
        if rows
        else []
    )


def _rows_set_aside(session: Session) -> list[Need]:
    rows = session.execute(
        select(RowSetAside.file_name, func.count())
        .where(RowSetAside.answered_at.is_(None))
        .group_by(RowSetAside.file_name)
        .order_by(RowSetAside.file_name)
    ).all()
    return [Need("rows_set_aside", (), None, {"file": name, "n": count}) for name, count in rows]


def _untagged(session: Session) -> list[Need]:
    rows = session.execute(
        select(Container.number, Container.arrived_at)
        .where(Container.provisional, Container.standing.not_in((Standing.VOID, Standing.JOINED)))
        .order_by(Container.number_key)
        .limit(50)
    ).all()
    return [Need("untagged", tuple(n for n, _ in rows), rows[0][1], {})] if rows else []


def _to_look_at(session: Session) -> list[Need]:
    return [
        Need("look_again", (one.container or one.deposit,), one.read_at, {"why": one.look_again_why, "who": one.who})
        for one in readings_that_wait(session)
    ]


def _discard_lists(session: Session) -> list[Need]:
    """Return the discard lists that wait for a signature, the inspector or the barrow; the oldest first."""
    rows = session.execute(
        select(DiscardList, func.sum(DiscardLine.pieces))
        .join(DiscardLine, DiscardLine.list_id == DiscardList.id)
        .where(
            DiscardList.carried_at.is_(None), DiscardList.withdrawn_at.is_(None), DiscardLine.called_back_at.is_(None)
        )
        .group_by(DiscardList.id)
        .order_by(DiscardList.made_at, DiscardList.id)
    ).all()
    return [
        Need("discard_list", (), row.made_at, {"number": row.number, "stage": stage_of_row(row), "n": int(pieces)})
        for row, pieces in rows
    ]


_UNPACKED = (Standing.SORTING, Standing.SETTLED)


def _called_back(session: Session) -> list[Need]:
    """Return what was called back from a discard list or taken off it and lies in no bag: until it is packed."""
    # With nothing behind it the standing uses no index: SQLite begins at the few lines, not at all containers.
    standing = Container.standing.concat("")
    held = (
        select(Container.number, Container.number_key, DiscardList.number, DiscardLine.called_back_at, of.pieces)
        .select_from(DiscardLine)
        .join(of, own == of.id)
        .join(DiscardList, DiscardLine.list_id == DiscardList.id)
        .join(Container, of.container_id == Container.id)
        .where(DiscardLine.called_back_at.is_not(None), of.decision != Decision.DISCARD, standing.in_(_UNPACKED))
        for of, own in ((SherdGroup, DiscardLine.group_id), (Piece, DiscardLine.piece_id))
    )
    rows = union_all(*held).subquery()
    number, key, of_list, since, pieces = rows.c
    found = session.execute(
        select(number, of_list, func.min(since), func.sum(pieces)).group_by(number, key, of_list).order_by(of_list, key)
    )
    return [
        Need("called_back", (container,), when, {"number": listed, "n": int(n)}) for container, listed, when, n in found
    ]


def _loans_overdue(session: Session, today: date) -> list[Need]:
    """Return the loans of which something is out beyond the day it is due; the longest due first."""
    rows = session.execute(
        select(
            Loan.number,
            Loan.code,
            Loan.borrower,
            Loan.due_on,
            Loan.made_at,
            func.sum(LoanLine.pieces - LoanLine.pieces_back - LoanLine.pieces_used),
        )
        .join(LoanLine, LoanLine.loan_id == Loan.id)
        .where(Loan.back_on.is_(None), Loan.due_on < today)
        .group_by(Loan.id, Loan.number, Loan.code, Loan.borrower, Loan.due_on, Loan.made_at)
        .order_by(Loan.due_on, Loan.number)
    ).all()
    return [
        Need(
            "loan_overdue",
            (str(number),),
            since,
            {"who": who, "n": int(out), "days": (today - due_on).days, "code": code},
        )
        for number, code, who, due_on, since, out in rows
    ]


def _not_met_on_the_shelves(session: Session) -> list[Need]:
    """Return what is missing since a stock-take, and what is on the way, by stock-take and by transport."""
    missed = select(StockTake.number, Place.name, StockScan.happened_at, Box.code, Bag.code)
    carried = select(Transport.number, Place.name, Transport.left_at, Box.code, Bag.code)
    missing = still_missing(missed).join(Place, StockTake.place_id == Place.id).order_by(StockTake.number)
    moving = (
        on_the_way(carried)
        .outerjoin(Box, TransportLine.box_id == Box.id)
        .outerjoin(Bag, TransportLine.bag_id == Bag.id)
        .join(Place, Transport.to_place_id == Place.id)
        .order_by(Transport.number)
    )
    needs: list[Need] = []
    for kind, wanted in (("missing_on_shelves", missing), ("on_the_way", moving)):
        for (number, place, since), rows in groupby(session.execute(wanted), key=lambda row: tuple(row[:3])):
            codes = tuple(box or bag for *_, box, bag in rows)
            needs.append(Need(kind, codes, since, {"number": number, "place": place, "n": len(codes)}))
    return needs


def _clashes(session: Session) -> list[Need]:
    """Return that stores which met said different things, until somebody decides."""
    waits = select(func.count(), func.min(Clash.found_at)).where(Clash.decided_at.is_(None))
    n, since = session.execute(waits).one()
    return [Need("clashes", (), since, {"n": n})] if n else []


def _new_objects(session: Session) -> list[Need]:
    """Return the objects that the director has not yet said to know of."""
    rows = session.execute(
        select(FoundObject.number, FoundObject.what, FoundObject.found_at, Container.number)
        .join(Container, FoundObject.container_id == Container.id)
        .where(FoundObject.told_at.is_(None))
        .order_by(FoundObject.season_id, FoundObject.number)
        .limit(20)
    ).all()
    return [
        Need("new_object", (container,), since, {"number": number, "what": what})
        for number, what, since, container in rows
    ]


def _to_redo(session: Session) -> list[Need]:
    rows = session.execute(
        select(Redo.why, func.sum(Redo.pieces), func.min(Redo.asked_at))
        .where(Redo.done_at.is_(None))
        .group_by(Redo.why)
        .order_by(func.min(Redo.asked_at), Redo.why)
    ).all()
    needs = [Need("to_redo", (), since, {"why": why, "n": int(things)}) for why, things, since in rows]
    boxes = boxes_said_wrong(session)
    if boxes:
        since = min(one.labelled_at for one in boxes)
        needs.append(Need("to_redo", (), since, {"why": WHY, "n": len(boxes)}))
    return needs
