"""What lies in the containers of an old season, written: counts, groups, bags in boxes, and the marks sherds bear."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from functools import cache
from typing import Any

from findsdesk.desk.bagging import APART
from findsdesk.desk.bagging import SERIALS as BAG_SERIALS
from findsdesk.desk.desk import Deed
from findsdesk.desk.group_rows import GroupFacts, is_diagnostic
from findsdesk.desk.old_boxes import lay_row
from findsdesk.desk.old_seasons import CheckedSeason, Rows, group_values
from findsdesk.desk.word_lists import WordLists
from findsdesk.domain.bags import BagOf
from findsdesk.domain.balance import Decision, Entry
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.marking import Tick
from findsdesk.domain.read_tables import ReadTable
from findsdesk.store.models import Bag, Count, Journaled, Lay, LedgerEntry, MarkEntry, Season, SherdGroup
from findsdesk.store.numbers import take_numbers


@dataclass(slots=True)
class Writing:
    """What is being written: the rows by their tables, and what was found out for all of them."""

    deed: Deed
    read: ReadTable
    checked: CheckedSeason
    season: Season
    boxes: Mapping[str, int]
    people: Mapping[str, int]
    tells: Callable[[str, str, str, str], bool]
    rows: dict[type[Journaled], list[dict[str, Any]]] = field(default_factory=lambda: defaultdict(list))

    def add(self, kind: type[Journaled], /, **values: Any) -> int:
        """Keep a row to be written; returns its id."""
        values["id"] = row_id = self.deed.new_id()
        self.rows[kind].append(values)
        return row_id


@dataclass(slots=True)
class Whole:
    """A container as it is written: what was found out of it once; ``total`` are the pieces in its groups."""

    id: int
    material: str
    deposit_id: int
    at: datetime
    groups: Rows
    counted: int | None
    total: int


def telling(lists: WordLists) -> Callable[[str, str, str, str], bool]:
    """Return what tells whether part, surface, decoration and condition together make sherds diagnostic."""

    @cache
    def tells(part: str, surface: str, decoration: str, condition: str) -> bool:
        said = GroupFacts("", part, 1, surface=surface, decoration=decoration, condition=condition)
        return is_diagnostic(said, lists)

    return tells


def write_count(writing: Writing, whole: Whole, rows: Rows) -> None:
    """Write what was counted in a container: its own count, or the sum of its groups."""
    if whole.counted is None:
        return
    deed, grams = writing.deed, writing.checked.means.get("grams")
    weighed = [grams[row] for row in rows if grams[row] is not None] if grams and not whole.groups else []
    tenths = sum(weighed) if weighed else None
    who = {"happened_at": whole.at, "person_id": deed.person_id}
    purpose = "sum of the groups" if whole.groups and whole.counted == whole.total else "first"
    writing.add(Count, container_id=whole.id, pieces=whole.counted, tenths=tenths, purpose=purpose, **who)
    said = {"container_id": whole.id, "material": whole.material, "kind": Entry.COUNTED.value}
    writing.add(LedgerEntry, **said, pieces=whole.counted, tenths=tenths or 0, **who)
    deed.totals.balance(whole.id, whole.material, "counted", whole.counted)
    if tenths:
        deed.totals.balance(whole.id, whole.material, "counted_tenths", tenths)


def write_groups(writing: Writing, whole: Whole) -> None:
    """Write the groups of a container in the order of its rows; all of them are kept."""
    totals, weighed = writing.deed.totals, 0
    for ordinal, row in enumerate(whole.groups, start=1):
        ware, form, part, surface, decoration, condition, pieces, tenths, rim, base, note = group_values(
            writing.checked, row
        )
        writing.add(
            SherdGroup,
            container_id=whole.id,
            ordinal=ordinal,
            ware_id=ware,
            form_id=form,
            part=part,
            surface=surface,
            decoration=decoration,
            condition=condition,
            pieces=pieces,
            tenths=tenths,
            rim_permille=rim,
            base_permille=base,
            decision=Decision.KEEP.value,
            diagnostic=writing.tells(part, surface, decoration, condition),
            note=note,
        )
        weighed += tenths or 0
        totals.ware(whole.deposit_id, ware, pieces, tenths or 0)
    if whole.total:
        totals.balance(whole.id, whole.material, "kept", whole.total)
    if weighed:
        totals.balance(whole.id, whole.material, "accounted_tenths", weighed)


@dataclass(slots=True)
class _Packed:
    """What lies together in one bag."""

    pieces: int = 0
    tenths: int | None = 0

    def put(self, pieces: int, tenths: int | None) -> None:
        """Put sherds in; where nobody weighed some of them, nobody knows what the bag weighs."""
        self.pieces += pieces
        self.tenths = None if self.tenths is None or tenths is None else self.tenths + tenths


def write_bags(writing: Writing, whole: Whole, rows: Rows) -> None:
    """Write the bags of a container in the boxes and at the places that its rows name."""
    packed: dict[tuple[tuple[str | None, int | None], str], _Packed] = defaultdict(_Packed)
    boxes, grams = writing.checked.boxes, writing.checked.means.get("grams")
    if whole.groups:
        for row, what in zip(whole.groups, _kinds_of_bag(writing, whole), strict=True):
            pieces = writing.checked.means["pieces"][row]
            packed[boxes.lies(row), what].put(pieces, grams[row] if grams else None)
    else:
        lies = next((boxes.lies(row) for row in rows if boxes.lies(row) != (None, None)), (None, None))
        packed[lies, BagOf.ALL.value].put(1 if whole.counted is None else whole.counted, None)
    if all(lies == (None, None) for lies, _what in packed):
        return
    for (lies, what), bag in packed.items():
        if bag.pieces:
            _write_bag(writing, whole, lies, what, bag)


def _kinds_of_bag(writing: Writing, whole: Whole) -> list[str]:
    if whole.material != APART:
        return [BagOf.ALL.value] * len(whole.groups)
    groups = writing.rows[SherdGroup][-len(whole.groups) :]
    return [BagOf.DIAGNOSTIC.value if one["diagnostic"] else BagOf.BODY.value for one in groups]


def _write_bag(writing: Writing, whole: Whole, lies: tuple[str | None, int | None], what: str, bag: _Packed) -> None:
    box = writing.boxes[lies[0]] if lies[0] is not None else None
    said = {"what": what, "pieces": bag.pieces, "tenths": bag.tenths, "packed_at": whole.at}
    bag_id = writing.add(Bag, container_id=whole.id, box_id=box, place_id=lies[1], **said)
    if box is not None or lies[1] is not None:
        laid = lay_row(writing.deed, bag_id=bag_id, in_box_id=box, at_place_id=lies[1])
        writing.rows[Lay].append(laid)


def give_bag_codes(writing: Writing) -> None:
    """Give every bag its code, in the order in which they were packed."""
    bags, deed = writing.rows[Bag], writing.deed
    if bags:
        serials = take_numbers(deed.session, BAG_SERIALS, len(bags), station_id=deed.desk.station_id)
        for bag, serial in zip(bags, serials, strict=True):
            bag["code"] = make_code(deed.desk.facts.code, Kind.BAG, serial)


def write_marks(writing: Writing, whole: Whole, rows: Rows) -> None:
    """Write the old marks that sherds of a container bear, text by text."""
    marks, pieces = writing.checked.means.get("mark"), writing.checked.means.get("pieces")
    if marks is None:
        return
    borne: dict[str, int] = defaultdict(int)
    for row in whole.groups or rows:
        if marks[row] is not None:
            borne[marks[row]] += (pieces[row] or 0) if pieces else 0
    for said, sherds in borne.items():
        who = {"happened_at": whole.at, "person_id": writing.deed.person_id}
        writing.add(MarkEntry, container_id=whole.id, kind=Tick.WRITTEN.value, pieces=max(1, sherds), said=said, **who)
