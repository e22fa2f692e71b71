"""What is typed as fast as a scanner types stays where it was typed, unless it is a code; and nothing overtakes it.

A text expander, speech put into words, a path typed by a tool, or keys that waited in a stall come in a burst.
"""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QShortcut
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDateEdit, QFileDialog, QLineEdit, QMenu, QPlainTextEdit, QVBoxLayout, QWidget

from findsdesk.domain.codes import Kind, could_be_misread, make_code
from findsdesk.ui.scan_filter import FREE_TEXT, NUMBER
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from tests.ui.conftest import show

CODE = make_code("TQ", Kind.TAG, 131)


@pytest.fixture
def keyboard(keyboard):
    """Return the keyboard; its filter knows the codes of this excavation, whole or half read."""
    keyboard.filter._reads = lambda text: could_be_misread(text, "TQ")
    return keyboard


def test_fast_text_in_a_text_field_is_typing_unless_it_reads_as_a_code(qtbot, keyboard):
    """A text expander, or speech put into words, types as fast as a scanner."""
    page, words, number = QWidget(), QLineEdit(), QLineEdit()
    layout = QVBoxLayout(page)
    for field in (words, number):
        layout.addWidget(field)
    words.setProperty(FREE_TEXT, True)
    number.setProperty(NUMBER, True)
    entered: list[str] = []
    words.returnPressed.connect(lambda: entered.append(words.text()))
    show(qtbot, page, words)
    keyboard.scan("floor fill, second", gap=20)
    assert (words.text(), entered, keyboard.scanned) == ("floor fill, second", ["floor fill, second"], [])
    keyboard.scan(" of two", gap=20, end=None)
    assert words.text() == "floor fill, second of two"
    keyboard.scan(CODE)
    assert (words.text(), keyboard.scanned) == ("floor fill, second of two", [CODE])
    number.setFocus()
    for crate in ("5901234123457", "CRATE-0417"):
        keyboard.scan(crate)
        assert (number.text(), keyboard.scanned[-1]) == ("", crate), "a barcode of a crate stays out of a number"


def test_a_word_typed_at_the_speed_of_a_scan_stays_in_its_cell(qtbot, keyboard):
    """A newcomer's "handle" opened the search and emptied three rows."""
    cell = QLineEdit()
    show(qtbot, cell, cell)
    keyboard.scan("handle", gap=20, end=None)
    assert (cell.text(), keyboard.scanned) == ("handle", [])
    keyboard.scan("TQY00131", gap=8)
    assert (cell.text(), keyboard.scanned) == ("handle", ["TQY00131"]), "a code half read is told so, not written"
    keyboard.scan("5901234123457", gap=8)
    assert (cell.text(), keyboard.scanned[-1]) == ("handle", "5901234123457"), "nor a barcode of a crate"


def test_what_is_typed_fast_stays_in_the_field_it_began_in_and_enter_does_what_it_does_there(qtbot, keyboard):
    page, line, lines, day = QWidget(), QLineEdit(), QPlainTextEdit(), QDateEdit()
    layout = QVBoxLayout(page)
    for field in (line, lines, day):
        layout.addWidget(field)
    day.setDisplayFormat("yyyy-MM-dd")
    entered: list[str] = []
    line.returnPressed.connect(lambda: entered.append(line.text()))
    show(qtbot, page, line)
    keyboard.scan("find 2026 list")
    assert entered == ["find 2026 list"]
    lines.setFocus()
    keyboard.scan("floor 14, 2nd")
    keyboard.scan("20261130", end=None)
    assert lines.toPlainText() == "floor 14, 2nd\n20261130"
    day.setFocus()
    day.setSelectedSection(QDateEdit.Section.YearSection)
    keyboard.scan("2025-07-14", end=None)
    assert day.date().year() == 2025
    assert keyboard.scanned == []
    line.setFocus()
    keyboard.scan(CODE)
    line.setReadOnly(True)
    keyboard.scan("find 2026 list")
    assert keyboard.scanned == [CODE, "find 2026 list"], "a field that takes nothing keeps nothing"


@pytest.mark.parametrize("open_list", [False, True])
def test_a_choice_typed_fast_is_chosen_also_in_its_open_list(qtbot, keyboard, open_list):
    choices = ChoiceBox()
    choices.addItems(["Trench 11", "Trench 12", "handle"])
    show(qtbot, choices, choices)
    for word in ("handle", "Trench 12"):
        if open_list:
            choices.showPopup()
            qtbot.waitUntil(choices.view().isVisible)
        keyboard.scan(word, gap=8)
        assert (choices.currentText(), keyboard.scanned) == (word, [])
        choices.forget_typing()


def test_a_path_typed_fast_into_a_file_dialog_is_chosen_whole(qtbot, keyboard, tmp_path):
    (tmp_path / "lists 2026").mkdir()
    wanted = tmp_path / "lists 2026" / "list14.csv"
    wanted.write_text("")
    dialog = QFileDialog(None, "Field lists", str(tmp_path))
    dialog.setOption(QFileDialog.Option.DontUseNativeDialog)
    qtbot.addWidget(dialog)
    dialog.open()
    qtbot.waitUntil(dialog.isActiveWindow)
    keyboard.scan(CODE)
    assert dialog.isVisible(), "a scan chooses no file"
    assert len(keyboard.blocked) == 1
    keyboard.scan(str(wanted))
    assert not dialog.isVisible()
    assert dialog.selectedFiles() == [str(wanted)]
    assert (keyboard.scanned, len(keyboard.blocked)) == ([], 1)


def test_a_scan_closes_a_menu_that_stands_open(qtbot, keyboard, shown):
    field, menu, chosen = QLineEdit(), QMenu(), []
    menu.addAction("Tanner", lambda: chosen.append("Tanner"))
    qtbot.addWidget(menu)
    shown(field)
    menu.popup(field.mapToGlobal(field.rect().center()))
    keyboard.scan(CODE)
    assert (keyboard.scanned, chosen, menu.isVisible()) == ([CODE], [], False)


def test_a_shortcut_comes_after_what_was_typed_before_it(keyboard, shown):
    """Also where all comes at once, after a stall: F8 opened its line before the count was in the row."""
    page, fired = QWidget(), []
    field = QLineEdit(page)
    for keys in ("F8", "Ctrl+Return"):
        QShortcut(keys, page).activated.connect(lambda keys=keys: fired.append((keys, field.text())))
    shown(page, field)
    keyboard.press("7", 500)
    keyboard.press(Qt.Key.Key_F8, 5)
    keyboard.press("8", 500)
    keyboard.wait(5)
    window = QGuiApplication.focusWindow()
    assert window is not None
    QTest.keyClick(window, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    keyboard.wait(400)
    assert fired == [("F8", "7"), ("Ctrl+Return", "78")]
