"""Boxes of choices: every choice of a short list in sight, no words cut, the wheel leaves value and keyboard alone."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QCompleter, QLineEdit, QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.choice_fields import ChoiceBox, DateField, TimeField
from findsdesk.ui.widgets.choice_typing import meant_by
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind

KEY = Qt.Key
PERIODS = (
    "–",
    "H1 Harbour I",
    "H2 Harbour II",
    "H2E Harbour II early",
    "H2L Harbour II late",
    "H3 Harbour III",
    "R Roman, late",
)


@pytest.mark.parametrize("look", ["shade", "sun"])
@pytest.mark.parametrize("words", [("Oren", "Tessa"), ("keep", "keep for mending", "discard", "hold", "ask")])
def test_a_short_list_shows_all_of_its_choices(
    qtbot: Any, theme: Theme, shown: Any, words: tuple[str, ...], look: str
) -> None:
    theme.use(look)
    box = ChoiceBox()
    box.addItems(words)
    box.setMaximumWidth(90)
    shown(box)
    box.showPopup()
    view = box.view()
    qtbot.waitUntil(view.isVisible)
    needed = sum(view.sizeHintForRow(row) for row in range(box.count()))
    assert view.viewport().height() >= needed
    assert view.viewport().width() >= view.sizeHintForColumn(0)
    assert view.sizeHintForRow(0) >= 24
    box.hidePopup()


def test_the_wheel_takes_no_keyboard_and_changes_no_choice(qtbot: Any, theme: Theme, shown: Any) -> None:
    page, other = QWidget(), QPushButton("other")
    fields = (ChoiceBox(), DateField(), TimeField())
    column = QVBoxLayout(page)
    for part in (other, *fields):
        column.addWidget(part)
    shown(page, other)
    for field in fields:
        assert field.focusPolicy() is Qt.FocusPolicy.StrongFocus


def test_names_that_are_offered_can_be_read(qtbot: Any, theme: Theme, shown: Any) -> None:
    line, offered = QLineEdit(), QCompleter(["rim.jpg", "ring.jpg"])
    line.setCompleter(offered)
    shown(line)
    line.setText("ri")
    offered.complete()
    popup = offered.popup()
    qtbot.waitUntil(popup.isVisible)
    picture = popup.grab().toImage()
    ground = picture.pixelColor(picture.width() - 4, picture.height() - 4)
    assert ground == theme.colour("card")
    assert popup.palette().color(QPalette.ColorRole.Text) == theme.colour("ink")
    popup.hide()


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("h2", "H2 Harbour II"),
        ("H2L", "H2L Harbour II late"),
        ("Harbour", "H1 Harbour I"),
        ("harbour ii", "H2 Harbour II"),
        ("Harbour II ", "H2 Harbour II"),
        ("harbour  iii", "H3 Harbour III"),
        ("Harbour II l", "H2L Harbour II late"),
        ("H2 Harb", "H2 Harbour II"),
        ("rom", "R Roman, late"),
        ("late", "H2L Harbour II late"),
        ("Harbur", None),
        ("arbour", None),
    ],
)
def test_codes_and_full_names_mean_their_choice_alike(typed: str, meant: str | None) -> None:
    place = meant_by(typed, PERIODS)
    assert (None if place is None else PERIODS[place]) == meant


def _periods(qtbot: Any, theme: Theme, shown: Any) -> tuple[FieldForm, Any, Any]:
    choices = tuple((words.partition(" ")[0], words) for words in PERIODS)
    form = FieldForm(
        theme, (Field("main", "Main period", FieldKind.CHOICE, 210, choices=choices), Field("line", "In a line"))
    )
    box, line = form.entries["main"].widget, form.entries["line"].widget
    shown(form, box)
    return form, box, line


def test_a_name_typed_in_a_closed_box_may_have_blanks_and_tab_goes_on(qtbot: Any, theme: Theme, shown: Any) -> None:
    form, box, line = _periods(qtbot, theme, shown)
    told: list[str] = []
    form.edited.connect(lambda: told.append(form.peek()["main"]))
    QTest.keyClicks(box, "Harbour II")
    assert (form.peek()["main"], told[-1]) == ("H2", "H2")
    assert not box.view().isVisible()
    QTest.keyClick(box, KEY.Key_Tab)
    assert line.hasFocus()
    # The other way round, and what was typed before is forgotten: a code after a name.
    QTest.keyClick(line, KEY.Key_Backtab)
    QTest.keyClicks(box, "h3")
    assert form.peek()["main"] == "H3"
    QTest.keyClick(box, KEY.Key_Return)
    assert line.hasFocus()


def test_what_means_no_choice_is_shown_as_wrong_and_chooses_none(qtbot: Any, theme: Theme, shown: Any) -> None:
    form, box, _line = _periods(qtbot, theme, shown)
    form.show_values({"main": "R"})
    QTest.keyClicks(box, "Harbur II")
    assert (box.unread(), box.property("wrong"), box.currentData()) == ("Harbur II", True, "R")
    assert not box.view().isVisible()
    said: Any = form.entries["main"].complaint()
    assert (said.isVisible(), said.text()) == (True, "“Harbur II” is none of the choices.")
    QTest.keyClick(box, KEY.Key_Tab)
    assert form.read() is None
    assert box.hasFocus()
    for _letter in "ur II":
        QTest.keyClick(box, KEY.Key_Backspace)
    QTest.keyClicks(box, "our I")
    assert (box.unread(), box.property("wrong"), form.read()) == ("", False, {"main": "H1", "line": ""})
    assert not said.isVisible()
    form.show_values({"main": "R"})
    QTest.keyClicks(box, "x")
    form.show_values({"main": "R"})
    assert (box.unread(), form.peek()["main"]) == ("", "R")


def test_one_letter_again_goes_on_to_the_next_that_begins_so(qtbot: Any, theme: Theme, shown: Any) -> None:
    form, box, _line = _periods(qtbot, theme, shown)
    for code in ("H1", "H2", "H2E"):
        QTest.keyClicks(box, "h")
        assert form.peek()["main"] == code


def test_a_name_typed_in_an_open_list_leads_to_it_and_tab_takes_it(qtbot: Any, theme: Theme, shown: Any) -> None:
    form, box, line = _periods(qtbot, theme, shown)
    QTest.keyClick(box, KEY.Key_Space)
    view = box.view()
    qtbot.waitUntil(view.isVisible)
    QTest.keyClicks(view, "harbour ii")
    assert view.currentIndex().data() == "H2 Harbour II"
    QTest.keyClick(view, KEY.Key_Tab)
    qtbot.waitUntil(lambda: not view.isVisible())
    assert form.peek()["main"] == "H2"
    qtbot.waitUntil(line.hasFocus)


def test_a_field_of_codes_takes_full_names_and_what_is_new(qtbot: Any, theme: Theme, shown: Any) -> None:
    form = FieldForm(theme, (Field("ware", "Ware", FieldKind.CHOICE_OR_NEW, 90), Field("note", "Note")))
    wares = (("QRS", "Quay Red Slip"), ("MBU", "Market Buff"))
    form.offer("ware", [("", "–"), *((code, code) for code, _name in wares)])
    form.also_call("ware", wares)
    line: Any = form.entries["ware"].line  # type: ignore[attr-defined]
    shown(form, line)
    for typed, value in (("quay red slip", "QRS"), ("mark", "MBU"), ("mbu", "MBU"), ("XYZ", "XYZ")):
        line.selectAll()
        QTest.keyClicks(line, typed)
        QTest.keyClick(line, KEY.Key_Return)
        assert (form.peek()["ware"], line.text()) == (value, value)
        line.setFocus()


def test_choices_offered_anew_while_somebody_types_take_nothing_away(qtbot: Any, theme: Theme, shown: Any) -> None:
    form, box, _line = _periods(qtbot, theme, shown)
    QTest.keyClicks(box, "Harbour ")
    form.offer("main", [(words.partition(" ")[0], words) for words in PERIODS])
    QTest.keyClicks(box, "II")
    assert form.peek()["main"] == "H2"
