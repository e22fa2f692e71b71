"""The forms of the set-up keep their place: under the mouse when something is refused, the keyboard after a write."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.desk.sherd_groups import add_group
from findsdesk.ui.benches.set_up.page import SetUpBench
from findsdesk.ui.program import Program
from tests.desk.at_the_table import dry_container
from tests.ui.at_work import fits, go_to, opened, settled
from tests.yard import new_yard


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    made = new_yard(tmp_path, by="Ilo", station="dig house")
    code = dry_container(made, 131, 9)
    add_group(made, code, ware="QRS", part="rim", pieces=9)
    return made


@pytest.fixture
def program(qtbot: Any, desk: Desk) -> Iterator[Program]:
    with opened(qtbot, desk) as at_work:
        yield at_work


@pytest.fixture
def bench(qtbot: Any, program: Program) -> SetUpBench:
    shown = go_to(qtbot, program, "set_up")
    assert isinstance(shown, SetUpBench)
    return shown


def click(qtbot: Any, program: Program, button: QWidget) -> None:
    button.setFocus(Qt.FocusReason.MouseFocusReason)
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    settled(qtbot, program)


def place(qtbot: Any, bench: SetUpBench, button: QWidget) -> QPoint:
    """Return where a button stands once the layout has come to rest."""
    seen: list[QPoint] = []

    def rests() -> bool:
        QCoreApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)
        seen.append(button.mapTo(bench, QPoint(0, 0)))
        return len(seen) > 7 and seen[-8:] == [seen[-1]] * 8

    qtbot.waitUntil(rests)
    return seen[-1]


def test_a_refusal_moves_no_button_also_where_the_list_is_as_low_as_it_gets(
    qtbot: Any, program: Program, bench: SetUpBench
) -> None:
    low = 0
    for size in (QSize(910, 460), QSize(1366, 768)):
        program.window.resize(size)
        for key, part in bench.lists.items():
            bench.show_subject(key)
            settled(qtbot, program)
            fits(qtbot, part)
            before = place(qtbot, bench, part.button)
            low += part.over.height() == part.over.minimumSizeHint().height()
            bench.refusals.refuse("QRS is in use in 7 rows at the sorting table. Merge it into another ware instead.")
            qtbot.waitUntil(lambda: bench.refusals.width() > 300)
            fits(qtbot, part)
            assert place(qtbot, bench, part.button) == before, (key, size)
            assert part.isAncestorOf(bench.refusals)
            bench.refusals.clear()
    assert low > 3


def test_also_magnified_in_the_smallest_window_a_refusal_moves_no_button_and_is_in_sight(
    qtbot: Any, program: Program, bench: SetUpBench
) -> None:
    program.theme.zoom_to(150)
    program.window.resize(QSize(910, 460))
    area = bench.findChild(QScrollArea)
    assert area is not None
    for key, part in bench.lists.items():
        bench.show_subject(key)
        settled(qtbot, program)
        place(qtbot, bench, part.button)
        area.ensureWidgetVisible(part.button, 0, 0)
        before = place(qtbot, bench, part.button)
        bench.refusals.refuse("QRS is in use in 7 rows at the sorting table. Merge it into another ware instead.")
        assert place(qtbot, bench, part.button) == before, key
        slip = bench.refusals
        corner, view = slip.mapTo(area.viewport(), QPoint(0, 0)), area.viewport().size()
        assert slip.isVisible()
        assert 0 <= corner.y() <= view.height() - slip.height(), key
        assert 0 <= corner.x() <= view.width() - slip.width(), key
        bench.refusals.clear()
        assert place(qtbot, bench, part.button) == before, key


def test_after_a_write_the_keyboard_is_on_the_form(qtbot: Any, program: Program, bench: SetUpBench) -> None:
    click(qtbot, program, bench.excavation.button)
    first = bench.excavation.form.entries["name"].widget
    assert QApplication.focusWidget() is first
    for key, text, words in (("corner", "north", "north is no corner"), ("turned", "askew", "askew is no angle")):
        bench.excavation.form.show_values({"corner": "", key: text})
        click(qtbot, program, bench.excavation.button)
        field = bench.excavation.form.entries[key].widget
        assert (field.property("wrong"), field.hasFocus()) == (True, True)
        assert bench.excavation.isAncestorOf(bench.refusals)
        assert words in bench.refusals.text().text()
    bench.show_subject("squares")
    settled(qtbot, program)
    part = bench.lists["squares"]
    part.form.show_values({"name": "D4"})
    click(qtbot, program, part.button)
    assert part.form.isAncestorOf(QApplication.focusWidget())


def test_after_a_refusal_or_an_act_beside_the_form_it_is_where_it_was(
    qtbot: Any, program: Program, bench: SetUpBench
) -> None:
    bench.show_subject("wares")
    settled(qtbot, program)
    acts, part = bench.type_acts["wares"], bench.lists["wares"]
    row = next(place for place, entry in enumerate(part.entries) if entry.name == "QRS")
    part.table.selectRow(row)
    click(qtbot, program, acts.away)
    assert "in use: 1 row at the sorting table, 9 sherds in all" in bench.refusals.text().text()
    assert QApplication.focusWidget() is acts.away
    # Another row opened is another thing: the refusal goes.
    part._open(part.entries[0].row.row_id)
    assert not bench.refusals.isVisible()
