"""What stumbled at Marks & labels: refusals that moved the page, places of a begun sheet, choices of other labels."""

from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from findsdesk.desk.bagging import bag_settled, bags_of
from findsdesk.desk.other_labels import Which
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.printing import PrintKind, came_out_well, gather, lay_out
from findsdesk.desk.sorting import add_group
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.ui.benches.labels.page import LabelsBench
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.benches.labels.state import Phase
from findsdesk.ui.program import Program
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_labels import SHEET, bench, ctrl, opened_files, own_memory, press, program  # noqa: F401
from tests.ui.at_work import scan, settled


def test_a_refusal_moves_nothing_on_the_page(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    where = bench.parts.what.mapTo(bench, QPoint())
    bench.refuse(Refusal("no", "Nothing was measured. Type the width, then the height, then look at the sheet again."))
    settled(qtbot, program)
    slip = bench.refusals
    assert slip.isVisible()
    assert bench.parts.what.mapTo(bench, QPoint()) == where
    assert slip.geometry().bottom() < where.y()
    assert slip.geometry().left() > bench._title.geometry().right()
    bench.refusals.ask(Question("sure", "Is it so?").in_words(), lambda: None)
    settled(qtbot, program)
    assert bench.parts.what.mapTo(bench, QPoint()) == where
    assert slip.height() >= slip.heightForWidth(slip.width())


def test_each_label_is_printed_as_often_as_it_is_said_once(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    ctrl(qtbot, program, Qt.Key.Key_Return)
    copies = bench.parts.stock.copies
    for typed, wrong in (("0", True), ("21", True), ("3", False)):
        copies.line.selectAll()
        QTest.keyClicks(copies.line, typed)
        QTest.keyClick(copies.line, Qt.Key.Key_Return)
        settled(qtbot, program)
        assert bool(copies.wrong()) == wrong
        assert copies.line.text() == typed
    assert bench.state.sheets is not None
    assert [len(bench.state.sheets.placed), len(set(bench.state.sheets.codes))] == [12, 4]
    assert bench.parts.press.batch_line.text() == "12 labels on 1 sheet"
    ctrl(qtbot, program, Qt.Key.Key_P)
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert {one.label_copy for one in bags_of(bench.surroundings.desk, "104")} == {1}
    assert (bench.state.copies, copies.line.text()) == (1, "1")


def test_what_was_read_back_holds_only_for_the_sheet_it_was_read_from(
    qtbot: Any, program: Program, bench: LabelsBench
) -> None:
    ctrl(qtbot, program, Qt.Key.Key_Return)
    height = bench.parts.press.height()
    ctrl(qtbot, program, Qt.Key.Key_R)
    assert bench.parts.press.read_line.text() == "At 203 dpi: 4 of 4 read, none wrong."
    assert bench.parts.press.height() == height, "its room was kept"
    bench.work.begin_at(2)
    settled(qtbot, program)
    assert bench.parts.press.read_line.text() == ""
    assert bench.parts.press.batch_line.text() == "4 labels on 1 sheet, 1 used place skipped"


def _choose(qtbot: Any, program: Program, bench: LabelsBench, which: Which) -> None:
    box = bench.parts.other.which
    box.setCurrentIndex(box.findData(str(which)))
    box.activated.emit(box.currentIndex())
    settled(qtbot, program)


def _placed(bench: LabelsBench) -> list[str]:
    return [one.code for one in bench.state.sheets.placed] if bench.state.sheets else []


def test_other_labels_are_those_of_today_in_hand_waiting_or_printed_before(
    qtbot: Any, program: Program, bench: LabelsBench, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = bench.surroundings.desk
    bag_settled(desk)
    bench.work.begin_at(13)
    bench._choose_row(Row.OTHER)
    settled(qtbot, program)
    which = bench.parts.other.which
    assert which.currentText() == "of today: 4"
    assert bench.state.first_free() == 1, "the begun sheet of bag labels is not that of slips"
    scan(qtbot, program, "104")
    assert which.itemText(1) == "of bucket 104: 2"
    _choose(qtbot, program, bench, Which.IN_HAND)
    slips = [one.code for one in bags_of(desk, "104")]
    assert _placed(bench) == slips
    came_out_well(desk, lay_out(desk, gather(desk, PrintKind.SLIP, slips), stock=SHEET))
    bench.refresh()
    settled(qtbot, program)
    assert (which.currentText(), _placed(bench)) == ("of bucket 104: 0", [])
    assert "Nothing that is in hand waits" in bench.parts.sheet.empty._text.text()
    _choose(qtbot, program, bench, Which.AGAIN)
    assert "2 slips" in bench.parts.again_offer.said.text()
    bench.parts.again_offer.reasons["changed"].click()
    settled(qtbot, program)
    assert bench.state.sheets is not None
    assert [(one.code, one.copy) for one in bench.state.sheets.placed] == [(code, 2) for code in slips]
    monkeypatch.setattr("findsdesk.desk.other_labels._made_today", lambda *_of: frozenset())
    bench._choose_row(Row.OTHER)
    settled(qtbot, program)
    assert which.currentText() == "all not printed yet: 2", "nothing of today waits: then all that waits"


def test_slips_and_labels_of_pieces_are_printed_again_with_one_key(
    qtbot: Any, program: Program, bench: LabelsBench
) -> None:
    desk = bench.surroundings.desk
    bag_settled(desk)
    for kind in (PrintKind.BAG, PrintKind.SLIP):
        came_out_well(desk, lay_out(desk, gather(desk, kind), stock=SHEET))
    code = bags_of(desk, "104")[0].code
    scan(qtbot, program, code)
    offer = bench.parts.again_offer
    offered = [offer.papers.itemText(n) for n in range(offer.papers.count())]
    assert offered[0].startswith(f"Bag label {code}")
    slip = offered.index(f"Slip inside bag {code}")
    offer.papers.setCurrentIndex(slip)
    offer.papers.activated.emit(slip)
    press(qtbot, program, Qt.Key.Key_2)
    again = bench.state.reprint
    assert again is not None
    assert (again.kind, again.codes, again.reason) == (PrintKind.SLIP, (code,), "lost")
    assert bench.state.sheets is not None
    assert [(one.code, one.copy) for one in bench.state.sheets.placed] == [(code, 2)]
    assert bench.state.phase is Phase.LOOKING


def test_the_label_of_a_scanned_piece_is_offered_first(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    desk = bench.surroundings.desk
    group = add_group(desk, dry_container(desk, 120, 9), ware="QRS", part="rim", pieces=9)
    (piece,) = lift_pieces(desk, group.id, seen=group.version).pieces
    came_out_well(desk, lay_out(desk, gather(desk, PrintKind.PIECE), stock=SHEET))
    scan(qtbot, program, piece.code)
    assert bench.state.offered() is not None
    assert bench.parts.again_offer.papers.currentText() == f"Label of piece {piece.code}"
    press(qtbot, program, Qt.Key.Key_1)
    assert bench.state.sheets is not None
    assert [(one.code, one.copy) for one in bench.state.sheets.placed] == [(piece.code, 2)]
