"""The set-up of the sorting table by keyboard: its columns and the excavation's own words."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest

from findsdesk.desk.desk import Desk
from findsdesk.desk.word_lists import words_of
from findsdesk.ui.benches.set_up.page import SetUpBench
from findsdesk.ui.program import Program
from tests.ui.at_the_registers import press
from tests.ui.at_work import fits, go_to, opened, settled
from tests.ui.looking import nameless, too_small
from tests.yard import acts, new_yard

KEY = Qt.Key
ALT = Qt.KeyboardModifier.AltModifier


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return new_yard(tmp_path, by="Ilo", station="dig house")


@pytest.fixture
def program(qtbot: Any, desk: Desk) -> Iterator[Program]:
    with opened(qtbot, desk, station=desk.station_name) as at_work:
        yield at_work


@pytest.fixture
def bench(qtbot: Any, program: Program) -> SetUpBench:
    shown = go_to(qtbot, program, "set_up")
    assert isinstance(shown, SetUpBench)
    return shown


def move(key: Qt.Key, times: int) -> None:
    window = QGuiApplication.focusWindow()
    assert window is not None
    for _time in range(times):
        QTest.keyClick(window, key, ALT)


def test_columns_are_ticked_and_moved_by_keyboard_and_written_as_one_act(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    bench.show_subject("columns")
    settled(qtbot, program)
    bench.columns.columns.setFocus()
    before = acts(desk)
    # Ware last of those typed, the form typed as well, the rim left out.
    move(KEY.Key_Down, 6)
    assert bench.columns.columns.typed() == ("part", "pieces", "grams", "rim", "decision", "reason", "ware")
    press(qtbot, program, KEY.Key_Down, KEY.Key_Space, KEY.Key_Up, KEY.Key_Up, KEY.Key_Up, KEY.Key_Up)
    press(qtbot, program, KEY.Key_Space)
    bench.columns.button.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert desk.facts.settings.sorting_columns == ("part", "pieces", "grams", "decision", "reason", "ware", "form")
    assert acts(desk) == before + 1
    fits(qtbot, program.window)
    assert not nameless(bench)
    assert not too_small(bench)
    # A box ticked by mouse takes the cursor along: Alt and an arrow move that column and no other.
    rows = bench.columns.columns
    place = next(row for row in range(rows.count()) if rows.item(row).text() == "Form")
    for _time in range(2):
        rows.setCurrentRow(0)
        rows.scrollToItem(rows.item(place))
        box = rows.visualItemRect(rows.item(place)).topLeft() + QPoint(10, 12)
        QTest.mouseClick(rows.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, box)
        assert rows.currentRow() == place
    rows.setFocus()
    move(KEY.Key_Up, 1)
    assert rows.typed() == ("part", "pieces", "grams", "decision", "reason", "form", "ware")


def test_a_column_that_every_group_needs_cannot_be_unticked(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    bench.show_subject("columns")
    settled(qtbot, program)
    bench.columns.columns.setFocus()
    press(qtbot, program, KEY.Key_Down, KEY.Key_Space)
    assert "part" in bench.columns.columns.typed()
    assert bench.columns.note.text() == ""
    press(qtbot, program, KEY.Key_Up, KEY.Key_Space)
    assert bench.columns.note.text() == "Without wares nothing is dated and no figure can be told by ware."


def test_a_word_is_added_renamed_and_put_away_by_keyboard(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    bench.show_subject("words")
    settled(qtbot, program)
    part = bench.lists["words"]
    part.form.focus_first()
    press(qtbot, program, "lug", KEY.Key_Return, KEY.Key_Return)
    QTest.keyClick(part.form, KEY.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled(qtbot, program)
    # Nothing is written before it is said what it counts as.
    assert words_of(desk)["parts"].named("lug") is None
    assert "Say what sherds of “lug” count as" in bench.refusals.text().text()
    part.form.entries["counts_as"].widget.setFocus()
    press(qtbot, program, *[KEY.Key_Down] * 4)
    QTest.keyClick(part.form, KEY.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled(qtbot, program)
    added = words_of(desk)["parts"].named("lug")
    assert added is not None
    assert (added.counts_as, added.diagnostic) == ("handle", True)
    # The row of "body", fourth of the parts: renamed.
    part.table.setFocus()
    part.table.selectRow(3)
    press(qtbot, program, KEY.Key_Return)
    assert part.card.heading.text() == "Change the word “body”"
    assert not part.form.entries["list"].widget.isVisible()
    press(qtbot, program, "wall")
    QTest.keyClick(part.form, KEY.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled(qtbot, program)
    assert words_of(desk)["parts"].named("wall") is not None
    part.table.setFocus()
    part.table.selectRow(3)
    press(qtbot, program, KEY.Key_Return)
    part.form.show_values({"in_use": False})
    QTest.keyClick(part.form, KEY.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled(qtbot, program)
    assert words_of(desk)["parts"].named("wall") is None
    fits(qtbot, program.window)
    assert not nameless(bench)


def test_words_for_the_clay_the_firing_and_samples_are_added_in_the_window_too(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    bench.show_subject("words")
    settled(qtbot, program)
    part = bench.lists["words"]
    for list_name, word in (("inclusions", "beach sand"), ("firings", "two-toned"), ("sample_purposes", "DNA")):
        part.form.focus_first()
        press(qtbot, program, word)
        part.form.show_values({"name": word, "list": list_name})
        QTest.keyClick(part.form, KEY.Key_Return, Qt.KeyboardModifier.ControlModifier)
        settled(qtbot, program)
        assert words_of(desk)[list_name].named(word) is not None
    fits(qtbot, program.window)
