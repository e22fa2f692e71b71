"""Where the keyboard is at the sorting table, and where Enter leads: by real key events, as in a dictation."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from findsdesk.desk.desk import Desk
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import DOWN, ENTER, UP, Table, in_short
from tests.ui.at_work import go_to, opened
from tests.ui.conftest import Keyboard
from tests.yard import new_yard


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
