"""Rows of the sorting table in vessels: all sherds of a row gathered into one for mending, and taken out again."""

from __future__ import annotations

from findsdesk.desk.desk import Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.group_rows import GroupRow, as_row, facts_from_values, values_of
from findsdesk.desk.named_rows import group_at
from findsdesk.desk.rows_there import group_there
from findsdesk.desk.vessels import VesselFacts, gather_vessel, take_out


def group_leaves_vessel(desk: Desk, group_id: int, *, seen: int) -> GroupRow:
    """Take a group of the version ``seen`` with all its sherds out of its vessel; a vessel without any goes.

    Opposite: ``gather_vessel``. Refusals: ``row_gone``, ``changed_meanwhile``, ``in_no_vessel``.
    """
    with desk.deed("leave_vessel") as deed:
        row = group_there(deed.session, group_id)
        refuse_if_moved(deed.session, row, seen, {"vessel_id": None})
        take_out(deed, row)
        return as_row(row, facts_from_values(deed.session, values_of(row))[1])


def gather_row(
    desk: Desk,
    tag: str,
    row: int,
    *,
    number: int | None = None,
    for_mending: bool = False,
    note: str = "",
    sure: bool = False,
) -> VesselFacts:
    """Gather a row of a container's table, counted from 1, into a new vessel or the one of a number.

    Refusals: ``no_such_row`` and those of ``gather_vessel``.
    """
    group = group_at(desk, tag, row)
    return gather_vessel(desk, [], number=number, group_ids=[group.id], for_mending=for_mending, note=note, sure=sure)


def row_leaves_vessel(desk: Desk, tag: str, row: int) -> GroupRow:
    """Take a row of a container's table, counted from 1, out of its vessel. Refusals: ``no_such_row``, of leaving."""
    group = group_at(desk, tag, row)
    return group_leaves_vessel(desk, group.id, seen=group.version)
