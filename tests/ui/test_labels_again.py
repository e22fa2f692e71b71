"""Labels printed again at the labels bench: a jam, a damaged label scanned, one digit for why."""

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QScrollArea

from findsdesk.desk.bagging import bag_settled, bags_of
from findsdesk.desk.labels_waiting import labels_waiting
from findsdesk.ui.benches.labels.page import LabelsBench
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.benches.labels.state import Phase
from findsdesk.ui.program import Program
from tests.ui.at_the_labels import (  # noqa: F401
    bench,
    ctrl,
    labelled,
    opened_files,
    own_memory,
    press,
    printed_out,
    program,
    settled_container,
    symbols_of,
    tab_to,
    text_of,
)
from tests.ui.at_work import fits, go_to, listen_to, scan, settled
from tests.ui.conftest import Keyboard


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
    line = program.window.scan_line
    scan(qtbot, program, codes[3])
    assert line.answer.in_one_line() == f"{codes[3]} is crossed out: 2 of 4 spoiled"
    scan(qtbot, program, codes[2])
    assert bench.state.spoiled == {codes[2], codes[3]}, "a second scan takes no cross off"
    assert "is crossed out already" in line.answer.in_one_line()
    scan(qtbot, program, settled_container(bench.surroundings.desk, 139))
    assert "is not on these sheets" in line.answer.in_one_line()
    assert bench.state.dossier is None
    bench.parts.press.back.click()
    assert bench.state.phase is Phase.OUT


def test_what_was_scanned_meanwhile_is_not_asked_about_afterwards(
    qtbot: Any, program: Program, bench: LabelsBench
) -> None:
    """A scan at the question, of a bag without a label, or while something is typed offers no tag to one digit."""
    printed_out(qtbot, program, bench)
    scan(qtbot, program, "104")
    bench.parts.press.not_printed.click()
    settled(qtbot, program)
    assert not bench.parts.again_offer.asks(), "it was scanned at the question"
    scan(qtbot, program, bench.state.sheets.codes[0])  # type: ignore[union-attr]
    assert not bench.parts.again_offer.asks(), "the bag has no label: nobody means its tag"
    scan(qtbot, program, "104")
    assert bench.parts.again_offer.asks()
    press(qtbot, program, Qt.Key.Key_1)
    bench.parts.press.leave.click()
    settled(qtbot, program)
    assert not bench.parts.again_offer.asks(), "it was answered"
    bench.parts.stock.measure_wanted.emit()
    settled(qtbot, program)
    name = bench.parts.measure.name
    QTest.keyClicks(name, "awning")
    scan(qtbot, program, "104")
    assert (QApplication.focusWidget(), name.text()) == (name, "awning")
    assert not bench.parts.again_offer.asks()
    bench.parts.measure.leave.click()
    assert bench.state.aside is not None, "what is typed is asked about"
    bench.refusals.say_sure()
    bench.parts.what.lines[Row.LISTS].click()
    settled(qtbot, program)
    scan(qtbot, program, "106")
    assert not bench.parts.again_offer.asks()


def test_all_spoiled_labels_none_and_prints_all_again(qtbot: Any, program: Program, bench: LabelsBench) -> None:
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
    assert [one.copy for one in bench.state.sheets.placed] == [2, 2, 2, 2], "left, they keep their number"
    assert bench.parts.press.batch_line.text().startswith("4 labels on 1 sheet, 4 of them as the next copy")


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


def test_at_the_marks_a_scan_leads_to_the_line_and_offers_no_label_again(
    qtbot: Any, program: Program, bench: LabelsBench
) -> None:
    codes = labelled(bench, qtbot, program)
    bench.parts.what.lines[Row.MARKS].click()
    settled(qtbot, program)
    scan(qtbot, program, codes[0])
    assert not bench.parts.again_offer.asks()
    assert QApplication.focusWidget() is bench.parts.marks.table


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


@pytest.mark.parametrize("look", ["shade", "sun"])
def test_on_a_laptop_nothing_scrolls_while_a_label_is_offered_again(
    qtbot: Any, program: Program, bench: LabelsBench, look: str
) -> None:
    program.theme.use(look)
    bag_settled(bench.surroundings.desk)
    bench.parts.what.lines[Row.BAG].click()
    qtbot.waitUntil(lambda: bench.parts.press.batch_line.isVisible())
    settled(qtbot, program)
    first = bench.parts.stock.first.line
    first.setFocus()
    first.selectAll()
    QTest.keyClicks(first, "13")
    press(qtbot, program, Qt.Key.Key_Return)
    scan(qtbot, program, "104")
    fits(qtbot, bench)
    assert bench.parts.again_offer.asks()
    assert "used places skipped" in bench.parts.press.batch_line.text()
    scroll = bench.findChild(QScrollArea)
    assert scroll is not None
    assert scroll.verticalScrollBar().maximum() == 0


def test_what_another_bench_had_in_hand_is_not_offered_to_be_printed_again(
    qtbot: Any, program: Program, bench: LabelsBench
) -> None:
    code = settled_container(bench.surroundings.desk, 139)
    go_to(qtbot, program, "registers")
    scan(qtbot, program, code)
    go_to(qtbot, program, "labels")
    assert bench.state.dossier is not None
    assert not bench.parts.again_offer.asks()
    scan(qtbot, program, code)
    assert bench.parts.again_offer.asks(), "scanned here, it is meant"


def test_the_list_waits_visibly_until_it_is_said_how_the_labels_came_out(
    qtbot: Any, program: Program, bench: LabelsBench
) -> None:
    line = bench.parts.what.lines[Row.TAGS]
    live = line.grab().toImage()
    printed_out(qtbot, program, bench)
    assert bench.state.phase is Phase.OUT
    hint = bench.parts.again_offer.hint
    assert hint.isVisible()
    assert hint.text() == "How did these come out? The list waits until it is said."
    assert line.grab().toImage() != live, "what does not answer looks so"
