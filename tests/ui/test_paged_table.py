"""A table of a million rows holds a few pages, shows placeholders meanwhile, and drops answers nobody waits for."""

import threading
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest

from findsdesk.domain.refusals import Refusal
from findsdesk.ui.models.cells import Cell, Column, Role, TableRow, plain_cells
from findsdesk.ui.models.paged import MOST_PAGES, PAGE_ROWS, PagedTable, RegisterReads, Wanted
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.widgets.table_view import TableView

COLUMNS = (Column("Number", "number"), Column("Sherds", "pieces", figures=True), Column("Remark", grows=True))


class Register:
    """A million containers, read by page; counts what was asked."""

    def __init__(self, rows: int = 1_000_000) -> None:
        self.rows = rows
        self.asked: list[tuple[Wanted, int]] = []
        self.gate: threading.Event | None = None
        self.word = "first"

    def count(self, wanted: Wanted) -> int:
        if wanted.filter == "wrong":
            raise Refusal("no_such_filter", "No {container} has this number.")
        return 3 if wanted.filter else self.rows

    def page(self, wanted: Wanted, first: int, many: int) -> list[TableRow]:
        if self.gate:
            self.gate.wait(5)
        self.asked.append((wanted, first))
        last = min(first + many, self.count(wanted))
        sign = -1 if wanted.falling else 1
        return [
            TableRow(row, (Cell(str(sign * row), strong=True), Cell(str(row % 90)), Cell(self.word)))
            for row in range(first, last)
        ]

    @property
    def reads(self) -> RegisterReads:
        return RegisterReads(self.count, self.page)


@pytest.fixture
def register() -> Register:
    return Register()


@pytest.fixture
def table(around, register, qtbot):
    model = PagedTable(around.lanes, COLUMNS, register.reads)
    model.ask(None)
    qtbot.waitUntil(model.is_settled)
    return model


def text(model: PagedTable, row: int, column: int = 0) -> Any:
    return model.data(model.index(row, column))


def test_the_count_and_the_first_page_come_together(table, register):
    assert table.rowCount() == 1_000_000
    assert text(table, 5) == "5"
    assert register.asked == [(Wanted(), 0)]


def test_the_end_is_reached_by_one_page(table, register, qtbot):
    assert text(table, 999_999) == "…"
    qtbot.waitUntil(table.is_settled)
    assert text(table, 999_999) == "999999"
    assert [first for _wanted, first in register.asked] == [0, 999_999 // PAGE_ROWS * PAGE_ROWS]


def test_painting_the_same_rows_asks_once(table, register, qtbot):
    for _time in range(3):
        for row in range(40_000, 40_040):
            for column in range(3):
                text(table, row, column)
    qtbot.waitUntil(table.is_settled)
    assert len(register.asked) == 2 + (40_000 // PAGE_ROWS != 40_039 // PAGE_ROWS)


def test_pages_scrolled_past_are_not_read(table, register, qtbot):
    register.gate = threading.Event()
    for row in range(10_000, 400_000, 10_000):
        text(table, row)
        table._fetch_asked()
    register.gate.set()
    qtbot.waitUntil(table.is_settled)
    assert len(register.asked) <= 3, "the first, the one under way, and the last"
    assert text(table, 390_000) == "390000"


def test_it_keeps_fifty_pages(table, qtbot):
    for page in range(MOST_PAGES + 20):
        text(table, page * PAGE_ROWS)
        table._fetch_asked()
        qtbot.waitUntil(table.is_settled)
    held = [page for page in range(MOST_PAGES + 20) if table.row_at(page * PAGE_ROWS) is not None]
    assert held == list(range(20, MOST_PAGES + 20))


def test_a_filter_is_the_desks_and_late_answers_are_dropped(table, register, qtbot):
    register.gate = threading.Event()
    table.ask("13")
    table.ask("131")
    register.gate.set()
    qtbot.waitUntil(table.is_settled)
    assert table.rowCount() == 3
    assert register.asked[-1][0].filter == "131"


def test_sorting_is_the_desks_and_only_by_columns_with_a_key(table, register, qtbot):
    table.sort(0, Qt.SortOrder.DescendingOrder)
    qtbot.waitUntil(table.is_settled)
    assert register.asked[-1] == (Wanted(None, "number", True), 0)
    assert text(table, 7) == "-7"
    asked = len(register.asked)
    table.sort(2)
    qtbot.waitUntil(table.is_settled)
    assert len(register.asked) == asked


def test_old_rows_stay_while_they_are_read_again(table, register, qtbot):
    register.gate = threading.Event()
    register.word = "second"
    table.reload()
    assert text(table, 5, 2) == "first"
    register.gate.set()
    qtbot.waitUntil(table.is_settled)
    assert text(table, 5, 2) == "second"


def test_a_refusal_is_told_and_the_rows_stay(table, qtbot):
    told: list[Refusal] = []
    table.refused.connect(told.append)
    table.ask("wrong")
    qtbot.waitUntil(table.is_settled)
    assert [refusal.code for refusal in told] == ["no_such_filter"]
    assert table.rowCount() == 1_000_000


def test_it_answers_unknown_roles_with_nothing_and_figures_stand_at_the_end(table):
    index = table.index(5, 1)
    assert table.data(index, Qt.ItemDataRole.FontRole) is None
    assert table.data(index, Qt.ItemDataRole.TextAlignmentRole) & Qt.AlignmentFlag.AlignTrailing
    assert table.data(table.index(5, 0), Role.STRONG) is True
    assert table.headerData(1, Qt.Orientation.Horizontal) == "Sherds"


@pytest.mark.parametrize("kind", ["short", "paged"])
def test_the_models_keep_qts_rules(around, qtbot, kind):
    register = Register(600)
    model: Any = ShortTable(COLUMNS) if kind == "short" else PagedTable(around.lanes, COLUMNS, register.reads)
    tester = QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    if kind == "short":
        model.show_rows([TableRow(1, plain_cells("1", "2", "3")), TableRow(2, plain_cells("4", "5", "6"))])
        model.show_rows([TableRow(1, plain_cells("1", "2", "9")), TableRow(2, plain_cells("4", "5", "6"))])
        model.show_rows([])
    else:
        model.ask(None)
        qtbot.waitUntil(model.is_settled)
        model.ask("131")
        qtbot.waitUntil(model.is_settled)
    assert tester.model() is model


def test_a_short_table_repaints_only_changed_rows(qtbot):
    model = ShortTable(COLUMNS)
    model.show_rows([TableRow(n, plain_cells(str(n), "", "")) for n in range(5)])
    changed: list[int] = []
    model.dataChanged.connect(lambda first, _last: changed.append(first.row()))
    model.show_rows([TableRow(n, plain_cells(str(n), "7" if n == 3 else "", "")) for n in range(5)])
    assert changed == [3]


def test_enter_opens_the_row_and_the_heading_sorts(theme, table, shown, qtbot):
    view = TableView(theme, "Containers")
    view.setModel(table)
    opened: list[object] = []
    picked: list[object] = []
    view.opened.connect(opened.append)
    view.picked.connect(picked.append)
    view.resize(600, 300)
    shown(view)
    view.selectRow(0)
    QTest.keyClick(view, Qt.Key.Key_Down)
    QTest.keyClick(view, Qt.Key.Key_Return)
    assert opened == [1]
    assert picked[-1] == 1
    assert view.row_id() == 1
    head = view.horizontalHeader()
    where = head.viewport().rect().center()
    where.setX(head.sectionViewportPosition(0) + 10)
    QTest.mouseClick(head.viewport(), Qt.MouseButton.LeftButton, pos=where)
    QTest.mouseClick(head.viewport(), Qt.MouseButton.LeftButton, pos=where)
    qtbot.waitUntil(table.is_settled)
    assert table.wanted == Wanted(None, "number", True)


def test_columns_fit_their_words_and_the_growing_one_takes_the_rest(theme, shown):
    model = ShortTable(COLUMNS)
    model.show_rows([TableRow(1, plain_cells("2017-131", "12,300", "late for a sealed context"))])
    view = TableView(theme, "Containers")
    view.setModel(model)
    view.resize(700, 200)
    shown(view)
    widths = [view.columnWidth(column) for column in range(3)]
    assert sum(widths) == view.viewport().width()
    for column, words in enumerate(("2017-131", "12,300")):
        assert widths[column] >= view.fontMetrics().horizontalAdvance(words) + 12
    assert view.rowHeight(0) == theme.px(35)
