"""The frame: a scan from any bench, news, navigation, folding, keys; and that no word is cut at any size and zoom."""

from typing import Any

import pytest
from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QImage, QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog, QPushButton, QWidget

from findsdesk.domain.refusals import Question, Refusal
from findsdesk.ui.answers import Answer, Found, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.screens import picture, render
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.dossier_facts import Caution, DossierFacts, LifeStep, When
from findsdesk.ui.widgets.foot_facts import FootFacts
from findsdesk.ui.window import Window
from findsdesk.ui.window_reads import WindowReads
from tests.ui.looking import SIZES, cut_words, nameless, reachable_by_tab, too_small

DOSSIER = DossierFacts(
    "Bucket 131",
    "context 2017",
    "Square B2, 14 July, pottery, by Bryn Hallo",
    life=(LifeStep("Checked in", " 14:40 by Tessa"), LifeStep("In hand:", " count it", When.NOW)),
    cautions=(Caution("Soft brush, edges too.", "Stop and ask if a surface comes off under a wet finger."),),
)


LOOKED_UP: list[str] = []


class Yard(Bench):
    key = "wash"
    kinds = frozenset({"container"})

    def __init__(self, surroundings: Any) -> None:
        super().__init__(surroundings)
        self.refreshed = 0
        self.button = act_button("Write 132")
        self.body.addWidget(labels.plain("Tubs"))
        self.body.addWidget(self.button)
        self.body.addStretch(1)

    def title(self) -> str:
        return "Wash yard"

    def what_waits(self) -> str:
        return "14 soaking, 2 too long"

    def refresh(self) -> None:
        self.refreshed += 1


class Labels(Yard):
    key = "labels"
    kinds = frozenset({"bag"})

    def title(self) -> str:
        return "Marks & labels"

    def what_waits(self) -> str:
        return "52 bags, 61 marks"


@pytest.fixture
def window(around, qtbot):
    def find(text: str) -> Found:
        LOOKED_UP.append(text)
        if text != "131":
            raise Refusal("unknown_code", "{Container} {number} is not known here.", number=text)
        return Found("thing 131", Answer(Tone.DONE, "Bucket 131", ", context 2017: count it"), DOSSIER)

    LOOKED_UP.clear()
    reads = WindowReads(
        find=find,
        thing=lambda kind, number: find(str(number)),
        foot=lambda: FootFacts(
            "Tessa Quill, wash lead", "awning laptop", "Written 08:12:03", "Backup 14 min old", "All tags but 1"
        ),
    )
    made = Window(around, [Yard(around), Labels(around)], reads, ("Tannery Quay", "VE-26-014 · season 2026"))
    qtbot.addWidget(made)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    qtbot.waitUntil(around.lanes.idle)
    return made


def settle(qtbot, window):
    qtbot.waitUntil(window.surroundings.lanes.idle)


def test_a_typed_number_is_found_and_shown_everywhere(window, qtbot):
    QTest.keyClicks(window.scan_line.field, "131")
    QTest.keyClick(window.scan_line.field, Qt.Key.Key_Return)
    settle(qtbot, window)
    assert window.scan_line.answer.in_one_line() == "Bucket 131, context 2017: count it"
    assert window.scan_line.field.text() == ""
    assert window.dossier.facts is DOSSIER
    assert [bench.in_hand for bench in window.benches.values()] == ["thing 131", None]
    window.open_bench("labels")
    assert window.benches["labels"].in_hand == "thing 131", "a bench out of sight hears when it is opened"


def test_a_scan_from_any_bench_is_found(window, qtbot, keyboard):
    keyboard.filter.scanned.connect(window.on_scan)
    keyboard.filter.again.connect(window.on_scan_again)
    for key in ("wash", "labels"):
        window.open_bench(key)
        keyboard.scan(f"TQB00{key[0].upper()}131")
        settle(qtbot, window)
    assert LOOKED_UP == ["TQB00W131", "TQB00L131"]
    keyboard.scan("TQB00L131")
    assert LOOKED_UP == ["TQB00W131", "TQB00L131"]
    assert window.scan_line.answer.tone is Tone.ALREADY


def test_an_unknown_code_is_refused_in_words_and_what_was_in_hand_stays(window, qtbot):
    window.on_scan("131")
    window.on_scan("999")
    settle(qtbot, window)
    assert window.scan_line.answer == Answer(Tone.REFUSED, "Bucket 999 is not known here.")
    assert window.dossier.facts is DOSSIER


def test_an_old_message_goes_with_the_next_act_and_with_the_dialog_it_speaks_of(window, qtbot):
    said, around = window.scan_line, window.surroundings
    window.on_scan("131")
    settle(qtbot, window)
    around.written.emit()
    assert said.answer.in_one_line() == "Bucket 131, context 2017: count it", "what is in hand stays"
    around.say(Answer(Tone.DONE, "Written: 86.2"))
    around.written.emit()
    assert said.answer.in_one_line() == ""
    around.say(Answer(Tone.REFUSED, "A row of bucket 85 waits."))
    around.written.emit()
    assert said.answer.in_one_line() == "A row of bucket 85 waits.", "it is of what lies elsewhere"
    for answered in (False, True):
        dialog = QDialog(window)
        dialog.open()
        window.on_scan_blocked("TQB00W131")
        assert said.answer.head == "Scan received."
        dialog.accept() if answered else dialog.close()
        assert said.answer.in_one_line() == ""
        dialog.deleteLater()


def test_the_scan_line_flashes_and_stops_by_itself(window, qtbot):
    window.on_scan("131")
    settle(qtbot, window)
    ground = window.theme.colour("card")

    def corner():
        return picture(window.scan_line, (800, 64), window.theme).pixelColor(3, 3)

    assert corner() != ground
    qtbot.waitUntil(lambda: corner() == ground)


def test_rail_and_foot_are_read_away_from_the_window(window):
    tags = window.rail._tags
    assert tags["wash"].waits == "14 soaking, 2 too long"
    assert tags["wash"].isChecked()
    assert tags["labels"].accessibleName() == "Marks & labels: 52 bags, 61 marks"


def test_news_refreshes_the_bench_concerned_or_marks_it_stale(window, qtbot):
    yard, sheet = window.benches["wash"], window.benches["labels"]
    before = yard.refreshed
    window.surroundings.changes.add([("container", 131)])
    window.surroundings.changes.tell_now()
    assert (yard.refreshed, sheet.refreshed) == (before + 1, 0)
    window.surroundings.changes.add([("bag", 7)])
    window.surroundings.changes.tell_now()
    assert (yard.refreshed, sheet.refreshed) == (before + 1, 0), "a bench out of sight waits until it is shown"
    window.rail.chosen.emit("labels")
    assert sheet.refreshed == 1
    window.open_bench("wash")
    window.open_bench("labels")
    assert sheet.refreshed == 1, "and is not read again while nothing changed"
    settle(qtbot, window)


def test_a_refusal_stands_on_the_bench_and_the_button_comes_back(window, qtbot):
    yard = window.benches["wash"]

    def refuse() -> None:
        raise Refusal("never_soaked", "Bone is never soaked. Take {container} {number} to the bone crate.", number=12)

    yard.deed(refuse, button=yard.button)
    assert not yard.button.isEnabled()
    settle(qtbot, window)
    assert yard.button.isEnabled()
    assert yard.refusals.isVisible()
    assert yard.refusals.accessibleName() == "Bone is never soaked. Take bucket 12 to the bone crate."
    yard.deed(lambda: None)
    assert not yard.refusals.isVisible()
    settle(qtbot, window)


def test_a_question_is_answered_on_the_slip_and_done(window, qtbot):
    yard = window.benches["wash"]
    done: list[str] = []

    def ask() -> str:
        raise Question("two_tubs", "Is {container} {number} in two tubs?", number=130)

    yard.deed(ask, sure=lambda: "done", then=done.append)
    settle(qtbot, window)
    (sure,) = [b for b in yard.refusals.findChildren(QPushButton) if b.text() == "It is so, go on"]
    sure.click()
    settle(qtbot, window)
    assert done == ["done"]
    assert not yard.refusals.isVisible()


def test_enter_presses_the_button_that_has_the_keyboard_once_on_a_bench_and_on_a_page_that_is_none(window, qtbot):
    pressed: list[str] = []
    yard, page = window.benches["wash"], QWidget()
    other = QPushButton("Open for reading only", page)
    yard.button.clicked.connect(lambda: pressed.append("bench"))
    other.clicked.connect(lambda: pressed.append("page"))
    for name, button in (("bench", yard.button), ("page", other)):
        if name == "page":
            window.show_page(page)
        button.setFocus()
        for key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            QTest.keyClick(button, key)
        held = QKeyEvent(QKeyEvent.Type.KeyPress, Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier, "\r", True)
        QCoreApplication.sendEvent(button, held)
    assert pressed == ["bench", "bench", "page", "page"]


def test_the_enter_of_a_scan_presses_no_button(window, qtbot, keyboard):
    pressed: list[str] = []
    yard = window.benches["wash"]
    yard.button.clicked.connect(lambda: pressed.append("pressed"))
    keyboard.filter.scanned.connect(window.on_scan)
    yard.button.setFocus()
    keyboard.scan("TQB00W131")
    settle(qtbot, window)
    assert (LOOKED_UP, pressed) == (["TQB00W131"], [])


def test_keys_lead_to_benches_scan_line_size_and_sun(window, qtbot):
    control = Qt.KeyboardModifier.ControlModifier
    QTest.keyClick(window, Qt.Key.Key_2, control)
    assert window.bench_open().key == "labels"
    QTest.keyClick(window, Qt.Key.Key_F9)
    assert window.theme.name == "sun"
    QTest.keyClick(window, Qt.Key.Key_Plus, control)
    assert window.theme.zoom == 110
    QTest.keyClick(window, Qt.Key.Key_F9, Qt.KeyboardModifier.ShiftModifier)
    assert window.theme.zoom == 100
    QTest.keyClick(window, Qt.Key.Key_F, control)
    assert window.scan_line.field.hasFocus()
    QTest.keyClick(window, Qt.Key.Key_F1)
    (head, _text, page) = window.surroundings.notices.told[-1]
    assert head == "Everywhere"
    assert "Ctrl+F: to the scan line" in page
    settle(qtbot, window)


def test_the_dossier_folds_in_a_narrow_window_and_opens_by_its_handle(window, qtbot):
    window.on_scan("131")
    settle(qtbot, window)
    picture(window, (1366, 768), window.theme)
    assert window.dossier.isVisible()
    assert not window.handle.isVisible()
    picture(window, (1000, 700), window.theme)
    assert not window.dossier.isVisible()
    assert window.handle.text() == "Bucket 131"
    window.handle.click()
    assert window.dossier.isVisible()


# Twice the size is for screens of 1366 pixels and more.
@pytest.mark.parametrize(
    ("size", "zoom"), [(size, zoom) for size in SIZES for zoom in (100, 150, 200) if zoom < 200 or size[0] >= 1366]
)
@pytest.mark.parametrize("direction", [Qt.LayoutDirection.LeftToRight, Qt.LayoutDirection.RightToLeft])
def test_no_word_of_the_frame_is_cut(window, qtbot, size, zoom, direction):
    window.setLayoutDirection(direction)
    window.theme.zoom_to(zoom)
    window.on_scan("131")
    settle(qtbot, window)
    picture(window, size, window.theme)
    assert window.size().toTuple() == size, "no part forces the window wider or higher"
    assert cut_words(window) == []


def test_everything_has_a_name_a_size_and_is_reached_by_tab(window, qtbot):
    picture(window, (1366, 768), window.theme)
    assert nameless(window) == []
    assert too_small(window) == []
    reached = reachable_by_tab(window)
    wanted = {window.scan_line.field, window.benches["wash"].button, *window.rail._tags.values()}
    assert wanted <= reached


def test_a_picture_is_a_png_of_the_size_asked_for_in_the_palette_asked_for(window):
    data = render(window, (1366, 768), window.theme, "sun")
    image = QImage.fromData(data)
    assert data.startswith(b"\x89PNG")
    assert image.size().toTuple() == (1366, 768)
    assert image.pixelColor(400, 700).name() == "#ffffff"
