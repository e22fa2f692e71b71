"""The registers in a program at work, for the tests of its lists and of a deposit's page."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from findsdesk.desk.desk import Desk
from findsdesk.ui.benches.registers.page import RegistersBench
from findsdesk.ui.program import Program
from tests.ui.at_work import go_to, opened, settled
from tests.yard import new_yard

KEY = Qt.Key


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return new_yard(tmp_path, by="Mika", station="registrar's laptop")


@pytest.fixture
def program(qtbot: Any, desk: Desk) -> Iterator[Program]:
    with opened(qtbot, desk, station=desk.station_name) as at_work:
        yield at_work


@pytest.fixture
def bench(qtbot: Any, program: Program) -> RegistersBench:
    shown = go_to(qtbot, program, "registers")
    assert isinstance(shown, RegistersBench)
    return shown


def press(qtbot: Any, program: Program, *keys: Qt.Key | str) -> None:
    """Type texts and press keys where the keyboard is, and wait for what follows."""
    program.filter.uninstall()
    for key in keys:
        widget = QApplication.focusWidget()
        assert widget is not None
        if isinstance(key, str):
            QTest.keyClicks(widget, key)
        else:
            QTest.keyClick(widget, key)
    settled(qtbot, program)


def listed(bench: RegistersBench, column: int = 0) -> list[str]:
    """Return what stands in a column of the rows that are held."""
    model = bench.lists.model
    assert model is not None
    return [str(model.index(row, column).data()) for row in range(model.rowCount())]


def in_hand(program: Program) -> str:
    facts = program.window.dossier.facts
    assert facts is not None
    return facts.title


def show_list(qtbot: Any, program: Program, bench: RegistersBench, key: str) -> None:
    bench.lists.show_list(key)
    settled(qtbot, program)


def open_deposit_page(qtbot: Any, program: Program, bench: RegistersBench, number: str = "2017") -> None:
    program.window.open_thing("deposit", number)
    settled(qtbot, program)
    assert bench.deposit.isVisible()


def begin(qtbot: Any, program: Program, bench: RegistersBench, act: str) -> None:
    bench.deposit.acts[act].setFocus()
    press(qtbot, program, KEY.Key_Space)
