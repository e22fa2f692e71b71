"""The lines that ask at the sorting table: what they refuse, and what is typed in them and not written is said."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from findsdesk.desk.desk import Desk
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import ENTER, ESCAPE, F5, Table
from tests.ui.at_work import opened
from tests.ui.conftest import Keyboard
from tests.yard import acts, new_yard


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return new_yard(tmp_path, by="Oren")


@pytest.fixture
def table(qtbot: Any, keyboard: Keyboard, desk: Desk) -> Iterator[Table]:
    with opened(qtbot, desk) as program:
        yield Table(qtbot, keyboard, program, desk)


def eleven(table: Table, desk: Desk) -> str:
    """Read eleven rims of QRS in bucket 131."""
    code = dry_container(desk, 131, 12)
    table.scan(code)
    table.row("q", ENTER, "r", ENTER, "11", ENTER, "340", ENTER, ENTER)
    return code


def test_a_bucket_with_rows_is_not_counted_empty_and_a_count_far_above_the_usual_is_asked_about(
    table: Table, desk: Desk
) -> None:
    code, ask = eleven(table, desk), table.bench.table.ask
    written = acts(desk)
    table.row(F5, "0", ENTER, "no sherds", ENTER)
    assert "11 sherds are sorted in rows. Count what is here" in table.slip()
    assert (ask.number.line.text(), ask.why.text()) == ("0", "no sherds")
    assert ask.number.line.hasFocus()
    assert acts(desk) == written
    table.row("3000", ENTER, ENTER)
    assert "far more than usual. Is it so?" in table.slip()
    assert table.bench.refusals.is_asking()
    table.row(ESCAPE)
    assert table.stored(code).ledger.counted == 12


def test_what_waits_by_mouse_leaves_the_keyboard_on_the_list_that_is_being_read(
    table: Table, desk: Desk, qtbot: Any
) -> None:
    eleven(table, desk)
    other = dry_container(desk, 132, 9)
    QTest.mouseClick(table.bench.table.what_waits, Qt.MouseButton.LeftButton)
    focus = QApplication.focusWidget()
    assert focus is not None
    assert table.bench.isAncestorOf(focus)
    table.settle_down()
    assert table.bench.waiting.table.hasFocus()
    table.row(Qt.Key.Key_Down, ENTER)
    assert table.bench.state.dossier is not None
    assert table.bench.state.dossier.code == other
