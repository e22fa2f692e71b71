"""Places from a table: buildings, rooms, shelves and tables, each within another."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.checked_tables import CheckedTable, Said, ask_of_inner, in_order, sort_out, unknown
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.list_checks import Fate
from findsdesk.desk.store_places import SERIALS
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.read_tables import ReadTable
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import FIRST_PLACE, PLACE_IN_WORDS, PlaceKind, check_within
from findsdesk.store.many_rows import write_many
from findsdesk.store.models import Place
from findsdesk.store.numbers import take_numbers
from findsdesk.words import N_


def check_places(session: Session, _desk: Desk, read: ReadTable) -> CheckedTable:
    """Check places against those here: what lies within itself, what is unknown, what cannot hold another.

    Within one table a place is called by its name alone, so a name that stands twice in it is asked about.
    """
    here = {row.id: row for row in session.execute(select(Place).where(Place.gone_at.is_(None))).scalars()}
    said = [_said(read, place) for place in range(len(read))]
    keys = [folded(one["name"]) if "name" in one else None for one in said]
    stored: dict[Any, Said] = {row.name_folded: _stored(row, here) for row in here.values()}
    checked = CheckedTable(sort_out(read, keys, said, stored))
    outer = _outer_named(read, checked, said, keys, here)
    for place in checked.new_places():
        checked.rows[place] = _row(said[place], outer[place].id if place in outer else None)
    return checked


def _said(read: ReadTable, place: int) -> dict[str, Any]:
    said: dict[str, Any] = read.row(place)
    if "/" in said.get("name", ""):
        text = N_("A slash parts one place from the next. Give the place a name without one.")
        read.ask(place, Doubt("slash_in_name", text, {}, "name"))
    if "kind" in said:
        kind = folded(said["kind"])
        if kind in tuple(PlaceKind) and kind != PlaceKind.PERSON:
            said["kind"] = PlaceKind(kind).value
        else:
            known = [word for word in PLACE_IN_WORDS if word != PlaceKind.PERSON]
            read.ask(place, unknown("kind", read.called("kind"), said["kind"], known))
    said |= {"within": folded(said["within"])} if "within" in said else {}
    return said


def _stored(row: Place, here: Mapping[int, Place]) -> Said:
    outer = here.get(row.parent_id or 0)
    return {
        "name": row.name,
        "kind": row.kind,
        "within": outer.name_folded if outer is not None else None,
        "holds": row.holds_boxes,
        "note": row.note,
    }


def _outer_named(
    read: ReadTable,
    checked: CheckedTable,
    said: Sequence[Said],
    keys: Sequence[str | None],
    here: Mapping[int, Place],
) -> dict[int, Place]:
    """Return the place here that each new row lies in, by the row's place in the table."""
    names = [str(one.get("name", "")) for one in said]
    places = {key: place for place, key in reversed(list(enumerate(keys))) if key is not None}
    by_name: dict[str, list[Place]] = {}
    for row in here.values():
        for name in (row.name_folded, folded(row.code)):
            by_name.setdefault(name, []).append(row)
    found: dict[int, Place] = {}
    inner: dict[int, int] = {}
    for place, one in enumerate(said):
        within = one.get("within")
        outer = by_name.get(within or "", [])
        if len(outer) == 1:
            found[place] = outer[0]
            _ask_of_kind(read, checked, place, one, outer[0].kind)
        elif within in places and not outer:
            inner[place] = places[within]
        elif within is not None:
            known = [*(row.name for row in here.values()), *names]
            read.ask(place, unknown("within", read.called("name"), within, [] if outer else known))
            checked.fates[place] = Fate.ASIDE
    for place, named in inner.items():
        _ask_of_kind(read, checked, place, said[place], said[named].get("kind", ""))
    ask_of_inner(read, checked, "within", inner, names)
    return found


def _ask_of_kind(read: ReadTable, checked: CheckedTable, place: int, said: Said, outer: str) -> None:
    if checked.fates[place] is not Fate.NEW or outer not in tuple(PlaceKind):
        return
    try:
        check_within(PlaceKind(said["kind"]), PlaceKind(outer))
    except Refusal as no:
        read.ask(place, Doubt(no.code, no.text, no.facts, "within"))
        checked.fates[place] = Fate.ASIDE


def _row(said: Said, parent_id: int | None) -> dict[str, Any]:
    return {
        "name": said["name"],
        "name_key": sort_key(said["name"]),
        "name_folded": folded(said["name"]),
        "kind": said["kind"],
        "parent_id": parent_id,
        "holds_boxes": said.get("holds"),
        "note": said.get("note", ""),
    }


def write_places(deed: Deed, _read: ReadTable, checked: CheckedTable, _said_in: str) -> None:
    """Write the new places, the outer ones first; each gets its code."""
    order = in_order(checked)
    ids = {place: deed.new_id() for place in order}
    station, site = deed.desk.station_id, deed.desk.facts.code
    serials = take_numbers(deed.session, SERIALS, len(order), station_id=station, start=FIRST_PLACE) if order else ()
    rows = []
    for place, serial in zip(order, serials, strict=True):
        row = {**checked.rows[place], "id": ids[place], "made_at": deed.happened_at}
        row["code"] = make_code(site, Kind.PLACE, serial)
        if place in checked.inner:
            row["parent_id"] = ids[checked.inner[place]]
        rows.append(row)
    write_many(deed.session, deed.changes, Place, rows)
