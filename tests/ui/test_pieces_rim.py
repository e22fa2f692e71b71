"""The rim tool beside the fields of a piece: what it takes over, what it cannot tell, a photograph come nearer."""

from __future__ import annotations

import math
import os
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from findsdesk.desk.desk import Desk
from findsdesk.desk.photos import add_photo
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.rim_tools import rim_by_points
from findsdesk.desk.sorting import add_group
from findsdesk.ui.benches.pieces.page import PiecesBench
from findsdesk.ui.benches.pieces.photo_points import PointedPhoto
from findsdesk.ui.benches.pieces.rim_part import reading_in_words
from findsdesk.ui.benches.pieces.state import MEASURES
from findsdesk.ui.program import Program
from findsdesk.ui.theme import Theme
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_pieces import bench, desk, fill, piece, program  # noqa: F401
from tests.ui.at_work import fits, scan, settled

KEY = Qt.Key


def test_three_points_tell_no_uncertainty() -> None:
    """Through any three points not on a line goes one circle, so nothing is left to tell the error. DERIVED."""
    three, four = [(90, 0), (0, 90), (-90, 0)], [(90, 0), (0, 90), (-90, 0), (63.64, 63.64)]
    assert rim_by_points(three).uncertainty_mm is None
    assert reading_in_words(rim_by_points(three)).startswith("180 mm; 50 % of the circle. Three points always fit")
    assert reading_in_words(rim_by_points(four)).startswith("180 mm, ±")


def test_what_a_diameter_by_points_is_unsure_by_is_said_after_what_it_comes_from() -> None:
    """DERIVED: points of one circle scatter by nothing, so what is told is the half millimetre that ours supposes."""
    on_it = [(60 * math.cos(angle), 60 * math.sin(angle)) for angle in (0.6, 0.8, 1.0, 1.2, 1.4)]
    said = reading_in_words(rim_by_points(on_it))
    assert said.startswith("120 mm, ±")
    assert "if 5 points are off by half a millimetre each;" in said
    off = [(x, y + (3 if number % 2 else -3)) for number, (x, y) in enumerate(on_it)]
    assert "by the scatter of 5 points;" in reading_in_words(rim_by_points(off))


def test_a_share_read_on_the_chart_is_replaced_only_at_a_second_press(
    qtbot: Any, program: Program, bench: PiecesBench
) -> None:
    bench.show_page(MEASURES)
    fill(bench, rim_permille=69, chord_tenths_mm=620, sagitta_tenths_mm=55)
    bench.rim.take.click()
    said = bench.forms.peek()
    assert (said["rim_diameter_mm"], said["diameter_method"], said["rim_permille"]) == (180, "chord", 69)
    assert bench.rim.said.text() == (
        "Of the rim stays 6.9 % as it was read. Take it over once more to put 11.2 % there."
    )
    bench.rim.take.click()
    assert bench.forms.peek()["rim_permille"] == 112
    # What came from here is followed without a question.
    fill(bench, sagitta_tenths_mm=65)
    bench.rim.take.click()
    assert bench.forms.peek()["rim_permille"] == bench.rim.reading.share_permille != 112


def test_a_share_that_was_only_divided_at_lifting_gives_way_to_what_is_measured(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    code = dry_container(desk, 133, 2)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=2, rim_permille=218)
    lift_pieces(desk, row.id, seen=row.version)
    scan(qtbot, program, "133")
    assert bench.state.piece is not None
    assert (bench.state.piece.shared, bench.state.piece.rim_permille) == ("rim", 109)
    assert "Not measured, its share of the row: share of the rim" in bench.head.doubts.text()
    assert "was read without" not in bench.head.doubts.text()
    bench.show_page(MEASURES)
    fill(bench, chord_tenths_mm=620, sagitta_tenths_mm=55)
    bench.rim.take.click()
    assert bench.forms.peek()["rim_permille"] == 112
    assert "as it was read" not in bench.rim.said.text()


def test_without_a_photograph_points_are_typed_and_nothing_of_a_photograph_is_asked(
    qtbot: Any, program: Program, bench: PiecesBench
) -> None:
    program.window.resize(1920, 1080)
    bench.show_page(MEASURES)
    bench.rim.by_points.click()
    rim = bench.rim
    assert not any(part.isVisible() for part in (rim.photo, rim.nearer, rim.scale, rim.undo))
    typed = "Type four or more points along the rim, in millimetres: x y, one a line."
    assert rim.said.text() == f"{typed} To mark them on a photograph, take one in first."
    fits(qtbot, rim)
    # The parts stand one below the other, without room between them that nothing fills.
    gap = rim.back.mapTo(rim, QPoint()).y() - rim.typed_points.mapTo(rim, QPoint(0, rim.typed_points.height())).y()
    assert 0 <= gap <= 20
    rim.typed_points.setPlainText("90 0\n0 90\n-90 0")
    assert "Mark more" not in rim.said.text()
    assert rim.said.text().endswith("cannot be told from them. Four or more tell it.")


@pytest.mark.skipif("FINDSDESK_TEST_SERVER" in os.environ, reason="photographs lie beside a store's file")
def test_the_circle_follows_the_scale_as_it_is_typed_and_one_that_cannot_be_read_takes_nothing_over(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench, tmp_path: Path
) -> None:
    """DERIVED: marks 200 pixels off a middle beside a scale of 400 pixels are of a circle as wide as the scale."""
    Image.new("RGB", (800, 600), "#a9542f").save(tmp_path / "rim.png")
    add_photo(desk, tmp_path / "rim.png", of=("piece", piece(desk).id))
    bench.show_page(MEASURES)
    rim = bench.rim
    # Points were asked for before there was a photograph: it stands there once it is taken in.
    rim.by_points.click()
    bench.refresh()
    settled(qtbot, program)
    assert not rim.photo.image.isNull()
    assert rim.said.text().startswith("Mark the two ends of the scale first")
    rim.back.click()
    assert rim.by_points.hasFocus()
    rim.point()
    settled(qtbot, program)
    for x, y in ((0, 500), (400, 500), (200, 300), (400, 100), (600, 300)):
        rim.photo.mark(x, y)
    assert (rim.scale.line.text(), rim.reading.diameter_mm) == ("100", 100)
    for millimetres in (6, 60):
        rim.scale.line.setText(str(millimetres))
        assert rim.reading.diameter_mm == millimetres
    for typed in ("60x", "0", ""):
        rim.scale.line.setText(typed)
        assert (rim.reading, rim.take.isEnabled()) == (None, False)
        QTest.keyClick(rim, KEY.Key_M, Qt.KeyboardModifier.ControlModifier)
        assert bench.forms.peek()["rim_diameter_mm"] is None
    rim.scale.line.setText("60")
    rim.take.click()
    assert bench.forms.peek()["rim_diameter_mm"] == 60


def test_a_length_along_the_rim_that_cannot_be_read_is_refused_in_its_place(
    qtbot: Any, program: Program, bench: PiecesBench
) -> None:
    bench.show_page(MEASURES)
    fill(bench, rim_diameter_mm=200)
    bench.rim.arc.line.setText("6o")
    bench.rim.take_share.click()
    assert "6o" in bench.rim.said.text()
    assert bench.forms.peek()["rim_permille"] is None


@pytest.fixture
def photo(qtbot: Any, theme: Theme, shown: Any, tmp_path: Path) -> PointedPhoto:
    Image.new("RGB", (800, 600), "#a9542f").save(tmp_path / "rim.png")
    made = PointedPhoto(theme)
    made.resize(400, 300)
    shown(made)
    made.show_photo(tmp_path / "rim.png")
    return made


def test_a_photograph_comes_nearer_by_key_and_wheel_and_points_stay_where_they_are(photo: PointedPhoto) -> None:
    before = photo._area().width()
    QTest.keyClicks(photo, "+++")
    assert photo._area().width() == pytest.approx(before * 1.25**3)
    middle = QPoint(photo.width() // 2, photo.height() // 2)
    QTest.mouseClick(photo, Qt.MouseButton.LeftButton, pos=middle)
    assert photo.points == [pytest.approx((400, 300), abs=2)]
    QTest.keyClicks(photo, "0")
    assert photo._area().width() == pytest.approx(before)
    at = QPointF(photo.width() * 0.25, photo.height() * 0.25)
    under = photo._picture_point(at)
    turned = QWheelEvent(
        at, photo.mapToGlobal(at), QPoint(), QPoint(0, 240), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(photo, turned)
    assert photo.zoom == pytest.approx(1.25**2)
    assert (photo._picture_point(at) - under).manhattanLength() < 1
    QTest.keyClicks(photo, "--------")
    assert photo.zoom == 1


def test_the_cross_stays_in_sight_when_it_is_moved_out_of_a_near_picture(photo: PointedPhoto) -> None:
    QTest.keyClicks(photo, "++++++++++")
    for _step in range(15):
        QTest.keyClick(photo, KEY.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert photo.rect().contains(photo._place(photo._cross).toPoint())
