"""A scan never hits a widget, and typing is never eaten.

The limits (30 ms on average, 6 characters, 100 ms of silence) are the common defaults of scan detection in web
libraries; the traps (Y answers a message box, Enter accepts a dialog, a combo box and a table cell change) were
measured with the toolkit's own widgets. Gaps of 8 ms: what one published measurement of a keyboard scanner found.
"""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QShortcut
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QLineEdit,
    QMessageBox,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from findsdesk.ui.notice import Notice
from findsdesk.ui.notices import Notices
from findsdesk.ui.scan_timing import ScannerProfile, bluetooth, usb

CODE = "TQY000131K"


def test_a_scan_does_not_answer_a_message_box(qtbot, keyboard):
    box = QMessageBox(QMessageBox.Icon.Question, "Sure?", "Sure?")
    box.setStandardButtons(QMessageBox.StandardButton.Yes | QMessageBox.StandardButton.No)
    box.setDefaultButton(QMessageBox.StandardButton.No)
    qtbot.addWidget(box)
    box.open()
    qtbot.waitUntil(box.isActiveWindow)
    answers: list[int] = []
    box.finished.connect(answers.append)

    keyboard.scan(CODE)

    assert not any(button.isDown() for button in box.buttons())
    assert box.isVisible()
    assert keyboard.blocked == [CODE]
    assert keyboard.scanned == []
    keyboard.type("y")
    assert box.button(QMessageBox.StandardButton.Yes).isDown(), "a typed Y still presses Yes"
    qtbot.waitUntil(lambda: answers == [QMessageBox.StandardButton.Yes])


def test_a_scan_does_not_accept_a_dialog_with_a_default_button(qtbot, keyboard):
    dialog = QDialog()
    buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel, dialog)
    buttons.accepted.connect(dialog.accept)
    buttons.button(QDialogButtonBox.StandardButton.Ok).setDefault(True)
    qtbot.addWidget(dialog)
    dialog.open()
    qtbot.waitUntil(dialog.isActiveWindow)

    keyboard.scan(CODE)
    assert dialog.isVisible()
    assert keyboard.blocked == [CODE]

    keyboard.press(Qt.Key.Key_Return, 500)
    assert not dialog.isVisible(), "a pressed Enter still accepts"


def test_a_notice_says_that_a_scan_came(qtbot, keyboard):
    notice = Notice("The disk is full.", "Make room.")
    notice.add_button("Close", QDialogButtonBox.ButtonRole.RejectRole)
    qtbot.addWidget(notice)
    keyboard.filter.blocked.connect(lambda _code: Notices().scan_during_dialog(notice))
    notice.open()
    qtbot.waitUntil(notice.isActiveWindow)

    keyboard.scan(CODE)

    assert notice.isVisible()
    assert notice.scan_note().isVisible()
    assert "Close this message first" in notice.scan_note().text()


def test_a_code_scanned_into_a_dialog_may_be_scanned_again_at_once(qtbot, keyboard, shown):
    field = QLineEdit()
    shown(field)
    box = QMessageBox()
    qtbot.addWidget(box)
    box.open()
    qtbot.waitUntil(box.isActiveWindow)
    keyboard.scan(CODE)
    box.close()
    with qtbot.waitActive(field):
        field.activateWindow()
    keyboard.scan(CODE)
    assert keyboard.scanned == [CODE]
    assert keyboard.again == []


def test_a_dialog_that_a_typed_key_opened_is_guarded_while_that_key_is_still_at_work(qtbot, keyboard, shown):
    button = QPushButton("Ask")
    box = QMessageBox()
    box.setStandardButtons(QMessageBox.StandardButton.Yes | QMessageBox.StandardButton.No)
    qtbot.addWidget(box)

    def ask() -> None:
        box.open()
        qtbot.waitUntil(box.isActiveWindow)
        keyboard.scan(CODE)

    button.pressed.connect(ask)
    shown(button)
    keyboard.press(Qt.Key.Key_Space, 500)
    keyboard.wait(50)
    assert keyboard.blocked == [CODE]
    assert box.isVisible()
    assert not any(answer.isDown() for answer in box.buttons())


def test_a_scan_leaves_a_combo_box_alone(keyboard, shown):
    combo = QComboBox()
    combo.addItems(["bowl", "Tile", "cup", "Quern"])
    shown(combo)
    keyboard.scan(CODE)
    assert combo.currentText() == "bowl"
    assert keyboard.scanned == [CODE]
    keyboard.type("c")
    assert combo.currentText() == "cup", "a typed letter still chooses"


def test_a_scan_leaves_a_table_cell_alone(keyboard, shown):
    table = QTableWidget(1, 1)
    table.setItem(0, 0, QTableWidgetItem("11"))
    table.setCurrentCell(0, 0)
    shown(table)
    keyboard.scan(CODE)
    cell = table.item(0, 0)
    assert cell is not None
    assert cell.text() == "11"
    assert table.state() != QTableWidget.State.EditingState
    assert keyboard.scanned == [CODE]


def test_a_scan_presses_no_button(keyboard, shown):
    button = QPushButton("Write")
    pressed = []
    button.clicked.connect(lambda: pressed.append(1))
    shown(button)
    keyboard.scan("TQ 000131K")
    assert pressed == []
    keyboard.press(Qt.Key.Key_Space, 300)
    keyboard.wait(50)
    assert pressed == [1], "a pressed Space still presses"


def test_a_scan_leaves_a_field_alone_and_typing_goes_in(keyboard, shown):
    field = QLineEdit("88")
    shown(field)
    keyboard.scan(CODE)
    assert field.text() == "88"
    keyboard.type("132")
    assert field.text() == "88132"
    assert keyboard.scanned == [CODE]


def test_a_scan_sets_off_no_shortcut(keyboard, shown):
    page = QWidget()
    fired = []
    for keys in ("Return", "K", "Tab"):
        QShortcut(keys, page).activated.connect(lambda keys=keys: fired.append(keys))
    shown(page)
    keyboard.scan(CODE)
    assert fired == []
    assert keyboard.scanned == [CODE]


def test_fast_typing_is_not_taken_for_a_scan(keyboard, shown):
    field = QLineEdit()
    shown(field)
    keyboard.type("Quern and tile from 2017", gap=45)
    assert field.text() == "Quern and tile from 2017"
    assert keyboard.scanned == []


@pytest.mark.parametrize("gaps", [(20, 70), (12, 12, 90), (30, 31, 29, 60), (8, 8, 8, 8, 150)])
def test_rolled_keys_come_back_in_order(keyboard, shown, gaps):
    field = QLineEdit()
    shown(field)
    text = "washed in tub"[: len(gaps) * 2]
    for place, character in enumerate(text):
        keyboard.press(character, gaps[place % len(gaps)])
    keyboard.wait(400)
    assert field.text() == text
    assert keyboard.scanned == []


def test_a_count_typed_fast_with_enter_reaches_the_field(keyboard, shown):
    field = QLineEdit()
    entered = []
    field.returnPressed.connect(lambda: entered.append(field.text()))
    shown(field)
    keyboard.type("132", gap=10, end=Qt.Key.Key_Enter)
    assert entered == ["132"]


def test_the_first_key_is_held_no_longer_than_35_ms(keyboard, shown):
    field = QLineEdit()
    shown(field)
    keyboard.press("7", 500)
    assert field.text() == ""
    keyboard.wait(34)
    assert field.text() == ""
    keyboard.wait(2)
    assert field.text() == "7"


def test_a_key_no_scanner_sends_goes_through_after_what_was_held(keyboard, shown):
    field = QLineEdit()
    shown(field)
    keyboard.press("7", 500)
    keyboard.press("8", 5)
    keyboard.press(Qt.Key.Key_Backspace, 5)
    assert field.text() == "7"


def test_a_count_typed_fast_before_a_click_goes_where_it_was_typed_and_a_scan_before_it_is_one(keyboard, shown):
    """Under load, or by a quick hand, the press of the mouse comes while the keys before it are still held."""
    both = QWidget()
    first, second = QLineEdit(), QLineEdit()
    layout = QVBoxLayout(both)
    layout.addWidget(first)
    layout.addWidget(second)
    shown(both, first)
    window = both.windowHandle()
    keyboard.press("4", 400)
    keyboard.press("0", 12)
    QTest.mouseClick(window, Qt.MouseButton.LeftButton, pos=second.mapTo(both, second.rect().center()))
    keyboard.wait(400)
    assert (first.text(), second.text(), second.hasFocus()) == ("40", "", True)
    for character in CODE:
        keyboard.press(character, 8)
    QTest.mouseClick(window, Qt.MouseButton.LeftButton, pos=first.mapTo(both, first.rect().center()))
    keyboard.wait(400)
    assert (first.text(), second.text(), keyboard.scanned) == ("40", "", [CODE])


def test_a_scan_without_end_key_ends_by_silence(keyboard, shown):
    shown(QLineEdit())
    keyboard.scan(CODE, end=None)
    assert keyboard.scanned == [CODE]


def test_tab_ends_a_scan_and_does_not_move_the_focus(keyboard, shown):
    page = QWidget()
    layout = QVBoxLayout(page)
    first, second = QLineEdit(), QLineEdit()
    layout.addWidget(first)
    layout.addWidget(second)
    shown(page, first)
    keyboard.scan(CODE, end=Qt.Key.Key_Tab)
    assert keyboard.scanned == [CODE]
    assert first.hasFocus()
    keyboard.press(Qt.Key.Key_Tab, 500)
    assert second.hasFocus()


def test_a_key_that_repeats_without_end_after_a_scan_reaches_nothing(keyboard, shown):
    # A radio scanner may lose the release of its last key.
    field = QLineEdit()
    entered = []
    field.returnPressed.connect(lambda: entered.append(1))
    shown(field)
    keyboard.scan(CODE, released=False)
    keyboard.repeat(Qt.Key.Key_Return, "\r", 20)
    assert entered == []
    keyboard.press(Qt.Key.Key_Return, 500)
    assert entered == [1]


def test_a_held_key_repeats_into_the_field(keyboard, shown):
    field = QLineEdit()
    shown(field)
    keyboard.press("5", 500)
    keyboard.wait(500)
    keyboard.repeat(Qt.Key.Key_5, "5", 8)
    assert field.text() == "5" * 9
    assert keyboard.scanned == []


def test_a_doubled_character_is_kept_although_the_window_system_calls_it_a_repetition(keyboard, shown):
    # Seen with real keys while the window was busy: release and press of "4" bear the same millisecond.
    field = QLineEdit()
    shown(field)
    keyboard.wait(400)
    for character in "TQT00144":
        keyboard.press(character, 2)
    keyboard.press_again(Qt.Key.Key_4, "4", 2)
    keyboard.press("9", 2)
    keyboard.press(Qt.Key.Key_Return, 2)
    keyboard.wait(400)
    assert keyboard.scanned == ["TQT0014449"]
    assert field.text() == ""


def test_a_doubled_digit_typed_in_a_moment_reaches_the_field(keyboard, shown):
    field = QLineEdit()
    shown(field)
    keyboard.press("1", 500)
    keyboard.press_again(Qt.Key.Key_1, "1", 5)
    keyboard.wait(400)
    assert field.text() == "11"
    assert keyboard.scanned == []


def test_five_fast_characters_are_no_scan(keyboard, shown):
    field = QLineEdit()
    shown(field)
    keyboard.scan("20174")
    assert field.text() == "20174"
    assert keyboard.scanned == []


def test_the_same_code_within_two_seconds_is_said_to_be_scanned_already(keyboard, shown):
    shown(QLineEdit())
    keyboard.scan(CODE)
    keyboard.scan(CODE)
    assert keyboard.scanned == [CODE]
    assert keyboard.again == [CODE]
    keyboard.wait(2500)
    keyboard.scan(CODE)
    assert keyboard.scanned == [CODE, CODE]


def test_a_prefix_makes_a_short_code_a_scan(keyboard, shown):
    field = QLineEdit()
    shown(field)
    keyboard.expect(usb("~"))
    keyboard.scan("~131")
    assert keyboard.scanned == ["131"], "the prefix is taken off"
    assert field.text() == ""
    keyboard.type("~131", gap=120)
    assert field.text() == "~131", "somebody types the prefix"


def test_a_slow_scanner_is_known_by_its_prefix(keyboard, shown):
    field = QLineEdit()
    shown(field)
    keyboard.expect(bluetooth("~"))
    keyboard.scan(f"~{CODE}", gap=100)
    assert keyboard.scanned == [CODE]
    keyboard.type("Quern", gap=100)
    assert field.text() == "Quern"


def test_a_slow_scanner_without_prefix_is_not_offered():
    with pytest.raises(ValueError, match="prefix"):
        ScannerProfile(average=120, longest_gap=250)
