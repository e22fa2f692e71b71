"""The wash yard: what is typed stays as typed, is asked about or refused, and comes back to its own bucket."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from findsdesk.desk.sorting import add_group
from findsdesk.domain.command_cards import Command, command_code, tub_code
from findsdesk.domain.routes import Standing
from findsdesk.ui.surroundings import Surroundings
from tests.desk.at_the_table import dry_container
from tests.ui.conftest import Keyboard
from tests.ui.wash_hands import ENTER, ESCAPE, Yard, dossier, soaking, yard_at_work
from tests.yard import acts, advance, put_container, standing_of


@pytest.fixture
def yard(qtbot: Any, around: Surroundings, keyboard: Keyboard, tmp_path: Path) -> Iterator[Yard]:
    with yard_at_work(qtbot, around, keyboard, tmp_path) as made:
        yield made


def test_a_number_not_written_waits_while_others_are_counted(yard: Yard) -> None:
    one, two, three = (soaking(yard.desk, number) for number in ("131", "132", "133"))
    yard.scan(one)
    yard.type("12", end=None)
    for code in (two, three):
        yard.scan(code)
        assert "12 not written for 131" in yard.slip()
        yard.type("88")
    assert "12 not written for 131" in yard.slip()
    yard.press(ESCAPE)
    assert yard.slip() == "", "Escape lets it go"
    yard.scan(one)
    assert yard.bench.tags.typed() == ""


def test_a_number_typed_anew_goes_before_one_that_would_come_back(yard: Yard) -> None:
    one, two = soaking(yard.desk, "131"), soaking(yard.desk, "132")
    yard.scan(one)
    yard.type("12", end=None)
    yard.scan(two)
    yard.keyboard.wait(2_500)
    yard.keyboard.scan(one)
    yard.keyboard.type("71", end=ENTER)
    yard.settle()
    assert [count.pieces for count in dossier(yard.desk, one).counts] == [71]
    assert yard.slip() == ""


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("-5", "less than nothing"),
        ("1.5", "not a whole number"),
        ("1,5", "not a whole number"),
        ("1000000", "one bucket holds 100,000 at most"),
        ("1 000", "between thousands"),
        ("12b", "not a number"),
        ("1e3", "not a whole number"),
    ],
)
def test_what_cannot_be_meant_as_a_count_is_refused_as_it_was_typed(yard: Yard, typed: str, said: str) -> None:
    yard.scan(soaking(yard.desk, "131"))
    before = acts(yard.desk)
    yard.type(typed)
    assert acts(yard.desk) == before
    assert said in yard.refused()
    assert yard.bench.tags.typed() == typed
    yard.press(ESCAPE)
    assert yard.type("5").startswith("Bucket 131: 5 sherds")


def test_a_sign_makes_no_choice_at_the_look(yard: Yard) -> None:
    yard.scan(put_container(yard.desk, "131"))
    before = acts(yard.desk)
    yard.type("-5")
    assert acts(yard.desk) == before
    assert "less than nothing" in yard.refused()


def test_a_count_far_above_the_usual_is_asked_about_first(yard: Yard) -> None:
    code = soaking(yard.desk, "131")
    yard.scan(code)
    before = acts(yard.desk)
    yard.type("2500")
    assert acts(yard.desk) == before
    assert "2,500 pieces in bucket 131" in yard.refused()
    assert yard.bench.tags.typed() == "2500"
    yard.click("It is so")
    assert yard.said().startswith("Bucket 131: 2,500 sherds")
    assert yard.bench.tags.typed() == ""
    assert [count.pieces for count in dossier(yard.desk, code).counts] == [2500]


def test_a_bucket_that_is_sorted_is_not_counted_empty_at_the_wash(yard: Yard) -> None:
    code = dry_container(yard.desk, 131, 12)
    add_group(yard.desk, code, ware="QRS", part="rim", pieces=11)
    yard.scan(code)
    yard.press("a")
    yard.type("0")
    assert "11 sherds are sorted in rows." in yard.refused()
    assert yard.bench.tags.typed() == "0"
    assert standing_of(yard.desk, code) is Standing.SORTING


def test_digits_of_the_command_card_are_refused_like_typed_ones(yard: Yard) -> None:
    yard.scan(soaking(yard.desk, "131"))
    before = acts(yard.desk)
    for _digit in range(7):
        yard.scan(command_code("TQ", Command("9")))
    yard.scan(command_code("TQ", Command.WRITE))
    assert acts(yard.desk) == before
    assert "9999999 pieces cannot be right" in yard.refused()


# --- while a tub is being filled, a number is a container for it ---------------------------------------------------


def test_a_number_typed_while_a_tub_is_filled_is_the_next_container_and_never_a_count(yard: Yard) -> None:
    in_hand, for_the_tub = soaking(yard.desk, "123"), put_container(yard.desk, "137")
    advance(yard.desk, hours=16)
    yard.scan(in_hand)
    yard.press("t")
    yard.press("2")
    assert "filling tub 2" in yard.bench.going_on()
    yard.type("137")
    assert dossier(yard.desk, in_hand).counts == ()
    assert standing_of(yard.desk, in_hand) is Standing.SOAKING
    assert yard.bench.work.state.in_hand.code == for_the_tub
    yard.type("1")
    assert [part.place for part in dossier(yard.desk, for_the_tub).stands_at] == ["2"]
    yard.type("123")
    yard.type("12")
    assert [count.pieces for count in dossier(yard.desk, in_hand).counts] == [12], "in hand again: out of the water"


def test_what_went_into_the_tub_just_now_is_not_counted_by_the_next_number(yard: Yard) -> None:
    first, second = put_container(yard.desk, "131"), put_container(yard.desk, "132")
    yard.scan(tub_code("TQ", 2))
    yard.scan(first)
    yard.type("1")
    yard.scan(first)
    assert "Escape ends the filling; then bucket 131 is counted" in yard.bench.tags.step_tag.facts.text
    yard.type("132")
    assert dossier(yard.desk, first).counts == ()
    assert yard.bench.work.state.in_hand.code == second
    yard.scan(first)
    yard.press(ESCAPE)
    yard.type("9")
    assert [count.pieces for count in dossier(yard.desk, first).counts] == [9]


def test_glass_that_a_tub_does_not_take_is_not_asked_into_it(yard: Yard) -> None:
    yard.scan(tub_code("TQ", 2))
    yard.scan(put_container(yard.desk, "138", material="glass"))
    facts = yard.bench.tags.step_tag.facts
    assert yard.refused()
    assert facts.choices == ()
    assert "Not into tub 2" in facts.text


# --- the number on the tag -----------------------------------------------------------------------------------------


def test_a_count_that_is_no_number_is_not_offered_a_decimal_sign(yard: Yard) -> None:
    yard.scan(soaking(yard.desk, "131"))
    yard.type("5x97")
    assert yard.refused() == "“5x97” is not a whole number. Type digits only."


@pytest.mark.parametrize(("then", "left"), [("7", "7"), (Qt.Key.Key_Backspace, "")])
def test_ctrl_a_marks_the_number_so_that_the_next_key_begins_another(yard: Yard, then: Qt.Key | str, left: str) -> None:
    yard.scan(soaking(yard.desk, "131"))
    yard.type("132", end=None)
    QTest.keyClick(yard.bench.tags.count_tag, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    assert yard.bench.tags.typed() == "132"
    yard.press(then)
    assert yard.bench.tags.typed() == left
