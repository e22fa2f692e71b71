"""Taking back one's last act on the groups of a container: a new act that does its opposite."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding import container_of
from findsdesk.desk.group_rows import erase_group, facts_from_values, rewrite_group, values_of, write_group
from findsdesk.desk.on_the_table import need_on_table
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import StepKind
from findsdesk.domain.taking_back import Found, PastAct, RowChange, last_of
from findsdesk.store.models import Act, Container, Line, SherdGroup, Step
from findsdesk.words import N_

TAKING_BACK = "take_back_last"


@dataclass(frozen=True, slots=True)
class TakenBack:
    """What was taken back: the deed, what it had said, and the table's container."""

    container_id: int
    code: str
    number: str
    deed: str
    said: str


def take_back_last(desk: Desk, tag: str) -> TakenBack:
    """Take back the person's last act on the groups of a container since its sorting began.

    Refusals: ``nothing_to_take_back``, ``row_moved_since`` (naming the later act), and those of the route.
    """
    with desk.deed(TAKING_BACK) as deed:
        container = container_of(deed.session, desk, tag)
        need_on_table(deed, container)
        found = last_of(_acts_on(deed.session, container), deed.person_id)
        if found is None:
            raise Refusal(
                "nothing_to_take_back",
                N_("You have written nothing on {container} {number} that could be taken back."),
                number=container.number,
            )
        _refuse_moved(deed, container, found)
        for change in found.changes:
            _undo(deed, container, change)
        past = deed.session.get_one(Act, found.act.id)
        deed.said = f"{container.number}: {past.said}"
    return TakenBack(container.id, container.code, container.number, past.deed, past.said)


def _acts_on(session: Session, container: Container) -> Iterator[PastAct]:
    """Yield the acts on the container's groups since its sorting began, the newest first."""
    begun = session.execute(
        select(Step.entered_at)
        .where(Step.container_id == container.id, Step.kind.in_((StepKind.SORTING, StepKind.REOPENED)))
        .order_by(Step.entered_at.desc(), Step.id.desc())
        .limit(1)
    ).scalar()
    if begun is None:
        return
    rows = _row_ids(session, container, begun)
    lines = session.execute(
        select(Line, Act.id, Act.person_id, Act.deed)
        .join(Act, Line.act_id == Act.id)
        .where(Line.kind == SherdGroup.__tablename__, Line.row_id.in_(rows), Act.written_at >= begun)
        .order_by(Act.written_at.desc(), Act.running.desc(), Act.id, Line.ordinal)
    ).all()
    for (act_id, person_id, deed), of_act in groupby(lines, key=lambda row: (row[1], row[2], row[3])):
        changes = tuple(RowChange(line.row_id, line.before, line.after) for line, *_rest in of_act)
        yield PastAct(act_id, person_id, deed == TAKING_BACK, changes)


def _row_ids(session: Session, container: Container, begun: datetime) -> set[int]:
    """Return the ids of the container's groups, also of those removed since its sorting began."""
    standing = session.execute(select(SherdGroup.id).where(SherdGroup.container_id == container.id)).scalars()
    gone = session.execute(
        select(Line.row_id)
        .join(Act, Line.act_id == Act.id)
        .where(
            Line.kind == SherdGroup.__tablename__,
            Act.written_at >= begun,
            or_(
                Line.before["container_id"].as_integer() == container.id,
                Line.after["container_id"].as_integer() == container.id,
            ),
        )
    ).scalars()
    return {*standing, *gone}


def _refuse_moved(deed: Deed, container: Container, found: Found) -> None:
    if found.in_the_way is None:
        return
    later = deed.session.get_one(Act, found.in_the_way.id)
    raise Refusal(
        "row_moved_since",
        N_("{person} worked on that row of {container} {number} afterwards ({said}). Change the row itself."),
        person=later.person_name,
        number=container.number,
        said=later.said,
    )


def _undo(deed: Deed, container: Container, change: RowChange) -> None:
    if change.before is None:
        erase_group(deed, container, deed.session.get_one(SherdGroup, change.row_id))
        return
    if change.after is None:
        said, ware = facts_from_values(deed.session, change.before)
        write_group(deed, container, said, ware, ordinal=int(change.before["ordinal"]))
        return
    row = deed.session.get_one(SherdGroup, change.row_id)
    now = values_of(row)
    said, ware = facts_from_values(deed.session, now | dict(change.before))
    if said != facts_from_values(deed.session, now)[0]:
        rewrite_group(deed, container, row, said, ware)
