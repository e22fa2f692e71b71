"""People of the team from a table."""

from __future__ import annotations

from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.checked_tables import CheckedTable, Said, sort_out, unknown
from findsdesk.desk.desk import Deed, Desk
from findsdesk.domain.natural_order import folded
from findsdesk.domain.read_tables import ReadTable
from findsdesk.domain.settings import Role
from findsdesk.store.many_rows import write_many
from findsdesk.store.models import Person


def check_people(session: Session, _desk: Desk, read: ReadTable) -> CheckedTable:
    """Check people against the team: roles that are unknown, names that are there with another role."""
    rows = session.execute(select(Person)).scalars()
    stored: dict[Any, Said] = {
        folded(row.name): {"name": row.name, "role": row.role, "active": row.active} for row in rows
    }
    said = [_said(read, place) for place in range(len(read))]
    keys = [folded(one["name"]) if "name" in one else None for one in said]
    for one, key in zip(said, keys, strict=True):
        one |= {"name": stored[key]["name"]} if key in stored else {}
    checked = CheckedTable(sort_out(read, keys, said, stored))
    for place in checked.new_places():
        checked.rows[place] = {"active": True, **said[place]}
    return checked


def _said(read: ReadTable, place: int) -> dict[str, Any]:
    said: dict[str, Any] = read.row(place)
    if "role" in said:
        wanted = folded(said["role"].replace("_", " "))
        if wanted in tuple(Role):
            said["role"] = Role(wanted).value
        else:
            read.ask(place, unknown("role", read.called("role"), said["role"], [role.value for role in Role]))
    return said


def write_people(deed: Deed, _read: ReadTable, checked: CheckedTable, _said_in: str) -> None:
    """Take the new people into the team, in the order of the table."""
    rows = ({**checked.rows[place], "id": deed.new_id()} for place in checked.new_places())
    write_many(deed.session, deed.changes, Person, rows)
