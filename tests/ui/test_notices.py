"""What goes wrong is told in words; what is our fault leaves a report that can be copied and found again."""

import sys
import threading

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialogButtonBox, QLineEdit

from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.ui.answers import Tone
from findsdesk.ui.notice import Notice
from findsdesk.ui.notices import Notices
from findsdesk.ui.sounds import Sounds
from findsdesk.words import Terms


class Told(Notices):
    """Notices whose dialogs are noted instead of shown."""

    def __init__(self, folder=None):
        super().__init__(Terms(container="bucket"), folder)
        self.told: list[tuple[str, str, str]] = []

    def tell(self, head, text="", report=""):
        self.told.append((head, text, report))


def test_a_refusal_and_a_fault_of_the_store_are_one_sentence(qapp):
    notices = Told()
    notices.failed(Refusal("unknown", "{Container} {number} is not known here.", number=9))
    notices.failed(StoreFault("disk_full", "The disk is full. Make room and do it again."))
    assert notices.told == [
        ("Bucket 9 is not known here.", "", ""),
        ("The disk is full. Make room and do it again.", "", ""),
    ]


def test_our_own_fault_leaves_a_report_in_the_folder(qapp, tmp_path):
    notices = Told(tmp_path / "reports")
    try:
        raise ZeroDivisionError("no sherds")
    except ZeroDivisionError as fault:
        notices.failed(fault)
    (kept,) = (tmp_path / "reports").iterdir()
    report = kept.read_text("utf-8")
    assert "ZeroDivisionError: no sherds" in report
    assert "FindsDesk" in report
    assert "Python" in report
    assert notices.told[0][2] == report


def test_a_second_fault_while_one_is_told_opens_no_second_dialog(qapp):
    class Stumbling(Told):
        def tell(self, head, text="", report=""):
            super().tell(head, text, report)
            self.failed(ValueError("again"))

    notices = Stumbling()
    notices.failed(ValueError("first"))
    assert len(notices.told) == 1


def test_faults_of_slots_and_threads_reach_the_notices(qapp, tmp_path, monkeypatch):
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    monkeypatch.setattr(threading, "excepthook", threading.excepthook)
    notices = Told(tmp_path)
    notices.catch_the_rest()
    fault = RuntimeError("in a slot")
    sys.excepthook(RuntimeError, fault, None)

    def stumble() -> None:
        raise LookupError("in a thread")

    thread = threading.Thread(target=stumble)
    thread.start()
    thread.join()
    assert "in a slot" in notices.told[0][2]
    kept = "".join(file.read_text("utf-8") for file in tmp_path.iterdir())
    assert "in a thread" in kept


def test_no_button_of_a_notice_is_pressed_by_enter_alone(qtbot):
    notice = Notice("Throw away 12 lines?", "They are in no other place.")
    qtbot.addWidget(notice)
    notice.add_button("Throw away", QDialogButtonBox.ButtonRole.AcceptRole)
    notice.add_button("Leave it", QDialogButtonBox.ButtonRole.RejectRole)
    assert not any(button.isDefault() or button.autoDefault() for button in notice.buttons.buttons())  # type: ignore[attr-defined]


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter])
def test_enter_presses_the_button_of_a_notice_that_has_the_keyboard(qtbot, key):
    notice = Notice("The disk is full.", "", "a report")
    qtbot.addWidget(notice)
    notice.add_no("Close")
    (close,) = notice.buttons.buttons()  # type: ignore[attr-defined]
    notice.show()
    close.setFocus()
    QTest.keyClick(close, key)
    assert not notice.isVisible()


def test_enter_answers_no_question_with_yes(qtbot):
    notice = Notice("Throw away 12 lines?", "They are in no other place.")
    qtbot.addWidget(notice)
    notice.add_yes("Throw away")
    (yes,) = notice.buttons.buttons()  # type: ignore[attr-defined]
    notice.show()
    yes.setFocus()
    QTest.keyClick(yes, Qt.Key.Key_Return)
    assert notice.isVisible()


@pytest.mark.parametrize("tone", [Tone.DONE, Tone.ALREADY, Tone.REFUSED])
def test_each_answer_has_its_own_sound_pattern(tone):
    import wave

    from findsdesk import places
    from findsdesk.ui.sounds import _FILES

    with wave.open(str(places.resource("sounds", _FILES[tone])), "rb") as sound:
        milliseconds = sound.getnframes() * 1000 / sound.getframerate()
        frames = sound.readframes(sound.getnframes())
    assert milliseconds < 700
    samples = [abs(int.from_bytes(frames[i : i + 2], "little", signed=True)) for i in range(0, len(frames), 2)]
    # Bursts: stretches of sound with at least 40 ms of silence between them.
    bursts, quiet = 0, 10_000
    for loud in samples:
        if loud > 300:
            bursts += quiet > 44_100 * 0.04
            quiet = 0
        else:
            quiet += 1
    assert bursts == {Tone.DONE: 1, Tone.ALREADY: 3, Tone.REFUSED: 2}[tone]


def test_without_sound_the_program_goes_on(qapp):
    assert Sounds(loud=False).play(Tone.DONE) is False
    assert Sounds().play(Tone.PLAIN) is False


def test_the_keyboard_is_back_at_once_when_a_file_dialog_was_left(qtbot, shown, monkeypatch, tmp_path):
    window, other = QLineEdit(), QLineEdit()
    notices = Notices()
    notices.parent = window
    shown(window)

    class LeftDialog:
        """A dialog that took the keyboard and was left by Escape, where nobody gives the keyboard back."""

        @staticmethod
        def getSaveFileName(*_asked):
            shown(other)
            return "", ""

    monkeypatch.setattr("findsdesk.ui.notices._file_dialog", lambda: LeftDialog)
    with qtbot.waitActive(window):
        assert notices.file_to_write("Keep the PDF as", tmp_path / "x.pdf", "PDF (*.pdf)") is None
    assert window.isActiveWindow()
