"""The wash yard beside the count: dip and look, tubs, trays, and the rarer acts behind "More"."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QListWidget

from findsdesk.desk.counting import log_count
from findsdesk.desk.washing import dip_and_look
from findsdesk.domain.command_cards import Command, command_code, tub_code
from findsdesk.domain.routes import Hold, Standing, StepKind
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.tubs import TubPicture
from tests.ui.conftest import Keyboard
from tests.ui.wash_hands import ESCAPE, Yard, dossier, soaking, yard_at_work
from tests.yard import acts, advance, put_container, standing_of


@pytest.fixture
def yard(qtbot: Any, around: Surroundings, keyboard: Keyboard, tmp_path: Path) -> Iterator[Yard]:
    with yard_at_work(qtbot, around, keyboard, tmp_path) as made:
        yield made


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


def test_look_by_number_then_a_tub_by_mouse(yard: Yard) -> None:
    code = put_container(yard.desk, "131")
    yard.scan(code)
    assert "wet finger" in yard.bench.tags.step_tag.facts.lead
    # The buttons say 1 to 6, and these are the keys: no letter looks for anybody.
    before = acts(yard.desk)
    for letter in "npifro":
        yard.press(letter)
    assert acts(yard.desk) == before
    yard.press(Qt.Key.Key_Escape)
    yard.type("1")
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
    yard.press(ESCAPE)
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
    yard.type("2")
    assert dossier(yard.desk, code).held_for is Hold.PAINTED
    yard.click("Release")
    yard.answer("reason", "paint holds")
    yard.write()
    assert "Only the ceramicist" in yard.refused()
    assert yard.bench.tags.quiet_form.answers()["reason"] == "paint holds"
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
    assert yard.bench.tags.typed() == "12"


def test_the_command_card_is_written_where_asked(yard: Yard, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[str] = []

    def open_it(url: QUrl) -> bool:
        opened.append(url.toLocalFile())
        return True

    monkeypatch.setattr("findsdesk.ui.paper_out.QDesktopServices.openUrl", open_it)
    monkeypatch.setattr(yard.around.notices, "file_to_write", lambda *_given: tmp_path / "card.pdf")
    yard.bench.tags.focus_face()
    yard.more("Command card")
    yard.qtbot.waitUntil(lambda: bool(opened))
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF")
    assert "card.pdf" in yard.said()


def test_washed_again_after_a_step_back_is_a_second_count(yard: Yard) -> None:
    code = soaking(yard.desk, "131", tub="3")
    log_count(yard.desk, code, pieces=88)
    yard.scan(code)
    yard.more("Back a step")
    box = yard.bench.tags.quiet_form.field("to")
    assert isinstance(box, ChoiceBox)
    box.setCurrentIndex(box.findData(Standing.SOAKING.value))
    yard.write()
    assert dossier(yard.desk, code).stands_at[0].place == "3"
    yard.scan(code)
    assert "before: 88" in yard.bench.tags.count_tag.facts.unit
    assert "tray 1" in yard.type("90")
    assert [count.pieces for count in dossier(yard.desk, code).counts] == [88, 90]


def test_wash_tags_are_printed_at_another_bench(yard: Yard) -> None:
    asked: list[str] = []
    yard.around.open_bench.connect(asked.append)
    yard.more("Wash tags")
    assert asked == ["labels"]
