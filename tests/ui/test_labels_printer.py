"""A printer is met in the window: its test page, four lengths, a name; then the sheet on screen is drawn for it."""

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from findsdesk.desk.printers import draw_test_page, keep_test_page, printer_named, printers, set_printer
from findsdesk.paper.calibration import Calibration
from findsdesk.ui.benches.labels.page import LabelsBench
from findsdesk.ui.paper_memory import read_paper
from findsdesk.ui.program import Program
from tests.printed import MOMENT
from tests.ui.at_the_labels import (  # noqa: F401
    bench,
    ctrl,
    opened_files,
    own_memory,
    press,
    program,
    symbols_of,
    tab_to,
)
from tests.ui.at_work import fits, settled

NAME = "trestle laser"


def choices(bench: LabelsBench) -> list[str]:
    box = bench.parts.stock.printer
    return [box.itemText(place) for place in range(box.count())]


def choose(qtbot: Any, program: Program, bench: LabelsBench, words: str) -> None:
    box = bench.parts.stock.printer
    place = choices(bench).index(words)
    box.setCurrentIndex(place)
    box.activated.emit(place)
    settled(qtbot, program)


@pytest.fixture
def sheet(qtbot: Any, program: Program, bench: LabelsBench) -> LabelsBench:
    """Return the bench with four bag labels on its sheet."""
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert bench.state.sheets is not None
    return bench


def type_into(qtbot: Any, program: Program, widget: Any, text: str) -> None:
    tab_to(qtbot, program, widget)
    QTest.keyClicks(widget, text)
    settled(qtbot, program)


def test_a_printer_is_met_by_keyboard_and_the_sheet_is_drawn_for_it(
    qtbot: Any, program: Program, sheet: LabelsBench, tmp_path: Path, opened_files: list[str]
) -> None:
    before = sheet.state.sheets
    assert choices(sheet) == ["Printer: as it is", "Meet a printer …"]
    choose(qtbot, program, sheet, "Meet a printer …")
    meet = sheet.parts.meet
    assert meet.isVisible()
    assert not sheet.parts.press.isVisible()
    assert meet.expected.text() == "From a true printer: A 20, B 190, C 20, D 270 mm."
    QTest.keyClicks(meet.name.lineEdit(), NAME)
    program.notices.to_write = tmp_path / "page.pdf"  # type: ignore[attr-defined]
    tab_to(qtbot, program, meet.print_page)
    press(qtbot, program, Qt.Key.Key_Return)
    assert opened_files == [str(tmp_path / "page.pdf")]
    assert printer_named(NAME).test_page is not None
    for field, length in zip(meet.lengths, ("21,5", "191.5", "21", "271"), strict=True):
        type_into(qtbot, program, field.line, length)
    press(qtbot, program, Qt.Key.Key_Return)
    assert printer_named(NAME).calibration == Calibration(right=-150, down=-100)
    assert sheet.parts.press.isVisible()
    assert not meet.isVisible()
    assert choices(sheet) == ["Printer: as it is", "Printer: trestle laser", "Meet a printer …"]
    assert sheet.parts.stock.printer.currentText() == "Printer: trestle laser"
    assert sheet.state.sheets is not None
    assert before is not None
    assert sheet.state.sheets.pdf != before.pdf
    assert read_paper("dig house").printer == NAME


def test_what_is_wrong_stays_on_the_page_and_nothing_is_kept(qtbot: Any, program: Program, sheet: LabelsBench) -> None:
    keep_test_page(draw_test_page(NAME, paper="a4-plain", moment=MOMENT))
    choose(qtbot, program, sheet, "Meet a printer …")
    meet = sheet.parts.meet
    meet.keep.click()
    settled(qtbot, program)
    assert "A printer needs a name" in sheet.refusals.text().text()
    meet.name.setEditText(NAME.upper())
    meet.lengths[0].set_value(200)
    meet.keep.click()
    settled(qtbot, program)
    assert "B, C, D is missing. Enter all four lengths" in sheet.refusals.text().text()
    assert [bool(field.wrong()) for field in meet.lengths] == [False, True, True, True]
    for field, tenths in zip(meet.lengths, (200, 20, 20, 20), strict=True):
        field.set_value(tenths)
    meet.keep.click()
    settled(qtbot, program)
    assert "Print at actual size, then measure again" in sheet.refusals.text().text()
    assert [field.wrong() for field in meet.lengths] == [
        "",
        *(f"A true printer has {n} mm here." for n in (190, 20, 270)),
    ]
    assert [one.measured for one in printers()] == [False]
    meet.leave.click()
    settled(qtbot, program)
    assert sheet.parts.press.isVisible()
    assert sheet.state.printer == ""


def test_dots_alone_are_kept_and_read_back_at(qtbot: Any, program: Program, sheet: LabelsBench) -> None:
    choose(qtbot, program, sheet, "Meet a printer …")
    meet = sheet.parts.meet
    meet.name.setEditText("awning roll")
    meet.dpi.setCurrentIndex(meet.dpi.findData(300))
    meet.keep.click()
    settled(qtbot, program)
    assert sheet.parts.stock.printer.currentText() == "Printer: awning roll, not measured"
    ctrl(qtbot, program, Qt.Key.Key_R)
    assert sheet.parts.press.read_line.text() == "At 300 dpi: 4 of 4 read, none wrong."
    choose(qtbot, program, sheet, "Printer: as it is")
    ctrl(qtbot, program, Qt.Key.Key_R)
    assert sheet.parts.press.read_line.text() == "At 203 dpi: 4 of 4 read, none wrong."


def test_a_printer_met_from_the_terminal_meanwhile_is_there_when_the_bench_is_opened_again(
    qtbot: Any, program: Program, sheet: LabelsBench
) -> None:
    set_printer("awning roll", dpi=600)
    program.window.open_bench("day")
    settled(qtbot, program)
    program.window.open_bench("labels")
    settled(qtbot, program)
    choose(qtbot, program, sheet, "Printer: awning roll, not measured")
    assert sheet.state.sheets is not None
    assert sheet.state.sheets.dpi == 600


def test_choosing_another_row_leaves_the_meeting(qtbot: Any, program: Program, sheet: LabelsBench) -> None:
    choose(qtbot, program, sheet, "Meet a printer …")
    sheet.parts.what.chosen.emit("lists")
    settled(qtbot, program)
    assert sheet.parts.lists.isVisible()
    assert not sheet.parts.meet.isVisible()


def test_the_page_fits_its_place(qtbot: Any, program: Program, sheet: LabelsBench) -> None:
    choose(qtbot, program, sheet, "Meet a printer …")
    fits(qtbot, sheet.parts.meet)
