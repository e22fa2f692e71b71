"""A row of the table in words: its cells, its doubt, what two people changed in it. No window needed."""

from __future__ import annotations

from collections.abc import Sequence

from findsdesk.domain.balance import Decision
from findsdesk.domain.numbers import grams_in_words
from findsdesk.domain.sorting_columns import COLUMN_IN_WORDS
from findsdesk.domain.type_rows import said_once
from findsdesk.ui.benches.sorting.lines import Clash, Saved, TableLine
from findsdesk.ui.benches.sorting.row_lists import WORDS_OF, RowLists
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.benches.sorting.typed_row import TypedRow, percent_in_words, understand
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.words import N_, _, put

_MARKS: dict[Decision, tuple[str, str]] = {
    Decision.KEEP: ("●", "green"),
    Decision.DISCARD: ("○", "madder"),
    Decision.HOLD: ("◐", "ochre"),
    Decision.MEND: ("◆", "green"),
}
"""A shape before the word of a decision, and the colour role of both."""


_FIGURES = frozenset({"pieces", "grams", "rim", "base"})


def columns(typed: Sequence[str]) -> tuple[Column, ...]:
    """Return the columns of the rows: those that are typed, and the row's own."""
    shown = (Column(put(COLUMN_IN_WORDS[one]), figures=one in _FIGURES, grows=one == "reason") for one in typed)
    return (*shown, Column(_("Row")))


def table_row(line: TableLine, state: SortingState) -> TableRow:
    """Return a row as it is shown: a doubt stands behind its cells, the doubtful cell is marked."""
    typed = state.texts_of(line)
    waits = line.saved is Saved.WAITS
    doubt = doubt_beside(line, state.lists)
    columns = state.lists.of_table.columns
    cells = [_cell(column, typed, line, state.lists) for column in columns]
    late = state.looks_late(line) and line.saved is Saved.WRITTEN
    saved = _("looks late") if late else _saved_in_words(line)
    cells.append(Cell(saved, "madder" if waits or late else "muted"))
    if waits:
        cells[place_of_doubt(columns)] = Cell(doubt, "madder")
    against = _("against “{rule}”").format(rule=typed.rule) if typed.proposed and typed.reason else ""
    told = doubt or ", ".join(dict.fromkeys(one for one in (typed.reason, why_words(typed), against) if one))
    return TableRow(row_id=line.act_id, cells=tuple(cells), late=waits or late, said=told)


def place_of_doubt(columns: Sequence[str]) -> int:
    """Return the place of the cell from which on a doubt stands: in words' room where that ends the row."""
    return len(columns) - 1 if columns and columns[-1] in ("reason", "note") else len(columns)


def _cell(column: str, typed: TypedRow, line: TableLine, lists: RowLists) -> Cell:
    if column == "decision":
        mark, tone = _MARKS[typed.decision]
        return Cell(f"{mark} {lists.decision_word(typed.decision)}", tone, strong=True)
    if column == "reason":
        return Cell(why_words(typed), "madder" if typed.wants_why else "muted")
    text = typed.text(column)
    doubtful = line.saved is Saved.WAITS and line.doubt_column == column
    if doubtful:
        return Cell(f"{text} ?".strip(), "madder", strong=True)
    empty = "–" if column in ("ware", "part", "pieces") else ""
    return Cell(text or empty, strong=column == "ware")


def why_words(typed: TypedRow) -> str:
    """Return why a row is decided so: the rule that says so, else the reason that was given, or that it is missing."""
    if typed.wants_why:
        return _("against “{rule}”: say why").format(rule=typed.rule)
    return f"“{typed.rule}”" if typed.rule and not typed.proposed else typed.reason


def doubt_beside(line: TableLine, lists: RowLists) -> str:
    """Return the doubt that stands beside a row; where somebody else changed it, mine, theirs and before."""
    return clash_words(line.clash, lists) if line.clash is not None else line.doubt


def doubtful_column(line: TableLine, lists: RowLists) -> str:
    """Return the column that a row waits for; of a clash the first in which two people differ; else nothing."""
    if line.wants_why:
        return "reason"
    if line.saved is not Saved.WAITS:
        return ""
    shown = lists.of_table.columns
    if line.clash is not None:
        differing = {_column_of(one.field) for one in line.clash.differences if one.field not in _TOLD_ELSEWHERE}
        return next((column for column in shown if column in differing), "")
    typed = line.typed or TypedRow()
    doubtful = (doubt.column or "" for doubt in understand(typed, lists).doubts)
    return line.doubt_column or next(doubtful, "")


def clash_words(clash: Clash, lists: RowLists) -> str:
    """Return what two people changed in one row: count mine 13, theirs 12, before 11."""
    told = []
    order = [*COLUMN_IN_WORDS]
    for one in sorted(clash.differences, key=lambda one: order.index(_column_of(one.field))):
        if one.field in _TOLD_ELSEWHERE or one.mine == one.theirs == one.before:
            continue
        said = {name: _value(one.field, getattr(one, name), lists) for name in ("mine", "theirs", "before")}
        column = put(COLUMN_IN_WORDS[_column_of(one.field)])
        text = N_("{column} mine {mine}, theirs {theirs}, before {before}")
        told.append(put(text, None, {"column": column, **said}))
    differing = "; ".join(told)
    return put(
        N_("{who} changed it too. {differing}. F2, Page down writes mine."),
        None,
        {"who": clash.who, "differing": differing},
    )


_COLUMN_OF_FIELD = {
    "tenths": "grams",
    "rim_permille": "rim",
    "base_permille": "base",
} | {name: name for name in COLUMN_IN_WORDS}
_TOLD_ELSEWHERE = frozenset({"rule", "proposed", "diagnostic", "discarded", "ordinal"})
"""What follows from the others and is no field of its own."""


def _column_of(field: str) -> str:
    return _COLUMN_OF_FIELD.get(field, "note")


def _value(field: str, value: object, lists: RowLists) -> str:
    """Return a value of a row's field as it is typed."""
    if value is None or value == "":
        return "–"
    if field == "tenths" and isinstance(value, int):
        return grams_in_words(value)
    if field in ("rim_permille", "base_permille") and isinstance(value, int):
        return percent_in_words(value)
    if field in WORDS_OF:
        return lists.word(field, str(value))
    return lists.decision_word(Decision(str(value))) if field == "decision" else str(value)


def _saved_in_words(line: TableLine) -> str:
    if line.saved is Saved.PENDING:
        return _("pending")
    if line.saved is not Saved.WRITTEN:
        return _("not written")
    vessel = line.row.vessel if line.row is not None else None
    return _("written") if vessel is None else _("vessel {n}").format(n=vessel)


def in_short(typed: TypedRow, lists: RowLists) -> str:
    """Return a row as it is read back aloud: QRS bowl rim, 11, 340.0 g, rim 62 %, keep."""
    what = " ".join(part for part in (said_once(typed.ware, typed.form), typed.part) if part)
    measures = {_("{n} g"): typed.grams, _("rim {n} %"): typed.rim, _("base {n} %"): typed.base}
    measured = [words.format(n=value) for words, value in measures.items() if value]
    described = [typed.surface, typed.decoration, typed.condition]
    said = (what, typed.pieces, *described, *measured, lists.decision_word(typed.decision))
    return ", ".join(part for part in said if part)
