"""The sorting table between two tags: half typed rows, what waits, what is not dry, and all of it by mouse."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QPushButton, QWidget

from findsdesk.desk.bagging import bags_of
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.washing import mark_dry
from findsdesk.domain.routes import Standing
from findsdesk.ui.benches.sorting.state import Asked
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import (  # noqa: F401
    CONTROL,
    ENTER,
    F2,
    F4,
    F5,
    F6,
    PAGE_DOWN,
    UP,
    HeldBack,
    Table,
    desk,
    in_short,
    table,
)
from tests.ui.looking import SIZES, cut_words, nameless, too_small
from tests.yard import DRY, LOOKED_AT, advance, put_container, standing_of, with_settings

# --- the next tag -------------------------------------------------------------------------------------------------


def test_a_half_typed_row_stays_with_its_bucket_when_the_next_tag_is_scanned(table: Table, desk: Desk) -> None:
    first, second = dry_container(desk, 131, 132), dry_container(desk, 132, 40)
    table.scan(first)
    table.type("qrs", ENTER, "rim", ENTER, "11")
    table.scan(second)
    assert table.bench.table.fields.typed().is_empty
    assert "Half a row of bucket 131 is kept: QRS rim, 11, keep" in table.bench.table.kept.text().text()
    assert table.slip() == ""
    table.row("tgy", ENTER, "body", ENTER, "5", ENTER, ENTER, ENTER)
    assert not table.bench.table.kept.isVisible()
    table.scan(first)
    assert table.bench.table.fields.cells["pieces"].line.text() == "11"
    table.bench.table.fields.cells["pieces"].setFocus()
    table.row(ENTER, ENTER, ENTER)
    assert in_short(table.stored(first).groups) == ["QRS rim 11, keep"]
    assert in_short(table.stored(second).groups) == ["TGY body 5, keep"]


def test_a_scan_never_comes_into_the_count(table: Table, desk: Desk) -> None:
    first, second = dry_container(desk, 131, 132), dry_container(desk, 132, 40)
    table.scan(first)
    table.type("qrs", ENTER, "rim", ENTER)
    assert table.bench.table.fields.cells["pieces"].line.hasFocus()
    table.scan(second)
    assert table.bench.state.dossier is not None
    assert table.bench.state.dossier.code == second
    table.scan(first)
    assert table.bench.table.fields.cells["pieces"].line.text() == ""
    # A code that comes in as typing, its scanner's beginning lost: the number field refuses it.
    table.bench.table.fields.cells["pieces"].setFocus()
    table.row(first, ENTER, ENTER, ENTER)
    assert "scanned code" in table.shown()[0][-2]
    assert table.stored(first).groups == ()


def test_rows_typed_after_a_scan_are_of_what_was_scanned_and_of_nothing_else(table: Table, desk: Desk) -> None:
    first, second = dry_container(desk, 131, 132), dry_container(desk, 132, 40)
    table.scan(first)
    with HeldBack(table):
        table.keyboard.wait(2_500)
        table.keyboard.scan(second)
        table.type("tgy", ENTER, "body", ENTER, "5", ENTER, ENTER, ENTER)
        table.type("qrs", ENTER, "rim", ENTER, "6")
    table.settle_down()
    assert in_short(table.stored(second).groups) == ["TGY body 5, keep"]
    assert table.stored(first).groups == ()
    typed = table.bench.table.fields.typed()
    assert (typed.ware, typed.part, typed.pieces) == ("QRS", "rim", "6")
    table.bench.table.fields.cells["pieces"].setFocus()
    table.row(ENTER, ENTER, ENTER)
    assert in_short(table.stored(second).groups) == ["TGY body 5, keep", "QRS rim 6, keep"]


def test_rows_typed_after_an_unknown_scan_wait_to_be_asked_about(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.type("csj", ENTER, "body", ENTER)
    with HeldBack(table):
        table.program.window.on_scan("999")
        table.type("tgy", ENTER, "body", ENTER, "5", ENTER, ENTER, ENTER)
    table.settle_down()
    assert table.stored(code).groups == ()
    assert table.shown()[0][-2] == "Typed after the scan. Is it of 131?"
    assert table.bench.table.fields.cells["part"].typed() == "body"
    table.row(F2, PAGE_DOWN)
    assert in_short(table.stored(code).groups) == ["TGY body 5, keep"]
    assert table.bench.table.fields.cells["ware"].typed() == "CSJ"


def test_the_typing_never_waits_for_the_store(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    with HeldBack(table):
        for ware, pieces in (("qrs", "11"), ("tgy", "5"), ("mbu", "7")):
            table.type(ware, ENTER, "body", ENTER, pieces, ENTER, ENTER, ENTER)
        assert [row[-1] for row in table.shown()] == ["pending"] * 3
        assert table.bench.table.big.text() == "MBU body, 7, keep"
        assert table.bar() == ["23 to keep", "109 left of 132"]
        assert table.bench.table.fields.cells["ware"].hasFocus()
    table.settle_down()
    assert [row[-1] for row in table.shown()] == ["written"] * 3
    assert [group.pieces for group in table.stored(code).groups] == [11, 5, 7]


# --- what may be sorted, and what waits ---------------------------------------------------------------------------


def test_what_is_not_dry_is_asked_about_with_a_way_to_go_on(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    advance(desk, hours=-6)
    table.scan(code)
    assert table.bench.asked() is Asked.NOT_DRY
    assert "has lain to dry for 2 of 8 hours" in table.bench.words.head.text()
    table.row(ENTER)
    assert standing_of(desk, code) is Standing.SORTING
    assert table.bench.table.fields.cells["ware"].hasFocus()


def test_what_cannot_be_sorted_says_what_is_next(table: Table, desk: Desk) -> None:
    code = put_container(desk, 131)
    bone = put_container(desk, 132, material="bone")
    table.scan(code)
    assert table.bench.words.head.text() == "Bucket 131 is not ready to be sorted"
    assert "dip and look" in str(table.bench.words.words.lines)
    table.scan(bone)
    assert table.bench.asked() is Asked.NOT_YET


def test_where_only_sorting_counts_the_sum_of_what_is_read_becomes_the_count(table: Table, desk: Desk) -> None:
    with_settings(desk, count_at_wash=False)
    code = put_container(desk, 131, steps=DRY)
    table.settle_down()
    table.scan(code)
    assert "Counted only at sorting" in table.bench.table.count_note.text()
    assert table.bench.table.settle.text() == "Settle when it is sorted"
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, ENTER, ENTER)
    assert table.bar() == ["11 to keep"]
    table.press(ENTER, CONTROL)
    assert table.stored(code).ledger.counted == 11
    assert standing_of(desk, code) is Standing.SETTLED
    counted_first = put_container(desk, 132, steps=DRY)
    table.scan(counted_first)
    table.row(F5, "30", ENTER, ENTER)
    assert table.bar() == ["30 left of 30"]


def test_the_list_stands_while_nothing_is_in_hand_and_enter_takes_one(table: Table, desk: Desk) -> None:
    wet = put_container(desk, 140, steps=LOOKED_AT)
    first, second = dry_container(desk, 131, 132), dry_container(desk, 132, 40)
    # A minute later the list is read afresh: they have lain their hours.
    table.bench.refresh()
    table.settle_down()
    waiting = table.bench.waiting
    assert [row.row_id for row in waiting.model.rows] == [first, second]
    assert wet not in [row.row_id for row in waiting.model.rows]
    assert table.bench.what_waits() == "2 dry and waiting"
    waiting.table.setFocus()
    waiting.table.selectRow(1)
    table.row(ENTER)
    assert table.bench.state.dossier is not None
    assert table.bench.state.dossier.code == second
    table.row("qrs", ENTER, "rim", ENTER, "4", ENTER, ENTER, ENTER)
    table.type("mb")
    table.press(Qt.Key.Key_L, CONTROL)
    assert [row.row_id for row in waiting.model.rows] == [second, first]
    table.scan(second)
    assert table.bench.table.fields.cells["ware"].typed() == "MBU"


def test_a_settled_bucket_is_opened_again_with_a_reason(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 4)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "4", ENTER, ENTER, ENTER)
    table.press(ENTER, CONTROL)
    QTest.mouseClick(table.bench.words.reopen, Qt.MouseButton.LeftButton)
    table.row(ENTER)
    assert standing_of(desk, code) is Standing.SORTING
    assert table.bench.table.fields.cells["ware"].hasFocus()


def test_what_is_not_sorted_here_goes_into_one_bag(table: Table, desk: Desk) -> None:
    code = put_container(desk, 140, material="bone")
    log_count(desk, code, pieces=22)
    advance(desk, hours=9)
    mark_dry(desk, [code])
    table.settle_down()
    table.scan(code)
    assert table.bench.words.words.lines == (("Bag, all of it", ": 22 bones"),)
    table.row(ENTER)
    assert [(bag.what, bag.pieces) for bag in bags_of(desk, code)] == [("all", 22)]


def test_a_key_whose_release_was_lost_writes_nothing_by_itself(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.type("qrs", ENTER, "rim", ENTER, "11")
    table.keyboard.repeat(ENTER, "\r", 20)
    table.settle_down()
    assert table.stored(code).groups == ()
    assert table.bench.table.fields.cells["pieces"].line.text() == "11"


def test_dry_grams_are_held_against_those_of_the_wash(table: Table, desk: Desk) -> None:
    with_settings(desk, count_at_wash=False)
    code = put_container(desk, 131, steps=DRY)
    table.settle_down()
    table.scan(code)
    table.row(F5, "13", ENTER, "500", ENTER)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, "400", ENTER, ENTER)
    table.row("qrs", ENTER, "base", ENTER, "2", ENTER, "80", ENTER, ENTER)
    assert table.bench.table.grams_note.text() == "Grams are 20.0 g apart, more than 2 %: weigh again"
    table.row(UP, ENTER, ENTER, ENTER, ENTER, "95", ENTER, ENTER)
    assert table.bench.table.grams_note.text() == "Grams agree within 2 %"


# --- by mouse, and to the eye -------------------------------------------------------------------------------------


def click(widget: QWidget) -> None:
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton)


def strip_button(table: Table, words: str) -> QPushButton:
    return next(one for one in table.bench.table.strip.findChildren(QPushButton) if one.text() == words)


def test_a_group_is_written_changed_and_removed_by_mouse(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    page, fields = table.bench.table, table.bench.table.fields
    click(strip_button(table, "1 QRS"))
    click(fields.cells["part"])
    click(strip_button(table, "6 base"))
    click(fields.cells["pieces"].line)
    table.type("11")
    box = fields.cells["decision"]
    assert isinstance(box, QComboBox)
    click(box)
    QTest.keyClicks(box.view(), "h")
    QTest.keyClick(box.view(), ENTER)
    click(fields.write)
    table.settle_down()
    assert in_short(table.stored(code).groups) == ["QRS base 11, hold"]
    place = page.rows.visualRect(page.rows.table.index(0, 0)).center()
    QTest.mouseClick(page.rows.viewport(), Qt.MouseButton.LeftButton, pos=place)
    QTest.mouseDClick(page.rows.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(place))
    assert page.remove.isVisible()
    click(page.remove)
    table.settle_down()
    assert table.stored(code).groups == ()
    assert not page.remove.isVisible()


def test_nothing_is_cut_nameless_or_too_small_at_any_size(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, "340", ENTER, ENTER)
    table.row("tgu", ENTER, "body", ENTER, "5", ENTER, F4, F4, ENTER, ENTER)
    table.row(F6, ENTER, ENTER, ENTER)
    for size in SIZES:
        table.program.window.resize(*size)
        QApplication.sendPostedEvents()
        assert cut_words(table.bench) == [], size
        assert nameless(table.bench) == [], size
        assert too_small(table.bench) == [], size
