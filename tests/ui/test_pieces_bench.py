"""The bench of pieces with real widgets on a real store, worked by keyboard."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.joins import joins_of
from findsdesk.desk.objects import Leaves, object_of
from findsdesk.desk.photos import photo_path, photos_of
from findsdesk.desk.pieces import pieces_of
from findsdesk.desk.proving import prove
from findsdesk.desk.samples import sample_of
from findsdesk.desk.sorting import table_of
from findsdesk.desk.vessels import vessel_of
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.pieces.page import PiecesBench
from findsdesk.ui.benches.pieces.state import CLAY, JOINS, MEASURES, PAGES, PHOTOS, TAKEN, WHAT
from findsdesk.ui.program import Program
from findsdesk.ui.widgets.munsell_field import MunsellField
from tests.ui.at_the_pieces import bench, desk, fill, listed, piece, program, refusal  # noqa: F401
from tests.ui.at_the_registers import press
from tests.ui.at_work import fits, scan, settled
from tests.ui.looking import SIZES, nameless, too_small
from tests.yard import sitting

KEY = Qt.Key


def test_a_scanned_container_lists_its_pieces_and_shows_the_first(
    qtbot: Any, program: Program, bench: PiecesBench
) -> None:
    assert listed(bench) == ["131.1", "131.2", "131.3"]
    assert (bench.head.name.text(), bench.head.what.text()) == ("131.1", "QRS rim")
    assert bench.going_on() == "bucket 131, 3 pieces"
    assert bench.list.table.hasFocus()
    press(qtbot, program, KEY.Key_Down)
    assert bench.head.name.text() == "131.2"


def test_a_scanned_piece_is_opened(qtbot: Any, program: Program, desk: Desk, bench: PiecesBench) -> None:
    scan(qtbot, program, piece(desk, "87.2").code)
    assert bench.head.name.text() == "87.2"
    assert listed(bench) == ["87.1", "87.2"]


def test_a_piece_is_described_by_keyboard_and_written(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    press(qtbot, program, KEY.Key_Return)
    fill(bench, surface="slip, burnished", earliest=180, latest=260, dated_by="its form", drawing_wanted=True)
    QTest.keyClick(bench.forms.pages[WHAT].entries["note"].widget, KEY.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled(qtbot, program)
    said = piece(desk)
    assert (said.surface, said.earliest, said.latest, said.drawing_wanted) == ("slip burnish", 180, 260, True)
    assert bench.what_waits() == "1 drawing wanted"
    assert refusal(bench) == ""
    assert prove(desk).sound


def test_nothing_is_written_where_nothing_changed(qtbot: Any, program: Program, desk: Desk, bench: PiecesBench) -> None:
    before = desk.head()
    bench.write_button.click()
    settled(qtbot, program)
    assert desk.head() == before


def test_the_rim_follows_chord_and_height_and_is_taken_over(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    """Days: chord 62 mm, height 5.5 mm: diameter 180 mm, ± 15, 11 % of the circle."""
    bench.show_page(MEASURES)
    press(qtbot, program, KEY.Key_F6, "62", KEY.Key_Return, "5,5", KEY.Key_Return)
    assert bench.rim.said.text().startswith("180 mm, ± 15 if the height is misread by half a millimetre; 11.2 %")
    assert bench.rim.picture.accessibleDescription() == "180 ± 15 mm"
    QTest.keyClick(bench, KEY.Key_M, Qt.KeyboardModifier.ControlModifier)
    bench.write()
    settled(qtbot, program)
    said = piece(desk)
    assert (said.rim_diameter_mm, said.diameter_uncertainty_mm, said.diameter_method) == (180, 15, "chord")
    assert (said.chord_tenths_mm, said.sagitta_tenths_mm, said.rim_permille) == (620, 55, 112)
    assert bench.head.what.text() == "QRS rim · 180 ± 15 mm, 11.2 % of the rim, by chord and arc height"


def test_an_impossible_rim_is_said_where_it_is_measured(qtbot: Any, program: Program, bench: PiecesBench) -> None:
    bench.show_page(MEASURES)
    fill(bench, chord_tenths_mm=620, sagitta_tenths_mm=0)
    assert "straight line" in bench.rim.said.text()
    assert not bench.rim.take.isEnabled()
    fill(bench, sagitta_tenths_mm=5)
    assert "guess" in bench.rim.said.text()


def test_a_diameter_shorter_than_the_chord_is_refused_and_what_was_typed_stays(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    fill(bench, chord_tenths_mm=620, rim_diameter_mm=60)
    bench.write_button.click()
    settled(qtbot, program)
    assert refusal(bench) == "A diameter of 60 mm is shorter than the chord of 62 mm. Measure both again."
    assert bench.forms.peek()["rim_diameter_mm"] == 60
    assert piece(desk).rim_diameter_mm is None


def test_the_share_follows_from_the_length_along_the_rim(qtbot: Any, program: Program, bench: PiecesBench) -> None:
    bench.show_page(MEASURES)
    fill(bench, rim_diameter_mm=200)
    bench.rim.arc.set_value(628)
    bench.rim.take_share.click()
    assert bench.forms.peek()["rim_permille"] == 100
    bench.rim.arc.set_value(9000)
    bench.rim.take_share.click()
    assert bench.rim.said.text().endswith("Measure both again.")


def test_typed_points_make_a_circle(qtbot: Any, program: Program, bench: PiecesBench) -> None:
    bench.show_page(MEASURES)
    bench.rim.by_points.click()
    assert bench.rim.typed_points.hasFocus()
    bench.rim.typed_points.setPlainText("90 0\n0 90\n-90 0\n63.64 63.64")
    assert bench.rim.said.text().startswith("180 mm, ±")
    bench.rim.take.click()
    assert (bench.forms.peek()["rim_diameter_mm"], bench.forms.peek()["diameter_method"]) == (180, "points")
    bench.rim.typed_points.setPlainText("90 0\nx")
    assert bench.rim.said.text().startswith("Line 2")


def test_a_munsell_colour_shows_its_swatch_and_a_wrong_one_is_marked(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    """Colour of 2.5YR 5/6 from the renotation of 1943 as in the chips that ship (docs/sources.md, "Munsell")."""
    bench.show_page(CLAY)
    field = bench.forms.pages[CLAY].entries["colour_inside"].widget
    assert isinstance(field, MunsellField)
    press(qtbot, program, KEY.Key_F6, KEY.Key_Return, "2.5yr5/6")
    assert field.patch.shown.chip == "2.5YR 5/6"
    assert field.said.text() == "about this colour"
    fill(bench, colour_inside="2.4YR 5/6.2")
    assert field.said.text() == "nearest chip 2.5YR 5/6, about"
    fill(bench, colour_inside="2.5XX 5/6")
    assert "no Munsell colour" in field.wrong.text()
    bench.show_page(WHAT)
    bench.write_button.click()
    settled(qtbot, program)
    assert bench.shown_page() == CLAY
    fill(bench, colour_inside="2.5yr5/6")
    bench.write_button.click()
    settled(qtbot, program)
    assert piece(desk).colour_inside == "2.5YR 5/6"


def test_what_somebody_else_changed_meanwhile_is_shown_and_what_i_typed_stays(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    fill(bench, note="mine")
    seen = piece(desk)
    with_news = desk.shared.listeners[:]
    desk.shared.listeners.clear()
    change_piece(sitting(desk, "Tessa"), seen.id, seen=seen.version, parallels="Vade 2025")
    desk.shared.listeners.extend(with_news)
    bench.write_button.click()
    settled(qtbot, program)
    assert "Tessa Quill changed this meanwhile" in refusal(bench)
    assert (bench.forms.peek()["parallels"], bench.forms.peek()["note"]) == ("Vade 2025", "mine")
    bench.write_button.click()
    settled(qtbot, program)
    assert (piece(desk).parallels, piece(desk).note) == ("Vade 2025", "mine")


def test_the_next_piece_says_what_the_one_before_says(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    fill(bench, firing="oxidised", colour_core="10YR 7/3", parallels="Vade 2025")
    bench.write()
    settled(qtbot, program)
    press(qtbot, program, KEY.Key_Down)
    QTest.keyClick(bench, KEY.Key_D, Qt.KeyboardModifier.ControlModifier)
    bench.write()
    settled(qtbot, program)
    second = piece(desk, "131.2")
    assert (second.firing, second.colour_core, second.parallels) == ("oxidised", "10YR 7/3", "Vade 2025")


def test_a_join_is_written_by_scanning_the_other_piece(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    bench.show_page(JOINS)
    bench.joins.other.setFocus()
    scan(qtbot, program, piece(desk, "87.1").code)
    assert bench.joins.other.text() == "87.1"
    assert bench.head.name.text() == "131.1"
    press(qtbot, program, KEY.Key_Return)
    (join,) = joins_of(desk, piece(desk).id)
    assert join.other_than(piece(desk).id).name == "87.1"
    assert bench.joins.model.index(0, 0).data() == "87.1, context 2019"
    # How certain it is is changed in its row, by keyboard.
    bench.joins.table.selectRow(0)
    assert bench.joins.sure.text() == "It is not certain"
    bench.joins.sure.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert not joins_of(desk, piece(desk).id)[0].certain
    bench.joins.table.selectRow(0)
    assert bench.joins.sure.text() == "It is certain"
    bench.joins.sure.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert joins_of(desk, piece(desk).id)[0].certain
    bench.joins.table.selectRow(0)
    bench.joins.part.click()
    settled(qtbot, program)
    assert joins_of(desk, piece(desk).id) == ()


def test_a_piece_is_gathered_into_a_vessel_and_taken_out(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    bench.show_page(JOINS)
    bench.joins.mending.setChecked(True)
    bench.joins.gather.click()
    settled(qtbot, program)
    assert vessel_of(desk, 1).for_mending
    assert bench.joins.vessel.text() == "Vessel 1, to be mended: 131.1."
    press(qtbot, program, KEY.Key_Down)
    bench.joins.number.setText("1")
    bench.joins.gather.click()
    settled(qtbot, program)
    assert [one.name for one in vessel_of(desk, 1).pieces] == ["131.1", "131.2"]
    bench.joins.leave.click()
    settled(qtbot, program)
    assert piece(desk, "131.2").vessel is None


@pytest.mark.skipif("FINDSDESK_TEST_SERVER" in os.environ, reason="photographs lie beside a store's file")
def test_photographs_are_taken_in_and_points_marked_on_the_first(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench, tmp_path: Path
) -> None:
    good, bad = tmp_path / "rim.jpg", tmp_path / "notes.jpg"
    Image.new("RGB", (800, 600), "#a9542f").save(good)
    bad.write_text("no photograph")
    program.surroundings.notices.to_open = [str(good), str(bad)]  # type: ignore[attr-defined]
    bench.show_page(PHOTOS)
    bench.photos.add.setFocus()
    # A dialog was open just now: the window is not the active one yet when the files are taken in.
    dialog = QWidget()
    qtbot.addWidget(dialog)
    with qtbot.waitActive(dialog):
        dialog.show()
        dialog.activateWindow()
    bench.photos.add.click()
    settled(qtbot, program)
    with qtbot.waitActive(program.window):
        program.window.activateWindow()
    assert bench.photos.add.hasFocus(), "the keyboard is where the files were chosen"
    assert "notes.jpg is no JPEG, PNG or TIFF" in refusal(bench)
    assert bench.photos.list.count() == 1
    assert not bench.photos.list.item(0).icon().isNull()
    bench.show_page(MEASURES)
    bench.rim.by_points.click()
    settled(qtbot, program)
    photo = bench.rim.photo
    assert photo.hasFocus()
    assert (photo.image.width(), photo.image.height()) == (800, 600)
    QTest.mouseClick(photo, Qt.MouseButton.LeftButton, pos=QPoint(photo.width() // 2, photo.height() // 2))
    assert photo.points == [pytest.approx((400, 300), abs=3)]
    press(qtbot, program, KEY.Key_Backspace, KEY.Key_Right, KEY.Key_Return)
    assert photo.points[0][0] == pytest.approx(401, abs=3)
    photo.unmark()
    for x, y in ((0, 500), (400, 500), (40, 360), (400, 0), (760, 360)):
        photo.mark(x, y)
    assert bench.rim.said.text().startswith("180 mm; 50 % of the circle. Three points always fit")
    photo.mark(654.6, 105.4)
    assert bench.rim.said.text().startswith("180 mm, ±")
    bench.show_page(PHOTOS)
    (taken,) = photos_of(desk, ("piece", piece(desk).id))
    photo_path(desk, taken).unlink()
    bench.photos.off.click()
    settled(qtbot, program)
    assert photos_of(desk, ("piece", piece(desk).id)) == ()


def test_a_coin_becomes_an_object_and_a_sample_is_taken(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    bench.show_page(TAKEN)
    bench.object.form.show_values({"what": "coin", "material": "bronze"})
    bench.object.button.click()
    settled(qtbot, program)
    assert refusal(bench).startswith("Choose first whether it was counted as a sherd")
    ways: Any = bench.object.form.entries["leaves"].widget
    assert (ways.hasFocus(), ways.property("wrong"), table_of(desk, "131").ledger.not_a_sherd) == (True, True, 0)
    bench.object.form.show_values({"leaves": Leaves.NOT_A_SHERD})
    bench.object.button.click()
    settled(qtbot, program)
    assert object_of(desk, 1).from_container == "131"
    assert table_of(desk, "131").ledger.not_a_sherd == 1
    assert bench.object.new.text() == f"Object 1, coin: met in bucket 131, now bucket {object_of(desk, 1).container}"
    # A range refused marks the object's own field, and stays on its page; a key that takes back says how it is done.
    bench.object.form.show_values(
        {"what": "coin", "material": "bronze", "leaves": Leaves.NOT_COUNTED, "earliest": 348, "latest": 330}
    )
    bench.object.button.click()
    settled(qtbot, program)
    assert bench.shown_page() == TAKEN
    years: Any = (bench.object.form.entries["latest"].widget, bench.forms.pages[WHAT].entries["latest"].widget)
    assert [one.line.property("wrong") for one in years] == [True, None]
    bench.list.table.setFocus()
    QTest.keyClick(bench.list.table, KEY.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert refusal(bench).startswith("Nothing is taken back by a key here.")
    bench.object.form.clear()
    bench.object.known.click()
    settled(qtbot, program)
    assert refusal(bench).startswith("New objects are for the director")
    for said, field in (({"taken_tenths": 99999}, "taken_tenths"), ({"pieces_used": 7}, "pieces_used")):
        bench.samples.form.clear()
        bench.samples.form.show_values({"what_for": "residue"} | said)
        bench.samples.form.focus_field("permit")
        bench.samples.write()
        settled(qtbot, program)
        assert "No more can be taken of it." in refusal(bench)
        assert bench.samples.form.entries[field].widget.hasFocus(), "back to the figure that is too much"
    bench.samples.form.clear()
    bench.samples.form.show_values({"what_for": "residue", "taken_tenths": 5})
    bench.samples.button.click()
    settled(qtbot, program)
    assert sample_of(desk, 1).piece == "131.1"
    assert bench.samples.model.rowCount() == 1
    fits(qtbot, bench)
    for entry in bench.object.form.entries.values():
        assert entry.widget.height() >= entry.widget.sizeHint().height() - 2
    bench.samples.form.show_values({"laboratory": "of the first"})
    bench.object.form.show_values({"what": "bead", "earliest": 330})
    bench.joins.mending.setChecked(True)
    bench.joins.number.setText("7")
    bench.list.table.selectRow(1)
    settled(qtbot, program)
    assert bench.samples.form.peek()["laboratory"] == ""
    assert (bench.joins.mending.isChecked(), bench.joins.number.text()) == (False, "")
    assert bench.object.form.peek()["what"] == "bead"
    bench.list.table.selectRow(0)
    settled(qtbot, program)
    assert bench.samples.form.peek()["laboratory"] == "of the first"
    assert (bench.joins.mending.isChecked(), bench.joins.number.text()) == (True, "7")
    # What was met in one container is not registered in another: it is there again with the one it is of.
    scan(qtbot, program, "87")
    assert bench.object.card.heading.text() == "Met in bucket 87"
    assert (bench.object.form.peek()["what"], bench.object.form.peek()["earliest"]) == ("", None)
    assert bench.object.elsewhere.text().startswith("Not registered yet, typed at bucket 131: ")
    bench.open_piece(piece(desk).code)
    settled(qtbot, program)
    assert bench.object.card.heading.text() == "Met in bucket 131"
    assert (bench.object.form.peek()["what"], bench.object.form.peek()["earliest"]) == ("bead", 330)
    assert bench.object.elsewhere.isHidden()
    assert prove(desk).sound


def test_a_piece_is_laid_back(qtbot: Any, program: Program, desk: Desk, bench: PiecesBench) -> None:
    bench.back_button.click()
    settled(qtbot, program)
    assert listed(bench) == ["131.2", "131.3"]
    assert table_of(desk, "131").groups[0].pieces == 1


def test_a_container_without_pieces_says_what_will_stand_there(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    for one in pieces_of(desk, "87"):
        change_piece(desk, one.id, seen=one.version, decision=Decision.HOLD, reason="specialist")
    scan(qtbot, program, "87")
    for _one in range(2):
        bench.back_button.click()
        settled(qtbot, program)
    assert bench.list.empty.isVisible()
    assert not bench.write_button.isEnabled()
    assert bench.going_on() == "bucket 87, 0 pieces"


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("theme", ["shade", "sun"])
def test_every_page_can_be_read(qtbot: Any, program: Program, bench: PiecesBench, size: Any, theme: str) -> None:
    program.window.theme.use(theme)
    program.window.resize(*size) if isinstance(size, tuple) else program.window.resize(size)
    for key in PAGES:
        bench.show_page(key)
        settled(qtbot, program)
        fits(qtbot, bench)
    assert not nameless(bench)
    assert not too_small(bench)
