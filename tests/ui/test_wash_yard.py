"""The wash yard in a window of its own on a real store: what is typed, pressed and scanned, and what is refused."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QListWidget, QPushButton

from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.washing import dip_and_look, start_soak
from findsdesk.domain.command_cards import Command, command_code, tub_code
from findsdesk.domain.routes import Hold, Standing, StepKind
from findsdesk.ui import store_work
from findsdesk.ui.answers import Tone
from findsdesk.ui.benches.wash.page import WashBench
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.count_tag import KeypadKey
from findsdesk.ui.widgets.foot import FootFacts
from findsdesk.ui.widgets.tubs import TubPicture
from findsdesk.ui.window import Window, WindowReads
from tests.ui.conftest import Keyboard, show
from tests.ui.looking import SIZES, cut_words, nameless, too_small
from tests.yard import acts, advance, new_yard, put_container, sitting, standing_of, with_settings

ENTER, ESCAPE = Qt.Key.Key_Return, Qt.Key.Key_Escape


class Yard:
    """The bench in a window of its own, with hands on scanner, keys and mouse."""

    def __init__(self, qtbot: Any, around: Surroundings, keyboard: Keyboard, desk: Desk) -> None:
        self.qtbot, self.around, self.keyboard, self.desk = qtbot, around, keyboard, desk
        around.desk, around.terms = desk, desk.terms
        self.bench = WashBench(around)
        reads = WindowReads(
            find=lambda text: store_work.find(around.desk, text),
            thing=lambda kind, number: store_work.thing(around.desk, kind, number),
            foot=FootFacts,
        )
        self.window = Window(around, (self.bench,), reads)
        self.window.resize(QSize(1366, 768))
        show(qtbot, self.window, self.bench.first_focus())
        keyboard.filter.scanned.connect(self.window.on_scan)
        self.settle()

    def settle(self) -> None:
        """Wait until nothing is being looked up, read or written."""
        self.qtbot.waitUntil(self.around.lanes.idle, timeout=15_000)

    def scan(self, code: str) -> str:
        self.keyboard.wait(2_500)
        self.keyboard.scan(code)
        self.settle()
        return self.said()

    def type(self, text: str, end: Qt.Key | None = ENTER) -> str:
        self.keyboard.type(text, end=end)
        self.settle()
        return self.said()

    def press(self, key: Qt.Key | str) -> None:
        self.keyboard.press(key, 200)
        self.keyboard.wait(400)
        self.settle()

    def said(self) -> str:
        return self.window.scan_line.answer.in_one_line()

    def refused(self) -> str:
        return self.bench.refusals.accessibleName() if self.bench.refusals.isVisible() else ""

    def slip(self) -> str:
        """Return the words of what was typed and not written."""
        return self.bench.left_slip.accessibleName() if self.bench.left_slip.isVisible() else ""

    def sit(self, name: str) -> None:
        self.around.desk = self.desk = sitting(self.desk, name)

    def button(self, words: str) -> QPushButton:
        found = [
            button
            for button in self.bench.findChildren(QPushButton)
            if button.isVisible() and button.text().startswith(words)
        ]
        assert found, words
        return found[0]

    def click(self, words: str) -> None:
        QTest.mouseClick(self.button(words), Qt.MouseButton.LeftButton)
        self.settle()

    def more(self, words: str) -> None:
        """Open "More" and choose by keyboard."""
        self.press("m")
        rows = self.bench.tags.quiet_list.rows
        assert rows.hasFocus()
        for _step in range(rows.count()):
            if rows.currentItem().text().startswith(words):
                break
            self.press(Qt.Key.Key_Down)
        assert rows.currentItem().text().startswith(words)
        self.press(ENTER)

    def answer(self, key: str, text: str) -> None:
        """Type into the question of the open form."""
        field = self.bench.tags.quiet_form.field(key)
        line = field if isinstance(field, QLineEdit) else field.findChild(QLineEdit)
        assert isinstance(line, QLineEdit)
        line.setFocus()
        line.selectAll()
        self.keyboard.type(text)

    def write(self) -> None:
        self.bench.tags.quiet_form.write_button.click()
        self.settle()


@pytest.fixture
def yard(qtbot: Any, around: Surroundings, keyboard: Keyboard, tmp_path: Path) -> Iterator[Yard]:
    desk = new_yard(tmp_path, by="Tessa")
    made = Yard(qtbot, around, keyboard, desk)
    yield made
    made.settle()
    desk.close()


def soaking(desk: Desk, number: str, tub: str = "1") -> str:
    code = put_container(desk, number)
    dip_and_look(desk, code)
    start_soak(desk, code, tub=tub)
    return code


def dossier(desk: Desk, code: str) -> Dossier:
    found = find(desk, code)
    assert isinstance(found, Dossier)
    return found


# --- scan, count, Enter -------------------------------------------------------------------------------------------


def test_three_gestures_and_ready_for_the_next(yard: Yard) -> None:
    one, two = soaking(yard.desk, "131"), soaking(yard.desk, "132")
    yard.scan(one)
    assert yard.type("132") == "Bucket 131: 132 sherds, tray 1, next free: 2"
    yard.scan(two)
    assert yard.type("88").startswith("Bucket 132: 88 sherds, tray 2")
    assert standing_of(yard.desk, one) is standing_of(yard.desk, two) is Standing.DRYING


def test_the_tag_shows_what_was_written_and_where_it_dries(yard: Yard) -> None:
    yard.scan(soaking(yard.desk, "131"))
    yard.type("132")
    facts = yard.bench.tags.step_tag.facts
    assert (facts.large, facts.unit, facts.title, facts.lead) == ("132", "sherds", "Tray 1", "Next free: 2")


def test_hands_faster_than_the_store(yard: Yard) -> None:
    """Nothing is looked up, written or shown until three buckets were scanned and counted: nothing is mixed up."""
    counts = {soaking(yard.desk, number): count for number, count in (("131", 132), ("132", 8), ("133", 2040))}
    for code, count in counts.items():
        yard.keyboard.scan(code)
        yard.keyboard.type(str(count), end=ENTER)
    yard.keyboard.type("5")
    yard.settle()
    for code, count in counts.items():
        assert [one.pieces for one in dossier(yard.desk, code).counts] == [count]


def test_a_number_half_typed_is_never_written_for_either(yard: Yard) -> None:
    one, two = soaking(yard.desk, "131"), soaking(yard.desk, "132")
    yard.scan(one)
    yard.type("132", end=None)
    before = acts(yard.desk)
    yard.scan(two)
    assert acts(yard.desk) == before
    assert "132 not written for 131" in yard.slip()
    assert yard.bench.tags.digits() == ""
    assert yard.type("88").startswith("Bucket 132: 88")
    assert dossier(yard.desk, one).counts == ()
    yard.scan(one)
    assert yard.slip() == ""


def test_the_same_tag_again_drops_a_wrong_digit(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.scan(code)
    yard.type("17", end=None)
    yard.scan(code)
    assert "17 not written for 131" in yard.slip()
    assert yard.type("71").startswith("Bucket 131: 71")


def test_a_scan_over_the_count_is_no_number(yard: Yard) -> None:
    yard.scan(soaking(yard.desk, "131"))
    yard.type("1", end=None)
    yard.keyboard.scan("TQT000999A")
    yard.settle()
    assert yard.bench.tags.digits() == "1"
    assert yard.window.scan_line.answer.tone is Tone.REFUSED


def test_enter_after_a_tag_nobody_knows_writes_nothing(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.scan(code)
    before = acts(yard.desk)
    yard.keyboard.wait(2_500)
    yard.keyboard.scan("999999")
    yard.keyboard.type("88", end=ENTER)
    yard.settle()
    assert acts(yard.desk) == before
    assert "88 not written" in yard.slip() + yard.refused()
    assert dossier(yard.desk, code).counts == ()
    yard.scan(code)
    assert yard.type("88").startswith("Bucket 131: 88")


def test_what_is_refused_stays_typed(yard: Yard) -> None:
    yard.scan(soaking(yard.desk, "131"))
    yard.type("200000")
    assert "200000 is no count of pieces" in yard.refused()
    assert yard.bench.tags.digits() == "200000"
    yard.press(ESCAPE)
    assert yard.bench.tags.digits() == ""
    assert yard.type("20").startswith("Bucket 131: 20 sherds")


def test_a_number_typed_with_nothing_in_hand_finds_its_bucket(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.type("131", end=None)
    assert yard.button("Find bucket 131").isVisible()
    yard.press(ENTER)
    assert yard.type("12").startswith("Bucket 131: 12 sherds")
    yard.window.scan_line.field.setFocus()
    yard.type("999")
    assert yard.window.scan_line.field.hasFocus(), "what was not found is typed again where it was typed"
    yard.type("131")
    assert yard.bench.tags.has_keyboard()
    assert len(dossier(yard.desk, code).counts) == 1


def test_hands_faster_than_the_store_from_the_scan_line(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.window.scan_line.field.setFocus()
    yard.keyboard.scan(code)
    yard.type("132")
    assert [one.pieces for one in dossier(yard.desk, code).counts] == [132]


def test_enter_twice_writes_once(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.scan(code)
    yard.keyboard.type("132", end=ENTER)
    yard.keyboard.press(ENTER, 90)
    yard.settle()
    assert [one.pieces for one in dossier(yard.desk, code).counts] == [132]


def test_a_second_count_needs_its_name(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.scan(code)
    yard.type("88")
    yard.type("91")
    assert "was counted already: 88" in yard.refused()
    yard.press(ESCAPE)
    yard.press("a")
    assert yard.type("91") == "Bucket 131: 91 sherds, 88 before; the first count stays readable"
    assert [one.pieces for one in dossier(yard.desk, code).counts] == [88, 91]


def test_by_mouse_alone(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.scan(code)
    keys = {key.text(): key for key in yard.bench.findChildren(KeypadKey)}
    for digit in ("1", "3", "⌫", "2", "+1"):
        QTest.mouseClick(keys[digit], Qt.MouseButton.LeftButton)
    yard.click("Write 13")
    assert yard.said().startswith("Bucket 131: 13 sherds")


def test_grams_are_kept_and_wet_ones_marked(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.scan(code)
    yard.more("Grams")
    yard.bench.grams.field.line.setText("402,5")
    yard.bench.grams.wet.setChecked(True)
    yard.bench.tags.focus_face()
    yard.type("31")
    count = dossier(yard.desk, code).counts[0]
    assert (count.pieces, count.tenths, count.wet) == (31, 4025, True)
    assert yard.bench.grams.field.value() is None


def test_where_sorting_counts_the_bench_offers_washed(yard: Yard) -> None:
    with_settings(yard.desk, count_at_wash=False)
    yard.bench.refresh()
    yard.settle()
    code = soaking(yard.desk, "131")
    yard.scan(code)
    assert yard.button("Write: washed").isVisible()
    yard.press(ENTER)
    assert standing_of(yard.desk, code) is Standing.WASHED
    yard.type("12")
    assert "count is taken at the Sorting table" in yard.refused()


# --- look and tub -------------------------------------------------------------------------------------------------


def test_a_count_typed_for_what_was_in_no_tub_is_refused_in_words(yard: Yard) -> None:
    code = put_container(yard.desk, "131")
    yard.scan(code)
    before = acts(yard.desk)
    yard.type("132")
    assert "was in no tub" in yard.refused()
    assert acts(yard.desk) == before
    yard.more("Count without a soak")
    assert yard.type("132").startswith("Bucket 131: 132 sherds")


def test_look_by_letter_then_a_tub_by_mouse(yard: Yard) -> None:
    code = put_container(yard.desk, "131")
    yard.scan(code)
    assert "wet finger" in yard.bench.tags.step_tag.facts.lead
    yard.press("n")
    tubs = [picture for picture in yard.bench.findChildren(TubPicture) if picture.tub.key == "4"]
    QTest.mouseClick(tubs[0], Qt.MouseButton.LeftButton, pos=tubs[0].rect().bottomLeft() + tubs[0].rect().center())
    tubs[0].click()
    yard.settle()
    assert dossier(yard.desk, code).stands_at[0].place == "4"


def test_t_and_a_digit_fill_a_tub(yard: Yard) -> None:
    code = put_container(yard.desk, "131")
    dip_and_look(yard.desk, code)
    yard.press("t")
    yard.press("2")
    assert "filling tub 2" in yard.bench.going_on()
    assert "into tub 2" in yard.scan(code)
    yard.press(ESCAPE)
    assert "filling" not in yard.bench.going_on()


def test_a_count_typed_over_what_has_just_gone_in_is_refused(yard: Yard) -> None:
    code = put_container(yard.desk, "131")
    dip_and_look(yard.desk, code)
    yard.scan(tub_code("TQ", 1))
    yard.scan(code)
    yard.type("40")
    assert "just gone into its tub" in yard.refused()
    assert dossier(yard.desk, code).counts == ()


def test_bone_is_refused_at_the_tub_and_handed_on(yard: Yard) -> None:
    code = put_container(yard.desk, "140", material="bone")
    yard.scan(code)
    assert "bone crate" in yard.bench.tags.step_tag.facts.text
    yard.scan(tub_code("TQ", 1))
    assert "never soaked" in yard.refused()
    yard.click("Hand it on")
    yard.answer("to", "the bone specialist")
    yard.write()
    assert standing_of(yard.desk, code) is Standing.AWAY
    yard.scan(code)
    yard.more("It came back")
    yard.write()
    assert standing_of(yard.desk, code) is Standing.DRY


def test_only_the_ceramicist_releases(yard: Yard) -> None:
    code = put_container(yard.desk, "109")
    yard.scan(code)
    yard.press("p")
    assert dossier(yard.desk, code).held_for is Hold.PAINTED
    yard.click("Release")
    yard.answer("reason", "paint holds")
    yard.write()
    assert "Only the ceramicist" in yard.refused()
    assert yard.bench.tags.quiet_form.field("reason").text() == "paint holds"
    yard.sit("Oren")
    yard.write()
    assert dossier(yard.desk, code).held_for is None
    yard.bench.refresh()
    yard.settle()


def test_paint_that_shows_while_it_soaks_holds_back(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.scan(code)
    yard.scan(command_code("TQ", Command.FLAKING))
    assert dossier(yard.desk, code).held_for is Hold.FLAKING
    yard.type("12")
    assert "held back: flaking" in yard.refused()


def test_two_parts_in_two_tubs(yard: Yard) -> None:
    code = put_container(yard.desk, "130")
    dip_and_look(yard.desk, code)
    yard.scan(code)
    yard.more("Stands in parts")
    yard.answer("parts", "2")
    yard.write()
    yard.scan(tub_code("TQ", 2))
    yard.scan(tub_code("TQ", 5))
    yard.scan(code)
    assert [part.place for part in dossier(yard.desk, code).stands_at] == ["2", "5"]
    yard.press(ESCAPE)
    yard.scan(code)
    assert "trays 1, 2" in yard.type("260")


# --- trays --------------------------------------------------------------------------------------------------------


def test_a_tray_is_taken_in_hand_and_said_dry(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    log_count(yard.desk, code, pieces=9)
    advance(yard.desk, hours=9)
    yard.bench.refresh()
    yard.settle()
    yard.bench.trays.chosen.emit("1")
    yard.settle()
    assert "Bucket 131" in yard.said()
    yard.press("d")
    assert standing_of(yard.desk, code) is Standing.DRY


def test_those_due_are_ticked_and_dried_together(yard: Yard) -> None:
    codes = [soaking(yard.desk, number) for number in ("131", "132", "133")]
    for code in codes[:2]:
        log_count(yard.desk, code, pieces=9)
    advance(yard.desk, hours=9)
    log_count(yard.desk, codes[2], pieces=9)
    yard.bench.refresh()
    yard.settle()
    assert yard.button("Dry: 2 due").isEnabled()
    yard.bench.tags.focus_face()
    yard.press("y")
    rows = yard.bench.tags.quiet_form.field("codes")
    assert isinstance(rows, QListWidget)
    assert [item.text() for item in rows.selectedItems()] == ["✓  tray 1: 131, due", "✓  tray 2: 132, due"]
    before = acts(yard.desk)
    yard.write()
    assert yard.said() == "2 buckets are dry: 131, 132"
    assert acts(yard.desk) == before + 1
    assert standing_of(yard.desk, codes[2]) is Standing.DRYING


# --- behind "More" ------------------------------------------------------------------------------------------------


def test_two_swapped_tags_are_put_right_by_two_scans(yard: Yard) -> None:
    four, five = soaking(yard.desk, "104"), soaking(yard.desk, "105")
    log_count(yard.desk, four, pieces=60)
    log_count(yard.desk, five, pieces=90)
    yard.scan(four)
    yard.more("Two tags were swapped")
    yard.scan(five)
    yard.answer("reason", "trays 1 and 2")
    yard.write()
    assert "both put right" in yard.said()
    assert dossier(yard.desk, four).ledger.expected == 90


def test_the_same_tag_twice_is_no_swap(yard: Yard) -> None:
    yard.scan(soaking(yard.desk, "104"))
    yard.more("Two tags were swapped")
    yard.answer("other", "104")
    yard.answer("reason", "trays")
    yard.write()
    assert "twice" in yard.refused()


def test_bones_among_the_sherds(yard: Yard) -> None:
    code = soaking(yard.desk, "118")
    log_count(yard.desk, code, pieces=140)
    yard.scan(code)
    yard.more("Take out pieces")
    yard.answer("pieces", "7")
    yard.write()
    assert "7 bones taken out as bucket" in yard.said()
    assert dossier(yard.desk, code).ledger.moved_out == 7


def test_one_bucket_emptied_into_another(yard: Yard) -> None:
    one, two = soaking(yard.desk, "104"), soaking(yard.desk, "105")
    log_count(yard.desk, one, pieces=60)
    log_count(yard.desk, two, pieces=5)
    yard.scan(two)
    yard.more("Empty it into another")
    yard.answer("other", "104")
    yard.answer("reason", "came over two days")
    yard.write()
    assert standing_of(yard.desk, two) is Standing.JOINED
    assert dossier(yard.desk, one).ledger.expected == 65


def test_a_step_back_with_its_reason(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.scan(code)
    yard.more("Back a step")
    yard.write()
    life = dossier(yard.desk, code).life
    assert (standing_of(yard.desk, code), life[-1].note) == (Standing.ARRIVED, "written by mistake")


def test_left_unwashed_by_its_button(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.scan(code)
    yard.click("Left unwashed")
    assert dossier(yard.desk, code).life[-1].kind is StepKind.LEFT_UNWASHED
    assert yard.type("12").startswith("Bucket 131: 12 sherds")


def test_entered_later_from_paper_keeps_the_true_time(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    advance(yard.desk, hours=20)
    yard.scan(code)
    yard.more("Enter from paper")
    written = yard.desk.now() - timedelta(hours=2)
    local = written.astimezone(yard.desk.facts.zone)
    time = yard.bench.paper.time
    time.setTime(time.time().addSecs(-2 * 3600))
    yard.bench.tags.focus_face()
    yard.type("12")
    step = dossier(yard.desk, code).life[-1]
    assert (step.happened_at.astimezone(local.tzinfo), step.entered_later) == (local.replace(second=0), True)
    yard.click("No more")
    assert yard.bench.paper.moment() is None


def test_a_time_on_paper_that_has_not_come_is_refused(yard: Yard) -> None:
    yard.scan(soaking(yard.desk, "131"))
    yard.more("Enter from paper")
    yard.bench.paper.day.setDate(yard.bench.paper.day.date().addDays(1))
    yard.bench.tags.focus_face()
    yard.type("12")
    assert "has not come yet" in yard.refused()
    assert yard.bench.tags.digits() == "12"


def test_the_command_card_is_written_where_asked(yard: Yard, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(yard.around.notices, "file_to_write", lambda *_given: tmp_path / "card.pdf")
    yard.bench.tags.focus_face()
    yard.more("Command card")
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF")
    assert "card.pdf" in yard.said()


# --- how it looks and is reached ----------------------------------------------------------------------------------


def test_what_waits_and_what_the_morning_did(yard: Yard) -> None:
    soaking(yard.desk, "101")
    advance(yard.desk, hours=37)
    log_count(yard.desk, soaking(yard.desk, "102"), pieces=11)
    yard.bench.refresh()
    yard.settle()
    assert yard.bench.what_waits() == "1 soaking, 1 too long"
    line = [label.accessibleName() for label in yard.bench.figures._labels]
    assert line[0].startswith("1 counted since")
    assert line[1] == "11 sherds"
    assert "behind the trench" in line[2]


def test_targets_for_wet_gloves(yard: Yard, theme: Theme) -> None:
    """15 mm a target, at most 8 beside the number pad (the excavation's own rule; glove sizes: MIL-STD-1472)."""
    yard.scan(soaking(yard.desk, "131"))
    least = theme.mm(15)
    tag = yard.bench.tags.count_tag
    pad = tag.findChildren(KeypadKey)
    assert len(pad) == 12
    assert all(min(key.width(), key.height()) >= least for key in pad)
    beside = [button for button in tag.findChildren(QPushButton) if button.isVisible()]
    tubs = [picture for picture in yard.bench.findChildren(TubPicture) if not picture.tub.held]
    assert len(beside) + len(tubs) <= 8
    assert all(button.height() >= least for button in (*beside, *tubs))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("look", ["shade", "sun"])
def test_no_word_is_cut_in_any_state(yard: Yard, theme: Theme, size: tuple[int, int], look: str) -> None:
    theme.use(look)
    yard.window.resize(*size)
    for code in (put_container(yard.desk, "128"), soaking(yard.desk, "131")):
        yard.scan(code)
        assert not cut_words(yard.window), code
        assert not nameless(yard.bench)
        assert not too_small(yard.bench)
    yard.type("132", end=None)
    yard.scan(put_container(yard.desk, "140", material="bone"))
    assert not cut_words(yard.window)
    yard.bench.tags.focus_face()
    yard.press("m")
    assert not cut_words(yard.window)
    assert not nameless(yard.bench)


def test_every_key_is_told(yard: Yard) -> None:
    keys = yard.bench.keys()
    assert all(key and words for key, words in keys)
    yard.scan(soaking(yard.desk, "131"))
    assert yard.bench.first_focus() is yard.bench.tags.count_tag
