"""Where the keyboard is at the sorting table, and where Enter leads: by real key events, as in a dictation."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from findsdesk.desk.desk import Desk
from findsdesk.desk.retention import add_rule
from findsdesk.domain.balance import Decision
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import DOWN, ENTER, F4, UP, Table, in_short
from tests.ui.at_work import go_to, opened
from tests.ui.conftest import Keyboard
from tests.yard import new_yard, with_settings


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return new_yard(tmp_path, by="Oren")


@pytest.fixture
def table(qtbot: Any, keyboard: Keyboard, desk: Desk) -> Iterator[Table]:
    with opened(qtbot, desk) as program:
        yield Table(qtbot, keyboard, program, desk)


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
    assert ("Enter", "next, in Rim % it writes") in table.bench.keys()


def test_a_part_without_a_rim_says_that_enter_passes_by(table: Table, desk: Desk) -> None:
    table.scan(dry_container(desk, 131, 50))
    table.type("QRS", ENTER, "body", ENTER, "2", ENTER, ENTER)
    assert table.bench.table.strip.lead() == "This part has none of it: Enter passes by"


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
