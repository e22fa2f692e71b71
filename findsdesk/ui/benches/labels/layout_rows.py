"""A layout as rows to edit, one a field, and back: which are shown, in which order, as what, how large. No window."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from findsdesk.desk.label_layouts import Layout, LayoutLine

UNDER, BESIDE = "under", "beside"
"""Two places for a field beside those of a line: under the square symbol, right of the number before it."""


@dataclass(frozen=True, slots=True)
class FieldRow:
    """One field: whether it is shown, as what, in points, bold or not, on the line of the field above it or its own."""

    name: str
    shown: bool
    place: str = "words"
    size: float = 8.0
    bold: bool = False
    joins: bool = False
    optional: bool = False


def rows_of(layout: Layout, fields: Sequence[str]) -> tuple[FieldRow, ...]:
    """Return the fields of a kind as rows: those shown in their order, then the others."""
    rows = [row for line in layout.lines for row in _rows_of_line(line)]
    rows += [FieldRow(name, True, UNDER) for name in layout.under_symbol]
    shown = {row.name for row in rows}
    return (*rows, *(FieldRow(name, False) for name in fields if name not in shown))


def _rows_of_line(line: LayoutLine) -> list[FieldRow]:
    place = BESIDE if line.beside else line.style
    bold = line.weight == "bold"
    return [
        FieldRow(name, True, place, line.size, bold, joins=count > 0, optional=line.optional)
        for count, name in enumerate(line.fields)
    ]


def layout_of(rows: Sequence[FieldRow], before: Layout) -> Layout:
    """Return the layout that rows make; symbols, hole and counterfoil stay as they were before."""
    lines: list[LayoutLine] = []
    for row in (one for one in rows if one.shown and one.place != UNDER):
        if row.joins and lines:
            lines[-1] = replace(lines[-1], fields=(*lines[-1].fields, row.name))
        else:
            lines.append(_line(row))
    under = tuple(row.name for row in rows if row.shown and row.place == UNDER)
    return replace(before, lines=tuple(lines), under_symbol=under)


def _line(row: FieldRow) -> LayoutLine:
    style: Any = "words" if row.place == BESIDE else row.place
    beside = row.place == BESIDE
    return LayoutLine((row.name,), style, row.size, "bold" if row.bold else "plain", beside, row.optional)


def moved(rows: Sequence[FieldRow], place: int, steps: int) -> tuple[FieldRow, ...]:
    """Return rows with one of them so many places further down (or up, where negative); at the ends nothing moves."""
    there = max(0, min(len(rows) - 1, place + steps))
    others = [row for count, row in enumerate(rows) if count != place]
    return (*others[:there], rows[place], *others[there:])
