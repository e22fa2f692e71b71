"""The rows of one container as they stand on the table: written, being written, or waiting for an answer."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import Enum

from findsdesk.desk.group_rows import GroupFacts, GroupRow
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.typed_row import TypedRow


class Saved(Enum):
    """How far a row has got."""

    WRITTEN = "written"
    PENDING = "pending"
    WAITS = "waits"
    """It is not written; what stands beside it says why."""


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
    act_id: str = field(default_factory=lambda: str(uuid.uuid4()))
    """The act is made at the keyboard: sent twice, after a fault, it is written once."""

    @property
    def facts(self) -> GroupFacts | None:
        """Return what counts: what is being written, else what is written; None for a row that only waits."""
        if self.saved is Saved.PENDING:
            return self.said
        return self.row.facts if self.row else None

    def waits_because(self, code: str, words: str) -> None:
        """Take note that it could not be written, and why."""
        self.saved, self.doubt_code, self.doubt = Saved.WAITS, code, words

    def is_written(self, row: GroupRow) -> None:
        """Take note of what the store has now."""
        self.row, self.typed, self.said = row, None, None
        self.saved, self.doubt, self.doubt_code = Saved.WRITTEN, "", ""

    def is_sent(self, typed: TypedRow, said: GroupFacts) -> None:
        """Take note that this is being written."""
        self.typed, self.said, self.saved = typed, said, Saved.PENDING
        self.doubt, self.doubt_code = "", ""


@dataclass(slots=True)
class TableLines:
    """The rows of a container in the order in which they were said."""

    lines: list[TableLine] = field(default_factory=list)
    half_typed: TypedRow | None = None
    """A row begun and not finished when something else was taken in hand."""

    def merge(self, rows: Iterable[GroupRow]) -> None:
        """Take over what the store has; rows that are being written or that wait keep their place."""
        fresh = {row.id: row for row in rows}
        kept = []
        for line in self.lines:
            row = fresh.pop(line.row.id, None) if line.row else None
            if line.saved is Saved.WRITTEN:
                if row is None:
                    continue
                line.row = row
            elif line.row is not None:
                line.row = row
            kept.append(line)
        self.lines = kept
        for row in sorted(fresh.values(), key=lambda one: (one.ordinal, one.id)):
            self._put(TableLine(row))

    def _put(self, line: TableLine) -> None:
        """Put a row from the store before the first row that comes after it."""
        assert line.row is not None
        for place, other in enumerate(self.lines):
            if other.row is not None and other.row.ordinal > line.row.ordinal:
                self.lines.insert(place, line)
                return
        self.lines.append(line)

    def add(self, line: TableLine) -> TableLine:
        """Put a new row at the end."""
        self.lines.append(line)
        return line

    def drop(self, line: TableLine) -> None:
        """Take a row off the table."""
        if line in self.lines:
            self.lines.remove(line)

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

    def unwritten(self) -> bool:
        """Return whether something here is only in this window."""
        return self.half_typed is not None or any(line.saved is not Saved.WRITTEN for line in self.lines)

    def pieces(self, *decisions: Decision) -> int:
        """Return the pieces under these decisions, written or being written."""
        said = (line.facts for line in self.lines)
        return sum(one.pieces for one in said if one is not None and one.decision in decisions)

    def tenths(self) -> int:
        """Return the dry tenths of a gram of all rows, written or being written."""
        return sum(line.facts.tenths or 0 for line in self.lines if line.facts is not None)
