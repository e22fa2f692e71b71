"""Labels to a printer of the machine at 100 %: here to one that writes a file, and to one that is gone."""

from pathlib import Path
from typing import Any

import numpy
import pytest
from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrinter

from findsdesk.desk.laying_out import Sheets
from findsdesk.domain.refusals import Refusal
from findsdesk.paper.reading_back import read_back
from findsdesk.ui import system_printer
from findsdesk.ui.benches.labels.page import LabelsBench
from findsdesk.ui.benches.labels.state import Phase
from findsdesk.ui.program import Program
from findsdesk.ui.system_printer import make_ready, print_sheets, printers_of_the_machine
from tests.printed import Sheet
from tests.ui.at_the_labels import bench, ctrl, own_memory, program  # noqa: F401
from tests.ui.at_work import settled


@pytest.fixture
def sheets(qtbot: Any, program: Program, bench: LabelsBench) -> Sheets:
    """Return four bag labels on their sheet."""
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert bench.state.sheets is not None
    return bench.state.sheets


def to_file(path: Path, sheets: Sheets) -> QPrinter:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    make_ready(printer, sheets)
    return printer


def test_what_leaves_is_as_large_as_it_was_drawn_and_reads(sheets: Sheets, tmp_path: Path) -> None:
    out = tmp_path / "out.pdf"
    assert print_sheets(to_file(out, sheets), sheets) == 1
    came, drawn = Sheet(out.read_bytes()), Sheet(sheets.pdf)
    # Qt rounds a page to whole points: 0.35 mm.
    assert (came.width, came.height) == (pytest.approx(drawn.width, abs=0.36), pytest.approx(drawn.height, abs=0.36))
    ink = [numpy.argwhere(sheet.dark(300)) * 25.4 / 300 for sheet in (came, drawn)]
    for edge in (numpy.min, numpy.max):
        assert edge(ink[0], axis=0) == pytest.approx(edge(ink[1], axis=0), abs=0.4)
    assert {code for _page, code in read_back(out.read_bytes(), 300)} == set(sheets.codes)


@pytest.mark.qt_log_ignore("QPainter::begin")
def test_a_printer_that_is_gone_is_a_refusal_and_nothing_is_written(sheets: Sheets, tmp_path: Path) -> None:
    with pytest.raises(Refusal) as no:
        print_sheets(to_file(tmp_path / "no such folder" / "out.pdf", sheets), sheets)
    assert no.value.code == "printer_gone"
    assert "save the PDF" in no.value.in_words()


def test_this_machine_has_no_printer_and_the_bench_says_so(
    qtbot: Any,
    program: Program,
    bench: LabelsBench,
    sheets: Sheets,
) -> None:
    if printers_of_the_machine():
        pytest.skip("this machine has a printer")
    assert bench.state.machine_printers == ()
    bench.state.handed_over()
    bench.show_state()
    assert bench.parts.press.no_printer.isVisible()
    assert not bench.parts.press.view.isVisible()


def test_with_a_printer_the_print_key_asks_which_and_then_whether_it_came_out_well(
    qtbot: Any,
    program: Program,
    bench: LabelsBench,
    sheets: Sheets,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    bench.state.machine_printers = ("yard laser",)
    bench.show_state()
    assert bench.parts.press.view.isVisible()
    out = tmp_path / "out.pdf"
    notices = bench.surroundings.notices
    monkeypatch.setattr(notices, "printer_to_use", lambda _head, _ready: None, raising=False)
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert bench.state.phase is Phase.LOOKING
    monkeypatch.setattr(notices, "printer_to_use", lambda _head, _ready: to_file(out, sheets), raising=False)
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert bench.state.phase is Phase.OUT
    assert out.exists()
    bench.work.back()
    settled(qtbot, program)

    def gone(*_said: object) -> int:
        raise Refusal("printer_gone", "{printer}", printer="yard laser")

    monkeypatch.setattr(system_printer, "print_sheets", gone)
    monkeypatch.setattr("findsdesk.ui.benches.labels.printing_work.print_sheets", gone)
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert "yard laser" in bench.refusals.text().text()
    assert bench.state.phase is Phase.LOOKING
