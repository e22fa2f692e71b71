"""The marking table through real widgets: scan, Enter, numbers and letters; two people; the list on paper."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QScrollArea

from findsdesk.desk.bagging import bag
from findsdesk.desk.bags import bags_of
from findsdesk.desk.desk import Desk
from findsdesk.desk.mark_lines import MarkLine, mark_lines
from findsdesk.desk.marking import check_marks, slip_bag, write_marks
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.domain.marking import Tick
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.benches.labels.marks_page import MarksPage
from findsdesk.ui.benches.labels.page import LabelsBench
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.program import Program
from tests.ui.at_the_labels import press, settled_container, text_of
from tests.ui.at_work import go_to, opened, scan, settled
from tests.yard import new_yard, put_container


def table(folder: Path) -> Desk:
    """Return a yard with three settled containers, one of them in bags, and one that is not sorted."""
    desk = new_yard(folder, by="Mika", station="marking table")
    settled_container(desk, 104)
    settled_container(desk, 106, deposit="2003")
    bag(desk, settled_container(desk, 110))
    put_container(desk, 120)
    return desk


@pytest.fixture(autouse=True)
def own_memory(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let each test begin at a station that remembers nothing, on a machine that opens no file."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    monkeypatch.setattr("findsdesk.ui.paper_out.QDesktopServices.openUrl", lambda _url: False)


@pytest.fixture
def program(qtbot: Any, tmp_path: Path) -> Iterator[Program]:
    with opened(qtbot, table(tmp_path), station="marking table") as made:
        made.notices.to_write = tmp_path / "paper.pdf"  # type: ignore[attr-defined]
        # What is typed here is typed by a person; the filter would hold each first key until its clock has run on.
        made.filter.uninstall()
        yield made


@pytest.fixture
def bench(qtbot: Any, program: Program) -> LabelsBench:
    """Return the labels bench with the marking list shown."""
    shown = go_to(qtbot, program, "labels")
    assert isinstance(shown, LabelsBench)
    shown._choose_row(Row.MARKS)
    settled(qtbot, program)
    return shown


@pytest.fixture
def page(bench: LabelsBench) -> MarksPage:
    return bench.parts.marks


def line_of(bench: LabelsBench, number: str) -> MarkLine:
    return next(one for one in mark_lines(bench.surroundings.desk) if one.number == number)


def choose_checker(page: MarksPage, name: str) -> None:
    box = page.strip.checker.box
    box.setCurrentIndex(box.findText(name))
    assert box.currentText() == name


def answer(program: Program) -> str:
    return program.window.scan_line.answer.in_one_line()


def test_a_scan_leads_to_the_line_and_enter_says_all_written(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage
) -> None:
    assert [row.cells[0].text for row in page.model.rows] == ["106", "104", "110"]
    scan(qtbot, program, line_of(bench, "104").code)
    assert QApplication.focusWidget() is page.table
    assert page.strip.buttons[next(iter(page.strip.buttons))].text() == "All 10 written"
    press(qtbot, program, Qt.Key.Key_Return)
    assert answer(program) == "10 marks written: bucket 104, 1 to check"
    assert line_of(bench, "104").tally.written == 10


def test_the_label_of_a_bag_leads_there_too_and_no_paper_is_offered_again(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage
) -> None:
    code = bags_of(bench.surroundings.desk, "110")[0].code
    scan(qtbot, program, code)
    assert page.table.row_id() == line_of(bench, "110").code
    assert not bench.parts.again_offer.isVisible()
    press(qtbot, program, Qt.Key.Key_Return)
    assert line_of(bench, "110").tally.left == 0
    bench._choose_row(Row.BAG)
    settled(qtbot, program)
    assert not bench.parts.again_offer.asks(), "it was scanned for its marks"


def test_a_number_first_says_so_many(qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage) -> None:
    scan(qtbot, program, "104")
    press(qtbot, program, Qt.Key.Key_6)
    assert QApplication.focusWidget() is page.strip.number.line
    press(qtbot, program, Qt.Key.Key_Return)
    assert answer(program) == "6 marks written: bucket 104, 4 left to mark"
    assert QApplication.focusWidget() is page.table
    assert page.strip.number.value() is None
    press(qtbot, program, Qt.Key.Key_S)
    assert answer(program) == "1 sherd with a slip: bucket 104, 3 left to mark"


def test_a_second_person_checks_and_the_writer_is_refused(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage
) -> None:
    scan(qtbot, program, "104")
    press(qtbot, program, Qt.Key.Key_Return)
    press(qtbot, program, Qt.Key.Key_C)
    assert "a second person checks" in bench.refusals.text().text()
    choose_checker(page, "Lio")
    page.table.setFocus()
    press(qtbot, program, Qt.Key.Key_C)
    assert answer(program) == "1 mark checked: bucket 104"
    assert line_of(bench, "104").is_done
    assert (page.strip.writer.box.currentText(), page.strip.checker.box.currentText()) == ("Mika Sool", "Lio")
    assert [row.cells[0].text for row in page.model.rows] == ["106", "110"], "what is done goes"
    page.done_too.click()
    assert [row.cells[0].text for row in page.model.rows] == ["106", "104", "110"]


def test_a_mark_found_wrong_comes_back_and_a_tick_is_taken_back(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage
) -> None:
    scan(qtbot, program, "104")
    press(qtbot, program, Qt.Key.Key_Return)
    choose_checker(page, "Lio")
    page.table.setFocus()
    press(qtbot, program, Qt.Key.Key_W)
    assert answer(program) == "1 mark found wrong: bucket 104, 1 left to mark"
    settled(qtbot, program)
    assert "10 kept" in page.caption.text()
    assert "One was found wrong: a second person checks all." in page.caption.text()
    press(qtbot, program, Qt.Key.Key_Backspace)
    assert answer(program) == "Taken back: 1 found wrong, bucket 104"
    assert (line_of(bench, "104").tally.written, line_of(bench, "104").tally.wrong) == (10, 0)
    page.strip.back.click()
    settled(qtbot, program)
    assert line_of(bench, "104").tally.left == 10


def test_more_than_is_kept_is_refused_and_what_was_typed_stays(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage
) -> None:
    scan(qtbot, program, "104")
    page.strip.number.line.setFocus()
    QTest.keyClicks(page.strip.number.line, "11")
    press(qtbot, program, Qt.Key.Key_Return)
    assert "10 sherds kept" in bench.refusals.text().text()
    assert page.strip.number.line.text() == "11"
    page.strip.number.line.end(False)
    QTest.keyClicks(page.strip.number.line, ",5")
    press(qtbot, program, Qt.Key.Key_Return)
    assert page.strip.number.wrong()
    assert line_of(bench, "104").tally.marked == 0


@pytest.mark.parametrize(
    ("key", "said"),
    [
        (Qt.Key.Key_S, "2 sherds with a slip: bucket 104, 8 left to mark"),
        (Qt.Key.Key_C, "2 marks checked: bucket 104"),
        (Qt.Key.Key_W, "2 marks found wrong: bucket 104, 2 left to mark"),
    ],
)
def test_a_letter_after_a_number_ticks_so_many(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage, key: Qt.Key, said: str
) -> None:
    if key is not Qt.Key.Key_S:
        write_marks(bench.surroundings.desk, "104", who="Lio")
        settled(qtbot, program)
    scan(qtbot, program, "104")
    press(qtbot, program, Qt.Key.Key_2)
    assert [button.text() for button in page.strip.buttons.values()] == [
        "2 written",
        "2 checked",
        "2 wrong",
        "2 with a slip",
    ]
    press(qtbot, program, key)
    assert answer(program) == said
    assert QApplication.focusWidget() is page.table
    assert page.strip.number.value() is None


def test_a_refused_number_is_selected_and_escape_empties_it(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage
) -> None:
    scan(qtbot, program, "104")
    for key in (Qt.Key.Key_9, Qt.Key.Key_9, Qt.Key.Key_Return):
        press(qtbot, program, key)
    assert "10 sherds kept" in bench.refusals.text().text()
    assert page.strip.number.line.selectedText() == "99"
    press(qtbot, program, Qt.Key.Key_2)
    assert page.strip.number.line.text() == "2"
    press(qtbot, program, Qt.Key.Key_Escape)
    assert page.strip.number.line.text() == ""
    assert QApplication.focusWidget() is page.table


def test_a_deposit_is_chosen_with_how_far_it_is(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage
) -> None:
    write_marks(bench.surroundings.desk, "104", pieces=4)
    settled(qtbot, program)
    offered = ["Every context", "2003: 0 of 10 marked", "2017: 4 of 20 marked"]
    qtbot.waitUntil(lambda: [page.deposit.itemText(n) for n in range(page.deposit.count())] == offered)
    page.deposit.setCurrentIndex(2)
    page.deposit.activated.emit(2)
    assert [row.cells[0].text for row in page.model.rows] == ["104", "110"]
    assert page.progress.text() == "16 to mark, 1 for a second person to check"
    scan(qtbot, program, "106")
    assert page.table.row_id() == line_of(bench, "106").code


def test_what_has_no_line_is_said(qtbot: Any, program: Program, page: MarksPage) -> None:
    scan(qtbot, program, "120")
    assert "It has no line here" in page.hint.text()


def test_marks_and_slips_of_an_old_number_are_written_again(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage
) -> None:
    desk = bench.surroundings.desk
    write_marks(desk, "106", pieces=7)
    slip_bag(desk, "106", pieces=2)
    renumber_deposit(desk, "2003", to="2031", reason="one layer")
    settled(qtbot, program)
    said = ["2031-106", "10", "1", "7", "", "2"]
    qtbot.waitUntil(lambda: said in [[cell.text for cell in row.cells][2:8] for row in page.model.rows])
    bench._choose_row(Row.AGAIN)
    settled(qtbot, program)
    again = bench.parts.again
    assert [row.cells[1].text for row in again.model.rows][-2:] == ["7 inked marks", "slip of 1 bag"]
    assert again.marks.text() == "7 inked marks are written again; 1 slip is written again"
    again.marks.click()
    settled(qtbot, program)
    press(qtbot, program, Qt.Key.Key_Return)
    assert (line_of(bench, "106").tally.outdated, line_of(bench, "106").tally.written) == (0, 7)


def test_one_press_does_not_write_marks_of_several_buckets_unasked(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage
) -> None:
    desk = bench.surroundings.desk
    write_marks(desk, "106", pieces=7)
    write_marks(desk, "104", pieces=4)
    renumber_deposit(desk, "2003", to="2031", reason="one layer")
    renumber_deposit(desk, "2017", to="2041", reason="misread")
    settled(qtbot, program)
    bench._choose_row(Row.AGAIN)
    settled(qtbot, program)
    bench.parts.again.marks.click()
    settled(qtbot, program)
    assert "all 11 marks and slips of 2 buckets again?" in bench.refusals.accessibleName()
    assert line_of(bench, "106").tally.outdated == 7
    bench.refusals.say_sure()
    settled(qtbot, program)
    assert (line_of(bench, "106").tally.outdated, line_of(bench, "104").tally.outdated) == (0, 0)


def test_a_number_goes_to_no_other_bucket(qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage) -> None:
    scan(qtbot, program, "104")
    press(qtbot, program, Qt.Key.Key_7)
    bench.refresh()
    settled(qtbot, program)
    assert page.strip.number.line.text() == "7", "news of the list takes nothing away"
    scan(qtbot, program, line_of(bench, "106").code)
    assert page.strip.number.line.text() == ""
    assert page.hint.text() == "7, typed for bucket 104, is not ticked: type what it is here."
    assert page.strip.buttons[Tick.WRITTEN].text() == "All 10 written"
    assert (line_of(bench, "104").tally.written, line_of(bench, "106").tally.written) == (0, 0)
    press(qtbot, program, Qt.Key.Key_9)
    press(qtbot, program, Qt.Key.Key_9)
    press(qtbot, program, Qt.Key.Key_Return)
    assert page.strip.number.line.text() == "99"
    scan(qtbot, program, "120")
    assert page.strip.number.line.text() == "", "what has no line takes no number either"


def test_old_marks_are_written_again_in_parts_and_taken_back_to_the_old_mark(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage
) -> None:
    desk = bench.surroundings.desk
    write_marks(desk, "106")
    renumber_deposit(desk, "2003", to="2031", reason="one layer")
    settled(qtbot, program)
    scan(qtbot, program, "106")
    qtbot.waitUntil(lambda: page.strip.again.isVisible())
    assert page.strip.again.text() == "10 written again"
    assert "A written again" in page.hint.text()
    writer = page.strip.writer.box
    writer.setCurrentIndex(writer.findText("Lio"))
    writer.activated.emit(writer.currentIndex())
    page.table.setFocus()
    press(qtbot, program, Qt.Key.Key_4)
    press(qtbot, program, Qt.Key.Key_Return)
    assert answer(program) == "4 marks written again: bucket 106, 6 to write again"
    press(qtbot, program, Qt.Key.Key_2)
    press(qtbot, program, Qt.Key.Key_A)
    assert (line_of(bench, "106").tally.written, line_of(bench, "106").tally.outdated) == (6, 4)
    press(qtbot, program, Qt.Key.Key_Backspace)
    assert answer(program) == "Taken back: 2 written again, bucket 106. The old mark waits to be written again"
    assert (line_of(bench, "106").tally.written, line_of(bench, "106").tally.outdated) == (4, 6)
    bench._choose_row(Row.AGAIN)
    settled(qtbot, program)
    again = bench.parts.again
    assert again.writer.box.currentText() == "Lio", "who inks here inks there"
    again.marks.click()
    settled(qtbot, program)
    press(qtbot, program, Qt.Key.Key_Return)  # Yes, all six
    assert answer(program) == "Written again by hand, by Lio; the marking list takes it back"
    with pytest.raises(Refusal):
        check_marks(desk, "106", who="Lio")
    check_marks(desk, "106")


def test_the_marking_list_on_paper_says_what_to_ink_and_how_far_it_is(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage, tmp_path: Path
) -> None:
    write_marks(bench.surroundings.desk, "104", pieces=4, who="Lio")
    settled(qtbot, program)
    press(qtbot, program, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    text = " ".join(text_of(tmp_path / "paper.pdf").split())
    for said in (
        "VE-26-014 / 2017-104",
        "4 of 20 marked, 0 checked",
        "4 written",
        "13 mm",
        "20 mm",
        "Acetone and white spirit",
        "on its profile line",
        "one in 10",
    ):
        assert said in text, said


def test_what_is_read_is_what_is_shown(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = bench.surroundings.desk
    write_marks(desk, "106")
    check_marks(desk, "106", who="Lio")
    bench.refresh()
    settled(qtbot, program)
    assert bench.state.read is not None
    assert {line.deposit for line in bench.state.read.marks.lines} == {"2017"}, "what is done is not read"
    scan(qtbot, program, "106")
    assert page.table.row_id() == line_of(bench, "106").code, "until it is scanned"
    assert page.done_too.isChecked()
    monkeypatch.setattr("findsdesk.desk.marking_table.MOST_SHOWN", 1)
    page.deposit.setCurrentIndex(0)
    page.deposit.activated.emit(0)
    settled(qtbot, program)
    assert [row.cells[0].text for row in page.model.rows] == ["106"]
    assert "The first 1 of 3 buckets stand here" in page.progress.text()
    page.deposit.setCurrentIndex(page.deposit.findText("2017"))
    page.deposit.activated.emit(page.deposit.currentIndex())
    settled(qtbot, program)
    assert [row.cells[0].text for row in page.model.rows] == ["104", "110"]
    assert page.progress.text() == "20 to mark"


def test_the_marking_list_needs_no_scrolling_sideways(
    qtbot: Any, program: Program, bench: LabelsBench, page: MarksPage
) -> None:
    what, tops = bench.parts.what, {}
    for row in (Row.AGAIN, Row.MARKS):
        bench._choose_row(row)
        settled(qtbot, program)
        tops[row] = what.mapTo(bench, QPoint(0, 0)).y()
    assert tops[Row.AGAIN] == tops[Row.MARKS], "the list at the left stays where it is"
    write_marks(bench.surroundings.desk, "104", who="Lio")
    scan(qtbot, program, "104")
    for palette in ("shade", "sun"):
        program.theme.use(palette)
        settled(qtbot, program)
        area = bench.findChild(QScrollArea)
        assert area is not None
        qtbot.waitUntil(lambda area=area: not area.horizontalScrollBar().isVisible())
        assert page.table.viewport().height() >= 6 * page.table.rowHeight(0), palette
    program.theme.use("shade")
