"""What the foot of the window says: who sits where, when last written, how old the copy is, which tags are missing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, tzinfo

from findsdesk.desk.desk import Desk
from findsdesk.desk.unaccounted import count_unaccounted
from findsdesk.domain.settings import Role


@dataclass(frozen=True, slots=True)
class AtTheDesk:
    """The desk at this moment; ``written`` and ``copied`` are None where it was not done since it was opened."""

    person: str
    role: Role | None
    station: str
    written: datetime | None
    copied: datetime | None
    read_only: bool
    unaccounted: int
    now: datetime
    zone: tzinfo


def at_the_desk(desk: Desk) -> AtTheDesk:
    """Return who sits where, and what is written, copied and missing."""
    copy = desk.shared.last_copy
    with desk.reading() as reading:
        unaccounted = count_unaccounted(reading.session)
    return AtTheDesk(
        person=desk.person.name,
        role=desk.person.role,
        station=desk.station_name,
        written=desk.shared.last_written,
        copied=copy.made_at if copy else None,
        read_only=desk.store.read_only,
        unaccounted=unaccounted,
        now=desk.clock(),
        zone=desk.facts.zone,
    )
