"""What two stores said of the same rows since they parted, compared: where they differ, a person decides."""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from itertools import product
from typing import Any

from sqlalchemy.orm import Session

from findsdesk.store.courier_chains import LineTold
from findsdesk.store.courier_rows import Row
from findsdesk.store.journal import Changes, plain
from findsdesk.store.models import Clash
from findsdesk.store.put_right import FOLLOWS
from findsdesk.store.search_index import KIND_SHIFT
from findsdesk.store.told_changes import tell_new

VALUES, GONE, NUMBER, FIGURES = "values", "gone", "number", "figures"
_NEVER = frozenset({"clash", "redo", "courier_passed"})
"""Kinds whose rows follow from both sides."""
BY_NAME = frozenset({("excavation", "settings"), ("excavation", "terms")})
"""Columns of many values by name: what each side changed of them stands beside the other's."""
_NEVER_COLUMNS = frozenset(
    {
        "label_copy", "labelled_at", "label_says", "tag_copy", "number_key", "number_folded", "name_key",
        "name_folded",
    }
)  # fmt: skip
"""Columns that follow from others, or count what was printed."""
_FIGURES = {"ledger_entry": "entries", "sherd_group": "groups"}
_IDS = 62
"""Bits of a clash's id."""


@dataclass(slots=True)
class Said:
    """What one side said of a row: the columns in the end, whether it brought the row or took it away."""

    station_id: int
    act_id: str
    values: dict[str, Any] = field(default_factory=dict)
    was: dict[str, Any] = field(default_factory=dict)
    """What changed columns held before this side changed them first."""
    new: bool = False
    gone: bool = False
    whole: dict[str, Any] = field(default_factory=dict)
    """The row as it was when it was taken away."""


@dataclass(frozen=True, slots=True)
class ClashFound:
    """Two sides that differ about a row; the side of the lower station comes first."""

    what: str
    row: Row
    one: Said
    other: Said
    other_row_id: int | None = None

    @property
    def id(self) -> int:
        """Return the id that both stores find for it."""
        acts = self.one.act_id, self.other.act_id
        return id_from(self.what, *self.row, self.other_row_id, *acts)


def id_from(*told: object) -> int:
    """Return the id that follows from what a row is about, so that two stores write the same row."""
    return int.from_bytes(hashlib.sha256(repr(told).encode()).digest()[:8], "big") >> (64 - _IDS)


def id_that_follows(*told: object) -> int:
    """Return the id of an answer: it fits the index of what is searched, above the rows of all stations."""
    return (1 << (KIND_SHIFT - 1)) | (id_from(*told) >> 6)


def is_answer(row_id: int) -> bool:
    """Tell whether a row's id follows from what it answers, so that nobody at a station said it of their own."""
    return row_id >= 1 << (KIND_SHIFT - 1)


def said_by(lines: Iterable[LineTold]) -> dict[Row, Said]:
    """Return what one side said of each row in the end."""
    said: dict[Row, Said] = {}
    for line in lines:
        one = said.setdefault((line.kind, line.row_id), Said(line.station_id, line.act_id))
        one.station_id, one.act_id = line.station_id, line.act_id
        one.new = one.new or line.before is None
        one.gone = line.after is None
        one.whole = line.before or {} if one.gone else {}
        one.values.update(line.after or {})
        one.was = {**(line.before or {}), **one.was}
    return said


def found(what: str, row: Row, first: Said, second: Said, other_row_id: int | None = None) -> ClashFound:
    """Return a clash with its sides in their order."""
    one, other = sorted((first, second), key=lambda side: side.station_id)
    return ClashFound(what, row, one, other, other_row_id)


def clashes_between(ours: Mapping[Row, Said], theirs: Mapping[Row, Said]) -> Iterator[ClashFound]:
    """Yield where both sides said different things of one row, counted or sorted in one container, or gave a number."""
    for row in sorted(ours.keys() & theirs.keys()):
        if row[0] not in _NEVER:
            yield from _of_a_row(row, ours[row], theirs[row])
    yield from _of_figures(ours, theirs)
    yield from _of_deposits(ours, theirs)


def _of_a_row(row: Row, ours: Said, theirs: Said) -> Iterator[ClashFound]:
    if (ours.gone and theirs.gone) or is_answer(row[1]):
        return
    if ours.gone or theirs.gone:
        yield found(GONE, row, _whole(ours), _whole(theirs))
        return
    follows = FOLLOWS.get(row[0], frozenset()) | _NEVER_COLUMNS
    both = sorted((ours.values.keys() & theirs.values.keys()) - follows)
    mine, yours = _only(ours, both), _only(theirs, both)
    for name in both:
        if (row[0], name) in BY_NAME:
            one, other = _changed(ours, name), _changed(theirs, name)
            same = one.keys() & other.keys()
            mine.values[name] = {key: one[key] for key in same if one[key] != other[key]}
            yours.values[name] = {key: other[key] for key in mine.values[name]}
    differ = [name for name in both if mine.values[name] != yours.values[name]]
    if differ:
        yield found(VALUES, row, _only(mine, differ), _only(yours, differ))


def _changed(side: Said, name: str) -> dict[str, Any]:
    """Return what a side changed within a column of many values by name."""
    was = side.was.get(name) or {}
    return {key: value for key, value in side.values[name].items() if was.get(key) != value}


def by_name_together(row: Row, ours: Said, theirs: Said, now: Mapping[str, Any]) -> dict[str, Any]:
    """Return the columns of many values with what both sides changed in them; of one name what stands stays."""
    together: dict[str, Any] = {}
    for kind, name in sorted(BY_NAME):
        if kind == row[0] and name in ours.values and name in theirs.values and not (ours.gone or theirs.gone):
            mine, yours = _changed(ours, name), _changed(theirs, name)
            alone = {key: value for key, value in (mine | yours).items() if (key in mine) != (key in yours)}
            together[name] = {**now[name], **alone}
    return together


def _whole(side: Said) -> Said:
    return Said(side.station_id, side.act_id, {} if side.gone else side.values, gone=side.gone, whole=side.whole)


def _only(side: Said, names: Iterable[str]) -> Said:
    return Said(side.station_id, side.act_id, {name: side.values[name] for name in names})


def _of_figures(ours: Mapping[Row, Said], theirs: Mapping[Row, Said]) -> Iterator[ClashFound]:
    """Yield containers that two stations counted, explained or sorted: their figures stand in the sum twice."""
    mine, yours = _by_container(ours), _by_container(theirs)
    for container_id in sorted(mine.keys() & yours.keys()):
        for one, other in product(mine[container_id].values(), yours[container_id].values()):
            if any(one.values[name] and other.values[name] for name in ("entries", "groups")):
                yield found(FIGURES, ("container", container_id), one, other)


def _by_container(said: Mapping[Row, Said]) -> dict[int, dict[int, Said]]:
    """Return the figures of each container by the station that said them; what followed from others' is nobody's."""
    figures: dict[int, dict[int, Said]] = defaultdict(dict)
    for (kind, row_id), one in sorted(said.items()):
        if kind not in _FIGURES or not one.new or one.gone or is_answer(row_id):
            continue
        empty: dict[str, Any] = {"entries": [], "entered": 0, "groups": [], "sorted": 0}
        by_station = figures[one.values["container_id"]]
        sums = by_station.setdefault(one.station_id, Said(one.station_id, one.act_id, empty))
        sums.values[_FIGURES[kind]].append(row_id)
        sums.values["entered" if kind == "ledger_entry" else "sorted"] += one.values["pieces"]
        if row_id >= max(sums.values["entries"] + sums.values["groups"]):
            sums.act_id = one.act_id
    return figures


def _of_deposits(ours: Mapping[Row, Said], theirs: Mapping[Row, Said]) -> Iterator[ClashFound]:
    """Yield deposits of one number that both sides opened: perhaps the same, which a person says."""
    mine = _opened(ours)
    for number, (row_id, one) in _opened(theirs).items():
        if number in mine:
            other_id, other = mine[number]
            first, second = sorted((row_id, other_id))
            yield found(NUMBER, ("deposit", first), _only(one, ["number"]), _only(other, ["number"]), second)


def _opened(said: Mapping[Row, Said]) -> dict[str, tuple[int, Said]]:
    opened: dict[str, tuple[int, Said]] = defaultdict(lambda: (0, Said(0, "")))
    for (kind, row_id), one in sorted(said.items()):
        if kind == "deposit" and one.new and not one.gone:
            opened[one.values["number_folded"]] = (row_id, one)
    return dict(opened)


def write_clashes(
    session: Session, changes: Changes, clashes: Iterable[ClashFound], now: datetime, known: Callable[[int], bool]
) -> int:
    """Write the clashes that are not written yet; returns how many."""
    written = 0
    for one in clashes:
        if known(one.id):
            continue
        tell_new(session, changes, Clash.__tablename__, one.id, 1, _row(one, now))
        written += 1
    return written


def _row(one: ClashFound, now: datetime) -> dict[str, Any]:
    return {
        "id": one.id,
        "what": one.what,
        "kind": one.row[0],
        "row_id": one.row[1],
        "other_row_id": one.other_row_id,
        "one_station_id": one.one.station_id,
        "one": _side(one.one),
        "other_station_id": one.other.station_id,
        "other": _side(one.other),
        "found_at": plain(now),
        "decided_at": None,
        "decided_by_id": None,
        "choice": "",
    }


def _side(side: Said) -> dict[str, Any]:
    return {"act": side.act_id, "values": side.values, "gone": side.gone, "whole": side.whole}
