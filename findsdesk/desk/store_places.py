"""Places: buildings, rooms, shelves, tables and people, each within another; given up only when nothing is there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.finding_shelves import place_of
from findsdesk.desk.kept_places import place_kept
from findsdesk.desk.lying import Tree, tree_of
from findsdesk.desk.setting_up import need_text
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import FIRST_PLACE, PlaceKind, check_within
from findsdesk.store.models import Bag, Box, Place, TakenOut
from findsdesk.store.numbers import take_numbers
from findsdesk.words import N_

SERIALS = "serial:L"
MOST_BOXES = 10_000


@dataclass(frozen=True, slots=True)
class PlaceFacts:
    """A place: its code, its name, what it is, the names around it; ``holds_boxes`` None where nobody said."""

    id: int
    version: int
    code: str
    name: str
    kind: PlaceKind
    path: str
    within: str
    holds_boxes: int | None
    note: str
    label_copy: int
    gone: bool


def add_place(
    desk: Desk, *, name: str, kind: PlaceKind, within: str = "", holds_boxes: int | None = None, note: str = ""
) -> PlaceFacts:
    """Add a place within another, or outermost; it gets its code. Opposite: ``give_up_place``.

    Refusals: ``empty``, ``slash_in_name``, ``place_there`` (the same name beside it), ``place_within``,
    ``place_holds``, those of finding what it lies within.
    """
    with desk.deed("add_place") as deed:
        outer = place_kept(deed, within) if within.strip() else None
        check_within(kind, PlaceKind(outer.kind) if outer else None)
        row = new_place(deed, name, kind, outer=outer, holds_boxes=holds_boxes, note=note)
        deed.said = f"{row.name} ({row.code})"
        deed.session.flush()
        return facts_of(row, tree_of(deed.session))


def new_place(
    deed: Deed,
    name: str,
    kind: PlaceKind,
    *,
    outer: Place | None = None,
    person_id: int | None = None,
    holds_boxes: int | None = None,
    note: str = "",
) -> Place:
    """Write a place's row; what calls it says why."""
    wanted = _name(deed.session, name, outer.id if outer else None)
    _check_holds(holds_boxes)
    serial = take_numbers(deed.session, SERIALS, 1, station_id=deed.desk.station_id, start=FIRST_PLACE)[0]
    return deed.add(
        Place(
            code=make_code(deed.desk.facts.code, Kind.PLACE, serial),
            name=wanted,
            name_key=sort_key(wanted),
            name_folded=folded(wanted),
            kind=kind,
            parent_id=outer.id if outer else None,
            person_id=person_id,
            holds_boxes=holds_boxes,
            note=note.strip(),
            made_at=deed.happened_at,
        )
    )


def change_place(
    desk: Desk,
    place: str,
    *,
    seen: int | None = None,
    name: str | None = None,
    holds_boxes: int | None = None,
    note: str | None = None,
) -> PlaceFacts:
    """Change what is said of a place; what is not named stays. It moves by ``move_things``. Opposite: the change back.

    Refusals: ``changed_meanwhile``, those of ``add_place``.
    """
    with desk.deed("change_place") as deed:
        row = place_of(deed.session, desk, place)
        mine = _said(deed.session, row, name, holds_boxes, note)
        if seen is not None:
            refuse_if_moved(deed.session, row, seen, mine)
        for column, value in mine.items():
            setattr(row, column, value)
        deed.said = f"{row.name}: {', '.join(mine)}"
        deed.session.flush()
        return facts_of(row, tree_of(deed.session))


def _said(session: Session, row: Place, name: str | None, holds_boxes: int | None, note: str | None) -> dict[str, Any]:
    mine: dict[str, Any] = {}
    if name is not None:
        wanted = _name(session, name, row.parent_id, besides=row.id)
        mine |= {"name": wanted, "name_key": sort_key(wanted), "name_folded": folded(wanted)}
    if holds_boxes is not None:
        _check_holds(holds_boxes)
        mine["holds_boxes"] = holds_boxes
    if note is not None:
        mine["note"] = note.strip()
    return mine


def give_up_place(desk: Desk, place: str) -> PlaceFacts:
    """Give up an empty place; its code is never used again. Opposite: ``add_place``.

    Refusal: ``place_not_empty``, naming how much is in it or away to it.
    """
    with desk.deed("give_up_place") as deed:
        row = place_kept(deed, place)
        _refuse_not_empty(deed.session, row)
        row.gone_at = deed.happened_at
        deed.said = f"{row.name} ({row.code})"
        deed.session.flush()
        return facts_of(row, tree_of(deed.session))


def _refuse_not_empty(session: Session, row: Place) -> None:
    counts = {
        N_("places"): select(func.count()).where(Place.parent_id == row.id, Place.gone_at.is_(None)),
        N_("boxes"): select(func.count()).where(Box.place_id == row.id, Box.gone_at.is_(None)),
        N_("bags"): select(func.count()).where(Bag.place_id == row.id, Bag.pieces > 0),
        N_("things taken out"): select(func.count()).where(TakenOut.to_place_id == row.id, TakenOut.back_at.is_(None)),
    }
    for what, wanted in counts.items():
        if number := session.execute(wanted).scalar_one():
            raise Refusal(
                "place_not_empty",
                N_("{place} is not empty: {number} {what} there. Move them first, or bring them back."),
                place=row.name,
                number=number,
                what=what,
            )


def _name(session: Session, name: str, outer_id: int | None, *, besides: int | None = None) -> str:
    wanted = need_text(name, N_("name of the place")) or ""
    if "/" in wanted:
        raise Refusal("slash_in_name", N_("“{name}”: leave the slash out; it stands between places."), name=wanted)
    same = select(Place.id).where(
        Place.name_folded == folded(wanted), Place.parent_id == outer_id, Place.gone_at.is_(None)
    )
    if besides is not None:
        same = same.where(Place.id != besides)
    if session.execute(same).first():
        raise Refusal("place_there", N_("There is a place {name} there already. Take it, or give another name."),
                      name=wanted)  # fmt: skip
    return wanted


def _check_holds(holds_boxes: int | None) -> None:
    if holds_boxes is not None and not 0 <= holds_boxes <= MOST_BOXES:
        raise Refusal("place_holds", N_("A place holds 0 to {most} boxes. Count them again."), most=MOST_BOXES)


def facts_of(row: Place, tree: Tree) -> PlaceFacts:
    """Return a place as it is shown."""
    outer = tree.places.get(row.parent_id) if row.parent_id is not None else None
    return PlaceFacts(
        id=row.id,
        version=row.version,
        code=row.code,
        name=row.name,
        kind=PlaceKind(row.kind),
        path=tree.path(row.id),
        within=outer.code if outer else "",
        holds_boxes=row.holds_boxes,
        note=row.note,
        label_copy=row.label_copy,
        gone=row.gone_at is not None,
    )
