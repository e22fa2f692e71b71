"""Wares and forms from a table: their codes, years and publications, and of which ware a form is."""

from __future__ import annotations

from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.checked_tables import CheckedTable, Said, ask_of_inner, sort_out, unknown
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.list_checks import Fate
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.natural_order import folded
from findsdesk.domain.read_tables import ReadTable
from findsdesk.domain.type_rows import TypeKind
from findsdesk.store.many_rows import write_many
from findsdesk.store.models import Form, Ware
from findsdesk.words import N_

_SHOWN = ("name", "earliest", "latest", "source", "note")


def check_types(session: Session, desk: Desk, read: ReadTable) -> CheckedTable:
    """Check wares and forms against the series: codes that were merged, wares that are unknown, years reversed."""
    wares = {row.code: row for row in session.execute(select(Ware)).scalars()}
    forms = {row.code: row for row in session.execute(select(Form)).scalars()}
    codes_of = {row.id: row.code for row in wares.values()}
    said = [_said(read, place) for place in range(len(read))]
    keys = [(one["kind"], one["code"]) if one.get("kind") and one.get("code") else None for one in said]
    stored: dict[Any, Said] = {(TypeKind.WARE, code): _stored(TypeKind.WARE, row) for code, row in wares.items()}
    for code, form in forms.items():
        its = {"ware": codes_of[form.ware_id]} if form.ware_id is not None else {}
        stored[TypeKind.FORM, code] = _stored(TypeKind.FORM, form) | its
    gone = {(TypeKind.WARE, code) for code, row in wares.items() if row.merged_into_id is not None}
    gone |= {(TypeKind.FORM, code) for code, row in forms.items() if row.merged_into_id is not None}
    for place, key in enumerate(keys):
        if key in gone:
            text = N_("{code} was merged into another code here. Which one is meant?")
            read.ask(place, Doubt("code_merged", text, {"code": said[place]["code"]}, "code"))
    checked = CheckedTable(sort_out(read, keys, said, stored))
    its_ware = _wares_named(read, checked, said, keys, {code: row.id for code, row in wares.items()})
    for place in checked.new_places():
        checked.rows[place] = _row(said[place], its_ware.get(place))
    return checked


def _said(read: ReadTable, place: int) -> dict[str, Any]:
    said: dict[str, Any] = read.row(place)
    kind = folded(said.get("kind", TypeKind.WARE))
    if kind in tuple(TypeKind):
        said["kind"] = TypeKind(kind)
    else:
        text = N_("“{kind}” is neither ware nor form. Write one of them.")
        read.ask(place, Doubt("neither_ware_nor_form", text, {"kind": said.pop("kind")}, "kind"))
    for column in ("code", "ware"):
        said |= {column: said[column].upper()} if column in said else {}
    if said.get("kind") is TypeKind.WARE:
        said.pop("ware", None)
    if None not in (said.get("earliest"), said.get("latest")) and said["latest"] < said["earliest"]:
        text = N_("The years end ({latest}) before they begin ({earliest}).")
        read.ask(place, Doubt("years_reversed", text, {n: said[n] for n in ("latest", "earliest")}, "latest"))
    return said


def _stored(kind: TypeKind, row: Ware | Form) -> dict[str, Any]:
    return {"kind": kind, "code": row.code} | {name: getattr(row, name) for name in _SHOWN}


def _wares_named(
    read: ReadTable, checked: CheckedTable, said: list[dict[str, Any]], keys: list[Any], wares: dict[str, int]
) -> dict[int, int]:
    """Return the ware here that each form is of; a ware of the table goes in before its forms."""
    places = {key: place for place, key in reversed(list(enumerate(keys))) if key is not None}
    found: dict[int, int] = {}
    inner: dict[int, int] = {}
    for place, one in enumerate(said):
        code = one.get("ware")
        if code in wares:
            found[place] = wares[code]
        elif (TypeKind.WARE, code) in places:
            inner[place] = places[TypeKind.WARE, code]
        elif code is not None:
            read.ask(place, unknown("ware", read.called("ware"), code, list(wares)))
            checked.fates[place] = Fate.ASIDE
    ask_of_inner(read, checked, "ware", inner, [one.get("code", "") for one in said])
    return found


def _row(said: Said, ware_id: int | None) -> dict[str, Any]:
    years = {name: said.get(name) for name in ("earliest", "latest")}
    texts = {name: said.get(name, "") for name in ("name", "source", "note")}
    return {"kind": said["kind"], "code": said["code"], "ware_id": ware_id} | years | texts


def write_types(deed: Deed, _read: ReadTable, checked: CheckedTable, _said_in: str) -> None:
    """Write the new wares, and then the new forms."""
    ids = {place: deed.new_id() for place in checked.new_places()}
    rows: dict[TypeKind, list[dict[str, Any]]] = {kind: [] for kind in TypeKind}
    for place, of in ids.items():
        row = {**checked.rows[place], "id": of}
        kind = row.pop("kind")
        if place in checked.inner:
            row["ware_id"] = ids[checked.inner[place]]
        if kind is TypeKind.WARE:
            del row["ware_id"]
        rows[kind].append(row)
    write_many(deed.session, deed.changes, Ware, rows[TypeKind.WARE])
    write_many(deed.session, deed.changes, Form, rows[TypeKind.FORM])
