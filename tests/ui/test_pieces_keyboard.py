"""Where the keyboard stands at the bench of pieces: pages opened by key, parts walked, after a question, in sight."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton, QScrollArea

from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.joins import joins_of
from findsdesk.desk.pieces import pieces_of
from findsdesk.ui.benches.pieces.page import PiecesBench
from findsdesk.ui.benches.pieces.state import CLAY, JOINS, MEASURES, PHOTOS, TAKEN, WHAT
from findsdesk.ui.program import Program
from tests.desk.test_joins_and_vessels import put_pieces
from tests.ui.at_the_pieces import bench, desk, fill, listed, piece, program, refusal  # noqa: F401
from tests.ui.at_the_registers import press
from tests.ui.at_work import scan, settled
from tests.yard import earlier_season

KEY = Qt.Key


def turn(qtbot: Any, program: Program, key: Qt.Key = KEY.Key_PageDown) -> None:
    """Turn to the next page of the piece, from wherever the keyboard is."""
    QTest.keyClick(QApplication.focusWidget(), key, Qt.KeyboardModifier.ControlModifier)
    settled(qtbot, program)


def test_on_a_page_opened_by_key_the_cursor_stands_in_its_first_field(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    program.filter.uninstall()
    entries = {key: page.entries for key, page in bench.forms.pages.items()}
    first: dict[str, Any] = {
        MEASURES: entries[MEASURES]["chord_tenths_mm"].widget.focusProxy(),
        CLAY: entries[CLAY]["colour_surface"].widget.focusProxy(),
        JOINS: bench.joins.other,
        PHOTOS: bench.photos.add,
        TAKEN: bench.samples.form.entries["what_for"].widget,
        WHAT: entries[WHAT]["ware"].widget,
    }
    # From the list, from the scan line and from a button below alike.
    for begin in (bench.list.table, program.window.scan_line.field, bench.write_button):
        bench.show_page(WHAT)
        begin.setFocus()
        for key, field in first.items():
            turn(qtbot, program)
            assert (bench.shown_page(), QApplication.focusWidget()) == (key, field), begin
    turn(qtbot, program, KEY.Key_PageUp)
    assert bench.shown_page() == TAKEN
    assert QApplication.focusWidget() is first[TAKEN]
    # What is typed right after goes into the field.
    bench.show_page(CLAY)
    bench.list.table.setFocus()
    turn(qtbot, program)
    press(qtbot, program, "87.1", KEY.Key_Return)
    assert [one.other_than(piece(desk).id).name for one in joins_of(desk, piece(desk).id)] == ["87.1"]
    bench.show_page(MEASURES)
    bench.rim.by_points.click()
    bench.list.table.setFocus()
    press(qtbot, program, KEY.Key_F6)
    assert bench.rim.typed_points.hasFocus()


def test_one_key_walks_between_list_and_fields_from_everywhere(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    program.filter.uninstall()
    bench.show_page(JOINS)
    bench.joins.other.setFocus()
    press(qtbot, program, "87.1", KEY.Key_Return)
    for begin in (bench.write_button, bench.tabs, bench.joins.table):
        begin.setFocus()
        press(qtbot, program, KEY.Key_F6)
        assert bench.list.table.hasFocus()
        press(qtbot, program, KEY.Key_F6)
        assert bench.joins.other.hasFocus()
    program.window.scan_line.field.setFocus()
    press(qtbot, program, KEY.Key_F6)
    assert bench.joins.other.hasFocus()
    program.window.scan_line.field.setFocus()
    press(qtbot, program, KEY.Key_F3)
    assert bench.list.search.hasFocus()


def test_a_piece_typed_in_the_scan_line_has_the_keyboard_in_its_fields(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    line = program.window.scan_line.field
    line.setFocus()
    press(qtbot, program, "87.1", KEY.Key_Return)
    assert bench.head.name.text() == "87.1"
    assert bench.forms.pages[WHAT].entries["ware"].widget.hasFocus()
    # On the page that is open, and of a piece that is shown already too.
    bench.show_page(JOINS)
    for name in ("131.2", "131.2"):
        line.setFocus()
        press(qtbot, program, name, KEY.Key_Return)
        assert (bench.head.name.text(), bench.joins.other.hasFocus()) == (name, True)
    # What is not found is typed again where it was typed; a bucket is followed by the next one.
    for typed in ("131.9", "131"):
        line.setFocus()
        press(qtbot, program, typed, KEY.Key_Return)
        assert line.hasFocus()
    # A scan while the keyboard is in the list leaves it there.
    bench.list.table.setFocus()
    scan(qtbot, program, piece(desk, "87.2").code)
    assert bench.list.table.hasFocus()


def test_a_partner_scanned_into_it_joins_stays_there_and_nothing_else_comes_in_hand(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    earlier_season(desk)
    old, new = put_pieces(desk, 45, season="2024", deposit=None), put_pieces(desk, 45)
    bench.show_page(JOINS)
    for one, name in ((new[0], "45.1"), (old[0], "2024/45.1")):
        bench.joins.other.setFocus()
        scan(qtbot, program, one.code)
        assert bench.joins.other.text() == name
        assert name in program.window.scan_line.answer.in_one_line()
        assert bench.head.name.text() == "131.1"
        assert listed(bench) == ["131.1", "131.2", "131.3"]
        assert program.window.found.thing.number == "131"
        assert program.window.dossier.title() == "Bucket 131"
    press(qtbot, program, KEY.Key_Return)
    (join,) = joins_of(desk, piece(desk).id)
    assert join.other_than(piece(desk).id).piece_id == old[0].id
    # Between two pieces of an old season the name alone would be one of the newest that has such a number.
    bench.list.table.setFocus()
    scan(qtbot, program, old[0].code)
    settled(qtbot, program)
    assert bench.head.name.text() == "45.1"
    bench.joins.other.setFocus()
    scan(qtbot, program, old[1].code)
    assert bench.joins.other.text() == "45.2"
    press(qtbot, program, KEY.Key_Return)
    joined = {join.other_than(old[0].id).piece_id for join in joins_of(desk, old[0].id)}
    assert joined == {piece(desk).id, old[1].id}


def test_what_was_refused_of_a_join_goes_with_the_next_partner_and_what_is_joined_is_said(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    partner = piece(desk, "87.1")
    bench.show_page(JOINS)
    other = bench.joins.other
    for clears in (
        lambda: scan(qtbot, program, partner.code),
        lambda: press(qtbot, program, KEY.Key_Backspace),
        lambda: bench.tabs.chosen.emit(TAKEN),
    ):
        bench.show_page(JOINS)
        other.setText("131.1")
        other.setFocus()
        press(qtbot, program, KEY.Key_Return)
        assert "same piece twice" in refusal(bench)
        clears()
        assert bench.refusals.isHidden()
    bench.show_page(JOINS)
    other.clear()
    other.setFocus()
    scan(qtbot, program, partner.code)
    press(qtbot, program, KEY.Key_Return)
    assert program.window.scan_line.answer.in_one_line().startswith("131.1 joins 87.1")


def test_a_stray_blank_lays_no_piece_back_that_says_something_and_the_way_back_is_said(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    one = piece(desk)
    change_piece(desk, one.id, seen=one.version, colour_core="10YR 7/3")
    bench.refresh()
    settled(qtbot, program)
    bench.back_button.setFocus()
    # What is typed on a button is text for a field: no blank within it presses the button.
    press(qtbot, program, "quartz common, fine; 10YR 7/3")
    assert (refusal(bench), len(pieces_of(desk, "131"))) == ("", 3)
    bench.write_button.setFocus()
    bench.back_button.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert refusal(bench).startswith("Measured or described: 131.1. Lay it back all the same?")
    press(qtbot, program, "fine; grog 10 %")
    assert len(pieces_of(desk, "131")) == 3
    press(qtbot, program, KEY.Key_Escape)
    assert bench.back_button.hasFocus()
    # Typed and not written is said of it, too; the answer lays it back.
    bench.list.table.selectRow(1)
    settled(qtbot, program)
    fill(bench, note="joins?")
    bench.back_button.setFocus()
    press(qtbot, program, KEY.Key_Return, KEY.Key_Return)
    said = program.window.scan_line.answer.in_one_line()
    assert said == "Laid back: 131.2. Ctrl+Z at the sorting table brings it back."
    # A piece that says nothing is laid back at once.
    bench.list.table.selectRow(1)
    settled(qtbot, program)
    bench.back_button.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert [one.name for one in pieces_of(desk, "131")] == ["131.1"]


def test_after_a_question_the_keyboard_is_where_the_act_was_tried(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    program.filter.uninstall()
    for name in ("131.1", "131.2"):
        one = piece(desk, name)
        change_piece(desk, one.id, seen=one.version, rim_permille=600, rim_diameter_mm=180)
    settled(qtbot, program)
    bench.show_page(JOINS)
    bench.joins.number.setFocus()
    press(qtbot, program, KEY.Key_Return)
    assert piece(desk).vessel == 1
    assert QApplication.focusWidget() is bench.joins.other
    bench.list.table.selectRow(1)
    settled(qtbot, program)
    bench.joins.number.setFocus()
    press(qtbot, program, "1", KEY.Key_Return)
    assert "120 % of a rim" in refusal(bench)
    assert isinstance(QApplication.focusWidget(), QPushButton)
    press(qtbot, program, KEY.Key_Escape)
    assert bench.joins.number.hasFocus()
    press(qtbot, program, KEY.Key_Return)
    press(qtbot, program, KEY.Key_Return)
    assert piece(desk, "131.2").vessel == 1
    assert QApplication.focusWidget() is bench.joins.other
    # The last of the list is laid back.
    bench.list.table.selectRow(2)
    settled(qtbot, program)
    bench.back_button.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert bench.list.table.hasFocus()
    assert bench.head.name.text() == "131.1"


def test_another_piece_or_page_begins_at_its_top(qtbot: Any, program: Program, bench: PiecesBench) -> None:
    bench.show_page(MEASURES)
    program.window.resize(910, 420)
    areas = [one for one in bench.findChildren(QScrollArea) if one.isAncestorOf(bench.forms.pages[MEASURES])]
    bar = areas[-1].verticalScrollBar()
    qtbot.waitUntil(lambda: bar.maximum() > 0)
    bar.setValue(bar.maximum())
    bench.list.table.selectRow(1)
    qtbot.waitUntil(lambda: bench.head.name.text() == "131.2")
    assert bar.value() == 0
    bar.setValue(bar.maximum())
    bench.refresh()
    settled(qtbot, program)
    assert bar.value() == bar.maximum(), "read again, the same piece stays where somebody reads"
    bench.tabs.chosen.emit(WHAT)
    assert bar.value() == 0
