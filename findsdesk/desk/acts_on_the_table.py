"""The acts on what lies on a sorting table, newest first: those that are taken back in turn, and those that stay."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import and_, or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.later_acts import IN_VESSELS, ROWS, of_rows_alone
from findsdesk.domain.routes import StepKind
from findsdesk.domain.taking_back import PastAct, RowChange
from findsdesk.store.models import Act, Container, LedgerEntry, Line, Piece, ShareDrawn, SherdGroup, Step

TAKING_BACK = "take_back_last"
DOING_AGAIN = "do_again"
ON_TABLE = (
    "add_group",
    "add_groups",
    "change_group",
    "say_why",
    "remove_group",
    "draw_share",
    "lift_pieces",
    "lay_back",
    "explain",
    "answer_entry",
    *IN_VESSELS,
    TAKING_BACK,
    DOING_AGAIN,
)
"""What is taken back in turn. A piece is described and gathered at a bench of its own, and corrected there."""
STAYS = (
    "count_again",
    "count_at_sorting",
    "take_sample",
    "use_up_sample",
    "register_object",
    "take_out",
    "read_container",
    "correct_reading",
    "change_piece",
    *IN_VESSELS,
)
"""What is done to the same container and is not taken back by one key: it is named where it was done since."""
FIRST_LOOK, AT_MOST = 4, 256
"""How many acts are looked at together: few at first, since one's last act is mostly the last of all; then more."""
_NAMED_AT_MOST = 16


_KINDS = (*ROWS, LedgerEntry.__tablename__, ShareDrawn.__tablename__)


def acts_on(session: Session, container: Container) -> Iterator[PastAct]:
    """Yield the acts on the container's groups, pieces and explanations since its sorting began, the newest first."""
    begun = _begun(session, container)
    if begun is None:
        return
    wanted = (
        select(Act.id, Act.person_id, Act.deed)
        .where(Act.written_at >= begun, Act.deed.in_(ON_TABLE))
        .order_by(Act.written_at.desc(), Act.running.desc(), Act.id)
    )
    known: set[int] = set()
    first, many = 0, FIRST_LOOK
    while acts := session.execute(wanted.offset(first).limit(many)).all():
        first, many = first + many, min(AT_MOST, many * 4)
        lines = _lines_of(session, [act_id for act_id, _person, _deed in acts])
        known |= _still_there(session, container, (one.row_id for changes in lines.values() for one in changes))
        for act_id, person_id, deed in acts:
            if deed in IN_VESSELS and not of_rows_alone(session, act_id):
                continue
            changes = tuple(change for change in lines.get(act_id, ()) if _is_of(change, container, known))
            if changes:
                yield PastAct(act_id, person_id, deed == TAKING_BACK, changes, deed == DOING_AGAIN)


def _still_there(session: Session, container: Container, row_ids: Iterable[int]) -> set[int]:
    """Return which of these rows are groups, pieces or entries of the container."""
    wanted = set(row_ids)
    return {
        row_id
        for kind in (SherdGroup, Piece, LedgerEntry)
        for row_id in session.execute(
            select(kind.id).where(kind.container_id == container.id, kind.id.in_(wanted))
        ).scalars()
    }


def _lines_of(session: Session, act_ids: list[str]) -> dict[str, list[RowChange]]:
    """Return what acts did, act by act; a row that was written twice in one act changed once."""
    changes: dict[str, dict[tuple[str, int], RowChange]] = {}
    rows = session.execute(
        select(Line.act_id, Line.kind, Line.row_id, Line.before, Line.after)
        .where(Line.act_id.in_(act_ids), Line.kind.in_(_KINDS))
        .order_by(Line.act_id, Line.ordinal)
    )
    for line in rows:
        of_the_act, row = changes.setdefault(line.act_id, {}), (line.kind, line.row_id)
        change = _change(line.kind, line.row_id, line.before, line.after)
        of_the_act[row] = of_the_act[row].then(change) if row in of_the_act else change
    return {act_id: list(of_the_act.values()) for act_id, of_the_act in changes.items()}


def _change(kind: str, row_id: int, before: Mapping[str, Any] | None, after: Mapping[str, Any] | None) -> RowChange:
    """Return what a line says; an entry that answers another one is the removal of that one."""
    if kind == ShareDrawn.__tablename__ and after is not None:
        return _of_a_share(after)
    if kind == LedgerEntry.__tablename__ and after is not None and after["answers_id"] is not None:
        return RowChange(after["answers_id"], after, None)
    return RowChange(row_id, before, after)


def _of_a_share(drawn: Mapping[str, Any]) -> RowChange:
    """Return a draw as a change of its row that changes nothing of it: a share may keep none of its sherds."""
    said = {"container_id": drawn["container_id"]}
    return RowChange(drawn["group_id"], said, said)


def _is_of(change: RowChange, container: Container, known: set[int]) -> bool:
    """Tell whether a change is of a container's group; one removed is known from then back by its removal's line."""
    if container.id in ((change.before or {}).get("container_id"), (change.after or {}).get("container_id")):
        known.add(change.row_id)
    return change.row_id in known


def _begun(session: Session, container: Container) -> datetime | None:
    """Return when the sorting of a container began, or began again.

    What was explained before the first row belongs to it: it reaches back to the step before.
    """
    steps = session.execute(
        select(Step.kind, Step.entered_at, Step.note)
        .where(Step.container_id == container.id)
        .order_by(Step.entered_at.desc(), Step.id.desc())
    ).all()
    place = _next_of(steps, 0, (StepKind.SORTING, StepKind.REOPENED))
    if place is None:
        return steps[0].entered_at if steps else None
    while steps[place].kind == StepKind.SORTING:
        earlier = _beginning_taken_back(steps, place)
        if earlier is None:
            place = _step_before(steps, place)
            break
        place = earlier
    began: datetime = steps[place].entered_at
    return began


_MOVES_NOTHING = (StepKind.LISTED, StepKind.HELD, StepKind.RELEASED, StepKind.SPLIT, StepKind.CORRECTED)
_BEFORE_IT_BEGINS_AGAIN = (*_MOVES_NOTHING, StepKind.COUNTED, StepKind.DRY)


def _next_of(steps: Sequence[Any], first: int, kinds: Collection[StepKind]) -> int | None:
    """Return the place of the newest step of these kinds from a place on; steps come newest first."""
    return next((place for place in range(first, len(steps)) if steps[place].kind in kinds), None)


def _beginning_taken_back(steps: Sequence[Any], place: int) -> int | None:
    """Return the beginning before this one that was taken back, or None: what was done since it is still in turn.

    Meanwhile it lay dry, where an object may have been met in it, or it was counted again.
    """
    before = next((one for one in range(place + 1, len(steps)) if steps[one].kind not in _BEFORE_IT_BEGINS_AGAIN), None)
    if before is None or steps[before].kind != StepKind.TAKEN_BACK or steps[before].note:
        return None
    return _next_of(steps, before + 1, (StepKind.SORTING,))


def _step_before(steps: Sequence[Any], place: int) -> int:
    """Return the place of the step before a beginning that moved the container."""
    last = len(steps) - 1
    before = min(place + 1, last)
    if steps[before].kind == StepKind.DRY and steps[before].entered_at == steps[place].entered_at:
        before = min(before + 1, last)
    while steps[before].kind in _MOVES_NOTHING and before < last:
        before += 1
    return before


def stays_since(session: Session, container: Container, person_id: int | None, act: Act | None) -> Act | None:
    """Return the person's newest act on a container that is not taken back in turn, done after ``act``, or None."""
    begun = _begun(session, container)
    if begun is None:
        return None
    later = Act.written_at >= begun
    if act is not None:
        at_once = and_(Act.written_at == act.written_at, Act.station_id == act.station_id, Act.running > act.running)
        later = or_(Act.written_at > act.written_at, at_once)
    acts = session.execute(
        select(Act)
        .where(later, Act.deed.in_(STAYS), Act.person_id == person_id)
        .order_by(Act.written_at.desc(), Act.running.desc())
        .limit(_NAMED_AT_MOST)
    ).scalars()
    return next((one for one in acts if _is_about(session, one, container)), None)


def _is_about(session: Session, act: Act, container: Container) -> bool:
    if act.deed in IN_VESSELS and of_rows_alone(session, act.id):
        return False
    lines = session.execute(select(Line.row_id, Line.before, Line.after).where(Line.act_id == act.id)).all()
    if any(container.id == (said or {}).get("container_id") for line in lines for said in line[1:]):
        return True
    return bool(_still_there(session, container, (line.row_id for line in lines)))
