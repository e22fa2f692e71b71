"""A container lies again where it lay when the row is taken back that had put it onto the sorting table."""

from __future__ import annotations

from datetime import datetime
from itertools import takewhile

from sqlalchemy import select

from findsdesk.desk.acts_on_the_table import ON_TABLE, acts_on
from findsdesk.desk.desk import Deed
from findsdesk.desk.group_rows import has_rows
from findsdesk.desk.steps import parts_of, take_step
from findsdesk.domain.routes import StepKind
from findsdesk.domain.standings import Standing
from findsdesk.domain.taking_back import standing_acts
from findsdesk.store.models import Act, Container, Line, Part, Step


def leave_the_table(deed: Deed, container: Container, taken_back: str) -> None:
    """Let a container go back where it stood before its sorting was begun by an act that stands no more.

    ``taken_back`` is the id of the act that this deed takes back. It stays on the table while a row of anybody lies
    there, while a later act on it stands, or where it was put there by hand.
    """
    if Standing(container.standing) is not Standing.SORTING or has_rows(deed, container):
        return
    begun_by = _begun_by(deed, container)
    if begun_by is None or begun_by.deed not in ON_TABLE:
        return
    acts = tuple(acts_on(deed.session, container))
    stand, done_again = standing_acts(acts)
    began = done_again.get(begun_by.id, begun_by.id)
    later = takewhile(lambda act: act.id != began, acts)
    if any(act.id in stand and act.id != taken_back for act in later) or (began in stand and began != taken_back):
        return
    _go_back(deed, container, begun_by)


def _begun_by(deed: Deed, container: Container) -> Act | None:
    """Return the act that put a container onto the table last, unless it was opened again or counted there first."""
    kinds = (StepKind.SORTING, StepKind.REOPENED)
    step = deed.session.execute(
        select(Step)
        .where(Step.container_id == container.id, Step.kind.in_(kinds))
        .order_by(Step.entered_at.desc(), Step.id.desc())
        .limit(1)
    ).scalar_one_or_none()
    if step is None or step.kind != StepKind.SORTING:
        return None
    line = select(Line.act_id).where(Line.kind == Step.__tablename__, Line.row_id == step.id)
    return deed.session.execute(select(Act).where(Act.id.in_(line))).scalar_one_or_none()


def _go_back(deed: Deed, container: Container, begun_by: Act) -> None:
    """Give the container its standing and its parts their places, as the act that moved them found them."""
    # Newest first: of a row that changed twice in the act what it was at first stays.
    lines = select(Line).where(Line.act_id == begun_by.id).order_by(Line.ordinal.desc())
    was = {(line.kind, line.row_id): line.before or {} for line in deed.session.execute(lines).scalars()}
    stood = was.get((Container.__tablename__, container.id), {}).get("standing")
    if stood is None:
        return
    take_step(deed, container, StepKind.TAKEN_BACK, back_to=Standing(stood))
    for part in parts_of(deed, container):
        if part.place_kind == "table":
            _lie_as_before(part, was.get((Part.__tablename__, part.id), {}))


def _lie_as_before(part: Part, was: dict[str, str]) -> None:
    part.place_kind, part.place = was.get("place_kind", "yard"), was.get("place", part.place)
    if "since" in was:
        part.since = datetime.fromisoformat(was["since"])
