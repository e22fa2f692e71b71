"""The rows of one container as they stand on the table: written, being written, or waiting for an answer."""

from __future__ import annotations

import uuid
from collections.abc import Container, Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime
from enum import Enum

from findsdesk.desk.editing import Differing
from findsdesk.desk.group_rows import GroupFacts, GroupRow
from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.benches.sorting.typed_row import TypedRow
from findsdesk.words import _


class Saved(Enum):
    """How far a row has got."""

    WRITTEN = "written"
    PENDING = "pending"
    WAITS = "waits"
    """It is not written; what stands beside it says why."""


@dataclass(frozen=True, slots=True)
class Clash:
    """What two people changed in one row: who the other is, and each field with mine, theirs and before."""

    who: str
    differences: tuple[Differing, ...]

    @classmethod
    def of(cls, refusal: Refusal) -> Clash | None:
        """Return what clashed, where that is why a row was not written."""
        differences = refusal.facts.get("differences")
        if refusal.code != "changed_meanwhile" or not isinstance(differences, tuple):
            return None
        return cls(str(refusal.facts["who"]), differences)


@dataclass(eq=False, slots=True)
class TableLine:
    """One row. ``row`` is what the store has, ``typed`` what was typed and is not written yet."""

    row: GroupRow | None = None
    typed: TypedRow | None = None
    said: GroupFacts | None = None
    """What the typing says, as far as it is understood."""
    saved: Saved = Saved.WRITTEN
    doubt: str = ""
    doubt_code: str = ""
    doubt_column: str = ""
    """The cell the doubt is about."""
    clash: Clash | None = None
    """What another one wrote into the row meanwhile, until it is written again."""
    of_row: int = 0
    """The id of its row in the store, as long as nothing more is known of it: it was kept while no window was open."""
    place: int = -1
    """Its place among the rows when it was kept, until they are there again."""
    removed_row: int = 0
    """The id of its row in the store, which somebody removed, until it is known who."""
    was: Decision | None = None
    """What it was decided as before a change of it had the rules decide otherwise."""
    act_id: str = field(default_factory=lambda: str(uuid.uuid4()))
    """The act is made at the keyboard: sent twice, after a fault, it is written once."""

    @property
    def facts(self) -> GroupFacts | None:
        """Return what counts: what is being written, else what is written; None for a row that only waits."""
        if self.saved is Saved.PENDING:
            return self.said
        return self.row.facts if self.row else None

    @property
    def wants_why(self) -> bool:
        """Return whether it is written and decided against a rule, and nobody has said why yet."""
        return self.saved is Saved.WRITTEN and self.row is not None and self.row.facts.wants_why

    def waits_because(self, code: str, words: str, column: str = "", clash: Clash | None = None) -> None:
        """Take note that it could not be written, and why; ``column`` is the cell that is doubtful."""
        self.saved, self.doubt_code, self.doubt = Saved.WAITS, code, words
        self.doubt_column, self.clash = column, clash

    def is_written(self, row: GroupRow) -> None:
        """Take note of what the store has now."""
        self.row, self.typed, self.said = row, None, None
        self.saved = Saved.WRITTEN
        self._no_doubt()

    def waits_as_gone(self, who: str = "") -> None:
        """Take note that somebody removed the row in the store; ``who`` is '' as long as it is not known."""
        who = who or _("Somebody")
        words = _("{who} removed this row meanwhile. F2, Page down writes it anew.").format(who=who)
        self.waits_because("row_gone", words)

    def waits_again(self, before: TableLine) -> None:
        """Wait with what was typed and doubted before it was given up."""
        self.typed, self.said = before.typed, before.said
        self.waits_because(before.doubt_code, before.doubt, before.doubt_column, before.clash)

    @property
    def waits_changed(self) -> bool:
        """Return whether it is written and waits with a change that is not."""
        return self.saved is Saved.WAITS and self.row is not None

    def is_sent(self, typed: TypedRow, said: GroupFacts) -> None:
        """Take note that this is being written."""
        self.typed, self.said, self.saved = typed, said, Saved.PENDING
        self._no_doubt()

    def _no_doubt(self) -> None:
        self.doubt = self.doubt_code = self.doubt_column = ""
        self.clash = None


Moment = tuple[datetime, int]
"""When an act was written, and its place at its station."""


@dataclass(slots=True)
class Removed:
    """A row that was in no store and was taken off the table; ``since`` is the newest act before that."""

    line: TableLine
    place: int
    since: Moment | None
    change_of: TableLine | None = None
    """The written row whose change was given up; ``line`` is that row with the change."""


@dataclass(slots=True)
class TableLines:
    """The rows of a container in the order in which they were said."""

    lines: list[TableLine] = field(default_factory=list)
    half_typed: TypedRow | None = None
    """A row begun and not finished when something else was taken in hand."""
    number: str = ""
    """The number of the container."""
    found_again: bool = False
    """They were kept while no window was open, and nothing was written here since: told in words."""
    half_found: bool = False
    """A half typed row was kept with them."""
    removed: list[Removed] = field(default_factory=list)
    back_again: list[Removed] = field(default_factory=list)
    """Removed rows that were brought back, and can be removed again in turn."""

    def merge(
        self, rows: Iterable[GroupRow], only: Container[int] | None = None, held: TableLine | None = None
    ) -> None:
        """Take over what the store has; rows that are being written or that wait keep their place.

        ``only`` are the ids of the rows that were read, where not all were; ``held`` is being changed and stays too.
        """
        fresh = {row.id: row for row in rows}
        kept = []
        for line in self.lines:
            if line.of_row and only is None:
                line.row, line.of_row = fresh.pop(line.of_row, None), 0
                kept.append(line)
                continue
            if line.row is None or (only is not None and line.row.id not in only):
                kept.append(line)
                continue
            row = fresh.pop(line.row.id, None)
            if line.saved is Saved.WRITTEN and row is None and line is not held:
                continue
            line.row = row
            kept.append(line)
        self.lines = [line for line in kept if line.row is not None or line.place < 0]
        for row in sorted(fresh.values(), key=lambda one: (one.ordinal, one.id)):
            self._put(TableLine(row))
        for line in sorted((one for one in kept if one.row is None and one.place >= 0), key=lambda one: one.place):
            self.lines.insert(min(line.place, len(self.lines)), line)
            line.place = -1

    def _put(self, line: TableLine) -> None:
        """Put a row from the store right before the next one of the store, else behind the last.

        Rows that are only said here stand behind what is there, and where they were said between others stay there.
        """
        assert line.row is not None
        stored = [(place, one.row.ordinal) for place, one in enumerate(self.lines) if one.row is not None]
        behind = next((place for place, ordinal in stored if ordinal > line.row.ordinal), None)
        last = stored[-1][0] + 1 if stored else 0
        self.lines.insert(last if behind is None else behind, line)

    def add(self, line: TableLine) -> TableLine:
        """Put a new row at the end."""
        self.lines.append(line)
        return line

    def drop(self, line: TableLine) -> None:
        """Take a row off the table."""
        if line in self.lines:
            self.lines.remove(line)

    def take_off(self, line: TableLine, since: Moment | None) -> Removed:
        """Take a row off that is in no store, so that it can come back in turn."""
        place = self.lines.index(line) if line in self.lines else len(self.lines)
        self.removed.append(Removed(line, place, since))
        self.back_again.clear()
        self.drop(line)
        return self.removed[-1]

    def give_up(self, line: TableLine, since: Moment | None) -> Removed:
        """Let a row stand as it is written and not as it was changed, so that the change can come back in turn."""
        assert line.row is not None
        self.removed.append(Removed(replace(line), self.lines.index(line), since, line))
        self.back_again.clear()
        line.is_written(line.row)
        return self.removed[-1]

    def to_bring_back(self, since: Moment | None) -> Removed | None:
        """Return the removed row whose turn it is to come back, where nothing newer than ``since`` was written."""
        last = self.removed[-1] if self.removed else None
        if last is None or (since is not None and (last.since is None or last.since < since)):
            return None
        return last

    def to_remove_again(self, since: Moment | None) -> Removed | None:
        """Return the row that came back last and can be removed again, or None."""
        last = self.back_again[-1] if self.back_again else None
        return last if last is not None and last.since == since else None

    def bring_back(self) -> TableLine:
        """Bring the row back that was removed last."""
        last = self.removed.pop()
        self.back_again.append(last)
        if last.change_of is not None and last.change_of in self.lines:
            last.change_of.waits_again(last.line)
            return last.change_of
        self.lines.insert(min(last.place, len(self.lines)), last.line)
        return last.line

    def remove_again(self) -> TableLine:
        """Remove the row again that came back last."""
        last = self.back_again.pop()
        self.removed.append(last)
        changed = last.change_of
        if changed is not None and changed in self.lines and changed.row is not None:
            changed.is_written(changed.row)
        self.drop(last.line)
        return last.line

    def written(self, line: TableLine, row: GroupRow) -> None:
        """Take note of what the store wrote for a row; a reading may have brought it before."""
        twin = next((other for other in self.lines if other is not line and other.row and other.row.id == row.id), None)
        if twin is not None:
            self.lines.remove(twin)
        line.is_written(row)

    def above(self, line: TableLine | None) -> TableLine | None:
        """Return the row above a row, or above the one being typed; None at the top."""
        place = self.lines.index(line) if line in self.lines and line is not None else len(self.lines)
        return self.lines[place - 1] if place else None

    def waiting(self) -> list[TableLine]:
        """Return the rows that are not written and wait for somebody."""
        return [line for line in self.lines if line.saved is Saved.WAITS]

    def wanting_why(self) -> list[TableLine]:
        """Return the rows that are written and decided against a rule, of which nobody has said why yet."""
        return [line for line in self.lines if line.wants_why]

    def unwritten(self) -> bool:
        """Return whether something here is only in this window."""
        return self.half_typed is not None or any(line.saved is not Saved.WRITTEN for line in self.lines)
