"""Mika's evening at the labels bench, by real keys and scans on a real store: from settled containers to paper."""

import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from findsdesk.desk.bagging import bag_settled, bags_of, bags_to_label
from findsdesk.desk.desk import Desk
from findsdesk.desk.labels_waiting import labels_waiting
from findsdesk.desk.printing import came_out_well, lay_out_bag_labels
from findsdesk.ui.benches.labels import printing_work
from findsdesk.ui.benches.labels.page import LabelsBench
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.benches.labels.state import Phase
from findsdesk.ui.paper_memory import read_paper
from findsdesk.ui.program import Program
from tests.ui.at_the_labels import SHEET, ctrl, press, settled_container, symbols_of, tab_to, text_of
from tests.ui.at_work import go_to, listen_to, opened, scan, settled
from tests.ui.conftest import Keyboard
from tests.yard import new_yard


def two_settled(folder: Path) -> Desk:
    """Return a yard with two settled containers, of two deposits, that are not in bags."""
    desk = new_yard(folder, by="Mika", station="dig house")
    settled_container(desk, 104)
    settled_container(desk, 106, deposit="2003")
    return desk


@pytest.fixture(autouse=True)
def own_memory(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let each test begin at a station that remembers nothing of its paper."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))


@pytest.fixture(autouse=True)
def opened_files(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Keep what would be opened in the machine's viewer."""
    files: list[str] = []

    def keep(url: Any) -> bool:
        files.append(url.toLocalFile())
        return True

    monkeypatch.setattr("findsdesk.ui.paper_out.QDesktopServices.openUrl", keep)
    return files


@pytest.fixture
def program(qtbot: Any, tmp_path: Path) -> Iterator[Program]:
    """Return a program on a yard with two settled containers."""
    with opened(qtbot, two_settled(tmp_path), station="dig house") as made:
        made.notices.to_write = tmp_path / "labels.pdf"  # type: ignore[attr-defined]
        # What is typed here is typed by a person; the filter would hold each first key until its clock has run on.
        made.filter.uninstall()
        yield made


@pytest.fixture
def bench(qtbot: Any, program: Program) -> LabelsBench:
    """Return the labels bench, shown."""
    shown = go_to(qtbot, program, "labels")
    assert isinstance(shown, LabelsBench)
    return shown


def test_from_settled_containers_to_confirmed_labels_by_keyboard(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path, opened_files: list[str]
) -> None:
    desk = bench.surroundings.desk
    assert bench.state.row is Row.PACK, "it opens where something waits"
    assert bench.parts.pack.pack.text() == "Pack 2 buckets into bags"
    ctrl(qtbot, program, Qt.Key.Key_Return)
    bags = bags_to_label(desk)
    assert len(bags) == 4
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


def printed_out(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    """Pack, and hand the labels over by keyboard."""
    ctrl(qtbot, program, Qt.Key.Key_Return)
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert bench.state.phase is Phase.OUT


def test_a_jam_is_answered_by_one_key_and_copy_2(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path
) -> None:
    desk = bench.surroundings.desk
    printed_out(qtbot, program, bench)
    codes = bench.state.sheets.codes  # type: ignore[union-attr]
    tab_to(qtbot, program, bench.parts.press.some_spoiled)
    press(qtbot, program, Qt.Key.Key_Return)
    assert QApplication.focusWidget() is bench.parts.sheet.picture
    assert not bench.parts.press.reasons["jammed"].isEnabled(), "first which, then why"
    press(qtbot, program, Qt.Key.Key_Space)
    press(qtbot, program, Qt.Key.Key_Right)
    press(qtbot, program, Qt.Key.Key_Space)
    assert bench.parts.press.spoiled_line.text() == "2 of 4 spoiled"
    press(qtbot, program, Qt.Key.Key_1)
    assert program.window.scan_line.answer.in_one_line() == "2 labels printed, 2 come again"
    assert labels_waiting(desk).bag_labels == 2
    assert bench.state.sheets is not None
    assert [(one.code, one.copy, one.place) for one in bench.state.sheets.placed] == [
        (codes[0], 2, 5),
        (codes[1], 2, 6),
    ], "as copy 2, after the places that are gone"
    assert QApplication.focusWidget() is bench.parts.press.print_button
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert "copy 2" in text_of(tmp_path / "labels.pdf")
    assert symbols_of(tmp_path / "labels.pdf") == sorted(codes[:2])
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert labels_waiting(desk).bag_labels == 0
    assert sorted(one.label_copy for one in bags_of(desk, "104") + bags_of(desk, "106")) == [1, 1, 2, 2]


def test_a_spoiled_label_is_named_by_scanning_it(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    printed_out(qtbot, program, bench)
    codes = bench.state.sheets.codes  # type: ignore[union-attr]
    bench.parts.press.some_spoiled.click()
    scan(qtbot, program, codes[2])
    assert bench.state.spoiled == {codes[2]}
    scan(qtbot, program, codes[2])
    assert bench.state.spoiled == set()
    bench.parts.press.back.click()
    assert bench.state.phase is Phase.OUT


def test_all_spoiled_writes_nothing_and_prints_all_again(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    printed_out(qtbot, program, bench)
    bench.parts.press.some_spoiled.click()
    for code in bench.state.sheets.codes:  # type: ignore[union-attr]
        scan(qtbot, program, code)
    press(qtbot, program, Qt.Key.Key_2)
    assert labels_waiting(bench.surroundings.desk).bag_labels == 4
    assert bench.state.sheets is not None
    assert {one.copy for one in bench.state.sheets.placed} == {2}
    bench.parts.press.leave.click()
    settled(qtbot, program)
    assert bench.state.reprint is None
    assert len(bench.state.sheets.placed) == 4


def labelled(bench: LabelsBench, qtbot: Any, program: Program) -> list[str]:
    """Pack and label everything by the use cases; return the codes of the bags."""
    desk = bench.surroundings.desk
    bags = bag_settled(desk)
    came_out_well(desk, lay_out_bag_labels(desk, stock=SHEET))
    settled(qtbot, program)
    return [one.code for one in bags]


def test_a_scanned_damaged_label_is_printed_again_in_three_actions(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path
) -> None:
    codes = labelled(bench, qtbot, program)
    scan(qtbot, program, codes[1])
    assert bench.parts.again_offer.asks()
    assert codes[1] in bench.parts.again_offer.said.text()
    press(qtbot, program, Qt.Key.Key_2)
    press(qtbot, program, Qt.Key.Key_Return)
    assert symbols_of(tmp_path / "labels.pdf") == [codes[1]]
    assert "copy 2" in text_of(tmp_path / "labels.pdf")
    ctrl(qtbot, program, Qt.Key.Key_Return)
    copies = {one.code: one.label_copy for one in bags_of(bench.surroundings.desk, "106")}
    assert copies == {codes[0]: 1, codes[1]: 2}


@pytest.mark.parametrize(("typed", "reason"), [("1", "jammed"), ("2", "lost"), ("3", "changed")])
def test_one_digit_says_why_though_the_scan_filter_watches(
    qtbot: Any, program: Program, bench: LabelsBench, keyboard: Keyboard, typed: str, reason: str
) -> None:
    listen_to(keyboard, program)
    scan(qtbot, program, "104")
    bench.parts.again_offer.papers.setFocus()
    keyboard.type(typed)
    settled(qtbot, program)
    assert bench.state.reprint is not None
    assert bench.state.reprint.reason == reason


def test_a_digit_says_nothing_where_no_reason_is_asked(
    qtbot: Any, program: Program, bench: LabelsBench, keyboard: Keyboard
) -> None:
    listen_to(keyboard, program)
    labelled(bench, qtbot, program)
    bench.parts.what.take_keyboard().setFocus()
    keyboard.type("2")
    settled(qtbot, program)
    assert bench.state.reprint is None


def test_a_tag_typed_by_its_number_can_be_printed_again_too(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    scan(qtbot, program, "104")
    offer = bench.parts.again_offer
    assert [offer.papers.itemText(n) for n in range(offer.papers.count())] == [
        "Tag of bucket 104",
        "Wash tag of bucket 104",
    ]
    offer.leave.click()
    assert not offer.asks()
    scan(qtbot, program, "106")
    assert offer.asks()
    press(qtbot, program, Qt.Key.Key_3)
    assert bench.state.sheets is not None
    assert [one.copy for one in bench.state.sheets.placed] == [2]


def test_news_of_what_is_in_hand_keeps_the_scanned_label(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    codes = labelled(bench, qtbot, program)
    scan(qtbot, program, codes[1])
    assert bench.state.dossier is not None
    program.changes.add({("container", bench.state.dossier.container_id)})
    settled(qtbot, program)
    offered = bench.state.offered()
    assert offered is not None
    assert offered.code == codes[1]
    bench.parts.again_offer.leave.click()
    program.changes.add({("container", bench.state.dossier.container_id)})
    settled(qtbot, program)
    assert not bench.parts.again_offer.asks(), "put aside stays put aside"
    scan(qtbot, program, codes[0])
    assert bench.parts.again_offer.asks()


def test_the_marks_keep_the_keyboard_though_the_label_is_offered_again(
    qtbot: Any, program: Program, bench: LabelsBench
) -> None:
    codes = labelled(bench, qtbot, program)
    bench.parts.what.lines[Row.MARKS].click()
    settled(qtbot, program)
    scan(qtbot, program, codes[0])
    assert bench.parts.again_offer.asks()
    assert QApplication.focusWidget() not in bench.parts.again_offer.reasons.values()


@pytest.mark.parametrize("size", [QSize(1366, 768), QSize(1920, 1080)])
def test_the_offer_moves_nothing(qtbot: Any, program: Program, bench: LabelsBench, size: QSize) -> None:
    codes = labelled(bench, qtbot, program)
    program.window.resize(size)
    bench.parts.what.lines[Row.TAGS].click()
    settled(qtbot, program)

    def where() -> list[QRect]:
        QApplication.sendPostedEvents()
        parts = (bench.parts.what, bench.parts.stock, bench.parts.press, bench.parts.sheet)
        return [QRect(part.mapTo(bench, QPoint(0, 0)), part.size()) for part in parts]

    qtbot.waitUntil(lambda: program.window.size() == size)
    before = where()
    scan(qtbot, program, codes[0])
    assert bench.parts.again_offer.asks()
    assert where() == before
    scan(qtbot, program, "104")
    assert where() == before, "the tag and its wash tag to choose from take no more room"
    bench.parts.again_offer.leave.click()
    settled(qtbot, program)
    assert where() == before


def test_places_clicked_away_are_skipped_and_remembered(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path
) -> None:
    ctrl(qtbot, program, Qt.Key.Key_Return)
    picture = bench.parts.sheet.picture
    qtbot.waitUntil(lambda: picture.place_area(24).height() > 4)
    for place in (1, 2, 5):
        centre = picture.place_area(place).center()
        QTest.mouseClick(picture, Qt.MouseButton.LeftButton, pos=QPoint(round(centre.x()), round(centre.y())))
        settled(qtbot, program)
    assert bench.state.sheets is not None
    assert [one.place for one in bench.state.sheets.placed] == [3, 4, 6, 7]
    assert bench.parts.press.batch_line.text() == "4 labels on 1 sheet, 3 used places skipped"
    assert read_paper("dig house").used == {SHEET: (1, 2, 5)}
    ctrl(qtbot, program, Qt.Key.Key_P)
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert read_paper("dig house").used == {SHEET: (1, 2, 3, 4, 5, 6, 7)}
    assert bench.state.first_free() == 8


def test_the_first_free_label_is_typed_or_marked_with_shift(qtbot: Any, program: Program, bench: LabelsBench) -> None:
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
    press(qtbot, program, Qt.Key.Key_Space, Qt.KeyboardModifier.ShiftModifier)
    assert bench.state.sheets.placed[0].place == 3


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
