"""An old season from a table: containers, and sherds by ware and part, checked column by column.

A container stands in as many rows as it has groups. It goes in whole or waits whole: half of its groups would make a
balance that nobody counted.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.checked_tables import CheckedTable, ask_of_letters
from findsdesk.desk.desk import Desk
from findsdesk.desk.list_checks import Fate
from findsdesk.desk.new_containers import scope_of
from findsdesk.desk.old_boxes import OldBoxes, check_boxes
from findsdesk.desk.old_season_words import find_meanings
from findsdesk.desk.shipped import route_of
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.read_tables import ReadTable
from findsdesk.domain.settings import NumberScope
from findsdesk.domain.table_kinds import TableKind
from findsdesk.domain.written_numbers import identifier_key
from findsdesk.store.models import Container, Season, SherdGroup
from findsdesk.words import N_

OF_THE_CONTAINER = ("deposit", "square", "collected_on", "material", "supervisor", "description", "counted")
"""What is said of a container, and so the same in all its rows that say it."""
OF_A_GROUP = ("ware", "form", "part", "surface", "decoration", "condition", "pieces", "grams", "rim", "base", "note")
_STORED = (
    "ware_id", "form_id", "part", "surface", "decoration", "condition", "pieces", "tenths", "rim_permille",
    "base_permille", "note",
)  # fmt: skip
"""The columns of the store beside those of the table."""

USUAL_MATERIAL = "pottery"
"""The material of a container of an old season for which the table names none: one of sherds by ware."""

Key = tuple[str, str]
"""What tells one container from the others: the scope of its number, and its number."""
Rows = list[int]
"""The places of the rows of one container."""


@dataclass(slots=True)
class CheckedSeason(CheckedTable):
    """What becomes of the rows of an old season, with what each column means here."""

    season_id: int = 0
    containers: dict[Key, Rows] = field(default_factory=dict)
    """The new containers, each with its rows."""
    means: dict[str, list[Any]] = field(default_factory=dict)
    """Column to what its cells mean here: deposits as rows, wares by id, words by key."""
    boxes: OldBoxes = field(default_factory=OldBoxes)
    groups: list[bool] = field(default_factory=list)
    """Whether a row says sherds of a ware, form or part rather than the pieces of the whole container."""

    def said(self, column: str, rows: Rows) -> Any:
        """Return what the first row of a container that says anything says in a column."""
        values = self.means.get(column)
        return None if values is None else next((values[row] for row in rows if values[row] is not None), None)


def check_season(session: Session, desk: Desk, read: ReadTable, season: Season) -> CheckedSeason:
    """Check containers of a season, with their groups if the table has any, against what the store holds."""
    checked = CheckedSeason([Fate.NEW] * len(read), season_id=season.id)
    checked.means = find_meanings(session, desk, read, season)
    of_groups = [checked.means[name] for name in ("ware", "form", "part") if name in checked.means]
    nothing = (None,) * len(of_groups)
    checked.groups = [cells != nothing for cells in zip(*of_groups, strict=True)] or [False] * len(read)
    keys = _keys(read, checked, season)
    all_rows: dict[Key, Rows] = defaultdict(list)
    for row, key in enumerate(keys):
        if key is not None:
            all_rows[key].append(row)
    if read.kind is TableKind.SEASON:
        _say_usual_material(checked, all_rows)
    _ask_of_differing(read, checked, keys)
    _ask_of_numbers(read, checked, all_rows)
    numbers = select(Container.number).where(Container.season_id == season.id)
    ask_of_letters(read, set(session.execute(numbers).scalars()))
    checked.boxes = check_boxes(session, desk, read, checked.means, all_rows.values(), season)
    _compare(session, read, checked, all_rows, season)
    _wait_whole(read, checked, all_rows)
    checked.containers = {key: rows for key, rows in all_rows.items() if checked.fates[rows[0]] is Fate.NEW}
    return checked


def _keys(read: ReadTable, checked: CheckedSeason, season: Season) -> list[Key | None]:
    """Return what tells one container from the others: its number within its scope."""
    numbers = read.texts("number")
    folded_numbers = {number: identifier_key(number) for number in set(numbers)}
    if season.number_scope != NumberScope.SQUARE:
        scope = scope_of(season, None)
        keys: list[Key | None] = [(scope, folded_numbers[number]) if number else None for number in numbers]
    else:
        keys = [
            (f"season {season.id} square {deposit.square_id}", folded_numbers[number]) if number and deposit else None
            for number, deposit in zip(numbers, checked.means["deposit"], strict=True)
        ]
    return keys


def _say_usual_material(checked: CheckedSeason, all_rows: Mapping[Key, Rows]) -> None:
    materials = checked.means["material"]
    for rows in all_rows.values():
        if materials[rows[0]] is None and checked.said("material", rows) is None:
            materials[rows[0]] = USUAL_MATERIAL


def _ask_of_differing(read: ReadTable, checked: CheckedSeason, keys: Sequence[Key | None]) -> None:
    """Ask about rows that say something else of their container than a row before."""
    for column in OF_THE_CONTAINER:
        values = checked.means.get(column)
        if values is None:
            continue
        pairs = {(key, value) for key, value in zip(keys, values, strict=True) if key and value is not None}
        if len(pairs) == len({key for key, _value in pairs}):
            continue
        first: dict[Key, int] = {}
        for row, (key, value) in enumerate(zip(keys, values, strict=True)):
            if key is None or value is None:
                continue
            before = first.setdefault(key, row)
            if values[before] != value:
                text = N_("Line {line} says another {what} of the same {container}. Which is right?")
                facts = {"line": read.lines[before], "what": read.called(column)}
                read.ask(row, Doubt("rows_differ", text, facts, column))


def _ask_of_numbers(read: ReadTable, checked: CheckedSeason, all_rows: Mapping[Key, Rows]) -> None:
    if read.kind is not TableKind.SEASON:
        return
    means = checked.means
    pieces, parts = means.get("pieces"), means.get("part")
    for rows in all_rows.values():
        groups = [row for row in rows if checked.groups[row]]
        for row in groups:
            if parts is None or parts[row] is None:
                _ask_missing(read, row, "part")
            if pieces is None or not pieces[row]:
                _ask_missing(read, row, "pieces")
        _ask_of_circles(read, checked, groups)
        _ask_of_route(read, checked, rows, bool(groups))
        counted = whole_count(checked, rows)
        total = sum(pieces[row] or 0 for row in groups) if pieces else 0
        if not groups and counted is None:
            _ask_of_unknown_pieces(read, checked, rows)
        if groups and counted is not None and counted < total:
            text = N_("Counted {counted}, in its rows {total}. Which number is wrong?")
            read.ask(rows[0], Doubt("more_than_counted", text, {"counted": counted, "total": total}, "counted"))


def _ask_of_unknown_pieces(read: ReadTable, checked: CheckedSeason, rows: Rows) -> None:
    """Ask how many pieces lie in a box or at a place, where none are said and what lies there is counted."""
    material = checked.said("material", rows)
    if material is None or not route_of(material).counted:
        return
    for row in rows:
        if any(name in read.values and read.values[name][row] is not None for name in ("box", "place")):
            text = N_("How many pieces lie there? Write them, or leave its box and place empty: it has arrived then.")
            read.ask(row, Doubt("pieces_missing", text, {}, "pieces"))
            return


def whole_count(checked: CheckedSeason, rows: Rows) -> int | None:
    """Return the pieces counted in a whole container: as its own column says, or a row without ware and part."""
    counted = checked.said("counted", rows)
    pieces = checked.means.get("pieces")
    if counted is None and pieces is not None:
        whole = [pieces[row] for row in rows if not checked.groups[row] and pieces[row] is not None]
        counted = sum(whole) if whole else None
    return None if counted is None else int(counted)


def _ask_missing(read: ReadTable, row: int, column: str) -> None:
    if any(doubt.column == column for doubt in read.doubts.get(row, ())):
        return
    text = N_("No {what} in this row. Write it in, or leave the row out.")
    read.ask(row, Doubt(f"{column}_missing", text, {"what": read.called(column)}, column))


def _ask_of_circles(read: ReadTable, checked: CheckedSeason, groups: Rows) -> None:
    pieces = checked.means.get("pieces")
    for column in ("rim", "base"):
        values = checked.means.get(column)
        if values is None or pieces is None:
            continue
        for row in groups:
            if (values[row] or 0) > (pieces[row] or 0) * 1000:
                text = N_("Sherds there: {pieces}. Together they have {most} % of a circle at most, not {percent} %.")
                facts = {"pieces": pieces[row], "most": (pieces[row] or 0) * 100, "percent": values[row] // 10}
                read.ask(row, Doubt("rim_out_of_range", text, facts, column))


def _ask_of_route(read: ReadTable, checked: CheckedSeason, rows: Rows, grouped: bool) -> None:
    """Ask about sherds of what is not sorted here, and about pieces of what stays closed."""
    material = checked.said("material", rows)
    route = route_of(material) if material is not None else None
    if route is None or (route.sorted_here and route.counted):
        return
    facts = {"material": route.name}
    if grouped and not route.sorted_here:
        text = N_("{material} is not sorted by ware and part here. Leave both empty and write its pieces.")
        read.ask(rows[0], Doubt("not_sorted_here", text, facts, "part"))
    elif not route.counted and whole_count(checked, rows):
        text = N_("{material} stays closed here and is not counted. Leave its pieces empty.")
        read.ask(rows[0], Doubt("not_counted_here", text, facts, "pieces"))


def _compare(
    session: Session, read: ReadTable, checked: CheckedSeason, all_rows: Mapping[Key, Rows], season: Season
) -> None:
    """Let what is here already go by where it says the same, and ask where it does not."""
    scopes = {scope for scope, _number in all_rows}
    there = {
        (row.scope, identifier_key(row.number)): row
        for row in session.execute(select(Container).where(Container.scope.in_(scopes))).scalars()
    }
    both = {key: there[key] for key in all_rows.keys() & there.keys()}
    groups = _groups_here(session, season) if both and read.kind is TableKind.SEASON else {}
    for key, container in both.items():
        rows = all_rows[key]
        differing = _differing(checked, rows, container, groups.get(container.id, Counter()), read.kind)
        if differing:
            text = N_("{Container} {number} is here already and says something else of: {what}. Is the number right?")
            facts = {"number": container.number, "what": ", ".join(map(read.called, differing))}
            read.ask(rows[0], Doubt("number_taken", text, facts, "number"))
        for row in rows:
            checked.fates[row] = Fate.ASIDE if differing else Fate.SAME


def _groups_here(session: Session, season: Season) -> dict[int, Counter[tuple[Any, ...]]]:
    columns = [getattr(SherdGroup, name) for name in _STORED]
    of_the_season = select(Container.id).where(Container.season_id == season.id)
    found: dict[int, Counter[tuple[Any, ...]]] = defaultdict(Counter)
    for row in session.execute(
        select(SherdGroup.container_id, *columns).where(SherdGroup.container_id.in_(of_the_season))
    ):
        found[row[0]][tuple(row[1:])] += 1
    return found


def _differing(
    checked: CheckedSeason, rows: Rows, container: Container, here: Counter[tuple[Any, ...]], kind: TableKind
) -> list[str]:
    deposit, material = checked.said("deposit", rows), checked.said("material", rows)
    beside = {
        "deposit": (deposit.id if deposit else None, container.deposit_id),
        "collected_on": (checked.said("collected_on", rows), container.collected_on),
        "material": (material, container.material),
        "description": (checked.said("description", rows), container.description),
    }
    differing = [column for column, (said, is_here) in beside.items() if said is not None and said != is_here]
    if kind is TableKind.SEASON:
        there = Counter(group_values(checked, row) for row in rows if checked.groups[row])
        differing += ["pieces"] if there != here else []
    return differing


_TEXTS = frozenset({"surface", "decoration", "condition", "note"})


def group_values(checked: CheckedSeason, row: int) -> tuple[Any, ...]:
    """Return what a row says of its sherds, in the order of the store's columns."""
    said = []
    for column in OF_A_GROUP:
        values = checked.means.get(column)
        value = None if values is None else values[row]
        said.append("" if value is None and column in _TEXTS else value)
    return tuple(said)


def _wait_whole(read: ReadTable, checked: CheckedSeason, all_rows: Mapping[Key, Rows]) -> None:
    """Let all rows of a container wait where one of them has a question."""
    for row in read.doubts:
        checked.fates[row] = Fate.ASIDE
    if not read.doubts:
        return
    for rows in all_rows.values():
        asking = next((row for row in rows if read.doubts.get(row)), None)
        if asking is None:
            continue
        for row in rows:
            checked.fates[row] = Fate.ASIDE
            if not read.doubts.get(row):
                text = N_("It is of the same {container} as line {line}, and waits with it.")
                read.ask(row, Doubt("waits_along", text, {"line": read.lines[asking]}, "number"))
