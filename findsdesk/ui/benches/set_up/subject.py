"""What a subject of the set-up is: a list of things, the fields of one, and the deeds that add and change one."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from findsdesk.desk.desk import Desk
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.widgets.field_form import Field

Values = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing of the list: its row, what the form shows of it, its name for the desk, the version it was seen in."""

    row: TableRow
    values: Mapping[str, Any] = field(default_factory=dict)
    name: str = ""
    version: int = 1
    key: str = ""
    """What the desk knows it by where that is not its name."""


@dataclass(frozen=True, slots=True)
class Subject:
    """A list of the set-up, in words; ``entries`` reads on the reading lane, ``add`` and ``change`` are one deed each.

    Without ``change`` an entry stays as it is; ``changing`` is the marked heading of its form, with ``{name}``.
    ``later`` fields belong to the change alone, ``first`` ones to what is new.
    """

    key: str
    title: str
    adding: str
    button: str
    nothing: str
    columns: tuple[Column, ...]
    fields: tuple[Field, ...]
    entries: Callable[[Desk], list[Entry]]
    add: Callable[[Desk, Values], object]
    start: Mapping[str, Any] = field(default_factory=dict)
    change: Callable[[Desk, Entry, Values], object] | None = None
    changing: str = ""
    later: frozenset[str] = frozenset()
    said: Callable[[object], str] = lambda _done: ""
    """What is to be told of a deed beyond that it is written."""
    first: frozenset[str] = frozenset()


def columns(*titles: str) -> tuple[Column, ...]:
    """Return columns by their titles; the last takes the room that is left."""
    return tuple(Column(title, grows=place == len(titles) - 1) for place, title in enumerate(titles))


def row(row_id: object, *texts: object) -> TableRow:
    """Return a row whose first cell names it."""
    cells = (Cell("" if text is None else str(text), "", place == 0) for place, text in enumerate(texts))
    return TableRow(row_id, tuple(cells))
