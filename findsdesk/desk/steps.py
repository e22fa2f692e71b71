"""Taking a step: the one place where a container moves along its route."""

from __future__ import annotations

from sqlalchemy import bindparam, select

from findsdesk.desk.desk import Deed
from findsdesk.desk.shipped import route_of
from findsdesk.domain.routes import Hold, Standing, StepKind, after, allowed
from findsdesk.store.models import Container, Part, Step
from findsdesk.store.sums import standing_when_it_left


def take_step(
    deed: Deed,
    container: Container,
    kind: StepKind,
    *,
    place: str = "",
    pieces: int | None = None,
    back_to: Standing | None = None,
    note: str = "",
) -> None:
    """Take a step if the container's route allows it from where it stands; moves its standing and writes the step."""
    standing = Standing(container.standing)
    allowed(
        route_of(container.material),
        standing,
        Hold(container.held_for) if container.held_for else None,
        kind,
        count_at_wash=deed.settings.count_at_wash,
        looked_at=_looked_at(deed, container, kind),
        facts={"number": container.number},
    )
    container.standing = after(standing, kind, pieces=pieces, back_to=back_to)
    write_step(deed, container, kind, place=place, pieces=pieces, back_to=back_to, note=note)


def write_step(
    deed: Deed,
    container: Container,
    kind: StepKind,
    *,
    place: str = "",
    pieces: int | None = None,
    back_to: Standing | None = None,
    note: str = "",
) -> None:
    """Write a step without moving the standing (for the first step of a new container, and for facts)."""
    deed.write(
        Step,
        container_id=container.id,
        kind=kind,
        happened_at=deed.happened_at,
        entered_at=deed.written_at,
        person_id=deed.person_id,
        entered_by_id=deed.person_id,
        place=place,
        pieces=pieces,
        back_to=back_to,
        note=note,
    )


def come_home(deed: Deed, container: Container, *, note: str = "") -> None:
    """Let a container come back: what was settled or bagged when it left is so again, anything else lies dry."""
    stood = standing_when_it_left(deed.session, container.id)
    stays = stood in (Standing.SETTLED, Standing.BAGGED)
    take_step(deed, container, StepKind.CAME_BACK, back_to=stood if stays else None, note=note)
    for part in parts_of(deed, container):
        stand(deed, part, "gone" if stood is Standing.BAGGED else "yard", "")


NEEDS_A_LOOK = frozenset({StepKind.SOAKING, StepKind.WASHED, StepKind.COUNTED})


def _looked_at(deed: Deed, container: Container, kind: StepKind) -> bool:
    """What lies in a tub was looked at before it went in; the store is asked only where it matters."""
    if container.standing != Standing.ARRIVED or kind not in NEEDS_A_LOOK:
        return True
    return was_looked_at(deed, container)


def was_looked_at(deed: Deed, container: Container) -> bool:
    """Tell whether somebody has dipped and looked at the finds that lie under a tag: since the last swap, if any."""
    last = deed.session.execute(
        select(Step.kind)
        .where(Step.container_id == container.id, Step.kind.in_((StepKind.LOOKED_AT, StepKind.SWAPPED)))
        .order_by(Step.id.desc())
        .limit(1)
    ).scalar()
    return last == StepKind.LOOKED_AT


_PARTS = select(Part).where(Part.container_id == bindparam("container")).order_by(Part.ordinal)


def parts_of(deed: Deed, container: Container) -> list[Part]:
    """Return the parts of a container in their order; the first is made when it is asked for."""
    parts = list(deed.session.execute(_PARTS, {"container": container.id}).scalars())
    return parts or [first_part(deed, container)]


def first_part(deed: Deed, container: Container) -> Part:
    """Let a container stand in the yard as one part."""
    return deed.add(Part(container_id=container.id, ordinal=1, place_kind="yard", place="", since=deed.happened_at))


def stand(deed: Deed, part: Part, kind: str, place: str) -> None:
    """Put one part of a container where it stands now."""
    part.place_kind, part.place, part.since = kind, place, deed.happened_at
