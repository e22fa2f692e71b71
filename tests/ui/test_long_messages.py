"""A long refusal or question over the head of a bench covers no field, and moves nothing from under the mouse."""

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtWidgets import QApplication, QWidget

from findsdesk.ui.bench import Bench
from tests.ui.at_work import go_to, opened, settled
from tests.yard import new_yard

LONG = (
    "Context 2017 of bucket 131 has 14 sherds sorted in rows, 3 lifted out and 2 explained. "
    "Count what is here, or take the rows off and lay the pieces back first."
)


def body_of(bench: Bench) -> QWidget:
    inner = bench.body.parentWidget()
    assert inner is not None
    return inner


def first_row(bench: Bench) -> int:
    """Return where the bench's own parts begin, below the top of the bench."""
    inner = body_of(bench)
    parts: list[QWidget] = list(inner.findChildren(QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly))
    return min(one.mapTo(bench, QPoint()).y() for one in parts if one.isVisible())


def stands_clear(qtbot: Any, bench: Bench) -> None:
    qtbot.waitUntil(lambda: bench.refusals.geometry().bottom() < first_row(bench))


@pytest.mark.parametrize("zoom", [100, 150])
def test_a_long_message_covers_no_field_and_moves_none_under_the_mouse(qtbot: Any, tmp_path: Path, zoom: int) -> None:
    with opened(qtbot, new_yard(tmp_path)) as program:
        program.theme.zoom_to(zoom)
        for key in ("check_in", "registers"):
            bench = go_to(qtbot, program, key)
            before = first_row(bench)
            for show in (bench.refusals.refuse, lambda text, bench=bench: bench.refusals.ask(text, lambda: None)):
                show(LONG)
                settled(qtbot, program)
                stands_clear(qtbot, bench)
                bench.refusals.clear()
                qtbot.waitUntil(lambda bench=bench, before=before: first_row(bench) == before)
            # Under the mouse everything stays until it leaves.
            inner = body_of(bench)
            inner.setAttribute(Qt.WidgetAttribute.WA_UnderMouse, True)
            bench.refusals.ask(LONG * 2, lambda: None)
            settled(qtbot, program)
            assert first_row(bench) == before
            inner.setAttribute(Qt.WidgetAttribute.WA_UnderMouse, False)
            QApplication.sendEvent(inner, QEvent(QEvent.Type.Leave))
            stands_clear(qtbot, bench)
            bench.refusals.clear()
