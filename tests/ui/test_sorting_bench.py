"""Oren's afternoon at the sorting table, by real key events through the whole program on a real store.

Somebody reads aloud, somebody types. Groups, numbers and the pebble are those of the invented scenario; that a group
takes at most twelve keys is the design's own figure.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton, QWidget

from findsdesk.desk.bagging import bags_of
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.group_rows import GroupRow
from findsdesk.desk.sorting import SortingTable, change_group, table_of
from findsdesk.desk.washing import mark_dry
from findsdesk.domain.balance import Decision, Entry
from findsdesk.domain.routes import Standing
from findsdesk.ui.benches.sorting.page import SortingBench
from findsdesk.ui.benches.sorting.state import Asked
from findsdesk.ui.program import Program
from findsdesk.ui.widgets.balance_bar import Fill
from tests.desk.at_the_table import dry_container, prove_totals
from tests.ui.at_work import go_to, listen_to, opened, settled
from tests.ui.conftest import Keyboard
from tests.ui.looking import SIZES, cut_words, nameless, too_small
from tests.yard import DRY, LOOKED_AT, advance, new_yard, put_container, sitting, standing_of, with_settings

ENTER, PAD_ENTER = Qt.Key.Key_Return, Qt.Key.Key_Enter
UP, DOWN, DELETE, ESCAPE = Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Delete, Qt.Key.Key_Escape
F2, F4, F5, F6, F7, F8 = (getattr(Qt.Key, f"Key_F{n}") for n in (2, 4, 5, 6, 7, 8))
CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
MOST_KEYS = 12


class Table:
    """The student at the keyboard, and what the screen shows."""

    def __init__(self, qtbot: Any, keyboard: Keyboard, program: Program, desk: Desk) -> None:
        self.qtbot, self.keyboard, self.program, self.desk = qtbot, keyboard, program, desk
        listen_to(keyboard, program)
        self.bench: SortingBench = go_to(qtbot, program, "sorting")
        self.keys = 0

    def settle_down(self) -> None:
        settled(self.qtbot, self.program)

    def scan(self, code: str) -> None:
        """Scan a tag, and wait until it is in hand and read."""
        self.keyboard.wait(2_500)
        self.keyboard.scan(code)
        self.settle_down()

    def type(self, *said: str | Qt.Key) -> None:
        """Type texts and keys, and count the presses; waits for nothing."""
        for one in said:
            if isinstance(one, Qt.Key):
                self.keyboard.press(one, 90)
                self.keys += 1
            else:
                self.keyboard.type(one)
                self.keys += len(one)

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier) -> None:
        """Press a key with another one held."""
        window = QGuiApplication.focusWindow()
        assert window is not None
        QTest.keyClick(window, key, held)
        self.settle_down()

    def row(self, *said: str | Qt.Key) -> int:
        """Type one group to its end, wait until it is written, and return the keys it took."""
        before = self.keys
        self.type(*said)
        self.settle_down()
        return self.keys - before

    def shown(self) -> list[list[str]]:
        """Return the rows on screen."""
        return [[cell.text for cell in row.cells] for row in self.bench.table.rows.table.rows]

    def stored(self, code: str) -> SortingTable:
        return table_of(self.desk, code)

    def slip(self) -> str:
        return self.bench.refusals.accessibleName() if self.bench.refusals.isVisible() else ""

    def said(self) -> str:
        return self.program.window.scan_line.answer.in_one_line()

    def bar(self) -> list[str]:
        return [part.words for part in self.bench.table.bar.parts]


def in_short(groups: tuple[GroupRow, ...]) -> list[str]:
    return [group.facts.in_short() for group in groups]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return new_yard(tmp_path, by="Oren")


@pytest.fixture
def table(qtbot: Any, keyboard: Keyboard, desk: Desk) -> Iterator[Table]:
    with opened(qtbot, desk) as program:
        yield Table(qtbot, keyboard, program, desk)


# --- the day ------------------------------------------------------------------------------------------------------


def test_a_bucket_of_132_is_read_settled_and_bagged_by_keyboard_alone(table: Table, desk: Desk) -> None:
    code, after = dry_container(desk, 131, 132), dry_container(desk, 132, 40)
    table.settle_down()
    table.scan(code)
    assert table.bar() == ["132 left of 132"]
    took = [
        table.row("q", ENTER, "r", ENTER, "11", ENTER, "340", ENTER),
        table.row("q", ENTER, "ba", ENTER, "2", ENTER, "88.5", ENTER),
        # The first discard of the day is asked why; from then on F4 brings the reason along.
        table.row("q", ENTER, "b", ENTER, "54", ENTER, F4, ENTER, "1", ENTER),
        table.row("t", ENTER, "ha", ENTER, "2", ENTER, "96", ENTER),
        table.row("cs", ENTER, "b", ENTER, "3", ENTER, "140", ENTER),
        table.row("g", ENTER, "b", ENTER, "2", ENTER, ENTER),
        table.row("m", ENTER, "b", ENTER, "57", ENTER, "611", F4, ENTER),
    ]
    assert max(took) <= MOST_KEYS
    assert table.shown()[2] == ["QRS", "body", "54", "", "○ discard", "no diagnostic value", "written"]
    assert table.bench.table.big.text() == "MBU body, 57, 611.0 g, discard"
    assert table.bench.table.settle.text() == "Settle when 1 is read or explained"
    assert not table.bench.table.settle.isEnabled()
    # A pebble: "not a sherd", one of them, no grams, "pebble" is proposed.
    table.row(F6, ENTER, ENTER, ENTER)
    assert table.bench.table.settle.text() == "Settle bucket 131"
    table.press(ENTER, CONTROL)
    assert standing_of(desk, code) is Standing.SETTLED
    assert [words for _bold, words in table.bench.words.words.lines] == [": 15 sherds, 524.5 g", ": 5 sherds"]
    table.row(ENTER)
    assert standing_of(desk, code) is Standing.BAGGED
    bags = bags_of(desk, code)
    assert [(bag.what, bag.pieces, bag.tenths) for bag in bags] == [("diagnostic", 15, 5245), ("body", 5, None)]
    assert all(bag.code in str(table.bench.words.words.lines) for bag in bags)
    stored = table.stored(code)
    assert stored.ledger.balances
    assert [(entry.kind, entry.pieces, entry.why) for entry in stored.entries[1:]] == [(Entry.NOT_A_SHERD, 1, "pebble")]
    prove_totals(desk)
    # The next one is offered, and Enter takes it in hand.
    assert table.bench.words.words.act == "Next: bucket 132"
    table.row(ENTER)
    assert table.bench.state.dossier is not None
    assert table.bench.state.dossier.code == after
    assert table.bench.table.fields.ware.hasFocus()


def test_the_row_above_is_repeated_the_number_pad_writes_and_shift_enter_goes_back(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, "340,5", ENTER)
    assert table.row(DOWN, DOWN, "7", PAD_ENTER, DOWN, PAD_ENTER) == 6
    table.type("t", ENTER)
    assert table.bench.table.fields.part.hasFocus()
    table.press(ENTER, SHIFT)
    assert table.bench.table.fields.ware.hasFocus()
    assert in_short(table.stored(code).groups) == ["QRS rim 11, 340.5 g, keep", "QRS rim 7, 340.5 g, keep"]


def test_codes_are_typed_in_any_case_by_their_name_or_by_their_number(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    strip = table.bench.table.strip
    assert strip.words() == ["1 CSJ", "2 GGL", "3 MBU", "4 QRS", "5 TGY"]
    table.type("comb")
    assert strip.words()[0] == "1 CSJ"
    table.row(ENTER, "body", ENTER, "3", ENTER, ENTER)
    table.row("3", ENTER, "6", ENTER, "4", ENTER, ENTER)
    table.row("gGl", ENTER, "RIM WITH", ENTER, "1", ENTER, ENTER)
    said = ["CSJ body 3, keep", "MBU base 4, keep", "GGL rim_handle 1, keep"]
    assert in_short(table.stored(code).groups) == said


# --- doubts and refusals ------------------------------------------------------------------------------------------


def test_a_typing_doubt_stands_beside_its_row_and_the_dictation_goes_on(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, ENTER)
    table.row("tgu", ENTER, "body", ENTER, "5", ENTER, ENTER)
    assert table.bench.table.fields.ware.hasFocus()
    table.row("mbu", ENTER, ENTER, "4", ENTER, ENTER)
    table.row("csj", ENTER, "body", ENTER, "9", ENTER, ENTER)
    assert [row[0] for row in table.shown()] == ["QRS", "tgu", "MBU", "CSJ"]
    assert table.shown()[1][5] == "No ware tgu. Near it: TGY."
    assert table.shown()[2][5] == "No part. Rim, body, base?"
    assert "9 in doubt" in table.bar()
    assert in_short(table.stored(code).groups) == ["QRS rim 11, keep", "CSJ body 9, keep"]
    table.press(ENTER, CONTROL)
    assert "F2" in table.slip()
    assert standing_of(desk, code) is Standing.SORTING
    # F2 goes to the field that is doubtful; what was right is not typed again.
    table.row(F2, "tgy", ENTER, ENTER, ENTER, ENTER)
    table.row(F2, "body", ENTER, ENTER, ENTER)
    assert [row[0] for row in table.shown()] == ["QRS", "TGY", "MBU", "CSJ"]
    assert {row[6] for row in table.shown()} == {"written"}
    assert sorted(in_short(table.stored(code).groups)) == [
        "CSJ body 9, keep", "MBU body 4, keep", "QRS rim 11, keep", "TGY body 5, keep",
    ]  # fmt: skip


def test_a_wrong_number_waits_with_its_row_and_is_kept_as_typed(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "1.5", ENTER, ENTER)
    table.row("qrs", ENTER, "rim", ENTER, "0", ENTER, ENTER)
    assert "not a whole number" in table.shown()[0][5]
    assert table.shown()[0][2] == "1.5"
    assert "1 to 100000 pieces" in table.shown()[1][5]
    assert table.stored(code).groups == ()


def test_what_the_store_refuses_stays_on_the_table_as_it_was_typed(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, ENTER)
    table.type(UP, ENTER)
    group = table.stored(code).groups[0]
    # Mika changes the row at the same moment; the news of it has not come yet.
    change_group(sitting(desk, "Mika"), group.id, seen=group.version, pieces=12)
    table.row(ENTER, ENTER, "13", ENTER, ENTER)
    assert table.shown()[0][2] == "13"
    assert table.shown()[0][5].startswith("Now QRS rim, 12, keep. Mika Sool changed this meanwhile.")
    assert table.stored(code).groups[0].pieces == 12
    # Seen again with what stands there now, the change goes through.
    table.row(F2, ENTER, ENTER, ENTER, ENTER)
    assert table.stored(code).groups[0].pieces == 13
    assert table.shown()[0][6] == "written"


def test_over_is_shown_as_over_nothing_is_refused_and_only_settling_asks(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 10)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "12", ENTER, ENTER)
    assert [part.fill for part in table.bench.table.bar.parts] == [Fill.SOLID, Fill.OVER]
    assert table.bar() == ["12 to keep", "2 over the 10"]
    assert table.bench.table.settle.text() == "Settle when 2 over are put right"
    table.press(ENTER, CONTROL)
    assert "2 pieces more than the 10" in table.slip()
    # Counted again: twelve it is.
    table.row(F5, "12", ENTER, ENTER)
    assert table.bar() == ["12 to keep", "0 left of 12"]
    table.press(ENTER, CONTROL)
    assert standing_of(desk, code) is Standing.SETTLED


def test_found_more_and_not_found_are_entries_with_why_and_above_a_share_a_lead_is_asked_for(
    qtbot: Any, keyboard: Keyboard, tmp_path: Path
) -> None:
    desk = new_yard(tmp_path, by="Lio")
    code = dry_container(desk, 131, 10)
    with opened(qtbot, desk) as program:
        table = Table(qtbot, keyboard, program, desk)
        table.scan(code)
        table.row("qrs", ENTER, "rim", ENTER, "8", ENTER, ENTER)
        table.row(F8, ENTER, ENTER, ENTER)
        assert "A lead writes that" in table.slip()
        assert table.bench.table.ask.number.line.text() == "2"
        assert table.bench.table.ask.isVisible()
        table.row(ESCAPE)
        assert table.bench.table.fields.ware.hasFocus()
        table.row(F7, "1", ENTER, ENTER, "3", ENTER)
        entries = table.stored(code).entries[1:]
        assert [(entry.kind, entry.pieces, entry.why) for entry in entries] == [(Entry.FOUND_MORE, 1, "stuck together")]


# --- taking back --------------------------------------------------------------------------------------------------


def test_the_last_is_taken_back_a_row_a_removal_and_an_explanation(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, ENTER)
    table.row("tgy", ENTER, "body", ENTER, "5", ENTER, ENTER)
    table.type("mb")
    table.press(Qt.Key.Key_Z, CONTROL)
    assert in_short(table.stored(code).groups) == ["QRS rim 11, keep"]
    assert [row[0] for row in table.shown()] == ["QRS"]
    assert table.bench.table.fields.ware.typed() == "mb"
    table.row("u", ENTER, "body", ENTER, "4", ENTER, ENTER)
    table.row(UP, UP, DELETE)
    assert in_short(table.stored(code).groups) == ["MBU body 4, keep"]
    assert table.bench.table.fields.ware.hasFocus()
    table.press(Qt.Key.Key_Z, CONTROL)
    assert [row[0] for row in table.shown()] == ["QRS", "MBU"]
    table.row(F6, ENTER, ENTER, ENTER)
    table.press(Qt.Key.Key_Z, CONTROL)
    stored = table.stored(code)
    assert len(stored.groups) == 2
    assert [(entry.kind, entry.pieces) for entry in stored.entries[1:]] == [
        (Entry.NOT_A_SHERD, 1),
        (Entry.NOT_A_SHERD, -1),
    ]
    prove_totals(desk)


def test_a_row_is_changed_by_going_up_to_it_and_what_was_begun_below_is_back(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, "340", ENTER)
    table.type("cs", ENTER, "bo", UP, ENTER)
    table.row(ENTER, "base", ENTER, "12", ENTER, ENTER)
    assert in_short(table.stored(code).groups) == ["QRS base 12, 340.0 g, keep"]
    typed = table.bench.table.fields.typed()
    assert (typed.ware, typed.part) == ("CSJ", "body")
    assert table.bench.table.fields.count.line.hasFocus()
    # Escape leaves a row as it was; a letter typed among the rows goes to the row below.
    table.type(UP, ENTER, "x", ESCAPE, UP, "7", ENTER, ENTER)
    table.settle_down()
    assert in_short(table.stored(code).groups)[1] == "CSJ body 7, keep"


# --- the next tag -------------------------------------------------------------------------------------------------


def test_a_half_typed_row_stays_with_its_bucket_when_the_next_tag_is_scanned(table: Table, desk: Desk) -> None:
    first, second = dry_container(desk, 131, 132), dry_container(desk, 132, 40)
    table.scan(first)
    table.type("qrs", ENTER, "rim", ENTER, "11")
    table.scan(second)
    assert table.bench.table.fields.typed().is_empty
    assert "Half a row of bucket 131 is kept: QRS rim, 11, keep" in table.bench.table.kept.text().text()
    assert table.slip() == ""
    table.row("tgy", ENTER, "body", ENTER, "5", ENTER, ENTER)
    assert not table.bench.table.kept.isVisible()
    table.scan(first)
    assert table.bench.table.fields.count.line.text() == "11"
    table.bench.table.fields.count.setFocus()
    table.row(ENTER, ENTER)
    assert in_short(table.stored(first).groups) == ["QRS rim 11, keep"]
    assert in_short(table.stored(second).groups) == ["TGY body 5, keep"]


def test_a_scan_never_comes_into_the_count(table: Table, desk: Desk) -> None:
    first, second = dry_container(desk, 131, 132), dry_container(desk, 132, 40)
    table.scan(first)
    table.type("qrs", ENTER, "rim", ENTER)
    assert table.bench.table.fields.count.line.hasFocus()
    table.scan(second)
    assert table.bench.state.dossier is not None
    assert table.bench.state.dossier.code == second
    table.scan(first)
    assert table.bench.table.fields.count.line.text() == ""
    # A code that comes in as typing, its scanner's beginning lost: the number field refuses it.
    table.bench.table.fields.count.setFocus()
    table.row(first, ENTER, ENTER)
    assert "scanned code" in table.shown()[0][5]
    assert table.stored(first).groups == ()


def test_rows_typed_after_a_scan_are_of_what_was_scanned_and_of_nothing_else(table: Table, desk: Desk) -> None:
    first, second = dry_container(desk, 131, 132), dry_container(desk, 132, 40)
    table.scan(first)
    with HeldBack(table):
        table.keyboard.wait(2_500)
        table.keyboard.scan(second)
        table.type("tgy", ENTER, "body", ENTER, "5", ENTER, ENTER)
        table.type("qrs", ENTER, "rim", ENTER, "6")
    table.settle_down()
    assert in_short(table.stored(second).groups) == ["TGY body 5, keep"]
    assert table.stored(first).groups == ()
    typed = table.bench.table.fields.typed()
    assert (typed.ware, typed.part, typed.count) == ("QRS", "rim", "6")
    table.bench.table.fields.count.setFocus()
    table.row(ENTER, ENTER)
    assert in_short(table.stored(second).groups) == ["TGY body 5, keep", "QRS rim 6, keep"]


def test_rows_typed_after_an_unknown_scan_wait_to_be_asked_about(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.type("csj", ENTER, "body", ENTER)
    with HeldBack(table):
        table.program.window.on_scan("999")
        table.type("tgy", ENTER, "body", ENTER, "5", ENTER, ENTER)
    table.settle_down()
    assert table.stored(code).groups == ()
    assert table.shown()[0][5] == "Typed after the scan. Is it of 131?"
    assert table.bench.table.fields.part.typed() == "body"
    table.row(F2, ENTER, ENTER, ENTER, ENTER)
    assert in_short(table.stored(code).groups) == ["TGY body 5, keep"]
    assert table.bench.table.fields.ware.typed() == "CSJ"


class HeldBack:
    """Let the deed lane wait, as behind a slow disk, until the block is left."""

    def __init__(self, table: Table) -> None:
        self._go_on = threading.Event()
        table.program.lanes.deed(lambda: self._go_on.wait(20))

    def __enter__(self) -> None:
        return

    def __exit__(self, *_fault: object) -> None:
        self._go_on.set()


def test_the_typing_never_waits_for_the_store(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    with HeldBack(table):
        for ware, pieces in (("qrs", "11"), ("tgy", "5"), ("mbu", "7")):
            table.type(ware, ENTER, "body", ENTER, pieces, ENTER, ENTER)
        assert [row[6] for row in table.shown()] == ["pending"] * 3
        assert table.bench.table.big.text() == "MBU body, 7, keep"
        assert table.bar() == ["23 to keep", "109 left of 132"]
        assert table.bench.table.fields.ware.hasFocus()
    table.settle_down()
    assert [row[6] for row in table.shown()] == ["written"] * 3
    assert [group.pieces for group in table.stored(code).groups] == [11, 5, 7]


# --- what may be sorted, and what waits ---------------------------------------------------------------------------


def test_what_is_not_dry_is_asked_about_with_a_way_to_go_on(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    advance(desk, hours=-6)
    table.scan(code)
    assert table.bench.asked() is Asked.NOT_DRY
    assert "has lain to dry for 2 of 8 hours" in table.bench.words.head.text()
    table.row(ENTER)
    assert standing_of(desk, code) is Standing.SORTING
    assert table.bench.table.fields.ware.hasFocus()


def test_what_cannot_be_sorted_says_what_is_next(table: Table, desk: Desk) -> None:
    code = put_container(desk, 131)
    bone = put_container(desk, 132, material="bone")
    table.scan(code)
    assert table.bench.words.head.text() == "Bucket 131 is not ready to be sorted"
    assert "dip and look" in str(table.bench.words.words.lines)
    table.scan(bone)
    assert table.bench.asked() is Asked.NOT_YET


def test_where_only_sorting_counts_the_sum_of_what_is_read_becomes_the_count(table: Table, desk: Desk) -> None:
    with_settings(desk, count_at_wash=False)
    code = put_container(desk, 131, steps=DRY)
    table.settle_down()
    table.scan(code)
    assert "Counted only at sorting" in table.bench.table.count_note.text()
    assert table.bench.table.settle.text() == "Settle when it is read"
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, ENTER)
    assert table.bar() == ["11 to keep"]
    table.press(ENTER, CONTROL)
    assert table.stored(code).ledger.counted == 11
    assert standing_of(desk, code) is Standing.SETTLED
    counted_first = put_container(desk, 132, steps=DRY)
    table.scan(counted_first)
    table.row(F5, "30", ENTER, ENTER)
    assert table.bar() == ["30 left of 30"]


def test_the_list_stands_while_nothing_is_in_hand_and_enter_takes_one(table: Table, desk: Desk) -> None:
    wet = put_container(desk, 140, steps=LOOKED_AT)
    first, second = dry_container(desk, 131, 132), dry_container(desk, 132, 40)
    # A minute later the list is read afresh: they have lain their hours.
    table.bench.refresh()
    table.settle_down()
    waiting = table.bench.waiting
    assert [row.row_id for row in waiting.model.rows] == [first, second]
    assert wet not in [row.row_id for row in waiting.model.rows]
    assert table.bench.what_waits() == "2 dry and waiting"
    waiting.table.setFocus()
    waiting.table.selectRow(1)
    table.row(ENTER)
    assert table.bench.state.dossier is not None
    assert table.bench.state.dossier.code == second
    table.row("qrs", ENTER, "rim", ENTER, "4", ENTER, ENTER)
    table.type("mb")
    table.press(Qt.Key.Key_L, CONTROL)
    assert [row.row_id for row in waiting.model.rows] == [second, first]
    table.scan(second)
    assert table.bench.table.fields.ware.typed() == "MBU"


def test_a_settled_bucket_is_opened_again_with_a_reason(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 4)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "4", ENTER, ENTER)
    table.press(ENTER, CONTROL)
    QTest.mouseClick(table.bench.words.reopen, Qt.MouseButton.LeftButton)
    table.row(ENTER)
    assert standing_of(desk, code) is Standing.SORTING
    assert table.bench.table.fields.ware.hasFocus()


def test_what_is_not_sorted_here_goes_into_one_bag(table: Table, desk: Desk) -> None:
    code = put_container(desk, 140, material="bone")
    log_count(desk, code, pieces=22)
    advance(desk, hours=9)
    mark_dry(desk, [code])
    table.settle_down()
    table.scan(code)
    assert table.bench.words.words.lines == (("Bag, all of it", ": 22 bones"),)
    table.row(ENTER)
    assert [(bag.what, bag.pieces) for bag in bags_of(desk, code)] == [("all", 22)]


def test_a_key_whose_release_was_lost_writes_nothing_by_itself(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.type("qrs", ENTER, "rim", ENTER, "11")
    table.keyboard.repeat(ENTER, "\r", 20)
    table.settle_down()
    assert table.stored(code).groups == ()
    assert table.bench.table.fields.count.line.text() == "11"


def test_dry_grams_are_held_against_those_of_the_wash(table: Table, desk: Desk) -> None:
    with_settings(desk, count_at_wash=False)
    code = put_container(desk, 131, steps=DRY)
    table.settle_down()
    table.scan(code)
    table.row(F5, "13", ENTER, "500", ENTER)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, "400", ENTER)
    table.row("qrs", ENTER, "base", ENTER, "2", ENTER, "80", ENTER)
    assert table.bench.table.grams_note.text() == "Grams are 20.0 g apart, more than 2 %: weigh again"
    table.row(UP, ENTER, ENTER, ENTER, ENTER, "95", ENTER)
    assert table.bench.table.grams_note.text() == "Grams agree within 2 %"


# --- by mouse, and to the eye -------------------------------------------------------------------------------------


def click(widget: QWidget) -> None:
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton)


def strip_button(table: Table, words: str) -> QPushButton:
    return next(one for one in table.bench.table.strip.findChildren(QPushButton) if one.text() == words)


def test_a_group_is_written_changed_and_removed_by_mouse(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    page, fields = table.bench.table, table.bench.table.fields
    click(strip_button(table, "4 QRS"))
    click(fields.part)
    click(strip_button(table, "6 base"))
    click(fields.count.line)
    table.type("11")
    fields.decision.setCurrentIndex(fields.decision.findData(Decision.HOLD))
    click(fields.write)
    table.settle_down()
    assert in_short(table.stored(code).groups) == ["QRS base 11, hold"]
    place = page.rows.visualRect(page.rows.table.index(0, 0)).center()
    QTest.mouseClick(page.rows.viewport(), Qt.MouseButton.LeftButton, pos=place)
    QTest.mouseDClick(page.rows.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(place))
    assert page.remove.isVisible()
    click(page.remove)
    table.settle_down()
    assert table.stored(code).groups == ()
    assert not page.remove.isVisible()


def test_nothing_is_cut_nameless_or_too_small_at_any_size(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, "340", ENTER)
    table.row("tgu", ENTER, "body", ENTER, "5", ENTER, F4, F4, ENTER)
    table.row(F6, ENTER, ENTER, ENTER)
    for size in SIZES:
        table.program.window.resize(*size)
        QApplication.sendPostedEvents()
        assert cut_words(table.bench) == [], size
        assert nameless(table.bench) == [], size
        assert too_small(table.bench) == [], size
