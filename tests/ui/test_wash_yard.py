"""The wash yard: scan, count, Enter; what is refused and what is kept; how the bench looks and is reached."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from findsdesk.desk.counting import log_count
from findsdesk.domain.routes import Standing
from findsdesk.ui.answers import Tone
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.count_tag import KeypadKey
from findsdesk.ui.widgets.tubs import TubPicture
from tests.ui.conftest import Keyboard
from tests.ui.looking import SIZES, cut_words, nameless, too_small
from tests.ui.wash_hands import ENTER, ESCAPE, Yard, dossier, soaking, yard_at_work
from tests.yard import acts, advance, put_container, standing_of, with_settings


@pytest.fixture
def yard(qtbot: Any, around: Surroundings, keyboard: Keyboard, tmp_path: Path) -> Iterator[Yard]:
    with yard_at_work(qtbot, around, keyboard, tmp_path) as made:
        yield made


# --- scan, count, Enter -------------------------------------------------------------------------------------------


def test_three_gestures_and_ready_for_the_next(yard: Yard) -> None:
    one, two = soaking(yard.desk, "131"), soaking(yard.desk, "132")
    advance(yard.desk, hours=16)
    yard.scan(one)
    assert yard.type("132") == "Bucket 131: 132 sherds, tray 1, next free: 2"
    yard.scan(two)
    assert yard.type("88").startswith("Bucket 132: 88 sherds, tray 2")
    assert standing_of(yard.desk, one) is standing_of(yard.desk, two) is Standing.DRYING


def test_the_tag_shows_what_was_written_and_where_it_dries(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    advance(yard.desk, hours=16)
    yard.scan(code)
    yard.type("132")
    facts = yard.bench.tags.step_tag.facts
    assert (facts.large, facts.unit, facts.title, facts.lead) == ("132", "sherds", "Tray 1", "Next free: 2")


def test_hands_faster_than_the_store(yard: Yard) -> None:
    """Nothing is looked up, written or shown until three buckets were scanned and counted: nothing is mixed up."""
    counts = {soaking(yard.desk, number): count for number, count in (("131", 132), ("132", 8), ("133", 204))}
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
    assert yard.bench.tags.typed() == ""
    assert yard.type("88").startswith("Bucket 132: 88")
    assert dossier(yard.desk, one).counts == ()
    yard.scan(one)
    assert "132 was typed for 131 before" in yard.slip()
    assert yard.bench.tags.typed() == "132"
    assert yard.type("").startswith("Bucket 131: 132 sherds")
    assert yard.slip() == ""


def test_the_same_tag_again_drops_a_wrong_digit(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.scan(code)
    yard.type("17", end=None)
    yard.scan(code)
    assert "17 was typed for 131 before" in yard.slip()
    assert yard.type("71").startswith("Bucket 131: 71")


def test_a_scan_over_the_count_is_no_number(yard: Yard) -> None:
    yard.scan(soaking(yard.desk, "131"))
    yard.type("1", end=None)
    yard.keyboard.scan("TQT000999A")
    yard.settle()
    assert yard.bench.tags.typed() == "1"
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
    assert "200000 pieces cannot be right" in yard.refused()
    assert yard.bench.tags.typed() == "200000"
    yard.press(ESCAPE)
    assert yard.bench.tags.typed() == ""
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
    assert line[2] == "Washing is level with the trench", "one forgotten in a tub keeps nobody behind"
    put_container(yard.desk, "103")
    yard.bench.refresh()
    yard.settle()
    assert yard.bench.figures._labels[2].accessibleName() == "Washing is 2 days behind the trench"


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
