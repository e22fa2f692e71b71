"""The boxes and places that a table of an old season names: those here, and boxes that bear an old name only.

A box gets our next number and code like any other; the name it had stays in its note, with the season before it, and
by that a later table of the season finds it again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.box_kinds import rule_for
from findsdesk.desk.checked_tables import unknown
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding_shelves import place_of
from findsdesk.domain.box_rules import BoxRule
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.natural_order import folded
from findsdesk.domain.read_tables import ReadTable
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import FOR_A_WHILE, PlaceKind
from findsdesk.store.many_rows import write_many
from findsdesk.store.models import Box, Lay, Place, Season
from findsdesk.store.numbers import take_numbers
from findsdesk.words import N_

SERIALS, SERIES = "serial:X", "box"


@dataclass(slots=True)
class NewBox:
    """A box that is not here yet: its old name, its kind by what lies in it, and where it stands."""

    name: str
    rule: BoxRule
    place_id: int | None = None
    first_row: int = 0


@dataclass(slots=True)
class OldBoxes:
    """Row by row, in which box and at which place the finds lie; None where the table says nothing."""

    of_row: list[str | None] = field(default_factory=list)
    """The box of a row, by its name as it is compared."""
    places: list[int | None] = field(default_factory=list)
    here: dict[str, int] = field(default_factory=dict)
    """Boxes of the store by that name."""
    new: dict[str, NewBox] = field(default_factory=dict)

    def lies(self, row: int) -> tuple[str | None, int | None]:
        """Return the box of a row, or its place where it is in none."""
        box = self.of_row[row] if self.of_row else None
        return (box, None) if box is not None else (None, self.places[row] if self.places else None)


def check_boxes(
    session: Session,
    desk: Desk,
    read: ReadTable,
    means: Mapping[str, Sequence[Any]],
    containers: Iterable[Sequence[int]],
    season: Season,
) -> OldBoxes:
    """Find the boxes and places of a table; boxes that are not here are new."""
    boxes = OldBoxes()
    if "place" in read.values:
        boxes.places = _places(session, desk, read)
    if "box" not in read.values:
        return boxes
    written = read.column("box")
    names = {said: folded(str(said)) for said in set(written) if said is not None}
    boxes.of_row = [None if said is None else names[said] for said in written]
    boxes.here = _boxes_here(session, season)
    numbers = set(session.execute(select(Box.number).where(Box.note == "")).scalars())
    materials = means["material"]
    material_of: dict[int, str | None] = {}
    for rows in containers:
        material_of |= dict.fromkeys(rows, next((materials[row] for row in rows if materials[row]), None))
    places = boxes.places or [None] * len(read)
    seen: dict[tuple[str, str | None, int | None], list[Doubt]] = {}
    for row, name in enumerate(boxes.of_row):
        if name is None or name in boxes.here:
            continue
        said = (name, material_of.get(row), places[row])
        if said not in seen:
            seen[said] = [*_our_number(name, numbers), *_note_box(read, row, boxes, str(written[row]), said)]
        for doubt in seen[said]:
            read.ask(row, doubt)
    return boxes


def _places(session: Session, desk: Desk, read: ReadTable) -> list[int | None]:
    """Return the place of each row; what is no place here, or one for a while only, is asked about."""
    found: dict[Any, int | Doubt | None] = {None: None}
    cells = read.column("place")
    known = list(session.execute(select(Place.name).where(Place.gone_at.is_(None))).scalars())
    for said in {cell for cell in cells if cell is not None}:
        found[said] = _place(session, desk, read, str(said).replace(" › ", "/"), known)
    for row, cell in enumerate(cells):
        if isinstance(one := found[cell], Doubt):
            read.ask(row, one)
    return [None if isinstance(one := found[cell], Doubt) else one for cell in cells]


def _place(session: Session, desk: Desk, read: ReadTable, said: str, known: list[str]) -> int | Doubt:
    try:
        row = place_of(session, desk, said)
    except Refusal as no:
        if no.code == "unknown_place":
            return unknown("place", read.called("place"), said, known)
        return Doubt(no.code, no.text, no.facts, "place")
    if PlaceKind(row.kind) in FOR_A_WHILE:
        text = N_("Nothing belongs to {place} for good. Which shelf or room is meant?")
        return Doubt("for_a_while_only", text, {"place": row.name}, "place")
    return row.id


def _boxes_here(session: Session, season: Season) -> dict[str, int]:
    """Return the boxes that can be meant: by code, and by the old name a box of this season bears in its note."""
    here: dict[str, int] = {}
    for row in session.execute(select(Box).where(Box.gone_at.is_(None)).order_by(Box.id)).scalars():
        here[folded(row.code)] = row.id
        name = row.note.partition(_old_name(season, ""))
        if not name[0] and name[1]:
            here.setdefault(folded(name[2]), row.id)
    return here


def _old_name(season: Season, name: str) -> str:
    return f"{season.name}: {name}"


def _our_number(name: str, numbers: set[int]) -> Iterator[Doubt]:
    if name.isdecimal() and len(name) < 10 and int(name) in numbers:
        text = N_("Box {number} stands here already. If it is meant, write its code; an old box needs its old name.")
        yield Doubt("box_number_here", text, {"number": int(name)}, "box")


def _note_box(
    read: ReadTable, row: int, boxes: OldBoxes, written: str, said: tuple[str, str | None, int | None]
) -> Iterator[Doubt]:
    """Note a new box, and ask where its rows do not agree: two places, or materials that never lie together."""
    name, material, place_id = said
    if material is None:
        return
    box = boxes.new.setdefault(name, NewBox(written, rule_for(material), place_id, row))
    line = read.lines[box.first_row]
    if material not in (*box.rule.takes, *box.rule.asks):
        text = N_("Box {box} holds {kind} by line {line}; {material} never lies with it. Which box is right?")
        facts = {"box": written, "kind": box.rule.name, "line": line, "material": material}
        yield Doubt("never_together", text, facts, "box")
    if box.place_id is None:
        box.place_id = place_id
    elif place_id is not None and place_id != box.place_id:
        text = N_("Box {box} stands elsewhere by line {line}. Where does it stand?")
        yield Doubt("box_at_two_places", text, {"box": written, "line": line}, "place")


def write_boxes(deed: Deed, boxes: OldBoxes, wanted: Iterable[str], season: Season) -> dict[str, int]:
    """Write the new boxes that rows which go in lie in; returns the id of every box by its name."""
    new = [boxes.new[name] for name in dict.fromkeys(wanted) if name not in boxes.here]
    station, site = deed.desk.station_id, deed.desk.facts.code
    if not new:
        return boxes.here
    serials = take_numbers(deed.session, SERIALS, len(new), station_id=station)
    numbers = take_numbers(deed.session, SERIES, len(new), station_id=station)
    ids = {folded(box.name): deed.new_id() for box in new}
    rows: list[dict[str, Any]] = []
    for box, serial, number in zip(new, serials, numbers, strict=True):
        length, width, height = box.rule.size_mm
        rows.append(
            {
                "id": ids[folded(box.name)],
                "code": make_code(site, Kind.BOX, serial),
                "number": number,
                "kind": box.rule.key,
                "limit_tenths": deed.settings.box_limit_tenths,
                "length_mm": length,
                "width_mm": width,
                "height_mm": height,
                "place_id": box.place_id,
                "note": _old_name(season, box.name),
                "made_at": deed.happened_at,
            }
        )
    write_many(deed.session, deed.changes, Box, rows)
    laid = ((row["id"], row["place_id"]) for row in rows if row["place_id"] is not None)
    write_many(deed.session, deed.changes, Lay, (lay_row(deed, box_id=box, at_place_id=place) for box, place in laid))
    return boxes.here | ids


def lay_row(deed: Deed, **laid: int | None) -> dict[str, Any]:
    """Return the row that says where a box or a bag was laid."""
    who = {"happened_at": deed.happened_at, "entered_at": deed.written_at, "person_id": deed.person_id}
    return {"id": deed.new_id(), **laid, **who}
