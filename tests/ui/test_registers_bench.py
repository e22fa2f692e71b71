"""The bench of registers with real widgets on a real store, worked by keyboard."""

from pathlib import Path
from threading import Event
from typing import Any

import pypdfium2
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu
from python_calamine import CalamineWorkbook

from findsdesk.desk.desk import Desk
from findsdesk.desk.labels_waiting import labels_waiting
from findsdesk.desk.redoing import things_to_redo
from findsdesk.desk.registers import Register, count
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.ui.benches.registers.page import RegistersBench
from findsdesk.ui.benches.registers.state import Chip
from findsdesk.ui.models.paged import PAGE_ROWS
from findsdesk.ui.program import Program
from tests.ui.at_the_registers import bench, desk, in_hand, listed, open_deposit_page, press, program, show_list  # noqa: F401
from tests.ui.at_work import fits, settled
from tests.ui.looking import SIZES, nameless, too_small
from tests.yard import put_bag, put_containers, put_settled

KEY = Qt.Key


def test_the_tabs_are_walked_with_the_arrow_keys(qtbot: Any, program: Program, bench: RegistersBench) -> None:
    bench.lists.tabs.setFocus()
    press(qtbot, program, KEY.Key_Right)
    assert bench.lists.kind.key == "containers"
    assert bench.going_on() == "0 buckets"
    assert bench.lists.empty.isVisible()


def test_a_register_is_searched_by_an_old_number_and_opened_with_enter(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    renumber_deposit(desk, "2017", to="2050", reason="drawn so")
    settled(qtbot, program)
    bench.lists.search.setFocus()
    press(qtbot, program, "2017", KEY.Key_Return)
    assert listed(bench) == ["2050"]
    assert bench.going_on() == "1 of 3 contexts"
    press(qtbot, program, KEY.Key_Return)
    assert bench.deposit.isVisible()
    assert bench.going_on() == "Context 2050"
    press(qtbot, program, KEY.Key_Escape)
    assert bench.lists.isVisible()
    assert bench.going_on() == "1 of 3 contexts"


def test_a_find_by_an_old_number_says_so_on_a_laptop(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    renumber_deposit(desk, "2017", to="2050", reason="drawn so")
    settled(qtbot, program)
    once = bench.lists.model.columns.index(next(one for one in bench.lists.model.columns if one.title == "Once"))  # type: ignore[union-attr]
    bench.lists.search.setFocus()
    press(qtbot, program, "2017", KEY.Key_Return)
    assert not bench.lists.table.isColumnHidden(once)
    assert listed(bench, once) == ["2017"]


def test_the_key_of_the_open_bench_leads_back_to_the_first_list(
    qtbot: Any, program: Program, bench: RegistersBench
) -> None:
    show_list(qtbot, program, bench, "journal")
    program.window.open_bench("registers")
    assert bench.lists.kind.key == "journal", "news of what is in hand does not begin anew"
    QTest.keyClick(program.window, KEY.Key_8, Qt.KeyboardModifier.ControlModifier)
    settled(qtbot, program)
    assert bench.lists.kind.key == "deposits"
    program.window.open_bench("day")
    show_list(qtbot, program, bench, "bags")
    QTest.keyClick(program.window, KEY.Key_8, Qt.KeyboardModifier.ControlModifier)
    assert bench.lists.kind.key == "bags", "from another bench it stands as it was left"


def test_only_pages_that_are_seen_are_read_and_end_goes_to_the_last_row(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    put_containers(desk, range(1, 4 * PAGE_ROWS + 1))
    settled(qtbot, program)
    show_list(qtbot, program, bench, "containers")
    model = bench.lists.model
    assert model is not None
    assert model.rowCount() == 4 * PAGE_ROWS
    assert model.row_at(2 * PAGE_ROWS) is None
    bench.lists.to_rows()
    press(qtbot, program, KEY.Key_End)
    assert bench.lists.table.currentIndex().row() == 4 * PAGE_ROWS - 1
    qtbot.waitUntil(lambda: bench.lists.table.currentIndex().data() == str(4 * PAGE_ROWS))
    assert model.row_at(2 * PAGE_ROWS) is None
    press(qtbot, program, KEY.Key_Home)
    assert bench.lists.table.currentIndex().data() == "1"


def test_a_container_that_is_opened_is_in_hand(qtbot: Any, desk: Desk, program: Program, bench: RegistersBench) -> None:
    put_containers(desk, (131, 132))
    settled(qtbot, program)
    show_list(qtbot, program, bench, "containers")
    bench.lists.to_rows()
    press(qtbot, program, KEY.Key_Down, KEY.Key_Return)
    assert in_hand(program) == "Bucket 132"
    assert program.window.bench_open() is bench


def test_a_bag_that_is_opened_shows_what_it_comes_from(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    put_bag(desk, put_settled(desk, 131))
    settled(qtbot, program)
    show_list(qtbot, program, bench, "bags")
    bench.lists.to_rows()
    press(qtbot, program, KEY.Key_Return)
    assert "131" in in_hand(program)


def test_a_list_is_narrowed_from_the_menu_and_widened_by_its_chip(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    put_containers(desk, (131, 132))
    put_containers(desk, (133,), deposit="2003")
    settled(qtbot, program)
    show_list(qtbot, program, bench, "containers")
    bench.lists.search.setFocus()
    press(qtbot, program, KEY.Key_F4)
    menu = bench.lists.chips.menu
    assert isinstance(menu, QMenu)
    squares = next(action for action in menu.actions() if action.text() == "square").menu()
    assert isinstance(squares, QMenu)
    next(action for action in squares.actions() if action.text() == "B2").trigger()
    menu.close()
    settled(qtbot, program)
    assert listed(bench) == ["133"]
    assert bench.going_on() == "1 of 3 buckets"
    (chip,) = bench.lists.chips.chips
    assert chip.text().startswith("square B2")
    chip.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert listed(bench) == ["131", "132", "133"]


def test_a_value_for_a_filter_can_be_typed_and_given_up(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    put_containers(desk, (131,))
    put_containers(desk, (133,), deposit="2003")
    settled(qtbot, program)
    show_list(qtbot, program, bench, "containers")

    def ask_deposit() -> None:
        press(qtbot, program, KEY.Key_F4)
        menu = bench.lists.chips.menu
        assert menu is not None
        action = next(action for action in menu.actions() if action.text().startswith("context"))
        menu.close()
        action.trigger()

    bench.lists.search.setFocus()
    ask_deposit()
    press(qtbot, program, KEY.Key_Escape)
    assert not bench.lists.chips.isVisible()
    ask_deposit()
    press(qtbot, program, "2003", KEY.Key_Return)
    assert listed(bench) == ["133"]


def test_a_deposit_that_no_filter_can_name_is_refused_in_words(
    qtbot: Any, program: Program, bench: RegistersBench
) -> None:
    show_list(qtbot, program, bench, "containers")
    kind = next(one for one in bench.lists.kind.filters if one.name == "deposit")
    bench.lists.chips.put_on.emit(Chip(kind, "9999", "9999"))
    settled(qtbot, program)
    assert bench.refusals.isVisible()
    assert "9999" in bench.refusals.text().text()


def test_nothing_found_and_all_filtered_away_are_told_apart_and_undone(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    put_containers(desk, (131,))
    settled(qtbot, program)
    show_list(qtbot, program, bench, "containers")
    bench.lists.search.setFocus()
    press(qtbot, program, "kiln", KEY.Key_Return)
    qtbot.waitUntil(lambda: bench.lists.empty.isVisible())
    assert "“kiln”" in bench.lists.empty._text.text()
    bench.lists.empty._button.click()
    settled(qtbot, program)
    assert listed(bench) == ["131"]
    assert bench.lists.search.text() == ""


def test_the_order_follows_the_box_and_the_heading(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    put_containers(desk, ("2", "10", "10a"))
    settled(qtbot, program)
    show_list(qtbot, program, bench, "containers")
    assert listed(bench) == ["2", "10", "10a"]
    bench.lists.order.setFocus()
    press(qtbot, program, KEY.Key_Down)
    bench.lists.order.activated.emit(bench.lists.order.currentIndex())
    settled(qtbot, program)
    assert listed(bench) == ["10a", "10", "2"]
    assert bench.lists.order.currentText() == "by number, last first"
    head = bench.lists.table.horizontalHeader()
    head.sectionClicked.emit(0)
    settled(qtbot, program)
    assert listed(bench) == ["2", "10", "10a"]
    assert bench.lists.order.currentText() == "by number"


def test_an_act_of_the_journal_is_opened_and_left(qtbot: Any, program: Program, bench: RegistersBench) -> None:
    show_list(qtbot, program, bench, "journal")
    bench.lists.to_rows()
    press(qtbot, program, KEY.Key_Return)
    assert bench.act.isVisible()
    assert bench.act.model.rowCount() > 0
    assert bench.act.head.text()
    press(qtbot, program, KEY.Key_Escape)
    assert bench.lists.isVisible()


def test_news_of_another_station_is_read_again_while_the_bench_is_shown(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    show_list(qtbot, program, bench, "containers")
    put_containers(desk, (131,))
    qtbot.waitUntil(lambda: listed(bench) == ["131"])


# Deposits


def test_the_list_is_kept_as_it_is_shown(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench, tmp_path: Path
) -> None:
    put_containers(desk, (131, 132))
    settled(qtbot, program)
    show_list(qtbot, program, bench, "containers")
    bench.lists.put_state(bench.lists.state.searched("132"))
    settled(qtbot, program)
    program.notices.to_write = tmp_path / "kept.xlsx"  # type: ignore[attr-defined]
    bench.lists.foot.file.click()
    settled(qtbot, program)
    book = CalamineWorkbook.from_path(str(tmp_path / "kept.xlsx"))
    rows = book.get_sheet_by_name("Buckets").to_python()
    assert [row[0] for row in rows] == ["Bucket", "132"]
    assert "kept.xlsx" in program.window.scan_line.answer.in_one_line()
    bench.lists.foot.export.click()
    settled(qtbot, program)
    assert bench.export.isVisible()
    assert bench.export.place.text().endswith(".xlsx.")
    QTest.keyClick(bench.export, Qt.Key.Key_Escape)
    assert bench.lists.isVisible()


def test_the_rail_counts_what_is_to_be_written_again_as_the_labels_bench_does(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    put_settled(desk, 104, kept=3, marked=True)
    renumber_deposit(desk, "2017", to="2050", reason="drawn so")
    settled(qtbot, program)
    things = things_to_redo(desk)
    marks = sum(thing.pieces for thing in things)
    assert marks > len(things), "the mark of a container is inked on several pieces"
    assert bench.what_waits() == f"{marks} to write again"
    assert labels_waiting(desk).again == marks


@pytest.mark.parametrize("key", ["containers", "redo", "concordance", "journal"])
def test_lists_are_printed(
    qtbot: Any,
    desk: Desk,
    program: Program,
    bench: RegistersBench,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    key: str,
) -> None:
    monkeypatch.setattr("findsdesk.ui.paper_out.QDesktopServices.openUrl", lambda _url: True)
    put_containers(desk, (131, 132))
    renumber_deposit(desk, "2017", to="2050", reason="drawn so")
    settled(qtbot, program)
    show_list(qtbot, program, bench, key)
    program.notices.to_write = tmp_path / "list.pdf"  # type: ignore[attr-defined]
    gate = Event()
    lanes = program.surroundings.lanes
    lanes.read(gate.wait, job=lanes.job("long"))
    bench.lists.foot.paper.click()
    bench.lists.show_list("boxes")
    gate.set()
    settled(qtbot, program)
    text = pypdfium2.PdfDocument(tmp_path / "list.pdf")[0].get_textpage().get_text_bounded()
    assert "2050" in text
    assert count(desk, Register.JOURNAL) > 0


# Looking at it


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("zoom", [100, 150])
def test_no_word_is_cut_and_everything_has_a_name(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench, size: tuple[int, int], zoom: int
) -> None:
    put_containers(desk, (131, 132))
    settled(qtbot, program)
    program.theme.zoom_to(zoom)
    program.window.resize(*size)
    for key in ("deposits", "containers", "redo"):
        show_list(qtbot, program, bench, key)
        fits(qtbot, bench)
        assert nameless(bench) == []
        assert too_small(bench) == []
    open_deposit_page(qtbot, program, bench)
    for act in ("close", "change", "split"):
        bench.deposit.acts[act].click()
        settled(qtbot, program)
        fits(qtbot, bench)
        assert nameless(bench) == []
