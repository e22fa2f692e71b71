"""Rows of the lists in words, and how they are read: windows of a register, or a short list held as a whole."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from findsdesk.desk.bag_register import BagInRegister
from findsdesk.desk.boxes import BoxFacts
from findsdesk.desk.container_register import ContainerInRegister
from findsdesk.desk.deposit_facts import DepositFacts
from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_register import DiscardInRegister
from findsdesk.desk.group_register import GroupInRegister
from findsdesk.desk.joins import JoinRow, joins_between_deposits
from findsdesk.desk.left_in_trench import LeftFacts
from findsdesk.desk.loan_rows import LoanFacts
from findsdesk.desk.mark_register import MarkInRegister
from findsdesk.desk.objects import ObjectFacts
from findsdesk.desk.people_register import PersonInRegister
from findsdesk.desk.photo_register import PhotoInRegister
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.print_register import LabelInRegister
from findsdesk.desk.reading_rows import ReadingFacts
from findsdesk.desk.redoing import WRITTEN_IN_WORDS, things_to_redo
from findsdesk.desk.register_columns import RegisterField, Say, fields_chosen, fields_of, wording
from findsdesk.desk.register_files import value_in_words
from findsdesk.desk.registers import Register, count, page
from findsdesk.desk.renumbering import concordance
from findsdesk.desk.rows_set_aside import rows_set_aside
from findsdesk.desk.samples import SampleFacts
from findsdesk.desk.vessel_register import VesselInRegister
from findsdesk.domain.cross_joins import JOINS_SAY_IN_WORDS
from findsdesk.domain.deposits import HOW_NUMBERED_IN_WORDS
from findsdesk.domain.discards import Stage
from findsdesk.domain.natural_order import folded
from findsdesk.domain.standings import Standing
from findsdesk.ui.benches.registers.found_rows import FOUND_COLUMNS, found_rows
from findsdesk.ui.benches.registers.list_kinds import ListKind
from findsdesk.ui.benches.registers.lists import ASIDE, BETWEEN, CONCORDANCE, EVERYWHERE, REDO
from findsdesk.ui.benches.registers.state import ListState
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.models.paged import RegisterReads, Wanted
from findsdesk.words import N_, grouped

_STRONG = frozenset({"number", "code", "deed", "what"})
"""Columns by which a row is known."""


class ListReads:
    """Reads one list at the desk; ``whole`` is how many rows the list had, unnarrowed, when it was last counted."""

    def __init__(self, desk: Desk, kind: ListKind, columns: Sequence[str] = ()) -> None:
        self.desk = desk
        self.kind = kind
        self.whole = 0
        self._found: dict[Wanted, int] = {}
        self._held: list[TableRow] = []
        self._fields = None if kind.register is None else _fields(desk, kind.register, columns)

    def reads(self) -> RegisterReads:
        """Return the two readings a windowed table asks for; both run on the reading lane."""
        if self.kind.register is None:
            return RegisterReads(self._count_short, self._page_short)
        return RegisterReads(self._count, self._page)

    def _count(self, wanted: Wanted) -> int:
        state, register = _state(wanted, self.kind), self.kind.register
        assert register is not None
        found = count(self.desk, register, state.query())
        self.whole = count(self.desk, register, state.unfiltered().query()) if state.is_narrowed else found
        self._found = {wanted: found}
        return found

    def _page(self, wanted: Wanted, first: int, how_many: int) -> Sequence[TableRow]:
        register = self.kind.register
        assert register is not None
        query = _state(wanted, self.kind).query(wanted.sort, falling=wanted.falling)
        rows = page(self.desk, register, query, first, how_many, total=self._found.get(wanted))
        return [register_row(register, row, self.desk, self._fields) for row in rows]

    def _count_short(self, wanted: Wanted) -> int:
        if self.kind.everywhere:
            self._held, self.whole = found_rows(self.desk, _state(wanted, self.kind).text)
            return len(self._held)
        rows = _SHORT[self.kind.key](self.desk)
        words = folded(_state(wanted, self.kind).text).split()
        self.whole = len(rows)
        self._held = [row for row in rows if _holds(row, words)]
        return len(self._held)

    def _page_short(self, _wanted: Wanted, first: int, how_many: int) -> Sequence[TableRow]:
        return self._held[first : first + how_many]


def _state(wanted: Wanted, kind: ListKind) -> ListState:
    return wanted.filter if isinstance(wanted.filter, ListState) else ListState(kind)


def _holds(row: TableRow, words: Sequence[str]) -> bool:
    text = folded(" ".join(cell.text for cell in row.cells))
    return all(word in text for word in words)


def columns_of(kind: ListKind, desk: Desk, chosen: Sequence[str] = ()) -> tuple[tuple[str, Column], ...]:
    """Return the columns of a list by their keys, or those of a register that were chosen."""
    say = wording(desk)
    if kind.register is not None:
        return tuple(
            (field.key, Column(say(field.title), field.sort, field.figures, field.grows))
            for field in _fields(desk, kind.register, chosen)
        )
    return tuple(
        (key, Column(say(title), figures=key in _FIGURES.get(kind.key, ()), grows=key in _GROWING))
        for key, title in _SHORT_COLUMNS[kind.key]
    )


def _fields(desk: Desk, register: Register, chosen: Sequence[str]) -> tuple[RegisterField, ...]:
    return fields_chosen(desk, register, chosen) if chosen else fields_of(register)


def register_row(register: Register, row: Any, desk: Desk, fields: Sequence[RegisterField] | None = None) -> TableRow:
    """Return a row of a register in words, with its tones; with the columns that were chosen."""
    say = wording(desk)
    cells = [
        Cell(value_in_words(field.value(row, say), desk), _tone(field.key, row), field.key in _STRONG)
        for field in fields or fields_of(register)
    ]
    late = isinstance(row, ContainerInRegister) and row.standing is Standing.MISSING
    return TableRow(_row_id(register, row), tuple(cells), late or (isinstance(row, ReadingFacts) and row.waits))


def _row_id(register: Register, row: Any) -> object:
    if isinstance(row, ReadingFacts):
        return ("container", row.container_id) if row.container_id else ("deposit", row.deposit_id)
    if isinstance(row, DiscardInRegister):
        return (row.list_number, row.season)
    if isinstance(row, LeftFacts):
        return ("left", row.id, row.deposit)
    if register in (Register.BAGS, Register.PIECES, Register.DRAWINGS, Register.BOXES, Register.PLACES, Register.LOANS):
        return row.code
    if isinstance(row, LabelInRegister):
        return ("label", row.id, row.code)
    if isinstance(row, SampleFacts):
        return ("sample", row.number, row.container_code)
    if isinstance(row, GroupInRegister):
        return row.container_id
    if isinstance(row, PersonInRegister):
        return ("person", row.name)
    if isinstance(row, ObjectFacts):
        return ("object", row.number, row.season)
    if isinstance(row, MarkInRegister):
        return row.container_code
    if isinstance(row, JoinRow):
        return row.left.code
    if isinstance(row, VesselInRegister):
        return ("vessel", row.number)
    if isinstance(row, PhotoInRegister):
        return ("photo", *row.of, row.container_id)
    return row.id


def _tone(key: str, row: Any) -> str:
    if isinstance(row, ContainerInRegister) and key == "standing":
        if row.standing is Standing.MISSING:
            return "madder"
        return "ochre" if row.held_for else ""
    if isinstance(row, DepositFacts) and key == "stands":
        return "muted" if row.merged_into else "green" if row.closed is None else ""
    if isinstance(row, DiscardInRegister):
        if row.called_back_at is not None:
            return "muted"
        return "ochre" if key == "stage" and row.stage is Stage.PROPOSED else ""
    if isinstance(row, PieceRow) and key in ("wanted", "doubts"):
        return "ochre"
    if isinstance(row, LoanFacts) and key in ("standing", "late"):
        return "madder" if row.days_overdue else ""
    if isinstance(row, BoxFacts):
        return "muted" if row.gone else "ochre" if key == "full" and row.nearly_full else ""
    if isinstance(row, BagInRegister) and key == "labelled":
        return "ochre" if row.labelled_at is None else ""
    return ""


# The short lists

_GROWING = frozenset({"asked", "said", "says_now", "reason", "says"})
_FIGURES: dict[str, set[str]] = {ASIDE.key: {"line"}, REDO.key: {"pieces"}}
_SHORT_COLUMNS: dict[str, tuple[tuple[str, str], ...]] = {
    ASIDE.key: (
        ("file", N_("List")),
        ("line", N_("Line")),
        ("number", N_("{Container}")),
        ("deposit", N_("{Deposit}")),
        ("asked", N_("What is asked")),
    ),
    REDO.key: (
        ("deposit", N_("{Deposit}")),
        ("number", N_("{Container}")),
        ("what", N_("What")),
        ("code", N_("Code")),
        ("pieces", N_("How many")),
        ("said", N_("Says")),
        ("says_now", N_("Has to say")),
        ("why", N_("Why")),
    ),
    CONCORDANCE.key: (
        ("number", N_("Old number")),
        ("now", N_("Now")),
        ("how", N_("How")),
        ("reason", N_("Why")),
        ("who", N_("Who")),
        ("when", N_("When")),
    ),
    EVERYWHERE.key: FOUND_COLUMNS,
    BETWEEN.key: (
        ("one", N_("{Deposit}")),
        ("other", N_("and")),
        ("joins", N_("Joins")),
        ("says", N_("What they say of mixing")),
    ),
}


def _row(kind: ListKind, row_id: object, *texts: str) -> TableRow:
    keys = [key for key, _title in _SHORT_COLUMNS[kind.key]]
    return TableRow(row_id, tuple(Cell(text, "", key in _STRONG) for key, text in zip(keys, texts, strict=True)))


def _aside(desk: Desk) -> list[TableRow]:
    return [
        _row(
            ASIDE,
            one.id,
            one.file_name,
            str(one.row.line),
            one.row.number,
            one.row.deposit,
            " ".join(doubt.in_words(desk.terms) for doubt in one.row.doubts),
        )
        for one in rows_set_aside(desk)
    ]


def _redo(desk: Desk) -> list[TableRow]:
    say: Say = wording(desk)
    return [
        _row(
            REDO,
            (one.id, one.container_id),
            one.deposit,
            one.number,
            say(WRITTEN_IN_WORDS[one.what]),
            one.stands_on,
            grouped(one.pieces),
            one.said,
            one.says_now,
            one.why,
        )
        for one in things_to_redo(desk)
    ]


def _concordance(desk: Desk) -> list[TableRow]:
    say: Say = wording(desk)
    return [
        _row(
            CONCORDANCE,
            (place, one.now),
            one.number,
            one.now,
            say(HOW_NUMBERED_IN_WORDS[one.how]),
            one.reason,
            one.who,
            value_in_words(one.when, desk),
        )
        for place, one in enumerate(concordance(desk))
    ]


_SOME_CERTAIN = N_("{n}, {sure} certain")


def _between(desk: Desk) -> list[TableRow]:
    say: Say = wording(desk)
    none = say(N_("no {deposit}"))
    return [
        _row(
            BETWEEN,
            ("between", one.one or one.other),
            one.one or none,
            one.other or none,
            grouped(one.joins) if one.certain == one.joins else say(_SOME_CERTAIN, n=one.joins, sure=one.certain),
            say(JOINS_SAY_IN_WORDS[one.says]),
        )
        for one in joins_between_deposits(desk)
    ]


_SHORT: dict[str, Callable[[Desk], list[TableRow]]] = {
    ASIDE.key: _aside,
    REDO.key: _redo,
    CONCORDANCE.key: _concordance,
    BETWEEN.key: _between,
}
