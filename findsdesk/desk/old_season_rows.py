"""An old season written: its containers with the steps that lie behind them.

What was done in the field season happened on its days; what is written now was entered now.
"""

from __future__ import annotations

from datetime import date, datetime, time
from functools import cache
from typing import Any

from findsdesk.desk.desk import Deed
from findsdesk.desk.new_containers import SERIALS, number_series
from findsdesk.desk.old_boxes import write_boxes
from findsdesk.desk.old_season_finds import (
    Whole,
    Writing,
    give_bag_codes,
    telling,
    write_bags,
    write_count,
    write_groups,
    write_marks,
)
from findsdesk.desk.old_seasons import CheckedSeason, Rows, whole_count
from findsdesk.desk.setting_up import person_or_new
from findsdesk.desk.shipped import route_of
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.read_tables import ReadTable
from findsdesk.domain.routes import Treatment
from findsdesk.domain.standings import Standing, StepKind, StepTaken, fold
from findsdesk.domain.table_kinds import TableKind
from findsdesk.store.many_rows import write_many
from findsdesk.store.models import (
    Bag,
    Container,
    Count,
    Journaled,
    Lay,
    LedgerEntry,
    MarkEntry,
    Part,
    Season,
    SherdGroup,
    Step,
)
from findsdesk.store.numbers import raise_series, take_numbers

_NOON = time(12)
_IN_ORDER: tuple[type[Journaled], ...] = (Container, Part, Step, Count, LedgerEntry, SherdGroup, Bag, Lay, MarkEntry)
"""What points at another row comes after it."""


def write_season(deed: Deed, read: ReadTable, checked: CheckedSeason, season: Season) -> None:
    """Write the new containers of a season with all that the table says of them."""
    lies = {checked.boxes.lies(row)[0] for rows in checked.containers.values() for row in rows}
    boxes = write_boxes(deed, checked.boxes, sorted(name for name in lies if name is not None), season)
    names = {checked.said("supervisor", rows) for rows in checked.containers.values()}
    people = {name: person_or_new(deed, name) for name in sorted(filter(None, names))}
    ids = {name: person.id for name, person in people.items() if person is not None}
    writing = Writing(deed, read, checked, season, boxes, ids, telling(words_of(deed.desk)))
    station, site = deed.desk.station_id, deed.desk.facts.code
    if checked.containers:
        serials = take_numbers(deed.session, SERIALS, len(checked.containers), station_id=station)
        for serial, (key, rows) in zip(serials, checked.containers.items(), strict=True):
            _container(writing, make_code(site, Kind.TAG, serial), key[0], rows)
    give_bag_codes(writing)
    for kind in _IN_ORDER:
        write_many(deed.session, deed.changes, kind, writing.rows[kind])
    _raise_numbers(writing)


def _container(writing: Writing, code: str, scope: str, rows: Rows) -> None:
    checked = writing.checked
    day = checked.said("collected_on", rows)
    whole = _whole(writing, rows, day)
    bagged = any(checked.boxes.lies(row) != (None, None) for row in rows)
    here = writing.read.kind is TableKind.SEASON
    steps = _steps(whole, bagged) if here else [StepTaken(StepKind.LISTED)]
    standing = fold(steps)
    of = {"code": code, "scope": scope, "collected_on": day, "standing": standing.value}
    writing.rows[Container].append(
        _container_row(writing, whole, rows) | of | {"arrived_at": whole.at if here else None}
    )
    _write_steps(writing, whole, steps)
    if here:
        gone = standing in (Standing.BAGGED, Standing.EMPTY)
        where = {"place_kind": "gone" if gone else "yard", "place": "", "since": whole.at}
        writing.add(Part, container_id=whole.id, ordinal=1, **where)
        write_count(writing, whole, rows)
        write_groups(writing, whole)
        write_bags(writing, whole, rows)
        write_marks(writing, whole, rows)


def _whole(writing: Writing, rows: Rows, day: date | None) -> Whole:
    checked, pieces = writing.checked, writing.checked.means.get("pieces")
    groups = [row for row in rows if checked.groups[row]]
    total = sum(pieces[row] for row in groups) if pieces else 0
    counted = whole_count(checked, rows)
    return Whole(
        id=writing.deed.new_id(),
        material=checked.said("material", rows),
        deposit_id=checked.said("deposit", rows).id,
        at=_noon(day or writing.season.starts, writing.deed.desk.facts.zone),
        groups=groups,
        counted=total if counted is None and groups else counted,
        total=total,
    )


def _container_row(writing: Writing, whole: Whole, rows: Rows) -> dict[str, Any]:
    checked = writing.checked
    number = str(writing.read.values["number"][rows[0]])
    return {
        "id": whole.id,
        "season_id": writing.season.id,
        "number": number,
        "number_key": sort_key(number),
        "number_folded": folded(number),
        "deposit_id": whole.deposit_id,
        "square_id": checked.said("deposit", rows).square_id,
        "supervisor_id": writing.people.get(checked.said("supervisor", rows)),
        "material": whole.material,
        "description": checked.said("description", rows) or "",
        "on_list": True,
    }


@cache
def _noon(day: date, zone: Any) -> datetime:
    """Return noon of a day: nobody wrote down the hour."""
    return datetime.combine(day, _NOON, zone)


def _steps(whole: Whole, bagged: bool) -> list[StepTaken]:
    """Return the steps that a container of an old season has behind it, as far as its rows tell."""
    route = route_of(whole.material)
    steps = [StepTaken(StepKind.LISTED), StepTaken(StepKind.ARRIVED)]
    if route.treatment in (Treatment.CLOSED, Treatment.STOP):
        stays = bagged and route.treatment is Treatment.CLOSED
        return [*steps, StepTaken(StepKind.CLOSED), *([StepTaken(StepKind.BAGGED)] if stays else [])]
    if whole.counted is None:
        return steps
    steps.append(StepTaken(StepKind.COUNTED, pieces=whole.counted))
    if not whole.counted:
        return steps
    if not whole.groups:
        steps.append(StepTaken(StepKind.DRY))
        return [*steps, StepTaken(StepKind.BAGGED)] if bagged and not route.sorted_here else steps
    if whole.counted > whole.total:
        return [*steps, StepTaken(StepKind.DRY), StepTaken(StepKind.SORTING)]
    steps.append(StepTaken(StepKind.SETTLED))
    return [*steps, StepTaken(StepKind.BAGGED)] if bagged else steps


def _write_steps(writing: Writing, whole: Whole, steps: list[StepTaken]) -> None:
    deed = writing.deed
    who = {"entered_at": deed.written_at, "person_id": deed.person_id, "entered_by_id": deed.person_id}
    for step in steps:
        said = {"kind": step.kind.value, "pieces": step.pieces, "happened_at": whole.at}
        writing.add(Step, container_id=whole.id, **said, **who)


def _raise_numbers(writing: Writing) -> None:
    """Let each series of numbers go on after the highest that came in."""
    highest: dict[str, int] = {}
    for row in writing.rows[Container]:
        if row["number"].isdigit() and row["number"].isascii():
            highest[row["scope"]] = max(highest.get(row["scope"], 0), int(row["number"]))
    for scope, number in sorted(highest.items()):
        raise_series(writing.deed.session, number_series(scope), number)
