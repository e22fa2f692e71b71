"""The one number field, in the locales in which toolkit spin boxes go wrong.

Measured with the toolkit: 1.5 became 15 in the German locale, 1,5 became 15 in the English, 1.234 became 1234.
"""

import pytest
from PySide6.QtCore import QLocale, QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget

from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.number_field import NumberField, grams, metres, pieces, shown_number
from findsdesk.words import Terms

LOCALES = ("en_GB", "de_DE", "fr_FR", "el_GR", "tr_TR", "ar_EG", "it_IT", "he_IL")


@pytest.mark.parametrize("locale", LOCALES)
@pytest.mark.parametrize(("typed", "tenths"), [("1.5", 15), ("1,5", 15), ("340", 3400), ("٣٫٥", 35), ("0,1", 1)])
def test_grams_are_the_same_in_every_locale(theme, qtbot, locale, typed, tenths):
    QLocale.setDefault(QLocale(locale))
    try:
        field = NumberField(grams(), "Weight")
        qtbot.addWidget(field)
        field.line.setText(typed)
        assert field.value() == tenths
        field.set_value(tenths)
        assert field.value() == tenths, f"{field.line.text()!r} is read back as it was written"
    finally:
        QLocale.setDefault(QLocale("en_GB"))


@pytest.mark.parametrize("typed", ["1.234,5", "1 234", "1'234", "1.234"])
def test_grouped_thousands_are_refused_beside_the_field_and_stay_typed(theme, shown, typed):
    page = QWidget()
    layout = QVBoxLayout(page)
    field, other = NumberField(grams(), "Weight"), QLineEdit()
    layout.addWidget(field)
    layout.addWidget(other)
    shown(page, field.line)
    QTest.keyClicks(field.line, typed)
    assert field.wrong() == "", "nobody is told off while typing"
    other.setFocus()
    assert field.wrong() != ""
    assert field.line.text() == typed
    field.setFocus()
    field.line.selectAll()
    QTest.keyClicks(field.line, "12.5")
    assert field.wrong() == "", "the mark goes as soon as it becomes right"


def test_enter_gives_the_value_with_either_enter_key(theme, shown):
    field = NumberField(pieces("sherds"), "Count")
    given: list[int | None] = []
    field.entered.connect(given.append)
    shown(field, field.line)
    QTest.keyClicks(field.line, "132")
    QTest.keyClick(field.line, Qt.Key.Key_Enter)
    QTest.keyClick(field.line, Qt.Key.Key_Return)
    assert given == [132, 132]


@pytest.mark.parametrize("typed", ["-3", "2.5", "100001", "TQB000131K"])
def test_what_cannot_be_a_count_is_not_given(theme, shown, typed):
    field = NumberField(pieces(), "Count", Terms(container="bucket"))
    given: list[int] = []
    field.entered.connect(given.append)
    shown(field, field.line)
    QTest.keyClicks(field.line, typed)
    QTest.keyClick(field.line, Qt.Key.Key_Return)
    assert given == []
    assert field.wrong() != ""
    assert field.line.text() == typed


def test_an_empty_field_is_none(theme, shown):
    field = NumberField(metres(), "Elevation")
    given: list[int | None] = []
    field.entered.connect(given.append)
    shown(field, field.line)
    QTest.keyClick(field.line, Qt.Key.Key_Return)
    assert given == [None]


def wheel_over(widget: QWidget) -> QWheelEvent:
    event = QWheelEvent(
        QPointF(5, 5),
        QPointF(widget.mapToGlobal(QPoint(5, 5))),
        QPoint(),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(widget, event)
    return event


def test_the_wheel_changes_neither_numbers_nor_choices(theme, shown):
    page = QWidget()
    layout = QVBoxLayout(page)
    field, choice = NumberField(pieces(), "Count"), ChoiceBox()
    choice.addItems(["bowl", "cup"])
    field.set_value(5)
    layout.addWidget(field)
    layout.addWidget(choice)
    shown(page, field.line)
    for widget in (field.line, choice):
        assert not wheel_over(widget).isAccepted(), "left to the page"
    choice.setFocus()
    wheel_over(choice)
    assert (field.value(), choice.currentText()) == (5, "bowl")


def test_numbers_are_shown_with_the_decimal_sign_of_the_locale():
    assert shown_number(885, grams(), QLocale("en_GB")) == "88.5"
    assert shown_number(885, grams(), QLocale("de_DE")) == "88,5"
    assert shown_number(-12345, metres(), QLocale("en_GB")) == "-12.345"
    assert shown_number(3400, grams(), QLocale("en_GB")) == "340.0"
    assert shown_number(2000, pieces(), QLocale("de_DE")) == "2000"
