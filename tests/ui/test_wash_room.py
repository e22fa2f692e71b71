"""The wash yard uses its room and keeps its place: no text on the tag or slip below moves what stands beside it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QPushButton, QStyle, QStyleOptionButton, QWidget

from findsdesk.domain.command_cards import tub_code
from findsdesk.ui.answers import Tone
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.tubs import TubPicture
from tests.ui.conftest import Keyboard
from tests.ui.wash_hands import Yard, dossier, soaking, yard_at_work
from tests.yard import advance, put_container


@pytest.fixture
def yard(qtbot: Any, around: Surroundings, keyboard: Keyboard, tmp_path: Path) -> Iterator[Yard]:
    with yard_at_work(qtbot, around, keyboard, tmp_path) as made:
        yield made


def places_of_tubs(yard: Yard) -> list[tuple[int, int]]:
    """Return where each tub begins from the left, and how wide it is."""
    return [(tub.x(), tub.width()) for tub in yard.bench.tubs.findChildren(TubPicture)]


def test_a_long_number_or_a_refusal_moves_no_tub_and_hides_no_tray(yard: Yard) -> None:
    before = places_of_tubs(yard)
    yard.type("123456789012345", end=None)
    assert places_of_tubs(yard) == before
    yard.press("\b")
    yard.scan(soaking(yard.desk, "131"))
    yard.type("100000000000000")
    assert yard.refused()
    assert places_of_tubs(yard) == before
    for part in (yard.bench.trays, yard.bench.figures, yard.bench.refusals):
        below = part.mapTo(yard.window, part.rect().bottomLeft()).y()
        assert below < yard.window.foot.y() + yard.window.foot.height()
        assert not part.visibleRegion().isEmpty()


def test_the_height_of_a_large_window_is_used(yard: Yard) -> None:
    yard.window.resize(QSize(1920, 1080))
    yard.settle()
    bench, trays = yard.bench, yard.bench.trays
    lowest = trays.mapTo(bench, trays.rect().bottomLeft()).y()
    assert lowest > bench.height() * 0.8


def test_bone_scanned_into_a_tub_is_refused_in_the_scan_line_too(yard: Yard) -> None:
    code = put_container(yard.desk, "140", material="bone")
    yard.scan(tub_code("TQ", 1))
    yard.scan(code)
    assert yard.window.scan_line.answer.tone is Tone.REFUSED
    assert "bone crate" in yard.said()


def test_nothing_seen_with_a_tub_open_says_that_it_goes_into_the_tub(yard: Yard) -> None:
    yard.scan(tub_code("TQ", 1))
    yard.scan(put_container(yard.desk, "131"))
    yard.type("1", end=None)
    assert yard.bench.tags.step_tag.act_button.text() == "Nothing seen: into tub 1"


def test_a_count_after_too_short_a_soak_is_written_with_a_remark(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.scan(code)
    assert "soaked only 0 min" in yard.type("12")
    assert dossier(yard.desk, code).counts[-1].pieces == 12


def test_the_words_of_every_button_fit_at_1920(yard: Yard) -> None:
    """With the room the style leaves inside a button, not its whole width."""
    yard.window.resize(QSize(1920, 1080))
    code, other = soaking(yard.desk, "131"), put_container(yard.desk, "132")
    advance(yard.desk, hours=16)
    yard.scan(code)
    yard.type("132")
    assert cut_inside(yard.bench.tags.step_tag) == []
    yard.scan(tub_code("TQ", 2))
    yard.scan(other)
    yard.type("1", end=None)
    assert cut_inside(yard.bench.tags.step_tag) == []


def cut_inside(widget: QWidget) -> list[str]:
    """Return the words of buttons for which the style leaves too little room."""
    cut = []
    for button in widget.findChildren(QPushButton):
        if button.isVisible():
            option = QStyleOptionButton()
            button.initStyleOption(option)
            room = button.style().subElementRect(QStyle.SubElement.SE_PushButtonContents, option, button)
            needed = button.fontMetrics().horizontalAdvance(button.text())
            if needed > room.width() or (needed < room.width() - 4 and _inked_at_its_edges(button, room)):
                cut.append(button.text())
    return cut


def _inked_at_its_edges(button: QPushButton, room: QRect) -> bool:
    """Return whether something is drawn where its font leaves room: the style then draws it in a larger one."""
    drawn = button.grab().toImage()
    edges = (room.left(), room.left() + 1, room.right() - 1, room.right())
    return len({drawn.pixel(x, y) for x in edges for y in range(room.top(), room.bottom())}) > 1
