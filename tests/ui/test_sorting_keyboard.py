"""Where the keyboard is at the sorting table, and where Enter leads: by real key events, as in a dictation."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QApplication, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from findsdesk.desk.changing_words import add_word
from findsdesk.desk.desk import Desk
from findsdesk.desk.group_rows import GroupFacts
from findsdesk.desk.pasted_groups import NewGroup, add_groups
from findsdesk.desk.retention import add_rule
from findsdesk.domain.balance import Decision
from findsdesk.domain.counts_as import CountsAs
from findsdesk.ui.theme import Type
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import (  # noqa: F401
    CONTROL,
    DOWN,
    ENTER,
    F2,
    F4,
    UP,
    Table,
    desk,
    in_short,
    table,
)
from tests.ui.at_work import fits, go_to
from tests.yard import with_settings


def column(table: Table) -> str:
    """Return the column that has the keyboard."""
    return table.bench.rows.fields.column_at_hand()


def somebody_else_sits_down(table: Table) -> None:
    """Press the name at the foot and choose the next of the team, by keyboard alone."""
    table.program.window.foot.who.setFocus()
    table.type(ENTER)
    table.qtbot.waitUntil(lambda: QApplication.activePopupWidget() is not None)
    menu = QApplication.activePopupWidget()
    for key in (DOWN, ENTER):
        table.qtbot.keyClick(menu, key)
    table.settle_down()


def test_after_somebody_else_sat_down_the_dictation_goes_into_the_first_cell(table: Table, desk: Desk) -> None:
    """Else Enter pressed the name again, and rows went nowhere."""
    code = dry_container(desk, 131, 50)
    table.scan(code)
    somebody_else_sits_down(table)
    assert column(table) == "ware"
    table.row("QRS", ENTER, "rim", ENTER, "6", ENTER, ENTER, ENTER)
    assert QApplication.activePopupWidget() is None
    assert in_short(table.stored(code).groups) == ["QRS rim 6, keep"]


@pytest.mark.parametrize("bench", ["day", "check_in", "wash", "labels", "registers", "set_up"])
def test_every_bench_gets_the_keyboard_back_when_somebody_else_sat_down(table: Table, bench: str) -> None:
    shown = go_to(table.qtbot, table.program, bench)
    natural = shown.first_focus() or table.program.window.scan_line.field
    somebody_else_sits_down(table)
    focus = QApplication.focusWidget()
    assert focus is natural or natural.isAncestorOf(focus)


@pytest.mark.parametrize("where", ["the name at the foot", "the scan line", "the rows", "a later cell"])
def test_scanning_what_is_in_hand_already_gives_the_keyboard_to_the_first_cell(
    table: Table, desk: Desk, where: str
) -> None:
    code = dry_container(desk, 131, 50)
    table.scan(code)
    table.row("QRS", ENTER, "rim", ENTER, "6", ENTER, ENTER, ENTER)
    window = table.program.window
    if where == "the rows":
        table.type(UP)
    else:
        places = {
            "the name at the foot": window.foot.who,
            "the scan line": window.scan_line.field,
            "a later cell": table.bench.table.fields.cells["part"],
        }
        places[where].setFocus(Qt.FocusReason.OtherFocusReason)
    table.scan(code)
    assert column(table) == "ware"


def test_a_row_that_was_begun_keeps_its_cell_when_its_tag_is_scanned_again(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 50)
    table.scan(code)
    table.type("QRS", ENTER, "rim", ENTER)
    table.scan(code)
    assert (column(table), table.bench.table.fields.typed().ware) == ("pieces", "QRS")


# --- one order of cells -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("part", ["rim", "body", "base", "handle"])
def test_enter_goes_through_the_columns_in_their_order_and_writes_every_row_in_the_same(
    table: Table, desk: Desk, part: str
) -> None:
    code = dry_container(desk, 131, 50)
    table.scan(code)
    way = []
    for said in ("QRS", part, "2", "10"):
        way.append(column(table))
        table.type(said, ENTER)
    assert [*way, column(table)] == ["ware", "part", "pieces", "grams", "rim"]
    assert not table.stored(code).groups
    table.row(ENTER)
    assert in_short(table.stored(code).groups) == [f"QRS {part} 2, 10.0 g, keep"]
    assert table.bench.keys()[0] == ("Enter", "next, in Rim % it writes")


def test_a_part_without_a_rim_says_that_enter_passes_by(table: Table, desk: Desk) -> None:
    add_word(desk, "parts", name="strap", counts_as=CountsAs.HANDLE)
    add_word(desk, "parts", name="lip", counts_as=CountsAs.RIM)
    code = dry_container(desk, 131, 50)
    table.settle_down()
    table.scan(code)
    for part, has_none in (("body", True), ("strap", True), ("lip", False)):
        table.type("QRS", ENTER, part, ENTER, "2", ENTER, ENTER)
        assert (table.bench.table.strip.lead() == "This part has none of it: Enter passes by") is has_none
        table.row(ENTER)
    assert len(table.stored(code).groups) == 3


def test_a_discard_without_a_reason_asks_in_its_cell_and_takes_nothing_else(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 50)
    table.scan(code)
    page = table.bench.table
    table.type("QRS", ENTER, "body", ENTER, "2", F4, ENTER, ENTER, ENTER)
    assert (column(table), page.below.column, page.below.tone) == ("reason", "reason", "madder")
    assert page.strip.words()[:2] == ["1 no diagnostic value", "2 unstratified"]
    # Enter alone, and what is no reason, stay where they are asked.
    table.type(ENTER)
    assert column(table) == "reason"
    table.type("xyz", ENTER)
    assert (column(table), page.fields.typed().ware, table.shown()) == ("reason", "QRS", [])
    assert page.strip.lead() == "“xyz” is not known. The list:"
    assert page.strip.words()[0] == "1 no diagnostic value"
    table.row("be", ENTER)
    assert in_short(table.stored(code).groups) == ["QRS body 2, discard (beyond repair)"]
    assert column(table) == "ware"


def test_page_down_and_the_button_ask_for_the_reason_too(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 50)
    table.scan(code)
    table.type("QRS", ENTER, "body", ENTER, "2", F4, Qt.Key.Key_PageDown)
    assert column(table) == "reason"
    table.bench.table.fields.cells["pieces"].setFocus()
    table.qtbot.mouseClick(table.bench.table.fields.write, Qt.MouseButton.LeftButton)
    assert column(table) == "reason"
    # Page down in that cell lets the row wait, so that nothing stops a dictation.
    table.row(Qt.Key.Key_PageDown)
    assert table.shown()[0][-2] == "A discard needs a reason."


def test_a_reason_is_asked_for_in_its_place_where_cells_stand_behind_it(table: Table, desk: Desk) -> None:
    with_settings(desk, sorting_columns=("ware", "part", "pieces", "decision", "reason", "note"))
    code = dry_container(desk, 131, 50)
    table.settle_down()
    table.scan(code)
    table.type("QRS", ENTER, "body", ENTER, "2", F4, ENTER)
    assert column(table) == "reason"
    table.type("2", ENTER)
    assert column(table) == "note"
    table.row("thin", ENTER)
    assert in_short(table.stored(code).groups) == ["QRS body 2, discard (unstratified)"]


def test_a_reason_of_another_row_stands_in_the_cell_before_enter_and_never_passes_a_rule_over(
    table: Table, desk: Desk
) -> None:
    add_rule(desk, "Rims", decision=Decision.KEEP, reason="diagnostic", parts=("rim",))
    code = dry_container(desk, 131, 50)
    table.settle_down()
    table.scan(code)
    fields = table.bench.table.fields
    table.row("QRS", ENTER, "body", ENTER, "2", F4, ENTER, ENTER, ENTER, "un", ENTER)
    # Decided before anything says that a rule keeps it: the reason is shown, and goes as soon as the rule speaks.
    table.type(F4)
    assert fields.cells["reason"].text() == "unstratified"
    table.type("QRS", ENTER, "rim", ENTER, "1", ENTER, ENTER)
    assert fields.cells["reason"].text() == ""
    table.type(ENTER)
    assert column(table) == "reason"


# --- rows in doubt, and rows that go ------------------------------------------------------------------------------


def whole(table: Table, place: int, column: int) -> bool:
    """Return whether the text of a cell stands whole where it is drawn."""
    rows = table.bench.table.rows
    index, option = rows.table.index(place, column), QStyleOptionViewItem()
    rows.initViewItemOption(option)
    delegate = rows.itemDelegate()
    assert isinstance(delegate, QStyledItemDelegate)
    delegate.initStyleOption(option, index)
    room = rows.visualRect(index).adjusted(8, 0, -8, 0)
    needed = QFontMetrics(option.font).boundingRect(room, Qt.TextFlag.TextWordWrap.value, option.text)
    return needed.width() <= room.width() and needed.height() <= room.height()


def test_a_doubtful_row_is_gone_to_in_its_cell_with_its_mistake_and_its_choices(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 50)
    table.scan(code)
    page = table.bench.table
    table.type("QRS", ENTER, "body", ENTER, "2", F4, Qt.Key.Key_PageDown, Qt.Key.Key_PageDown)
    table.row("QRS", ENTER, "zzz", ENTER, "2", ENTER, ENTER, ENTER)
    assert (page.below.text, column(table)) == ("", "ware")
    table.type(F2)
    assert (column(table), page.edit_below.text) == ("reason", "A discard needs a reason.")
    assert page.strip.words() == [
        "1 no diagnostic value", "2 unstratified", "3 duplicate of recorded bulk", "4 beyond repair", "5 hazardous",
        "6 modern",
    ]  # fmt: skip
    table.type(F2)
    assert (column(table), page.edit_below.text) == ("part", "No part “zzz”. None is near it.")
    # It is said at the row: right below its cells, and above the row that follows.
    assert page.edit_below.parentWidget() is page.rows.viewport()
    assert page.edit_below.y() == page.edit.geometry().bottom() + 1
    row = page.rows.visualRect(page.rows.table.index(1, 0))
    assert row.top() < page.edit_below.geometry().center().y() < row.bottom()
    table.type("body")
    assert page.edit_below.text == ""
    # Enter on a doubtful row leads to its cell too, wherever the cursor was.
    table.row(Qt.Key.Key_Escape)
    table.type(UP, UP, ENTER)
    assert column(table) == "reason"


def test_a_row_is_removed_from_its_cells_and_the_choices_stand_whole(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 50)
    table.scan(code)
    page = table.bench.table
    table.row("QRS", ENTER, "body", ENTER, "2", ENTER, ENTER, ENTER)
    table.row("xyz", ENTER, "body", ENTER, "2", ENTER, ENTER, ENTER)
    place = page.fields.mapTo(table.bench, page.fields.rect().topLeft())
    table.type(F2)
    assert page.remove.isVisible()
    assert page.fields.mapTo(table.bench, page.fields.rect().topLeft()) == place, "nothing moves"
    table.press(Qt.Key.Key_Delete, CONTROL)
    assert [line[0] for line in table.shown()] == ["QRS"]
    assert (column(table), page.remove.isVisible()) == ("ware", False)
    assert page.strip.words() == ["1 QRS", "2 MBU", "3 TGY", "4 CSJ", "5 GGL"]
    fits(table.qtbot, table.bench)
    # A row that is written is removed in the store, from its cell or from among the rows.
    table.type(UP, ENTER)
    table.press(Qt.Key.Key_Delete, CONTROL)
    assert not table.stored(code).groups
    assert {"F2", "Delete", "Ctrl+Delete"} <= set(dict(table.bench.keys()))
    assert {"F2: rows in doubt", "Delete: remove a row"} <= {
        hint.accessibleName() for hint in page.hints.findChildren(QWidget)
    }


@pytest.mark.parametrize("look", ["shade", "sun"])
def test_decisions_reasons_and_long_doubts_stand_whole_on_a_small_screen(table: Table, desk: Desk, look: str) -> None:
    table.program.window.theme.use(look)
    code = dry_container(desk, 131, 50)
    table.scan(code)
    page = table.bench.table
    table.row("QRS", ENTER, "rim with handle", ENTER, "2", F4, F4, F4, ENTER, ENTER, ENTER)
    table.row("QRS", ENTER, "body", ENTER, "2", F4, ENTER, ENTER, ENTER, "dup", ENTER)
    table.type("QRS", ENTER, "body", ENTER, "2", F4)
    page.fields.cells["reason"].setFocus()
    table.row("xyz", Qt.Key.Key_PageDown)
    assert [line[5] for line in table.shown()] == ["◆ keep for mending", "○ discard", "○ discard"]
    assert table.shown()[2][6] == (
        "No reason “xyz”. There are: no diagnostic value, unstratified, duplicate of recorded bulk, beyond repair, "
        "hazardous, modern."
    )
    for place in range(3):
        for cell in range(page.rows.table.columnCount() - 1):
            assert whole(table, place, cell), table.shown()[place][cell]
    head = page.rows.horizontalHeader()
    for cell in range(page.rows.table.columnCount()):
        words = str(page.rows.table.headerData(cell, Qt.Orientation.Horizontal))
        width = QFontMetrics(page.theme.font(Type.SMALL_BOLD)).horizontalAdvance(words)
        assert width + 2 * page.theme.px(9) <= head.sectionSize(cell), words
    big = page.big
    wrapped = QFontMetrics(big.font_of_text()).boundingRect(big.rect(), Qt.TextFlag.TextWordWrap.value, big.text())
    assert big.rect().contains(wrapped)


def test_a_few_rows_leave_no_half_of_the_page_empty(table: Table, desk: Desk) -> None:
    table.scan(dry_container(desk, 131, 50))
    table.row("QRS", ENTER, "rim", ENTER, "2", ENTER, ENTER, ENTER)
    page = table.bench.table
    foot = page.settle.mapTo(table.bench, page.settle.rect().bottomLeft()).y()
    assert table.bench.height() - foot < 40
    assert page.rows.height() > 150
    assert page.fields.y() > page.rows.geometry().bottom()


def test_what_was_said_goes_with_the_next_row(table: Table, desk: Desk) -> None:
    table.scan(dry_container(desk, 131, 50))
    page = table.bench.table
    assert page.big.font_of_text() == page.theme.font(Type.SMALL), "what holds the place is small"
    table.row("QRS", ENTER, "rim", ENTER, "2", ENTER, ENTER, ENTER)
    table.press(Qt.Key.Key_Z, CONTROL)
    assert table.said() == "Bucket 131: Taken back: QRS rim 2, keep"
    table.row("QRS", ENTER, "rim", ENTER, "3", ENTER, ENTER, ENTER)
    assert table.said() == ""
    # A no is as old as what was done: a question would stay until it is answered.
    table.press(Qt.Key.Key_Y, CONTROL)
    assert "taken back nothing" in table.slip()
    table.row("QRS", ENTER, "rim", ENTER, "4", ENTER, ENTER, ENTER)
    assert table.slip() == ""


@pytest.mark.parametrize("look", ["shade", "sun"])
def test_on_a_laptop_eight_rows_stand_in_sight_with_the_balance_the_last_row_and_the_dates(
    table: Table, desk: Desk, look: str
) -> None:
    table.program.window.theme.use(look)
    code = dry_container(desk, 131, 50)
    add_groups(desk, code, [NewGroup(GroupFacts("QRS", "body", 1, 100))] * 12)
    table.scan(code)
    table.row("ggl", ENTER, "body", ENTER, "2", ENTER, ENTER, ENTER)
    page, window = table.bench.table, table.program.window
    assert (window.width(), window.height()) == (1366, 768)
    assert page.rows.viewport().height() >= 8 * page.rows.verticalHeader().defaultSectionSize()
    chart = table.bench.beside_work.part.chart
    for part in (page.bar, page.big, page.hints, page.settle, chart):
        assert part.isVisible()
        assert window.rect().contains(part.mapTo(window, part.rect().bottomRight()))
    assert page.big.text() == "GGL body, 2, keep"
    assert page.big.font_of_text().pixelSize() >= 24
    fits(table.qtbot, table.bench)
