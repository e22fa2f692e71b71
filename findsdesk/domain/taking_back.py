"""Taking back one's last act and doing it again: which act that is, whether it still can be, and on which row.

Undo is a new act. What was taken back once is passed over the next time, so that taking back twice takes back two acts;
doing again takes back the taking back that was done last, as long as nothing else was done after it.
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

    def then(self, later: RowChange) -> RowChange:
        """Return this change and a later one of the same row as one."""
        before = None if self.before is None else {**(later.before or {}), **self.before}
        after = None if later.after is None else {**(self.after or {}), **later.after}
        return RowChange(self.row_id, before, after)


@dataclass(frozen=True, slots=True)
class PastAct:
    """An act as far as taking it back needs it."""

    id: str
    person_id: int | None
    is_taking_back: bool
    changes: tuple[RowChange, ...]
    is_doing_again: bool = False


@dataclass(frozen=True, slots=True)
class Found:
    """The act to take back (or the taking back to undo), and the later act in the way, if any.

    Its changes are of the rows that stand for them now; ``rows`` are all ids that those rows had since.
    """

    act: PastAct
    changes: tuple[RowChange, ...]
    in_the_way: PastAct | None
    rows: frozenset[int]

    @property
    def now_called(self) -> dict[int, int]:
        """Return the ids of the rows that stand now for those the act named."""
        return {was.row_id: now.row_id for was, now in zip(self.act.changes, self.changes, strict=True)}


@dataclass(slots=True)
class _Walk:
    taken_back: list[PastAct] = field(default_factory=list)
    done_again: list[PastAct] = field(default_factory=list)
    now_called: dict[int, int] = field(default_factory=dict)
    moved_by: dict[int, PastAct] = field(default_factory=dict)

    def row_now(self, row_id: int) -> int:
        """Return the id of the row that stands for one that was removed and brought back under a new id."""
        return self.ids_of(row_id)[-1]

    def ids_of(self, row_id: int) -> list[int]:
        """Return the ids that a row had since an act named it, the one it has now at the end."""
        ids = [row_id]
        while ids[-1] in self.now_called:
            ids.append(self.now_called[ids[-1]])
        return ids

    def pair(self, act: PastAct, its_opposite: PastAct) -> None:
        """Note which removed rows came back, and under which ids."""
        made = [change.row_id for change in its_opposite.changes if change.before is None]
        removed = [change.row_id for change in act.changes if change.after is None]
        self.now_called.update(zip(removed, made, strict=False))

    def pass_over(self, act: PastAct, person_id: int | None) -> bool:
        """Go past an act that is somebody else's, or one of a pair that cancel each other; False for any other."""
        if act.person_id != person_id:
            for change in act.changes:
                self.moved_by.setdefault(self.row_now(change.row_id), act)
        elif act.is_doing_again:
            self.done_again.append(act)
        elif act.is_taking_back and self.done_again:
            self.pair(act, self.done_again.pop())
        else:
            return False
        return True

    def found(self, act: PastAct) -> Found:
        """Return an act as the one looked for."""
        changes = tuple(RowChange(self.row_now(one.row_id), one.before, one.after) for one in act.changes)
        in_the_way = next((self.moved_by[one.row_id] for one in changes if one.row_id in self.moved_by), None)
        rows = frozenset(row_id for one in act.changes for row_id in self.ids_of(one.row_id))
        return Found(act, changes, in_the_way, rows)


def last_of(acts: Iterable[PastAct], person_id: int | None) -> Found | None:
    """Return the person's last act that was not taken back yet, or None; ``acts`` come newest first."""
    walk = _Walk()
    for act in acts:
        if walk.pass_over(act, person_id):
            continue
        if act.is_taking_back:
            walk.taken_back.append(act)
        elif walk.taken_back:
            walk.pair(act, walk.taken_back.pop())
        else:
            return walk.found(act)
    return None


def last_taken_back(acts: Iterable[PastAct], person_id: int | None) -> Found | None:
    """Return the person's taking back to undo, or None where something else was done since; newest first."""
    walk = _Walk()
    for act in acts:
        if not walk.pass_over(act, person_id):
            return walk.found(act) if act.is_taking_back else None
    return None


def standing_acts(acts: Iterable[PastAct]) -> tuple[frozenset[str], dict[str, str]]:
    """Return the ids of the acts that stand, and of each doing again the act it did again; newest come first.

    An act stands that was not taken back, or was done again after that; each person takes back their own.
    """
    done: dict[int | None, list[str]] = {}
    undone: dict[int | None, list[str]] = {}
    done_again: dict[str, str] = {}
    for act in reversed(tuple(acts)):
        mine, gone = done.setdefault(act.person_id, []), undone.setdefault(act.person_id, [])
        if act.is_taking_back and mine:
            gone.append(mine.pop())
        elif act.is_doing_again and gone:
            done_again[act.id] = gone[-1]
            mine.append(gone.pop())
        else:
            mine.append(act.id)
            gone.clear()
    return frozenset(one for mine in done.values() for one in mine), done_again
