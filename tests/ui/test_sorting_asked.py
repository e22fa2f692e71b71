"""The lines that ask at the sorting table: what they refuse, and what is typed in them and not written is said."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from findsdesk.desk.desk import Desk
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import (  # noqa: F401
    CONTROL,
    ENTER,
    ESCAPE,
    F5,
    F6,
    F8,
    HeldBack,
    Table,
    column,
    desk,
    keep_and_discard,
    table,
)
from tests.ui.at_work import fits
from tests.yard import acts

F10 = Qt.Key.Key_F10


def eleven(table: Table, desk: Desk) -> str:
    """Read eleven rims of QRS in bucket 131."""
    code = dry_container(desk, 131, 12)
    table.scan(code)
    table.row("q", ENTER, "r", ENTER, "11", ENTER, "340", ENTER, ENTER)
    return code


def test_a_bucket_with_rows_is_not_counted_empty_and_a_count_far_above_the_usual_is_asked_about(
    table: Table, desk: Desk
) -> None:
    code, ask = eleven(table, desk), table.bench.table.ask
    written = acts(desk)
    table.row(F5, "0", ENTER, "no sherds", ENTER)
    assert "11 sherds are sorted in rows. Count what is here" in table.slip()
    assert (ask.number.line.text(), ask.why.text()) == ("0", "no sherds")
    assert ask.number.line.hasFocus()
    assert acts(desk) == written
    table.row("3000", ENTER, ENTER)
    assert "far more than usual. Is it so?" in table.slip()
    assert table.bench.refusals.is_asking()
    table.row(ESCAPE)
    assert table.stored(code).ledger.counted == 12


def test_what_waits_by_mouse_leaves_the_keyboard_on_the_list_that_is_being_read(
    table: Table, desk: Desk, qtbot: Any
) -> None:
    eleven(table, desk)
    other = dry_container(desk, 132, 9)
    QTest.mouseClick(table.bench.table.what_waits, Qt.MouseButton.LeftButton)
    focus = QApplication.focusWidget()
    assert focus is not None
    assert table.bench.isAncestorOf(focus)
    table.settle_down()
    assert table.bench.waiting.table.hasFocus()
    table.row(Qt.Key.Key_Down, ENTER)
    assert table.bench.state.dossier is not None
    assert table.bench.state.dossier.code == other


def lost(table: Table) -> str:
    """Return what is said of a line that was typed in and not written."""
    slip = table.bench.asking.lost
    return slip.accessibleName() if slip.isVisible() else ""


def test_what_was_typed_in_a_line_that_asks_is_said_when_something_else_comes(table: Table, desk: Desk) -> None:
    code, other, settled = eleven(table, desk), dry_container(desk, 132, 9), dry_container(desk, 133, 0)
    table.row(F5, "106")
    table.scan(other)
    assert "Not written of bucket 131: Count again, 106." in lost(table)
    assert column(table) == "ware"
    fits(table.qtbot, table.bench)
    table.row("q", ENTER, "r", ENTER, "1", ENTER, ENTER, ENTER)
    assert lost(table) == "", "what was done since makes it old"
    # Nothing typed, or left with Esc, or written: nothing is said.
    table.row(F8)
    table.scan(code)
    table.row(F5, "106", ESCAPE, F6, "1", ENTER, ENTER, "root", ENTER)
    table.scan(other)
    assert lost(table) == ""
    # Another question, what waits, and a bucket that cannot be sorted.
    table.row(F6, ENTER, "2.5", F5)
    assert "Not written of bucket 132: Not a sherd, 1, 2.5 g." in lost(table)
    table.row("8", F5)
    assert table.bench.table.ask.number.line.text() == "8", "the same question keeps what was typed"
    table.press(Qt.Key.Key_L, CONTROL)
    assert "Count again, 8." in lost(table)
    table.scan(code)
    assert lost(table) == ""
    table.row(F8, "7")
    table.scan(settled)
    assert "Not written of bucket 131: Not found, 7." in lost(table)


def test_what_was_typed_in_a_line_that_asks_is_said_again_with_its_container_until_something_is_done_there(
    table: Table, desk: Desk
) -> None:
    code, other = eleven(table, desk), dry_container(desk, 132, 9)
    told = "Not written of bucket 131: Not a sherd, 3, 55 g."
    table.row(F6, "3", ENTER, "55")
    table.scan(other)
    assert told in lost(table)
    table.row("q", ENTER, "r", ENTER, "1", ENTER, ENTER, ENTER)
    assert lost(table) == ""
    for _again in range(2):
        table.scan(code)
        assert told in lost(table)
        table.scan(other)
        assert lost(table) == ""
    table.scan(code)
    table.row(F6, "3", ENTER, "5.5", ENTER, "root", ENTER)
    table.scan(other)
    table.scan(code)
    assert lost(table) == ""


def test_what_was_typed_and_is_what_was_proposed_is_said_too_when_something_else_is_asked(
    table: Table, desk: Desk
) -> None:
    eleven(table, desk)
    for said, told in (((), ""), (("1",), "Not a sherd, 1."), (("1", ENTER), "Not a sherd, 1.")):
        table.row(F6, *said)
        table.row(F8)
        assert told in lost(table)
        assert bool(told) == bool(lost(table))
        table.row(ESCAPE)


def test_what_is_on_its_way_when_something_else_is_asked_is_said_only_where_it_was_not_written(
    table: Table, desk: Desk
) -> None:
    code = eleven(table, desk)
    line = table.bench.table.ask
    for pieces, told in (("14", ""), ("0", "Not written of bucket 131: Count again, 0.")):
        with HeldBack(table):
            table.type(F5, pieces, ENTER, ENTER, F8, "1")
            assert lost(table) == ""
        table.settle_down()
        assert told in lost(table)
        assert bool(told) == bool(lost(table))
        assert (line.heading.text(), line.number.line.text()) == ("Not found", "1"), "what is asked by now stays"
        table.row(ESCAPE)
    assert table.stored(code).ledger.counted == 14
    table.row(F5, "3000", ENTER, ENTER)
    assert table.bench.refusals.is_asking()
    table.row(ESCAPE)
    table.scan(dry_container(desk, 132, 9))
    assert "Not written of bucket 131: Count again, 3000." in lost(table)


def test_a_share_that_keeps_none_of_a_row_says_so_and_asks_no_grams(table: Table, desk: Desk) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 30)
    table.scan(code)
    table.row("m", ENTER, "b", ENTER, "10", ENTER, "140", ENTER, ENTER)
    table.row(F10)
    table.row("6", ENTER, "14", ENTER)
    table.row("m", ENTER, "b", ENTER, "2", ENTER, "30", ENTER, ENTER)
    table.row(F10)
    ask = table.bench.table.ask
    told = "MBU body, 2 laid out: none of these is kept. The next one kept is number 4 of those to come."
    assert ask.heading.text() == told
    assert not ask.grams.isVisible()
    assert ask.write.hasFocus()
    table.row(ESCAPE)
    assert not ask.isVisible()
    table.row(F10)
    table.row(ENTER)
    assert table.stored(code).ledger.to_discard == 11
    table.row("m", ENTER, "b", ENTER, "5", ENTER, "60", ENTER, ENTER)
    table.row(F10)
    assert ask.heading.text() == "MBU body, 5 laid out: start at 4, then every 10th, carried on."
    assert ask.grams.line.hasFocus()
