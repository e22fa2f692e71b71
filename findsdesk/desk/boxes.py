"""Boxes: made by their kind, changed, given up empty; and what each holds, its bags first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from findsdesk.desk.bag_loads import loads_in
from findsdesk.desk.box_kinds import box_rule
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask, refuse_if_moved
from findsdesk.desk.finding_shelves import box_of
from findsdesk.desk.kept_places import box_kept, home_kept
from findsdesk.desk.lying import AllAway, Away, Tree, all_away, lay_box, refuse_lent, tree_of
from findsdesk.desk.not_met import NotMet, all_not_met
from findsdesk.domain.box_rules import (
    NEAR_PERMILLE,
    BoxRule,
    Load,
    check_limit,
    check_size,
    full_permille,
    usable_ml,
)
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Bag, Box, Container, Deposit, Place
from findsdesk.store.numbers import take_numbers
from findsdesk.words import N_, CountOf

SERIALS = "serial:X"
SERIES = "box"
MOST_AT_ONCE = 200


@dataclass(frozen=True, slots=True)
class BoxFacts:
    """A box as it is shown: kind by key and name, where it belongs, whether it is away, and what it holds.

    Weights in tenths of a gram: ``tenths`` is the box with what is in it. Room in millilitres. ``deposits`` are those
    of its bags. ``full_permille`` goes by weight or room, whichever is more.
    """

    id: int
    version: int
    code: str
    number: int
    kind: str
    kind_name: str
    care: str
    place: str
    place_code: str
    away: Away | None
    not_met: NotMet | None
    """Why nobody met it where it belongs: missing since a stock-take, or on the way there."""
    limit_tenths: int
    empty_tenths: int
    tenths: int
    volume_ml: int
    room_ml: int
    size_mm: tuple[int, int, int]
    bags: int
    pieces: int
    unweighed: int
    deposits: tuple[str, ...]
    full_permille: int
    desiccant_on: date | None
    note: str
    made_at: datetime
    label_copy: int
    labelled_at: datetime | None
    gone: bool

    @property
    def nearly_full(self) -> bool:
        """Tell whether little more goes in."""
        return self.full_permille >= NEAR_PERMILLE


def add_box(
    desk: Desk,
    *,
    kind: str,
    place: str = "",
    how_many: int = 1,
    limit_tenths: int | None = None,
    empty_tenths: int = 0,
    length_mm: int | None = None,
    width_mm: int | None = None,
    height_mm: int | None = None,
    desiccant_on: date | None = None,
    note: str = "",
    sure: bool = False,
) -> tuple[BoxFacts, ...]:
    """Make boxes of a kind, each with its number and code, at a place or nowhere yet. Opposite: ``give_up_box``.

    The limit is the excavation's unless said, the inside size the kind's. Refusals: ``unknown_box_kind``,
    ``boxes_at_once``, ``limit_too_high``, ``empty_too_heavy``, ``box_size``, ``for_a_while_only``, of finding the
    place. Question: ``heavy_limit``.
    """
    with desk.deed("add_box") as deed:
        rule = box_rule(kind)
        if not 1 <= how_many <= MOST_AT_ONCE:
            raise Refusal("boxes_at_once", N_("Make 1 to {most} boxes at once."), most=MOST_AT_ONCE)
        at = _home(deed, place)
        size = tuple(own or usual for own, usual in zip((length_mm, width_mm, height_mm), rule.size_mm, strict=True))
        limit = deed.settings.box_limit_tenths if limit_tenths is None else limit_tenths
        rows = new_boxes(deed, rule, how_many, limit=limit, empty=empty_tenths, size=size)
        for row in rows:
            row.note, row.desiccant_on = note.strip(), desiccant_on
            if at is not None:
                lay_box(deed, row, at)
        deed.said = f"{rule.key}: {_numbers(rows)}"
        ask(deed, check_limit(limit), sure)
        deed.session.flush()
        return box_rows(deed.session, [row.id for row in rows])


def _home(deed: Deed, place: str) -> Place | None:
    if not place.strip():
        return None
    return home_kept(deed, place)


def new_boxes(deed: Deed, rule: BoxRule, how_many: int, *, limit: int, empty: int, size: Sequence[int]) -> list[Box]:
    """Write the rows of new boxes; what calls it asks about a heavy limit."""
    check_limit(limit)
    check_size(size)
    _check_empty(empty, limit)
    station = deed.desk.station_id
    serials = take_numbers(deed.session, SERIALS, how_many, station_id=station)
    numbers = take_numbers(deed.session, SERIES, how_many, station_id=station)
    length, width, height = size
    return [
        deed.add(
            Box(
                code=make_code(deed.desk.facts.code, Kind.BOX, serial),
                number=number,
                kind=rule.key,
                limit_tenths=limit,
                empty_tenths=empty,
                length_mm=length,
                width_mm=width,
                height_mm=height,
                made_at=deed.happened_at,
            )
        )
        for serial, number in zip(serials, numbers, strict=True)
    ]


def _check_empty(empty: int, limit: int) -> None:
    if not 0 <= empty < limit:
        raise Refusal("empty_too_heavy", N_("An empty box weighs less than it may hold. Weigh it again."))


def _numbers(rows: Sequence[Box]) -> str:
    numbers = [row.number for row in rows]
    return str(numbers[0]) if len(numbers) == 1 else f"{numbers[0]}–{numbers[-1]}"


def change_box(
    desk: Desk,
    box: str,
    *,
    seen: int | None = None,
    kind: str | None = None,
    limit_tenths: int | None = None,
    empty_tenths: int | None = None,
    desiccant_on: date | None = None,
    note: str | None = None,
    sure: bool = False,
) -> BoxFacts:
    """Change what is said of a box; what is not named stays. Opposite: the change back.

    Refusals: ``changed_meanwhile``, ``kind_of_a_full_box``, those of ``add_box``. Question: ``heavy_limit``.
    """
    with desk.deed("change_box") as deed:
        row = box_of(deed.session, desk, box)
        said: dict[str, Any] = {
            "kind": None if kind is None else box_rule(kind).key,
            "limit_tenths": limit_tenths,
            "empty_tenths": empty_tenths,
            "desiccant_on": desiccant_on,
            "note": None if note is None else note.strip(),
        }
        mine = {name: value for name, value in said.items() if value is not None}
        if seen is not None:
            refuse_if_moved(deed.session, row, seen, mine)
        _refuse_other_kind(deed.session, row, mine.get("kind", row.kind))
        for column, value in mine.items():
            setattr(row, column, value)
        _check_empty(row.empty_tenths, row.limit_tenths)
        deed.said = f"{row.number}: {', '.join(mine)}"
        ask(deed, check_limit(row.limit_tenths), sure or limit_tenths is None)
        deed.session.flush()
        return box_rows(deed.session, [row.id])[0]


def _refuse_other_kind(session: Session, row: Box, kind: str) -> None:
    if kind != row.kind and loads_in(session, [row.id]):
        raise Refusal(
            "kind_of_a_full_box",
            N_("Box {number} has bags in it. Take them out before it becomes another kind of box."),
            number=row.number,
        )


def give_up_box(desk: Desk, box: str) -> BoxFacts:
    """Give up an empty box; its number and code are never used again. Opposite: ``add_box``.

    Refusals: ``box_not_empty``, ``on_loan``.
    """
    with desk.deed("give_up_box") as deed:
        row = box_kept(deed, box)
        refuse_lent(deed.session, row)
        load = loads_in(deed.session, [row.id]).get(row.id)
        if load is not None:
            raise Refusal(
                "box_not_empty",
                N_("Box {number} holds {bags}. Take them out before it is given up."),
                number=row.number,
                bags=CountOf("{n} bag", "{n} bags", load.bags),
            )
        row.gone_at = deed.happened_at
        deed.said = str(row.number)
        deed.session.flush()
        return box_rows(deed.session, [row.id])[0]


def box_rows(session: Session, ids: Sequence[int]) -> tuple[BoxFacts, ...]:
    """Return boxes by their ids, in that order; those that are not there are left out."""
    return _facts(session, select(Box).where(Box.id.in_(ids)), list(ids))


def every_box(session: Session) -> tuple[BoxFacts, ...]:
    """Return all boxes in use, by number."""
    return _facts(session, select(Box).where(Box.gone_at.is_(None)).order_by(Box.number), None)


def _facts(session: Session, wanted: Select[Box], ids: list[int] | None) -> tuple[BoxFacts, ...]:
    rows = {row.id: row for row in session.execute(wanted).scalars()}
    loads, deposits = loads_in(session, ids), _deposits(session, ids)
    tree = tree_of(session)
    away, not_met = all_away(session, tree), all_not_met(session).boxes
    return tuple(
        _box(rows[one], loads.get(one, Load()), deposits.get(one, ()), tree, away, not_met.get(one))
        for one in (ids if ids is not None else rows)
        if one in rows
    )


def _deposits(session: Session, ids: list[int] | None) -> dict[int, tuple[str, ...]]:
    wanted = (
        select(Bag.box_id, Deposit.number)
        .join(Container, Bag.container_id == Container.id)
        .join(Deposit, Container.deposit_id == Deposit.id)
        .where(Bag.box_id.is_not(None), Bag.pieces > 0)
        .group_by(Bag.box_id, Deposit.number, Deposit.number_key)
        .order_by(Bag.box_id, Deposit.number_key)
    )
    found: dict[int, tuple[str, ...]] = {}
    for box_id, number in session.execute(wanted if ids is None else wanted.where(Bag.box_id.in_(ids))):
        if box_id is not None:
            found[box_id] = (*found.get(box_id, ()), number)
    return found


def _box(
    row: Box, load: Load, deposits: tuple[str, ...], tree: Tree, away: AllAway, not_met: NotMet | None
) -> BoxFacts:
    rule = box_rule(row.kind)
    size = (row.length_mm, row.width_mm, row.height_mm)
    tenths, room = row.empty_tenths + load.tenths, usable_ml(size)
    return BoxFacts(
        id=row.id,
        version=row.version,
        code=row.code,
        number=row.number,
        kind=row.kind,
        kind_name=rule.name,
        care=rule.care,
        place=tree.path(row.place_id),
        place_code=tree.places[row.place_id].code if row.place_id is not None else "",
        away=away.boxes.get(row.id),
        not_met=not_met,
        limit_tenths=row.limit_tenths,
        empty_tenths=row.empty_tenths,
        tenths=tenths,
        volume_ml=load.volume_ml,
        room_ml=room,
        size_mm=size,
        bags=load.bags,
        pieces=load.pieces,
        unweighed=load.unweighed,
        deposits=deposits,
        full_permille=full_permille(tenths, row.limit_tenths, load.volume_ml, room),
        desiccant_on=row.desiccant_on,
        note=row.note,
        made_at=row.made_at,
        label_copy=row.label_copy,
        labelled_at=row.labelled_at,
        gone=row.gone_at is not None,
    )
