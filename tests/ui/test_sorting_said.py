"""What the sorting table says: old words give way to what was done since, and none covers or widens what is counted."""

from __future__ import annotations

import threading
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QScrollArea, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.desk.sorting import table_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.benches.sorting import page
from findsdesk.ui.benches.sorting.kept_rows import text_of
from findsdesk.ui.benches.sorting.lines import Saved, TableLine, TableLines
from findsdesk.ui.benches.sorting.page import SortingBench
from findsdesk.ui.benches.sorting.reading import TableRead, Wanted, read_table
from findsdesk.ui.benches.sorting.typed_row import TypedRow
from findsdesk.ui.kept_file import file_beside
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import (  # noqa: F401
    CONTROL,
    DELETE,
    ENTER,
    ESCAPE,
    F5,
    F6,
    F8,
    PAGE_DOWN,
    UP,
    Table,
    desk,
    in_short,
    paste,
    table,
)
from tests.ui.at_work import fits, listen_to, opened, scan, settled
from tests.ui.conftest import Keyboard

F3 = Qt.Key.Key_F3
LONG = "handlebody" * 30


def eleven(table: Table, desk: Desk) -> str:
    """Read eleven rims of QRS in bucket 131."""
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("q", ENTER, "r", ENTER, "11", ENTER, "340", ENTER, ENTER)
    return code


def big(table: Table) -> str:
    return table.bench.table.big.text()


def place(table: Table, part: QWidget) -> tuple[int, int]:
    """Return where a part begins and ends in the bench, in pixels from its top."""
    top = part.mapTo(table.bench, QPoint()).y()
    return top, top + part.height()


def test_rows_found_again_are_judged_by_the_lists_and_counted_as_in_doubt(
    qtbot: Any, keyboard: Keyboard, desk: Desk
) -> None:
    code = dry_container(desk, 131, 82)
    number = table_of(desk, code).container_id
    waits = TableLine(typed=TypedRow("XYZ", "rim", "2"))
    waits.waits_because("unknown_ware", "No ware XYZ. None is near it.", "ware")
    half = TypedRow("QRS", "body")
    file_beside(desk).write_text(text_of({number: TableLines([waits], half, "131")}), encoding="utf-8")
    with opened(qtbot, desk) as program:
        # The tag is the first thing: the table is built for it, and its lists are read when the rows stand there.
        scan(qtbot, program, code)
        table = Table(qtbot, keyboard, program, desk)
        assert table.bench.table.fields.typed() == half
        assert table.bench.table.below.text == ""
        assert table.bench.table.fields.cells["ware"].property("wrong") is not True
        assert table.bar() == ["82 left of 82, 2 in doubt"]
        table.row("4", ENTER, ENTER, ENTER)
        assert in_short(table.stored(code).groups) == ["QRS body 4, keep"]


def test_a_row_finished_before_the_lists_are_read_is_judged_by_them(
    qtbot: Any, keyboard: Keyboard, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    code, go_on = dry_container(desk, 131, 82), threading.Event()

    def slow(desk: Desk, wanted: Wanted) -> TableRead:
        go_on.wait(20)
        return read_table(desk, wanted)

    monkeypatch.setattr(page, "read_table", slow)
    with opened(qtbot, desk) as program:
        scan(qtbot, program, code)
        listen_to(keyboard, program)
        program.window.open_bench("sorting")
        bench = program.window.benches["sorting"]
        assert isinstance(bench, SortingBench)
        for ware in ("QRS", "xyz"):
            bench.rows.new.show_typed(TypedRow(ware, "rim", "4"))
            bench.rows.finish()
        assert [line.saved for line in bench.state.lines.lines] == [Saved.WAITS, Saved.WAITS]
        go_on.set()
        settled(qtbot, program)
        assert in_short(table_of(desk, code).groups) == ["QRS rim 4, keep"]
        assert [line.doubt_code for line in bench.state.lines.waiting()] == ["unknown_ware"]


def test_an_old_refusal_is_gone_after_what_was_done_since(table: Table, desk: Desk) -> None:
    table.scan(dry_container(desk, 131, 132))
    for _ in range(3):
        table.row("xyz", ENTER, "r", ENTER, "2", ENTER, ENTER, ENTER)
    for done in ((UP, DELETE, ESCAPE), (ESCAPE, "q", ESCAPE, ESCAPE)):
        table.bench.refuse(Refusal("old", "An old refusal."))
        table.row(*done)
        assert table.slip() == "", done
    for key in (Qt.Key.Key_Z, Qt.Key.Key_Y):
        table.bench.refuse(Refusal("old", "An old refusal."))
        table.press(key, CONTROL)
        assert table.slip() == "", key
    table.row("q", ENTER, "r", ENTER, "140", ENTER, ENTER, ENTER)
    table.bench.refuse(Refusal("old", "An old refusal."))
    table.press(Qt.Key.Key_L, CONTROL)
    assert table.slip() == ""
    assert [cell.text for cell in table.bench.waiting.model.rows[0].cells][3:5] == ["132 sherds", "8 over"]


def test_a_long_refusal_covers_neither_the_balance_nor_the_rows_and_the_typing_stays_where_it_is(
    table: Table, desk: Desk
) -> None:
    eleven(table, desk)
    bar, fields = table.bench.table.bar, table.bench.table.fields
    before, typing = place(table, bar), place(table, fields)
    paste(table, "Ware\tPart\tNo.\tWeight\nQRS\trim\t1\t20\n")
    assert "No column is called" in table.slip()
    slip = table.bench.refusals.geometry()
    assert slip.height() > 50
    assert place(table, bar)[0] > slip.bottom()
    assert place(table, fields) == typing
    table.row("q", ENTER, "r", ENTER, "1", ENTER, ENTER, ENTER)
    assert table.slip() == ""
    assert place(table, bar) == before


def test_a_refused_answer_gives_the_keyboard_to_the_field_that_was_refused(table: Table, desk: Desk) -> None:
    code = eleven(table, desk)
    ask = table.bench.table.ask
    table.row(F3, "12", ENTER, "10", ENTER)
    assert "Lift 1 to 11" in table.slip()
    assert ask.number.line.hasFocus()
    table.row("2", ENTER, "999", ENTER)
    assert "999 g cannot be lifted" in table.slip()
    assert ask.grams.line.hasFocus()
    table.row("60", ENTER)
    assert in_short(table.stored(code).groups) == ["QRS rim 9, 280.0 g, keep"]
    assert table.slip() == ""


def test_the_big_line_says_what_was_done_last(table: Table, desk: Desk) -> None:
    eleven(table, desk)
    assert big(table).startswith("QRS rim, 11")
    table.row(F6, ENTER, ENTER, ENTER)
    assert big(table) == "1 not a sherd (pebble)"
    table.row(F8, "2", ENTER, ENTER, ENTER)
    assert big(table) == "2 not found (counted too many)"
    table.row(F3, ENTER, ENTER)
    assert big(table) == "Lifted out: 131.1"
    table.row(UP, DELETE, ESCAPE)
    assert big(table).startswith("Removed: QRS rim, 10")
    table.row(F5, "130", ENTER, ENTER)
    assert big(table) == "130 counted at the table"


def insert(table: Table, text: str) -> None:
    """Put a text into the cell of the part, as pasting does: nobody types that much."""
    cell = table.bench.table.fields.cells["part"]
    assert isinstance(cell, QLineEdit)
    cell.insert(text)
    cell.textEdited.emit(cell.text())


def stands_whole(table: Table) -> bool:
    """Return whether the bench is as wide as its place: nothing is to be scrolled sideways."""
    QApplication.processEvents()
    return all(area.horizontalScrollBar().maximum() == 0 for area in table.bench.findChildren(QScrollArea))


def test_a_long_unbroken_word_widens_nothing(table: Table, desk: Desk) -> None:
    eleven(table, desk)
    other, page = dry_container(desk, 132, 9), table.bench.table
    # In doubt, removed, brought back; as a reason, which is asked about again; half typed when the next one comes.
    insert(table, LONG)
    table.row(PAGE_DOWN)
    assert stands_whole(table)
    table.row(UP, DELETE, ESCAPE)
    assert LONG in big(table)
    assert stands_whole(table)
    table.press(Qt.Key.Key_Z, CONTROL)
    assert stands_whole(table)
    table.row(F6, ENTER, ENTER)
    page.ask.why.setText(LONG)
    page.ask.why.textEdited.emit(LONG)
    table.row(ENTER)
    assert table.stored("131").entries[-1].why == LONG
    assert stands_whole(table)
    page.entries.chosen.emit(table.stored("131").entries[-1])
    assert stands_whole(table)
    table.row(ESCAPE, "q", ENTER)
    insert(table, LONG)
    table.scan(other)
    assert page.kept.isVisible()
    assert stands_whole(table)
    table.press(Qt.Key.Key_L, CONTROL)
    assert stands_whole(table)


def test_sherds_to_be_discarded_are_said_to_be_so_before_they_go_into_a_vessel(table: Table, desk: Desk) -> None:
    code = eleven(table, desk)
    paste(table, "Ware\tPart\tCount\tDecision\tWhy\nQRS\tneck\t1\tdiscard\tno diagnostic value\n")
    assert [row.facts.decision for row in table.stored(code).groups] == [Decision.KEEP, Decision.DISCARD]
    table.row(UP)
    table.press(Qt.Key.Key_G, CONTROL)
    ask = table.bench.table.ask
    assert "to be discarded" in ask.caution.accessibleName()
    assert ask.caution.isVisible()
    fits(table.qtbot, table.bench)
    table.row(ESCAPE, UP, UP)
    table.press(Qt.Key.Key_G, CONTROL)
    assert ask.isVisible()
    assert not ask.caution.isVisible()
