"""Places, boxes and what moves at the bench of shelves, by scanner and keyboard alone, on a real store."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from findsdesk.desk.boxing import box_with_bags
from findsdesk.desk.loans import lend
from findsdesk.desk.shelves import bags_without_box, place_with_boxes, places_tree, where_it_is
from findsdesk.desk.transports import under_way
from findsdesk.domain.command_cards import Command, command_code
from findsdesk.domain.lending import BorrowerKind
from findsdesk.ui.answers import Tone
from findsdesk.ui.benches.shelves.page import ShelvesBench
from findsdesk.ui.benches.shelves.state import Page
from findsdesk.ui.program import Program
from tests.ui.at_the_shelves import BOX1, BOX2, KEY, Store, press, said, texts, turn_to
from tests.ui.at_work import go_to, opened, scan, settled
from tests.yard import advance, new_yard


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(new_yard(tmp_path))


@pytest.fixture
def program(qtbot: Any, store: Store) -> Iterator[Program]:
    with opened(qtbot, store.desk) as at_work:
        yield at_work


@pytest.fixture
def bench(qtbot: Any, program: Program) -> ShelvesBench:
    shown = go_to(qtbot, program, "shelves")
    assert isinstance(shown, ShelvesBench)
    return shown


def test_places_stand_as_a_tree_with_how_full_each_is(qtbot: Any, program: Program, bench: ShelvesBench) -> None:
    assert texts(bench.places.tree)[:2] == ["Dig house", "Drawing room"]
    assert bench.places.card.heading.text() == "Dig house · building"
    assert [box.number for box in bench.places.picture.boxes] == ["1", "2"]
    assert bench.places.tree.hasFocus()
    press(qtbot, program, KEY.Key_Down, KEY.Key_Down, KEY.Key_Down, KEY.Key_Down)
    assert bench.places.card.heading.text() == "Shelf 1 · shelf"
    assert texts(bench.places.boxes, 3) == ["7.5", "0.0"]
    press(qtbot, program, KEY.Key_Return, KEY.Key_Return)
    assert bench.open is Page.PACK
    assert bench.packing.card.weight.text() == "7.5 of 10.0 kg"


def test_the_tenth_bench_has_a_key(qtbot: Any, program: Program, bench: ShelvesBench) -> None:
    for key, opened_by_it in ((KEY.Key_0, "set_up"), (KEY.Key_7, "shelves")):
        QTest.keyClick(program.window, key, Qt.KeyboardModifier.ControlModifier)
        settled(qtbot, program)
        shown = program.window.bench_open()
        assert shown is not None
        assert shown.key == opened_by_it


def test_what_waits_stands_on_the_rail(store: Store, bench: ShelvesBench) -> None:
    assert bench.what_waits() == "3 bags unboxed"
    lend(store.desk, [store.glass], borrower="Nela Trost", kind=BorrowerKind.SPECIALIST, purpose="glass report",
         due_on=date(2026, 7, 15))  # fmt: skip
    advance(store.desk, days=5)
    assert bench.what_waits() == "1 loan overdue"


def test_a_new_place_and_a_new_box_by_keyboard(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    assert bench.places.act is not None
    bench.places.act.setFocus()
    press(qtbot, program, KEY.Key_Space, "Attic", KEY.Key_Return, KEY.Key_Down, KEY.Key_Return, "dig")
    press(qtbot, program, KEY.Key_Return, "", KEY.Key_Return)
    assert "Attic" in {one.name for one in places_tree(store.desk)}
    assert bench.places.card.heading.text() == "Attic · room"
    turn_to(qtbot, program, bench, Page.PACK)
    scan(qtbot, program, BOX2)
    assert bench.packing.act is not None
    bench.packing.act.setFocus()
    press(qtbot, program, KEY.Key_Space)
    press(qtbot, program, KEY.Key_Return, "2", KEY.Key_Return, "dig", KEY.Key_Return)
    press(qtbot, program, KEY.Key_Return, KEY.Key_Return)
    assert bench.packing.held is not None
    assert bench.packing.held.box.number == 3
    assert box_with_bags(store.desk, "4").box.place


def test_box_bag_bag_and_the_next_box(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    turn_to(qtbot, program, bench, Page.PACK)
    scan(qtbot, program, store.bags[2])
    assert said(program) == (Tone.REFUSED, f"Scan the box first: bag {store.bags[2]} is not in yet")
    scan(qtbot, program, BOX1)
    assert program.window.dossier.title().startswith("Box 1")
    scan(qtbot, program, store.bags[2])
    assert said(program) == (Tone.DONE, "Box 1: 9.6 / 10.0 kg, 3 bags. The next box, please.")
    assert bench.packing.card.weight.text() == "9.6 of 10.0 kg"
    assert "Lift with two hands" in bench.packing.card.caution.text().text()
    assert bench.packing.card.caution.isVisible()
    assert bench.packing.bags.row_id() == store.bags[2]
    scan(qtbot, program, BOX2)
    scan(qtbot, program, store.bags[3])
    assert said(program) == (Tone.DONE, "Box 2: 0.9 / 10.0 kg, 1 bag")
    scan(qtbot, program, store.bags[0])
    assert said(program)[0] is Tone.REFUSED
    assert "lies in box 1" in bench.refusals.text().text()
    bench.packing.bags.setFocus()
    press(qtbot, program, KEY.Key_Delete)
    assert box_with_bags(store.desk, "2").bags == ()
    assert ", 0 bags, " in program.window.dossier.facts.line, "the dossier follows"


def test_a_bag_right_after_its_box_goes_into_that_box(
    qtbot: Any, program: Program, store: Store, bench: ShelvesBench
) -> None:
    turn_to(qtbot, program, bench, Page.PACK)
    program.window.on_scan(BOX2)
    program.window.on_scan(store.bags[3])
    settled(qtbot, program)
    assert [one.bag.code for one in box_with_bags(store.desk, "2").bags] == [store.bags[3]]
    assert bench.packing.card.number.text() == "Box 2"


def test_what_is_asked_is_answered_by_the_command_card_and_no_scan_slips_by(
    qtbot: Any, program: Program, store: Store, bench: ShelvesBench
) -> None:
    turn_to(qtbot, program, bench, Page.PACK)
    scan(qtbot, program, BOX1)
    for bag in store.bags[2:]:
        scan(qtbot, program, bag)
    assert bench.refusals.is_asking()
    assert said(program) == (Tone.REFUSED, "Not written yet: answer on the slip")
    scan(qtbot, program, BOX2)
    assert said(program)[1].startswith("A question waits")
    assert bench.packing.code == BOX1
    scan(qtbot, program, command_code("TQ", Command.WRITE))
    assert box_with_bags(store.desk, "1").box.tenths == 105_000
    assert not bench.refusals.is_asking()
    assert bench.packing.card.bar.parts[1].words == "0.5 kg too much"


def test_a_proposal_is_shown_before_it_is_written(
    qtbot: Any, program: Program, store: Store, bench: ShelvesBench
) -> None:
    bench.places.unboxed.click()
    settled(qtbot, program)
    assert bench.open is Page.PROPOSE
    assert bench.proposal.words.text().startswith("3 bags in 2 boxes of at most 10.0 kg. No packing needs fewer than 2")
    assert texts(bench.proposal.table, 1) == ["Sherds", "Glass, dry"] or len(texts(bench.proposal.table)) == 2
    assert len(bags_without_box(store.desk)) == 3
    a_proposal_stands_only_while_it_is_what_was_chosen(qtbot, program, bench)
    bench.proposal.form.show_values({"place": store.places["Shelf 2"]})
    assert bench.proposal.act is not None
    bench.proposal.act.setFocus()
    press(qtbot, program, KEY.Key_Space)
    if bench.refusals.is_asking():
        press(qtbot, program, KEY.Key_Space)
    assert bags_without_box(store.desk) == ()
    assert len(place_with_boxes(store.desk, "Shelf 2").boxes) == 2
    assert bench.open is Page.PACK
    assert bench.packing.held is not None
    assert bench.packing.held.box.number == 3
    packed = len(bench.packing.held.bags)
    bench.packing.take_all.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert "Each lies in no box then" in bench.refusals.text().text()
    assert bags_without_box(store.desk) == (), "asked first"
    press(qtbot, program, KEY.Key_Return)
    assert len(bags_without_box(store.desk)) == packed
    assert not bench.packing.take_all.isEnabled()
    assert bench.packing.give_up.isEnabled()


def a_proposal_stands_only_while_it_is_what_was_chosen(qtbot: Any, program: Program, bench: ShelvesBench) -> None:
    page = bench.proposal
    assert page.act is not None
    deposit = page.form.entries["deposit"].widget
    assert isinstance(deposit, QLineEdit)
    deposit.setFocus()
    for typed in ("9999", "2017"):
        deposit.selectAll()
        press(qtbot, program, typed)
        assert page.shown is None
        assert not page.act.isVisible()
        assert page.words.text().startswith("Something else is chosen")
        page.read_again()
        settled(qtbot, program)
        assert page.act.isVisible() is (typed == "2017")
        assert bench.refusals.isVisible() is (typed == "9999")
    deposit.selectAll()
    press(qtbot, program, KEY.Key_Delete)
    page.again.click()
    settled(qtbot, program)
    assert len(texts(page.table)) == 2


def test_a_shelf_moves_and_is_checked_at_both_ends(
    qtbot: Any, program: Program, store: Store, bench: ShelvesBench
) -> None:
    turn_to(qtbot, program, bench, Page.MOVE)
    for code in (store.places["Shelf 1"], BOX1, store.places["Drawing room"]):
        scan(qtbot, program, code)
    assert texts(bench.moving.scanned) == ["Shelf 1", "Box 1"]
    assert bench.moving.act is not None
    assert bench.moving.act.text() == "Move the whole of it"
    bench.moving.act.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert "1 was not scanned where it leaves: 2" in bench.refusals.text().text()
    press(qtbot, program, KEY.Key_Space)
    assert where_it_is(store.desk, "1").place == "Dig house › Drawing room › Shelf 1"
    assert texts(bench.moving.way, 3) == ["2 / 2"]
    bench.moving.way.setFocus()
    press(qtbot, program, KEY.Key_Return, KEY.Key_Escape)
    assert bench.moving.arriving is None
    scan(qtbot, program, BOX1)
    assert bench.moving.arriving == 1, "scanned before anything else, what is on the way is there"
    assert said(program) == (Tone.DONE, "Transport 1: 1 still to come")
    scan(qtbot, program, BOX2)
    assert said(program) == (Tone.DONE, "Transport 1: all there")
    assert under_way(store.desk) == ()
    press(qtbot, program, KEY.Key_Escape)
    assert bench.moving.arriving is None
