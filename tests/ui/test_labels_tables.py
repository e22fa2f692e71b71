"""The other things of Mika's evening: tags for tomorrow, what to write again, marks, lists; and how it all looks."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from findsdesk.desk.bagging import bag_settled, bags_of
from findsdesk.desk.desk import Desk
from findsdesk.desk.labels_waiting import labels_waiting, tags_to_print
from findsdesk.desk.marking import write_marks
from findsdesk.desk.printing import came_out_well, lay_out_bag_labels
from findsdesk.desk.redoing import Written, things_to_redo
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.tags import issue_tags
from findsdesk.ui.benches.labels.again_page import difference
from findsdesk.ui.benches.labels.page import LabelsBench
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.benches.labels.state import Phase
from findsdesk.ui.program import Program
from findsdesk.ui.widgets.marked_sherd import MarkedSherd
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_labels import SHEET, ctrl, press, settled_container, symbols_of, tab_to, text_of
from tests.ui.at_work import go_to, opened, scan, settled
from tests.ui.looking import SIZES, cut_words, nameless, too_small
from tests.yard import new_yard

LOOKS = [("shade", 100), ("sun", 100), ("shade", 150)]


def evening(folder: Path) -> Desk:
    """Return a yard in which everything waits: to pack, to label, to tag, to write again."""
    desk = new_yard(folder, by="Mika", station="dig house")
    write_marks(desk, settled_container(desk, 88, deposit="2003"))
    bag_settled(desk)
    came_out_well(desk, lay_out_bag_labels(desk, stock=SHEET))
    renumber_deposit(desk, "2003", to="2031", reason="one layer, seen from both sides")
    settled_container(desk, 104)
    bag_settled(desk)
    settled_container(desk, 106, deposit="2019")
    dry_container(desk, 110, 66)
    issue_tags(desk, how_many=3, supervisor="Bryn")
    return desk


@pytest.fixture(autouse=True)
def own_memory(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let each test begin at a station that remembers nothing of its paper, on a machine that opens no file."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    monkeypatch.setattr("findsdesk.ui.paper_out.QDesktopServices.openUrl", lambda _url: False)


@pytest.fixture
def program(qtbot: Any, tmp_path: Path) -> Iterator[Program]:
    """Return a program on the evening's yard."""
    with opened(qtbot, evening(tmp_path), station="dig house") as made:
        made.notices.to_write = tmp_path / "paper.pdf"  # type: ignore[attr-defined]
        # What is typed here is typed by a person; the filter would hold each first key until its clock has run on.
        made.filter.uninstall()
        yield made


@pytest.fixture
def bench(qtbot: Any, program: Program) -> LabelsBench:
    """Return the labels bench, shown."""
    shown = go_to(qtbot, program, "labels")
    assert isinstance(shown, LabelsBench)
    return shown


def choose(qtbot: Any, program: Program, bench: LabelsBench, row: Row) -> None:
    """Walk to a row of the list with Up and Down."""
    bench.parts.what.take_keyboard().setFocus()
    rows = list(Row)
    steps = rows.index(row) - rows.index(bench.state.row)
    for _step in range(abs(steps)):
        press(qtbot, program, Qt.Key.Key_Down if steps > 0 else Qt.Key.Key_Up)
    assert bench.state.row is row


def test_the_list_says_how_much_waits(bench: LabelsBench) -> None:
    names = {row: line.accessibleName() for row, line in bench.parts.what.lines.items()}
    assert names[Row.BAG] == "Bag labels, 2 waiting, chosen"
    assert names[Row.PACK] == "Settled, to pack, 1 waiting"
    assert names[Row.WASH] == "Wash tags, 1 waiting"
    assert names[Row.TAGS] == "Field tags for tomorrow, 3 waiting"
    # Its tag, its two bag labels and the marks on its ten kept pieces.
    assert names[Row.AGAIN] == "To write again, 13 waiting"
    assert bench.going_on() == "1 to pack, 2 bags to label, 13 to write again, 20 to mark"
    assert bench.what_waits() == "2 bags to label"


def test_tags_are_issued_by_keyboard_and_lie_on_the_sheet(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path
) -> None:
    desk, form = bench.surroundings.desk, bench.parts.tags
    choose(qtbot, program, bench, Row.TAGS)
    assert "Lio" in [form.who.itemText(n) for n in range(form.who.count())]
    tab_to(qtbot, program, form.who)
    QTest.keyClicks(form.who, "Lio")
    tab_to(qtbot, program, form.how_many.line)
    QTest.keyClicks(form.how_many.line, "2")
    press(qtbot, program, Qt.Key.Key_Return)
    assert program.window.scan_line.answer.in_one_line() == "2 tags issued: 114 to 115, for Lio"
    assert form.how_many.value() is None
    assert bench.state.sheets is not None
    assert len(bench.state.sheets.placed) == 5
    lio = next(one for one in tags_to_print(desk) if one.supervisor == "Lio")
    form.groups.setCurrentIndex(form.groups.findData(lio.key))
    form.groups.activated.emit(form.groups.currentIndex())
    settled(qtbot, program)
    assert bench.state.sheets.codes == lio.codes
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert symbols_of(tmp_path / "paper.pdf") == sorted(lio.codes)
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert labels_waiting(desk).field_tags == 3
    assert len(bench.state.sheets.placed) == 3


@pytest.mark.parametrize(("typed", "said"), [("0", "between 1 and 1000"), ("5000", "between 1 and 1000")])
def test_a_refused_number_of_tags_stays_in_its_field(
    qtbot: Any, program: Program, bench: LabelsBench, typed: str, said: str
) -> None:
    choose(qtbot, program, bench, Row.TAGS)
    line = bench.parts.tags.how_many.line
    line.setFocus()
    QTest.keyClicks(line, typed)
    press(qtbot, program, Qt.Key.Key_Return)
    assert said in bench.refusals.text().text()
    assert line.text() == typed
    assert labels_waiting(bench.surroundings.desk).field_tags == 3


def test_half_a_tag_is_no_number(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    choose(qtbot, program, bench, Row.TAGS)
    line = bench.parts.tags.how_many.line
    line.setFocus()
    QTest.keyClicks(line, "2,5")
    bench.parts.tags.issue.click()
    settled(qtbot, program)
    assert bench.parts.tags.how_many.wrong()
    assert line.text() == "2,5"
    assert labels_waiting(bench.surroundings.desk).field_tags == 3


def test_what_a_renumbering_made_untrue_is_printed_and_inked_again(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path
) -> None:
    desk = bench.surroundings.desk
    choose(qtbot, program, bench, Row.AGAIN)
    said = [[cell.text for cell in row.cells] for row in bench.parts.again.model.rows]
    diagnostic, body = (one.code for one in bags_of(desk, "88"))
    assert said == [
        ["88", "tag", "2003 → 2031"],
        ["88", f"bag label {diagnostic}, diagnostic", "2003 → 2031"],
        ["88", f"bag label {body}, body", "2003 → 2031"],
        ["88", "10 inked marks", "2003-88 → 2031-88"],
    ]
    assert bench.parts.again.tags.text() == "Print 1 tag again"
    bench.parts.again.labels.click()
    settled(qtbot, program)
    assert bench.parts.press.batch_line.text() == "2 labels again, as the next copy: what it says has changed"
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert "2031" in text_of(tmp_path / "paper.pdf")
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert {one.what for one in things_to_redo(desk)} == {Written.TAG, Written.MARK}
    choose(qtbot, program, bench, Row.AGAIN)
    table = bench.parts.again.table
    table.setFocus()
    press(qtbot, program, Qt.Key.Key_End)
    assert table.currentIndex().row() == 1, "End goes to the last line"
    press(qtbot, program, Qt.Key.Key_Return)
    assert "Did Mika Sool write all 10 marks and slips of bucket 88 again?" in bench.refusals.text().text()
    assert {one.what for one in things_to_redo(desk)} == {Written.TAG, Written.MARK}
    press(qtbot, program, Qt.Key.Key_Return)
    assert {one.what for one in things_to_redo(desk)} == {Written.TAG}
    answered = "Written again by hand, by Mika Sool; the marking list takes it back"
    assert program.window.scan_line.answer.in_one_line() == answered
    table.setFocus()
    table.selectRow(0)
    press(qtbot, program, Qt.Key.Key_Return)
    ctrl(qtbot, program, Qt.Key.Key_P)
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert things_to_redo(desk) == ()
    choose(qtbot, program, bench, Row.AGAIN)
    assert bench.parts.again.empty.isVisible()


@pytest.mark.parametrize(
    ("said", "now", "shown"),
    [
        ("2003 · 88 · B2", "2031 · 88 · B2", "2003 → 2031"),
        ("VE-26-014 / 2003-88", "VE-26-014 / 2031-88", "2003-88 → 2031-88"),
        ("7 · 40.0 g", "9", "7 · 40.0 g → 9"),
        ("2003", "2003", "2003"),
    ],
)
def test_only_what_differs_is_shown(said: str, now: str, shown: str) -> None:
    assert difference(said, now) == shown


def test_a_mark_is_shown_over_a_sherd_with_its_length_and_the_caution(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path
) -> None:
    scan(qtbot, program, "104")
    choose(qtbot, program, bench, Row.MARKS)
    page = bench.parts.marks
    assert page.sherd.lines == ("VE-26-014", "2017-104")
    assert page.sherd.length_mm == 13
    assert "13 mm" in page.caption.text()
    assert "never on a break" in page.where.text()
    assert "Acetone and white spirit" in page.caution.text().text()
    page.table.setFocus()
    page.table.selectRow(2)
    assert page.sherd.lines == ("VE-26-014", "2031-88")
    ctrl(qtbot, program, Qt.Key.Key_Return)
    text = " ".join(text_of(tmp_path / "paper.pdf").split())
    assert "VE-26-014 / 2017-104" in text
    assert "Acetone and white spirit" in text
    page.deposit.setCurrentIndex(page.deposit.count() - 1)
    page.print_list.click()
    settled(qtbot, program)
    assert "2017-104" not in text_of(tmp_path / "paper.pdf")


def test_a_longer_mark_needs_a_longer_sherd(theme: Any, shown: Any) -> None:
    sherd = MarkedSherd(theme)
    sherd.resize(400, 150)
    shown(sherd)
    sherd.show_mark(("VE-26-014",), 13.0, 20)
    short = sherd._scale()
    sherd.show_mark(("VE-26-014-2017-131-22-a-long-pattern",), 53.5, 20)
    assert sherd._scale() < short
    assert "54 mm long" in sherd.accessibleName()


@pytest.mark.parametrize(
    ("key", "said"),
    [
        ("missing", "Missing list"),
        ("evening", "Evening sheet"),
        ("marking", "Marking list"),
        ("to-write-again", "To write again"),
        ("concordance", "Concordance of contexts"),
    ],
)
def test_every_list_is_kept_on_paper(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path, key: str, said: str
) -> None:
    choose(qtbot, program, bench, Row.LISTS)
    bench.parts.lists.buttons[key].click()
    settled(qtbot, program)
    assert said in text_of(tmp_path / "paper.pdf")
    assert "Open it there" in program.window.scan_line.answer.in_one_line(), "no viewer opened it"


def test_wash_tags_are_printed_too(qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path) -> None:
    choose(qtbot, program, bench, Row.WASH)
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert "66" in text_of(tmp_path / "paper.pdf")
    ctrl(qtbot, program, Qt.Key.Key_Return)
    assert labels_waiting(bench.surroundings.desk).wash_tags == 0
    assert "Every counted bucket has its wash tag" in bench.parts.sheet.empty._text.text()


def test_nobody_can_leave_the_question_by_the_list(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    ctrl(qtbot, program, Qt.Key.Key_P)
    assert bench.state.phase is Phase.OUT
    assert not bench.parts.what.isEnabled()
    assert QApplication.focusWidget() is bench.parts.press.all_well


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("theme", "zoom"), LOOKS)
def test_no_word_is_cut(
    qtbot: Any, program: Program, bench: LabelsBench, size: tuple[int, int], theme: str, zoom: int
) -> None:
    program.theme.use(theme)
    program.theme.zoom_to(zoom)
    program.window.resize(*size)
    for row in Row:
        bench.parts.what.lines[row].click()
        settled(qtbot, program)
        qtbot.waitUntil(lambda: not cut_words(bench), timeout=60_000)
        assert not nameless(bench), row
        assert not too_small(bench), row
    bench.parts.what.lines[Row.BAG].click()
    settled(qtbot, program)
    scan(qtbot, program, "88")
    qtbot.waitUntil(lambda: not cut_words(bench), timeout=60_000)
    bench.parts.again_offer.leave.click()
    for button in (bench.parts.press.print_button, bench.parts.press.some_spoiled):
        button.click()
        settled(qtbot, program)
        qtbot.waitUntil(lambda: not cut_words(bench), timeout=60_000)
