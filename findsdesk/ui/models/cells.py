"""Plain values of tables: what a column is, what a cell says, and how it is to be looked at."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum

from PySide6.QtCore import Qt


class Role(IntEnum):
    """Roles of ours, beside Qt's."""

    TONE = Qt.ItemDataRole.UserRole + 1
    """The name of a colour role of the theme for the text: "green", "madder", "ochre", "muted"."""
    STRONG = Qt.ItemDataRole.UserRole + 2
    """Whether the text is bold."""
    LATE = Qt.ItemDataRole.UserRole + 3
    """Whether the row wears a madder edge."""
    ROW_ID = Qt.ItemDataRole.UserRole + 4
    """The id of the row."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column. ``key`` is what the desk sorts by; empty where it cannot be sorted."""

    title: str
    key: str = ""
    figures: bool = False
    """Whether it holds figures: set at the far side, under one another."""
    grows: bool = False
    """Whether it takes the room that is left."""
    least: int = 0
    """Pixels at 100 per cent to which one that grows may shrink before others are cut; 0: as tables do."""
    tip: str = ""
    """What is told of it under the pointer: of figures their unit and formula."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell in words."""

    text: str = ""
    tone: str = ""
    strong: bool = False


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row: its id in the store, its cells, and whether it wants somebody's eye."""

    row_id: object
    cells: tuple[Cell, ...]
    late: bool = False
    said: str = field(default="")
    """A longer text about the row, shown as a tip."""


def plain_cells(*texts: str) -> tuple[Cell, ...]:
    """Return cells that only say something."""
    return tuple(Cell(text) for text in texts)


def cell_data(row: TableRow, column: int, role: int) -> object:
    """Return what a cell answers to a role of Qt's or ours, None to all others."""
    cell = row.cells[column] if column < len(row.cells) else Cell()
    if role == Qt.ItemDataRole.DisplayRole:
        return cell.text
    if role == Role.TONE:
        return cell.tone or None
    if role == Role.STRONG:
        return cell.strong
    if role == Role.LATE:
        return row.late
    if role == Role.ROW_ID:
        return row.row_id
    if role == Qt.ItemDataRole.ToolTipRole:
        return row.said or None
    return None
