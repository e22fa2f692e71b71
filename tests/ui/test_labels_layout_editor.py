"""What stands on a label is changed in the window and seen as it prints; a stock is measured; slips are printed."""

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from findsdesk.desk.label_layouts import LabelKind, label_layouts, shipped_layout
from findsdesk.desk.own_stocks import MeasuredSheet, add_sheet, own_stocks
from findsdesk.desk.printers import printers, set_printer
from findsdesk.desk.printing import PrintKind
from findsdesk.ui.benches.labels.layout_rows import BESIDE, UNDER, layout_of, moved, rows_of
from findsdesk.ui.benches.labels.page import LabelsBench
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.benches.labels.state import Aside
from findsdesk.ui.program import Program
from tests.ui.at_the_labels import bench, ctrl, opened_files, own_memory, program, tab_to  # noqa: F401
from tests.ui.at_work import fits, go_to, settled


@pytest.mark.parametrize("kind", LabelKind)
def test_a_layout_as_rows_makes_the_same_layout(kind: LabelKind) -> None:
    layout = shipped_layout(kind)
    fields = [name for line in layout.lines for name in line.fields]
    assert layout_of(rows_of(layout, (*fields, *layout.under_symbol)), layout) == layout


def test_rows_move_and_stand_where_they_are_put() -> None:
    layout = shipped_layout(LabelKind.TAG)
    rows = rows_of(layout, ("container", "deposit"))
    assert [row.name for row in moved(rows, 1, -1)][:2] == ["site", "container"]
    assert moved(rows, 0, -1) == rows
    assert [row.place for row in rows[:3]] == ["numbers", BESIDE, BESIDE]
    assert rows_of(shipped_layout(LabelKind.BAG), ("mark",))[-1].place == UNDER


@pytest.fixture
def sheet(qtbot: Any, program: Program, bench: LabelsBench) -> LabelsBench:
    """Return the bench with four bag labels on its sheet."""
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert bench.state.sheets is not None
    return bench


def open_editor(qtbot: Any, program: Program, sheet: LabelsBench) -> None:
    tab_to(qtbot, program, sheet.parts.stock.layout_button)
    QTest.keyClick(sheet.parts.stock.layout_button, Qt.Key.Key_Space)
    settled(qtbot, program)
    assert sheet.state.aside is Aside.LAYOUT


def test_a_layout_is_changed_by_keyboard_and_the_sheet_is_drawn_by_it(
    qtbot: Any,
    program: Program,
    sheet: LabelsBench,
) -> None:
    open_editor(qtbot, program, sheet)
    editor = sheet.parts.editor
    before = editor.picture._image
    assert not before.isNull()
    site = next(line for line in editor._lines if line.row.name == "site")
    tab_to(qtbot, program, site.shown)
    QTest.keyClick(site.shown, Qt.Key.Key_Space)
    settled(qtbot, program)
    assert editor.picture._image != before
    assert not site.size.isEnabled()
    ctrl(qtbot, program, Qt.Key.Key_Return)
    kept = label_layouts(sheet.surroundings.desk)[LabelKind.BAG]
    assert kept.own
    assert all("site" not in line.fields for line in kept.layout.lines)
    assert sheet.state.aside is None
    assert sheet.state.batch is not None
    assert sheet.state.batch.layout == kept.layout


def test_a_layout_that_cannot_be_is_refused_beside_it_and_stays_on_screen(
    qtbot: Any,
    program: Program,
    sheet: LabelsBench,
) -> None:
    open_editor(qtbot, program, sheet)
    editor = sheet.parts.editor
    first = editor._lines[0]
    first.size.line.selectAll()
    QTest.keyClicks(first.size.line, "200")
    QTest.keyClick(first.size.line, Qt.Key.Key_Return)
    assert first.size.wrong() == "Type 4 to 72 points."
    assert first.size.said().isVisible()
    editor.take_keyboard()
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert first.size.line.hasFocus(), "the keyboard goes to what is wrong"
    assert not label_layouts(sheet.surroundings.desk)[LabelKind.BAG].own
    assert sheet.state.aside is Aside.LAYOUT
    editor.as_shipped.click()
    settled(qtbot, program)
    assert editor.said() == shipped_layout(LabelKind.BAG)
    editor.leave.click()
    assert sheet.state.aside is None


def test_a_field_moves_up_and_keeps_the_keyboard(qtbot: Any, program: Program, sheet: LabelsBench) -> None:
    open_editor(qtbot, program, sheet)
    editor = sheet.parts.editor
    editor._lines[2].up.click()
    settled(qtbot, program)
    assert [line.row.name for line in editor._lines[:3]] == ["deposit", "finds", "container"]
    assert editor._lines[1].up.hasFocus()


def test_a_stock_is_measured_used_and_taken_away(
    qtbot: Any, program: Program, sheet: LabelsBench, tmp_path: Path, opened_files: list[str]
) -> None:
    box = sheet.parts.stock.stock
    box.activated.emit(box.count() - 1)
    settled(qtbot, program)
    measure = sheet.parts.measure
    assert sheet.state.aside is Aside.STOCK
    QTest.keyClicks(measure.name, "awning roll")
    measure.kind.setCurrentIndex(measure.kind.findData("roll"))
    assert not measure.page.isVisible()
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert "Width of a label" in sheet.refusals.text().text()
    for name, text in (("width", "57"), ("height", "32"), ("gap", "3")):
        QTest.keyClicks(measure.fields[name].line, text)
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert [one.gap for one in own_stocks()] == [300]
    assert sheet.state.stock().name == "awning roll"
    assert sheet.state.sheets is not None
    assert sheet.state.sheets.page_mm == (57.0, 32.0)
    box.activated.emit(box.count() - 1)
    settled(qtbot, program)
    program.notices.to_write = tmp_path / "frames.pdf"  # type: ignore[attr-defined]
    measure.frames.click()
    settled(qtbot, program)
    assert (tmp_path / "frames.pdf").read_bytes().startswith(b"%PDF")
    measure.take_away.click()
    settled(qtbot, program)
    assert own_stocks() == ()
    assert sheet.state.stock().name != "awning roll"


def test_a_printer_is_forgotten(qtbot: Any, program: Program, sheet: LabelsBench) -> None:
    set_printer("awning roll", dpi=203)
    sheet.meeting.begin()
    meet = sheet.parts.meet
    assert not meet.forget.isEnabled()
    meet.name.setEditText("awning roll")
    meet.forget.click()
    settled(qtbot, program)
    assert printers() == ()
    assert not sheet.state.meeting


def test_what_is_set_and_not_kept_is_asked_about_and_a_bench_left_is_found_as_it_was(
    qtbot: Any, program: Program, sheet: LabelsBench
) -> None:
    sheet._choose_row(Row.OTHER)
    sheet._choose_other(str(PrintKind.BOX))
    settled(qtbot, program)
    sheet.aside.begin_layout()
    settled(qtbot, program)
    editor = sheet.parts.editor
    editor._lines[0].shown.click()
    settled(qtbot, program)
    go_to(qtbot, program, "wash")
    go_to(qtbot, program, "labels")
    assert (sheet.state.row, sheet.state.aside) == (Row.OTHER, Aside.LAYOUT), "no box waits for a label"
    editor.leave.click()
    assert sheet.state.aside is Aside.LAYOUT
    assert "not kept" in sheet.refusals.text().text()
    QTest.keyClick(sheet.refusals._sure, Qt.Key.Key_Escape)
    assert not sheet.refusals.is_asking(), "Escape leaves it"
    editor.leave.click()
    sheet.refusals.say_sure()
    assert (sheet.state.aside, sheet.state.row, sheet.state.kind) == (None, Row.OTHER, PrintKind.BOX)
    go_to(qtbot, program, "wash")
    go_to(qtbot, program, "labels")
    assert sheet.state.row is Row.OTHER
    assert sheet.first_focus() is sheet.parts.what.lines[Row.OTHER]


def test_a_stock_of_ones_own_is_corrected_without_typing_all_of_it_again(
    qtbot: Any, program: Program, sheet: LabelsBench
) -> None:
    add_sheet("shop labels", "A4", MeasuredSheet(21000, 29700, 3, 7, 6350, 3810, 720, 1510, 13920, 24370), "sheet")
    sheet.state.read_stocks()
    sheet.aside.begin_stock()
    measure = sheet.parts.measure
    measure.correct.click()
    settled(qtbot, program)
    assert measure.name.text() == "shop labels"
    typed = {name: field.line.text() for name, field in measure.fields.items() if field.isVisible()}
    assert typed == {
        "columns": "3", "rows": "7", "width": "63.5", "height": "38.1", "left": "7.2", "top": "15.1",
        "last_left": "139.2", "last_top": "243.7", "corner": "0.0",
    }  # fmt: skip
    measure.fields["left"].set_value(740)
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert [(one.name, one.left) for one in own_stocks()] == [("shop labels", 740)]
    assert sheet.state.aside is None
    assert sheet.state.stock().name == "shop labels"
    assert sheet.state.stock().places[0].left == 740


def test_what_is_wrong_with_a_length_moves_no_field_from_under_the_mouse(
    qtbot: Any, program: Program, sheet: LabelsBench
) -> None:
    sheet.aside.begin_stock()
    settled(qtbot, program)
    measure = sheet.parts.measure

    def where() -> dict[str, Any]:
        qtbot.wait(30)  # the layout rests
        shown = {name: field.line for name, field in measure.fields.items() if field.isVisible()} | {
            "keep": measure.keep
        }
        return {name: part.mapTo(program.window, part.rect().topLeft()).toTuple() for name, part in shown.items()}

    before = where()
    for name, typed in (("columns", "0"), ("top", "12,,3"), ("width", "abc")):
        measure.fields[name].line.setFocus()
        QTest.keyClicks(measure.fields[name].line, typed)
        measure.name.setFocus()
        assert where() == before, name
        words = {"columns": "Labels across", "top": "From the top edge", "width": "Width of a label"}[name]
        assert sheet.refusals.text().text().startswith(f"<b>“{words}")
        assert measure.fields[name].line.property("wrong")
    for name, typed in (("width", "70"), ("columns", "3"), ("top", "10")):
        assert sheet.refusals.isVisible(), "another is wrong still"
        measure.fields[name].line.selectAll()
        QTest.keyClicks(measure.fields[name].line, typed)
    assert not sheet.refusals.isVisible()
    measure.keep.click()
    settled(qtbot, program)
    assert "Labels down" in sheet.refusals.text().text()
    assert where() == before


def test_slips_are_printed_in_the_row_of_other_labels(qtbot: Any, program: Program, sheet: LabelsBench) -> None:
    sheet._choose_row(Row.OTHER)
    settled(qtbot, program)
    assert sheet.state.sheets is not None
    assert (sheet.state.sheets.kind, len(sheet.state.sheets.placed)) == (PrintKind.SLIP, 4)
    other = sheet.parts.other
    assert other.isVisible()
    other.kind.activated.emit(other.kind.findData(str(PrintKind.BOX)))
    settled(qtbot, program)
    assert sheet.state.kind is PrintKind.BOX
    assert sheet.state.sheets is None


@pytest.mark.parametrize("size", [(1366, 768), (910, 460)])
def test_the_pages_fit(qtbot: Any, program: Program, sheet: LabelsBench, size: tuple[int, int], tmp_path: Path) -> None:
    program.window.resize(*size)
    for begin in (sheet.aside.begin_layout, sheet.aside.begin_stock):
        begin()
        settled(qtbot, program)
        fits(qtbot, program.window)
        sheet.aside.leave()


def test_size_and_letters_are_of_a_line_and_what_does_not_fit_is_said_beside_it(
    qtbot: Any, program: Program, sheet: LabelsBench
) -> None:
    open_editor(qtbot, program, sheet)
    editor = sheet.parts.editor
    of = {line.row.name: line for line in editor._lines}
    assert [of[name].size.isVisible() for name in ("deposit", "container", "finds")] == [True, False, True]
    qtbot.waitUntil(lambda: of["deposit"].fits.text().startswith("stands in "))
    assert editor.about.text() == "The first of those that wait, as it prints."
    of["deposit"].size.line.selectAll()
    QTest.keyClicks(of["deposit"].size.line, "60")
    QTest.keyClick(of["deposit"].size.line, Qt.Key.Key_Return)
    settled(qtbot, program)
    assert of["deposit"].fits.text().startswith("only ")
    assert of["deposit"].fits.text().endswith(" pt fit")
    assert "stands on the line above" in of["pieces"].fits.text()
    of["container"].joins.click()
    settled(qtbot, program)
    assert of["container"].size.isVisible()
    sheet.state.batch = None
    editor.changed.emit()
    settled(qtbot, program)
    assert editor.about.text() == "An invented label: none of this kind waits."


def test_what_is_wrong_with_a_stock_is_named_and_marked_at_its_field(
    qtbot: Any, program: Program, sheet: LabelsBench
) -> None:
    sheet.aside.begin_stock()
    settled(qtbot, program)
    measure = sheet.parts.measure
    QTest.keyClicks(measure.name, "shop labels")
    sizes = {"columns": "3", "rows": "0", "width": "63.5", "height": "38.1", "left": "7", "top": "15"}
    for name, text in sizes.items():
        QTest.keyClicks(measure.fields[name].line, text)
    ctrl(qtbot, program, Qt.Key.Key_Return)
    rows = measure.fields["rows"]
    assert "“Labels down”: That is none at all." in sheet.refusals.text().text()
    assert rows.wrong() == "That is none at all. Type more than 0."
    assert rows.line.hasFocus()
    QTest.keyClicks(rows.line, "7")
    assert not rows.wrong(), "the mark goes with what is typed"
    for name, text in (("last_left", "40"), ("last_top", "244")):
        QTest.keyClicks(measure.fields[name].line, text)
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert "overlap" in measure.fields["last_left"].wrong()
    assert own_stocks() == ()
    assert measure.keep.visibleRegion().boundingRect().height() == measure.keep.height(), "its button is in sight"
