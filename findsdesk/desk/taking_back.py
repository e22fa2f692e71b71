"""Taking back one's last act on the groups and pieces of a container, and doing it again: each a new act."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import tee
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.drawn_shares import carry_draws, turn_draws
from findsdesk.desk.finding import container_of
from findsdesk.desk.group_rows import erase_group, facts_from_values, rewrite_group, values_of, write_group
from findsdesk.desk.later_acts import ROWS, later_of_another_kind, refuse_gone
from findsdesk.desk.on_the_table import need_on_table
from findsdesk.desk.piece_rows import bring_back_piece, erase_piece, restore_piece
from findsdesk.desk.pieces import refuse_in_use
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import StepKind
from findsdesk.domain.taking_back import Found, PastAct, RowChange, last_of, last_taken_back
from findsdesk.store.models import (
    Act,
    Container,
    Line,
    Piece,
    ShareDrawn,
    SherdGroup,
    Step,
)
from findsdesk.words import N_

TAKING_BACK = "take_back_last"
DOING_AGAIN = "do_again"
ON_GROUPS = (
    "add_group",
    "add_groups",
    "change_group",
    "remove_group",
    "draw_share",
    "lift_pieces",
    "lay_back",
    "change_piece",
    TAKING_BACK,
    DOING_AGAIN,
)
FIRST_LOOK, AT_MOST = 4, 256
"""How many acts are looked at together: few at first, since one's last act is mostly the last of all; then more."""


@dataclass(frozen=True, slots=True)
class TakenBack:
    """What was taken back: the deed, what it had said, and the table's container."""

    container_id: int
    code: str
    number: str
    deed: str
    said: str


def take_back_last(desk: Desk, tag: str) -> TakenBack:
    """Take back the person's last act on the groups and pieces of a container since its sorting began.

    Refusals: ``nothing_to_take_back``, ``row_moved_since`` (naming the later act, also one of another kind),
    ``type_gone`` (its ware, form or vessel is no more), ``piece_in_use``, ``on_discard_list``, and those of the route.
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
        return _turned(deed, container, found)


def do_again(desk: Desk, tag: str) -> TakenBack:
    """Do again what the person took back last on a container, as long as nothing else was written after it.

    Refusals: ``nothing_to_do_again``, and those of ``take_back_last``.
    """
    with desk.deed(DOING_AGAIN) as deed:
        container = container_of(deed.session, desk, tag)
        need_on_table(deed, container)
        found = last_taken_back(_acts_on(deed.session, container), deed.person_id)
        if found is None:
            raise Refusal(
                "nothing_to_do_again",
                N_("You have taken back nothing on {container} {number} since your last row."),
                number=container.number,
            )
        return _turned(deed, container, found)


@dataclass(frozen=True, slots=True)
class InTurn:
    """What the next taking back takes back and the next doing again does, in one line each; '' where nothing."""

    back: str = ""
    again: str = ""


NOTHING_IN_TURN = InTurn()


def in_turn(session: Session, container: Container, person_id: int | None) -> InTurn:
    """Return what a person's next taking back and doing again would be about."""
    acts, the_same = tee(_acts_on(session, container))
    back, again = last_of(acts, person_id), last_taken_back(the_same, person_id)
    said = [session.get_one(Act, found.act.id).said if found else "" for found in (back, again)]
    return InTurn(*(one.removeprefix(f"{container.number}: ") for one in said))


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
    wanted = (
        select(Act.id, Act.person_id, Act.deed)
        .where(Act.written_at >= begun, Act.deed.in_(ON_GROUPS))
        .order_by(Act.written_at.desc(), Act.running.desc(), Act.id)
    )
    known: set[int] = set()
    first, many = 0, FIRST_LOOK
    while acts := session.execute(wanted.offset(first).limit(many)).all():
        first, many = first + many, min(AT_MOST, many * 4)
        lines = _lines_of(session, [act_id for act_id, _person, _deed in acts])
        known |= _still_there(session, container, (one.row_id for changes in lines.values() for one in changes))
        for act_id, person_id, deed in acts:
            changes = tuple(change for change in lines.get(act_id, ()) if _is_of(change, container, known))
            if changes:
                yield PastAct(act_id, person_id, deed == TAKING_BACK, changes, deed == DOING_AGAIN)


def _still_there(session: Session, container: Container, row_ids: Iterable[int]) -> set[int]:
    """Return which of these rows are groups or pieces of the container."""
    wanted = set(row_ids)
    return {
        row_id
        for kind in (SherdGroup, Piece)
        for row_id in session.execute(
            select(kind.id).where(kind.container_id == container.id, kind.id.in_(wanted))
        ).scalars()
    }


def _lines_of(session: Session, act_ids: list[str]) -> dict[str, list[RowChange]]:
    changes: dict[str, list[RowChange]] = {}
    rows = session.execute(
        select(Line.act_id, Line.kind, Line.row_id, Line.before, Line.after)
        .where(Line.act_id.in_(act_ids), Line.kind.in_((*ROWS, ShareDrawn.__tablename__)))
        .order_by(Line.act_id, Line.ordinal)
    )
    for line in rows:
        change = _of_a_share(line.after) if line.kind not in ROWS else RowChange(line.row_id, line.before, line.after)
        changes.setdefault(line.act_id, []).append(change)
    return changes


def _of_a_share(drawn: Mapping[str, Any]) -> RowChange:
    """Return a draw as a change of its row that changes nothing of it: a share may keep none of its sherds."""
    said = {"container_id": drawn["container_id"]}
    return RowChange(drawn["group_id"], said, said)


def _is_of(change: RowChange, container: Container, known: set[int]) -> bool:
    """Tell whether a change is of a container's group; one removed is known from then back by its removal's line."""
    if container.id in ((change.before or {}).get("container_id"), (change.after or {}).get("container_id")):
        known.add(change.row_id)
    return change.row_id in known


def _turned(deed: Deed, container: Container, found: Found) -> TakenBack:
    """Write the changes of an act the other way round, unless somebody worked on a row since."""
    _refuse_moved(deed, container, found)
    for change in found.changes:
        _undo(deed, container, change)
    turn_draws(deed, found.act.id, found.now_called)
    past = deed.session.get_one(Act, found.act.id)
    deed.said = past.said
    return TakenBack(container.id, container.code, container.number, past.deed, past.said)


def _refuse_moved(deed: Deed, container: Container, found: Found) -> None:
    later = later_of_another_kind(deed.session, found, ON_GROUPS) or found.in_the_way
    if later is None:
        return
    later = deed.session.get_one(Act, later.id)
    raise Refusal(
        "row_moved_since",
        N_("{person} worked on that row of {container} {number} afterwards ({said}). Change the row itself."),
        person=later.person_name,
        number=container.number,
        said=later.said,
    )


def _undo(deed: Deed, container: Container, change: RowChange) -> None:
    if change.before == change.after:
        return
    refuse_gone(deed.session, container, change.before or {})
    if _is_of_a_piece(deed, change):
        _undo_piece(deed, container, change)
        return
    if change.before is None:
        erase_group(deed, container, deed.session.get_one(SherdGroup, change.row_id))
        return
    if change.after is None:
        said, of = facts_from_values(deed.session, change.before)
        back = write_group(deed, container, said, of, ordinal=int(change.before["ordinal"]))
        back.vessel_id, back.diagnostic = change.before["vessel_id"], change.before["diagnostic"]
        carry_draws(deed, [change.row_id], back.id)
        return
    row = deed.session.get_one(SherdGroup, change.row_id)
    now = values_of(row)
    said, of = facts_from_values(deed.session, now | dict(change.before))
    if said != facts_from_values(deed.session, now)[0]:
        rewrite_group(deed, container, row, said, of)
    row.diagnostic = change.before.get("diagnostic", row.diagnostic)


def _is_of_a_piece(deed: Deed, change: RowChange) -> bool:
    """Tell whether a change is of a piece; ids are given once in a store, whatever they are given to."""
    if change.after is None and change.before is not None:
        return "code" in change.before
    return deed.session.get(Piece, change.row_id) is not None


def _undo_piece(deed: Deed, container: Container, change: RowChange) -> None:
    if change.after is None and change.before is not None:
        bring_back_piece(deed, container, change.before)
        return
    row = deed.session.get_one(Piece, change.row_id)
    if change.before is None:
        refuse_in_use(deed, container, row)
        erase_piece(deed, container, row)
        return
    restore_piece(deed, container, row, change.before)
