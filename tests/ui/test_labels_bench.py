"""Mika's evening at the labels bench, by real keys and scans on a real store: from settled containers to paper."""

import threading
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from findsdesk.desk.bagging import bag_settled, bags_of, bags_to_label
from findsdesk.desk.labels_waiting import labels_waiting
from findsdesk.desk.printing import came_out_well, lay_out_bag_labels
from findsdesk.ui.benches.labels import printing_work
from findsdesk.ui.benches.labels.page import LabelsBench
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.benches.labels.state import Phase
from findsdesk.ui.paper_memory import read_paper
from findsdesk.ui.program import Program
from tests.ui.at_the_labels import (  # noqa: F401
    SHEET,
    bench,
    ctrl,
    opened_files,
    own_memory,
    press,
    printed_out,
    program,
    symbols_of,
    tab_to,
)
from tests.ui.at_work import settled


def test_from_settled_containers_to_confirmed_labels_by_keyboard(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path, opened_files: list[str]
) -> None:
    desk = bench.surroundings.desk
    assert bench.state.row is Row.PACK, "it opens where something waits"
    assert bench.parts.pack.pack.text() == "Pack 2 buckets into bags"
    ctrl(qtbot, program, Qt.Key.Key_Return)
    bags = bags_to_label(desk)
    assert len(bags) == 4
    assert program.window.scan_line.answer.in_one_line() == "4 new bags from 2 buckets"
    assert bench.state.row is Row.BAG
    tab_to(qtbot, program, bench.parts.sheet.picture)
    press(qtbot, program, Qt.Key.Key_Space)
    press(qtbot, program, Qt.Key.Key_Right)
    press(qtbot, program, Qt.Key.Key_Space)
    assert [one.place for one in bench.state.sheets.placed] == [3, 4, 5, 6]  # type: ignore[union-attr]
    ctrl(qtbot, program, Qt.Key.Key_R)
    assert bench.parts.press.read_line.text() == "At 203 dpi: 4 of 4 read, none wrong."
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert opened_files == [str(tmp_path / "labels.pdf")]
    assert symbols_of(tmp_path / "labels.pdf") == sorted(one.code for one in bags)
    assert labels_waiting(desk).bag_labels == 4, "handed over is not printed"
    assert bench.parts.press.asked.text() == "Did the 4 labels come out well?"
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert labels_waiting(desk).bag_labels == 0
    assert {one.label_copy for one in bags_of(desk, "104") + bags_of(desk, "106")} == {1}
    assert program.window.scan_line.answer.in_one_line() == "4 labels printed"
    assert bench.parts.sheet.empty.isVisible()


def test_ctrl_enter_says_yes_while_the_keyboard_is_in_the_scan_line(
    qtbot: Any, program: Program, bench: LabelsBench
) -> None:
    printed_out(qtbot, program, bench)
    program.window.scan_line.field.setFocus()
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert program.window.scan_line.answer.in_one_line() == "4 labels printed"


def test_saving_the_pdf_opens_nothing_and_asks_the_same(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path, opened_files: list[str]
) -> None:
    bag_settled(bench.surroundings.desk)
    settled(qtbot, program)
    bench.parts.what.lines[Row.BAG].click()
    settled(qtbot, program)
    ctrl(qtbot, program, Qt.Key.Key_S)
    assert (tmp_path / "labels.pdf").is_file()
    assert opened_files == []
    assert bench.state.phase is Phase.OUT
    bench.parts.press.not_printed.click()
    settled(qtbot, program)
    assert bench.state.phase is Phase.LOOKING
    assert labels_waiting(bench.surroundings.desk).bag_labels == 4
    assert read_paper("dig house").folder == str(tmp_path)


def test_places_clicked_away_are_skipped_and_remembered(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path
) -> None:
    ctrl(qtbot, program, Qt.Key.Key_Return)
    picture = bench.parts.sheet.picture
    qtbot.waitUntil(lambda: picture.place_area(24).height() > 4)
    for place in (1, 2, 5):
        centre = picture.place_area(place).center()
        shift = Qt.KeyboardModifier.ShiftModifier
        QTest.mouseClick(picture, Qt.MouseButton.LeftButton, shift, QPoint(round(centre.x()), round(centre.y())))
        settled(qtbot, program)
    assert bench.state.sheets is not None
    assert [one.place for one in bench.state.sheets.placed] == [3, 4, 6, 7]
    assert bench.parts.press.batch_line.text() == "4 labels on 1 sheet, 3 used places skipped"
    assert read_paper("dig house").used == {f"bag labels: {SHEET}": (1, 2, 5)}
    ctrl(qtbot, program, Qt.Key.Key_P)
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert read_paper("dig house").used == {f"bag labels: {SHEET}": (1, 2, 3, 4, 5, 6, 7)}
    assert bench.state.first_free() == 8


def test_the_first_free_label_is_typed_or_clicked(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    ctrl(qtbot, program, Qt.Key.Key_Return)
    tab_to(qtbot, program, bench.parts.stock.first.line)
    QTest.keyClicks(bench.parts.stock.first.line, "22")
    press(qtbot, program, Qt.Key.Key_Return)
    assert bench.state.sheets is not None
    assert [(one.page, one.place) for one in bench.state.sheets.placed] == [(1, 22), (1, 23), (1, 24), (2, 1)]
    assert bench.parts.press.print_button.text() == "Print 2 sheets"
    press(qtbot, program, Qt.Key.Key_PageDown)
    assert bench.parts.sheet.page_line.text() == "Sheet 2 of 2"
    press(qtbot, program, Qt.Key.Key_PageUp)
    picture = bench.parts.sheet.picture
    picture.go_to(3)
    picture.setFocus()
    press(qtbot, program, Qt.Key.Key_Return)
    assert bench.state.sheets.placed[0].place == 3
    centre = picture.place_area(13).center()
    QTest.mouseClick(picture, Qt.MouseButton.LeftButton, pos=QPoint(round(centre.x()), round(centre.y())))
    settled(qtbot, program)
    assert bench.state.sheets.placed[0].place == 13


def test_what_is_marked_to_be_typed_over_stays_marked(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    ctrl(qtbot, program, Qt.Key.Key_Return)
    tab_to(qtbot, program, bench.parts.stock.first.line)
    bench.parts.stock.first.line.selectAll()
    bench.show_state()
    QTest.keyClicks(bench.parts.stock.first.line, "5")
    assert bench.parts.stock.first.line.text() == "5"


@pytest.mark.parametrize("typed", ["99", "0", "25"])
def test_a_label_that_the_sheet_does_not_have_is_refused_beside_it(
    qtbot: Any, program: Program, bench: LabelsBench, typed: str
) -> None:
    ctrl(qtbot, program, Qt.Key.Key_Return)
    first = bench.parts.stock.first
    tab_to(qtbot, program, first.line)
    first.line.selectAll()
    QTest.keyClicks(first.line, typed)
    press(qtbot, program, Qt.Key.Key_Return)
    assert first.wrong() == "The sheet has labels 1 to 24. Type one of them."
    assert first.said().isVisible()
    assert first.line.text() == typed
    assert bench.state.first_free() == 1


def test_the_picture_is_the_page_that_is_printed(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    ctrl(qtbot, program, Qt.Key.Key_Return)
    sheets, picture = bench.state.sheets, bench.work.picture
    assert sheets is not None
    assert picture is not None
    qtbot.waitUntil(lambda: bench.work.picture.width() == bench.parts.sheet.picture.page_pixels())  # type: ignore[union-attr]
    picture = bench.work.picture
    document = pypdfium2.PdfDocument(sheets.pdf)
    try:
        page = document[0]
        page = page.render(scale=picture.width() / page.get_width(), grayscale=True).to_pil()  # type: ignore[union-attr]
    finally:
        document.close()
    dark = sum(page.histogram()[:128])
    shown = sum(
        picture.pixelColor(x, y).lightness() < 128  # type: ignore[union-attr]
        for x in range(picture.width())  # type: ignore[union-attr]
        for y in range(picture.height())  # type: ignore[union-attr]
    )
    assert dark > 1000
    assert abs(shown - dark) < dark * 0.05


def test_the_window_s_thread_lays_nothing_out(
    qtbot: Any, program: Program, bench: LabelsBench, monkeypatch: pytest.MonkeyPatch
) -> None:
    threads: list[str] = []

    def seen(call: Any) -> Any:
        def run(*given: Any, **named: Any) -> Any:
            threads.append(threading.current_thread().name)
            return call(*given, **named)

        return run

    for name in ("lay_out", "preview_page", "read_sheets"):
        monkeypatch.setattr(printing_work, name, seen(getattr(printing_work, name)))
    ctrl(qtbot, program, Qt.Key.Key_Return)
    ctrl(qtbot, program, Qt.Key.Key_R)
    assert len(threads) >= 3
    assert all(name.startswith("pool") for name in threads)


def test_a_paper_that_cannot_be_written_leaves_the_question_unasked(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path
) -> None:
    program.notices.to_write = tmp_path / "no such folder" / "labels.pdf"  # type: ignore[attr-defined]
    ctrl(qtbot, program, Qt.Key.Key_Return)
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert "cannot be written" in program.notices.told[0][0]  # type: ignore[attr-defined]
    assert bench.state.phase is Phase.LOOKING
    assert labels_waiting(bench.surroundings.desk).bag_labels == 4


def test_labels_printed_meanwhile_are_refused_and_gathered_anew(
    qtbot: Any, program: Program, bench: LabelsBench
) -> None:
    desk = bench.surroundings.desk
    printed_out(qtbot, program, bench)
    came_out_well(desk, lay_out_bag_labels(desk, stock=SHEET))
    settled(qtbot, program)
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert "was written down already" in bench.refusals.text().text()
    bench.parts.press.not_printed.click()
    settled(qtbot, program)
    assert bench.parts.sheet.empty.isVisible()


def test_symbols_that_cannot_be_read_are_not_printed(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path
) -> None:
    ctrl(qtbot, program, Qt.Key.Key_Return)
    bench.state.sheets = bench.state.sheets.__class__(  # type: ignore[union-attr]
        **{name: getattr(bench.state.sheets, name) for name in bench.state.sheets.__slots__}  # type: ignore[union-attr]
        | {"pdf": _blank_page()}
    )
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert "4 symbols cannot be read" in bench.refusals.text().text()
    assert bench.parts.press.read_line.text().startswith("At 203 dpi: 0 of 4 read. Not read: ")
    assert not (tmp_path / "labels.pdf").exists()


def _blank_page() -> bytes:
    from io import BytesIO

    document, made = pypdfium2.PdfDocument.new(), BytesIO()
    document.new_page(595, 842)
    document.save(made)
    document.close()
    return made.getvalue()


@pytest.mark.parametrize(("stock", "pages"), [("roll-57x32", 4), ("letter-3x10-67x25", 1)])
def test_another_stock_is_laid_out_and_remembered(
    qtbot: Any, program: Program, bench: LabelsBench, stock: str, pages: int
) -> None:
    ctrl(qtbot, program, Qt.Key.Key_Return)
    box = bench.parts.stock.stock
    box.setCurrentIndex(box.findData(stock))
    box.activated.emit(box.currentIndex())
    settled(qtbot, program)
    assert bench.state.sheets is not None
    assert (bench.state.sheets.stock, bench.state.sheets.pages) == (stock, pages)
    assert read_paper("dig house").stocks == {"bag labels": stock}
    assert bench.parts.stock.first.isVisible() == (stock != "roll-57x32")


def test_one_container_is_packed_by_itself(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    page = bench.parts.pack
    assert page.pack_one.isVisible()
    page.table.selectRow(1)
    number = page.model.rows[1].cells[0].text
    assert page.pack_one.text() == f"Only bucket {number}"
    page.pack_one.setFocus()
    page.pack_one.click()
    settled(qtbot, program)
    assert labels_waiting(bench.surroundings.desk).to_pack == 1
    assert len(bags_of(bench.surroundings.desk, number)) == 2
    assert QApplication.focusWidget() is bench.parts.what.lines[Row.BAG], "the keyboard comes along to its labels"
