"""Rows copied from a spreadsheet, matched with the columns of the sorting table by heading or by order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, CountOf

MOST_ROWS = 5000
Row = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class PastedRows:
    """Rows as texts by column; ``first`` is the number of the first: 2 below a line of headings, else 1."""

    rows: tuple[Row, ...]
    first: int


def looks_like_rows(text: str) -> bool:
    """Tell whether a text has several cells or lines, and is no single value to be put into one field."""
    plain = text.strip("\r\n")
    return any(sign in plain for sign in "\t;\n\r")


def matched(
    lines: Sequence[list[str]], columns: Sequence[str], headings: Mapping[str, str], names: Mapping[str, str]
) -> PastedRows:
    """Return pasted lines of cells as rows, each as texts by column.

    ``columns`` are those of the table in their order; ``headings`` give the column of each word that may stand over
    one, folded, and ``names`` the word shown over a column. Where the first line has headings, cells go by them, else
    by the table's order; columns behind the count may be left out at the end, in every row alike. Rows are counted
    from 1, the line of headings among them, as in the spreadsheet they were copied from.
    Refusals: ``pasted_nothing``, ``pasted_too_many``, ``pasted_cells``, ``pasted_heading``, ``pasted_twice``.
    """
    if not lines:
        raise Refusal("pasted_nothing", N_("There is nothing to paste. Copy the rows with their cells first."))
    head = [headings.get(folded(cell)) for cell in lines[0]]
    order: Sequence[str] = columns
    rows = list(enumerate(lines, start=1))
    if _are_headings(head, lines):
        order = _checked_head(head, lines[0], names)
        rows = rows[1:]
    elif "pieces" in columns[: len(lines[0])]:
        order = columns[: len(lines[0])]
    if len(rows) > MOST_ROWS:
        raise Refusal(
            "pasted_too_many",
            N_("{rows} rows are too many for one paste. Paste at most {most} at a time."),
            rows=len(rows),
            most=MOST_ROWS,
        )
    read = tuple(dict(zip(order, _cells(row, cells, order, names), strict=True)) for row, cells in rows)
    return PastedRows(read, first=1 + len(lines) - len(rows))


def without_figures(cells: Sequence[str]) -> bool:
    """Tell whether no cell of a line holds a figure: such a line is headings, for no row is without its count."""
    return not any(sign.isdigit() for cell in cells for sign in cell)


def _are_headings(head: Sequence[str | None], lines: Sequence[list[str]]) -> bool:
    """Tell whether the first line is headings: most of its cells name a column, or none of it alone is a number."""
    cells = lines[0]
    named = sum(column is not None for column in head)
    if named > sum(1 for cell in cells if cell) / 2 or (named > 1 and not any(cell.isdigit() for cell in cells)):
        return True
    return without_figures(cells) and any(not without_figures(line) for line in lines[1:])


def _checked_head(head: Sequence[str | None], cells: Sequence[str], names: Mapping[str, str]) -> list[str]:
    order: list[str] = []
    unknown = [cell for column, cell in zip(head, cells, strict=True) if column is None]
    if unknown:
        raise Refusal(
            "pasted_heading",
            N_("No column is called {headings}. Nothing was pasted. Columns: {known}."),
            headings=", ".join(f"“{cell}”" for cell in unknown),
            known=", ".join(names.values()),
        )
    for column, cell in zip(head, cells, strict=True):
        assert column is not None
        if column in order:
            raise Refusal("pasted_twice", N_("Two columns are called “{heading}”. Nothing was pasted."), heading=cell)
        order.append(column)
    return order


def _cells(row: int, cells: list[str], order: Sequence[str], names: Mapping[str, str]) -> list[str]:
    if len(cells) != len(order):
        raise Refusal(
            "pasted_cells",
            N_("Row {row}, {cells}; {columns} are wanted: {names}. Nothing was pasted; a line of headings helps."),
            row=row,
            cells=CountOf("{n} cell", "{n} cells", len(cells)),
            columns=len(order),
            names=", ".join(names.get(one, one) for one in order),
        )
    return cells
