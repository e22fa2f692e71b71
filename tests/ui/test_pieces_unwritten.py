"""What is typed at a piece and not written yet: kept with it, said above it, written from every page."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from findsdesk.desk.desk import Desk
from findsdesk.desk.objects import Leaves, object_of
from findsdesk.desk.opening import open_store
from findsdesk.desk.pieces import lay_back, pieces_of
from findsdesk.ui.benches.pieces.kept_fields import KeptFields
from findsdesk.ui.benches.pieces.page import PiecesBench
from findsdesk.ui.benches.pieces.state import CLAY, JOINS, MEASURES, PHOTOS, TAKEN, WHAT
from findsdesk.ui.kept_file import file_beside
from findsdesk.ui.program import Program
from findsdesk.ui.widgets.form_entry import Unread
from tests.ui.at_the_pieces import bench, desk, fill, piece, program, refusal  # noqa: F401
from tests.ui.at_the_registers import press
from tests.ui.at_work import fits, go_to, opened, scan, settled

KEY = Qt.Key


def test_what_was_typed_and_not_written_is_there_again_when_the_piece_is_chosen_again(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    before = desk.head()
    bench.show_page(MEASURES)
    press(qtbot, program, KEY.Key_F6, "6", KEY.Key_Return, "abc")
    assert bench.head.unwritten.text() == "Not written yet: Chord 6 mm, arc height abc mm. Ctrl+Enter writes."
    bench.list.table.setFocus()
    press(qtbot, program, KEY.Key_Down)
    assert (bench.head.name.text(), bench.forms.peek()["chord_tenths_mm"]) == ("131.2", None)
    assert not bench.head.unwritten.isVisible()
    assert bench.going_on() == "bucket 131, 3 pieces · not written: 131.1"
    press(qtbot, program, KEY.Key_Up)
    assert bench.forms.peek()["chord_tenths_mm"] == 60
    height = bench.forms.pages[MEASURES].entries["sagitta_tenths_mm"]
    assert height.in_words() == "abc mm"
    assert desk.head() == before
    height.show(5)
    bench.write()
    settled(qtbot, program)
    assert (piece(desk).chord_tenths_mm, piece(desk).sagitta_tenths_mm) == (60, 5)
    assert not bench.head.unwritten.isVisible()
    assert bench.going_on() == "bucket 131, 3 pieces"


def test_what_was_typed_at_pieces_is_there_again_after_the_window_was_closed(qtbot: Any, desk: Desk) -> None:
    where = file_beside(desk, "pieces")
    with opened(qtbot, desk, station="two windows") as program:
        bench = go_to(qtbot, program, "pieces")
        scan(qtbot, program, "131")
        fill(bench, note="half a word", chord_tenths_mm=Unread("6o"), rim_permille=250)
        # A process that is ended closes nothing: it stands on disk before.
        qtbot.waitUntil(lambda: where.exists() and "half a word" in where.read_text(encoding="utf-8"))
        bench.list.table.selectRow(1)
        qtbot.waitUntil(lambda: bench.head.name.text() == "131.2")
        fill(bench, note="laid back meanwhile")
    gone = next(one for one in pieces_of(desk, "131") if one.name == "131.2")
    assert "laid back meanwhile" in where.read_text(encoding="utf-8")
    again = open_store(desk.store.path or "", by="Oren", station="trestle", clock=desk.clock)
    lay_back(again, gone.id, seen=gone.version)
    with opened(qtbot, again, station="two windows") as program:
        bench = go_to(qtbot, program, "pieces")
        scan(qtbot, program, "131")
        assert bench.going_on().endswith("not written: 131.1")
        assert bench.head.unwritten.text().startswith("Not written yet: Note half a word, Chord 6o mm, Of the rim 25")
        typed = bench.forms.as_typed()
        assert (typed["note"], typed["chord_tenths_mm"], typed["rim_permille"]) == ("half a word", Unread("6o"), 250)
        bench.forms.take({"chord_tenths_mm": 60})
        bench.write()
        settled(qtbot, program)
        assert (piece(again).note, piece(again).chord_tenths_mm) == ("half a word", 60)
    assert not where.exists()


def test_what_was_typed_of_objects_is_there_again_after_the_window_was_closed(qtbot: Any, desk: Desk) -> None:
    where = file_beside(desk, "objects")
    with opened(qtbot, desk, station="two windows") as program:
        bench = go_to(qtbot, program, "pieces")
        scan(qtbot, program, "131")
        bench.show_page(TAKEN)
        bench.object.form.focus_field("what")
        press(qtbot, program, "lamp", KEY.Key_Return, "clay")
        # A process that is ended closes nothing: it stands on disk before.
        qtbot.waitUntil(lambda: where.exists() and '"clay"' in where.read_text(encoding="utf-8"))
        bench.object.form.show_values({"leaves": Leaves.NOT_COUNTED, "tenths": Unread("4o")})
        scan(qtbot, program, "87")
        bench.object.form.show_values({"what": "bead"})
    again = open_store(desk.store.path or "", by="Oren", station="trestle", clock=desk.clock)
    with opened(qtbot, again, station="two windows") as program:
        bench = go_to(qtbot, program, "pieces")
        scan(qtbot, program, "131")
        typed = bench.object.form.as_typed()
        assert (typed["what"], typed["material"], typed["tenths"]) == ("lamp", "clay", Unread("4o"))
        assert bench.object.elsewhere.text().startswith("Not registered yet, typed at bucket 87: ")
        bench.object.form.show_values({"material": "ceramic", "tenths": 40})
        assert bench.object.form.peek()["leaves"] == Leaves.NOT_COUNTED
        bench.show_page(TAKEN)
        bench.object.write()
        settled(qtbot, program)
        assert (object_of(again, 1).what, object_of(again, 1).tenths) == ("lamp", 40)
        scan(qtbot, program, "87")
        assert bench.object.form.peek()["what"] == "bead"
        bench.object.form.clear()
    assert not where.exists()


def test_a_spoilt_file_of_pieces_is_put_aside(tmp_path: Path) -> None:
    file = tmp_path / "kept.json"
    file.write_text('{"pieces": {"x": {}}}', encoding="utf-8")
    assert KeptFields(file).read() == {}
    assert file.with_suffix(".unread").exists()


def test_another_piece_chosen_while_one_is_written_keeps_what_is_typed_there(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    fill(bench, note="first")
    bench.write()
    bench.list.table.selectRow(1)
    qtbot.waitUntil(lambda: bench.head.name.text() == "131.2")
    fill(bench, note="second")
    settled(qtbot, program)
    assert (piece(desk).note, piece(desk, "131.2").note) == ("first", "")
    assert (bench.head.name.text(), bench.forms.peek()["note"]) == ("131.2", "second")
    bench.list.table.selectRow(0)
    settled(qtbot, program)
    assert bench.forms.peek()["note"] == "first"


def test_control_enter_writes_from_the_points_too(qtbot: Any, program: Program, desk: Desk, bench: PiecesBench) -> None:
    bench.show_page(MEASURES)
    bench.rim.by_points.click()
    bench.rim.typed_points.setPlainText("90 0\n0 90\n-90 0\n63.64 63.64")
    bench.rim.take.click()
    assert "Rim diameter 180 mm" in bench.head.unwritten.text()
    bench.rim.typed_points.setFocus()
    QTest.keyClick(bench.rim.typed_points, KEY.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled(qtbot, program)
    assert piece(desk).rim_diameter_mm == 180
    for key, widget in ((JOINS, bench.joins.other), (WHAT, bench.list.table), (PHOTOS, bench.back_button)):
        bench.show_page(key)
        fill(bench, note=key)
        widget.setFocus()
        QTest.keyClick(widget, KEY.Key_Return, Qt.KeyboardModifier.ControlModifier)
        settled(qtbot, program)
        assert piece(desk).note == key


def test_a_refused_word_names_its_field_which_is_marked_until_it_is_changed(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    fill(bench, firing="XYZ")
    bench.write_button.click()
    settled(qtbot, program)
    said = refusal(bench)
    assert said.startswith("Firing: “XYZ” is not on the list, which begins oxidised, reduced, mixed. Choose one")
    line = bench.forms.pages[CLAY].entries["firing"].widget
    assert (bench.shown_page(), line.hasFocus(), line.property("wrong")) == (CLAY, True, True)
    press(qtbot, program, "q")
    assert not line.property("wrong")


def test_what_begins_a_word_of_a_list_is_written_out_and_commas_may_be_left_out(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    bench.show_page(CLAY)
    entries = bench.forms.pages[CLAY].entries
    firing: Any = entries["firing"].widget
    clay = entries["inclusions"].widget
    firing.setFocus()
    press(qtbot, program, "oxid, grey", KEY.Key_Tab)
    assert (firing.text(), bench.forms.peek()["firing"]) == ("oxidised, grey core", "oxidised, grey core")
    assert bench.head.unwritten.text() == "Not written yet: Firing oxidised, grey core. Ctrl+Enter writes."
    clay.setFocus()
    press(qtbot, program, "quartz common, fine; grog 10 %")
    QTest.keyClick(clay, KEY.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled(qtbot, program)
    assert refusal(bench) == ""
    said = piece(desk)
    assert (said.firing, said.inclusions) == ("oxidised grey_core", "quartz, common, fine; grog, 10 %")
    assert not bench.head.unwritten.isVisible()
    # Written from within the field: nobody has to leave it first.
    firing.setFocus()
    firing.selectAll()
    press(qtbot, program, "redu")
    QTest.keyClick(firing, KEY.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled(qtbot, program)
    assert (piece(desk).firing, firing.text(), bench.head.unwritten.isVisible()) == ("reduced", "reduced", False)


def test_what_is_wrong_with_a_number_stands_below_its_line_and_hides_no_field(
    qtbot: Any, program: Program, bench: PiecesBench
) -> None:
    bench.show_page(MEASURES)
    form = bench.forms.pages[MEASURES]
    height: Any = form.entries["sagitta_tenths_mm"].widget
    press(qtbot, program, KEY.Key_F6, "62", KEY.Key_Return, "abc", KEY.Key_Tab)
    assert height.said().isVisible()
    fits(qtbot, form)
    assert height.line.visibleRegion().boundingRect() == height.line.rect()
    height.line.setFocus()
    height.line.selectAll()
    press(qtbot, program, "5", KEY.Key_Tab)
    assert not height.said().isVisible()
    assert height.line.visibleRegion().boundingRect() == height.line.rect()


def test_what_is_wrong_with_a_colour_is_read_whole_in_a_window_of_any_width(
    qtbot: Any, program: Program, bench: PiecesBench
) -> None:
    bench.show_page(CLAY)
    settled(qtbot, program)
    press(qtbot, program, KEY.Key_F6, "red", KEY.Key_Return)
    field: Any = bench.forms.pages[CLAY].entries["colour_surface"].widget
    assert "no Munsell colour" in field.wrong.text()
    assert field.wrong.isVisible()
    for width in (910, 1100, 1366):
        program.window.resize(width, 600)
        for typed in ("5YR 6/4", "10R 5/99"):
            field.show_notation(typed)
            fits(qtbot, bench)


def test_the_keyboard_comes_back_to_where_the_next_step_is(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    fill(bench, note="one")
    bench.write_button.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert piece(desk).note == "one"
    assert bench.list.table.hasFocus()
    bench.show_page(TAKEN)
    bench.samples.form.show_values({"what_for": "lunch"})
    bench.samples.button.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert "lunch" in refusal(bench)
    assert bench.samples.form.isAncestorOf(QApplication.focusWidget())
    bench.back_button.setFocus()
    press(qtbot, program, KEY.Key_Space, KEY.Key_Return)
    assert bench.list.table.hasFocus()


def test_enter_says_that_it_is_so(qtbot: Any, program: Program, bench: PiecesBench) -> None:
    said = []
    bench.refusals.ask("Are the two one?", lambda: said.append("yes"))
    press(qtbot, program, KEY.Key_Return)
    assert said == ["yes"]


def test_what_waits_for_a_conservator_has_its_caution_beside_it(
    qtbot: Any, program: Program, bench: PiecesBench
) -> None:
    assert not bench.head.caution.isVisible()
    for need, head in (("desalting", "salt"), ("joining", "acetone"), ("", "")):
        fill(bench, conservation=need)
        bench.write()
        settled(qtbot, program)
        assert bench.head.caution.isVisible() is bool(need)
        assert head in bench.head.caution.text().text().lower()


def test_in_the_sun_every_page_has_its_tab_in_sight_on_a_laptop(
    qtbot: Any, program: Program, bench: PiecesBench
) -> None:
    program.window.theme.use("sun")
    last = bench.tabs.count() - 1
    qtbot.waitUntil(lambda: bench.tabs.tabRect(last).right() < bench.tabs.width())
