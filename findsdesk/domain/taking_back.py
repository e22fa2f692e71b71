"""Taking back one's last act: which act that is, whether it can still be taken back, and on which row.

Undo is a new act. What was taken back once is passed over the next time, so that taking back twice takes back two acts.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True)
class RowChange:
    """What an act did to one row: ``before`` is None where the row was made, ``after`` where it was removed."""

    row_id: int
    before: Mapping[str, Any] | None
    after: Mapping[str, Any] | None


@dataclass(frozen=True, slots=True)
class PastAct:
    """An act as far as taking it back needs it."""

    id: str
    person_id: int | None
    is_taking_back: bool
    changes: tuple[RowChange, ...]


@dataclass(frozen=True, slots=True)
class Found:
    """The act to take back, its changes on the rows that stand for them now, and the later act in the way, if any."""

    act: PastAct
    changes: tuple[RowChange, ...]
    in_the_way: PastAct | None


@dataclass(slots=True)
class _Walk:
    taken_back: list[PastAct] = field(default_factory=list)
    now_called: dict[int, int] = field(default_factory=dict)
    moved_by: dict[int, PastAct] = field(default_factory=dict)

    def row_now(self, row_id: int) -> int:
        """Return the id of the row that stands for one that was removed and brought back under a new id."""
        while row_id in self.now_called:
            row_id = self.now_called[row_id]
        return row_id

    def pair(self, act: PastAct, taking_back: PastAct) -> None:
        """Note which removed rows came back, and under which ids."""
        made = [change.row_id for change in taking_back.changes if change.before is None]
        removed = [change.row_id for change in act.changes if change.after is None]
        self.now_called.update(zip(removed, made, strict=False))


def last_of(acts: Iterable[PastAct], person_id: int | None) -> Found | None:
    """Return the person's last act that was not taken back yet, or None; ``acts`` come newest first."""
    walk = _Walk()
    for act in acts:
        if act.person_id != person_id:
            for change in act.changes:
                walk.moved_by.setdefault(walk.row_now(change.row_id), act)
        elif act.is_taking_back:
            walk.taken_back.append(act)
        elif walk.taken_back:
            walk.pair(act, walk.taken_back.pop())
        else:
            changes = tuple(
                RowChange(walk.row_now(change.row_id), change.before, change.after) for change in act.changes
            )
            in_the_way = next((walk.moved_by[one.row_id] for one in changes if one.row_id in walk.moved_by), None)
            return Found(act, changes, in_the_way)
    return None
