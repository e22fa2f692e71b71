"""The kinds of tables that can be taken in: how each is checked, and how what is new is written."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.checked_tables import CheckedTable
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.old_season_rows import write_season
from findsdesk.desk.old_seasons import CheckedSeason, check_season
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.tables_of_deposits import check_deposits, write_deposits
from findsdesk.desk.tables_of_people import check_people, write_people
from findsdesk.desk.tables_of_places import check_places, write_places
from findsdesk.desk.tables_of_types import check_types, write_types
from findsdesk.domain.read_tables import ReadTable
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.table_kinds import TableKind
from findsdesk.store.models import Season
from findsdesk.words import N_

IN_A_SEASON = frozenset({TableKind.CONTAINERS, TableKind.SEASON})
"""Tables whose rows are of one season."""


@dataclass(frozen=True, slots=True)
class _Known:
    check: Callable[[Session, Desk, ReadTable], CheckedTable]
    write: Callable[[Deed, ReadTable, Any, str], None]


_KNOWN = {
    TableKind.DEPOSITS: _Known(check_deposits, write_deposits),
    TableKind.WARES: _Known(check_types, write_types),
    TableKind.PEOPLE: _Known(check_people, write_people),
    TableKind.PLACES: _Known(check_places, write_places),
}


def season_meant(session: Session, desk: Desk, kind: TableKind, name: str | None) -> Season | None:
    """Return the season whose rows a table holds, None for tables of no season.

    An old season is named, since nothing in the table says which one it is. Refusals: ``season_needed``,
    ``unknown_season``, ``no_season``.
    """
    if kind not in IN_A_SEASON:
        return None
    if kind is TableKind.SEASON and not name:
        names = ", ".join(session.execute(select(Season.name).order_by(Season.starts)).scalars())
        raise Refusal(
            "season_needed",
            N_("Say which season the table is of. Seasons here: {seasons}. An older one is opened in Set-up first."),
            seasons=names or "–",
        )
    return season_of(session, desk.now().astimezone(desk.facts.zone).date(), name or None)


def check_rows_of(session: Session, desk: Desk, read: ReadTable, season: Season | None) -> CheckedTable:
    """Check a table against the store as it stands; the table itself stays as it was read."""
    fresh = replace(read, doubts=defaultdict(list, {place: list(some) for place, some in read.doubts.items()}))
    checked = (
        check_season(session, desk, fresh, season)
        if season is not None
        else _KNOWN[read.kind].check(session, desk, fresh)
    )
    checked.doubts = {place: some for place, some in fresh.doubts.items() if some}
    return checked


def write_rows_of(deed: Deed, read: ReadTable, checked: CheckedTable, season: Season | None, said_in: str) -> None:
    """Write the rows that go in; ``said_in`` names the table."""
    if season is not None:
        assert isinstance(checked, CheckedSeason)
        write_season(deed, read, checked, season)
    else:
        _KNOWN[read.kind].write(deed, read, checked, said_in)
