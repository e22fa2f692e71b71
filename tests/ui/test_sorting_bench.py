"""Oren's afternoon at the sorting table, by real key events through the whole program on a real store.

Somebody reads aloud, somebody types. Groups, numbers and the pebble are those of the invented scenario; that a group
takes at most twelve keys is the design's own figure.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton

from findsdesk.desk.bagging import bags_of
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.sorting import change_group
from findsdesk.desk.washing import mark_dry
from findsdesk.domain.balance import Entry
from findsdesk.domain.routes import Standing
from findsdesk.ui.widgets.balance_bar import Fill
from tests.desk.at_the_table import dry_container, prove_totals
from tests.ui.at_the_sorting_table import (  # noqa: F401
    CONTROL,
    DELETE,
    DOWN,
    ENTER,
    ESCAPE,
    F2,
    F4,
    F5,
    F6,
    F7,
    F8,
    MOST_KEYS,
    PAD_ENTER,
    PAGE_DOWN,
    SHIFT,
    UP,
    Table,
    desk,
    in_short,
    table,
)
from tests.ui.at_work import opened
from tests.ui.conftest import Keyboard
from tests.yard import LOOKED_AT, new_yard, put_container, sitting, standing_of

# --- the day ------------------------------------------------------------------------------------------------------


def test_a_bucket_of_132_is_read_settled_and_bagged_by_keyboard_alone(table: Table, desk: Desk) -> None:
    code, after = dry_container(desk, 131, 132), dry_container(desk, 132, 40)
    table.settle_down()
    table.scan(code)
    assert table.bar() == ["132 left of 132"]
    took = [
        table.row("q", ENTER, "r", ENTER, "11", ENTER, "340", ENTER, "62", ENTER),
        table.row("q", ENTER, "ba", ENTER, "2", ENTER, "88.5", ENTER, ENTER),
        # The first discard of the day is asked why; from then on F4 brings the reason along.
        table.row("q", ENTER, "b", ENTER, "54", ENTER, F4, ENTER, ENTER, "1", ENTER),
        table.row("t", ENTER, "ha", ENTER, "2", ENTER, "96", ENTER, ENTER),
        table.row("cs", ENTER, "b", ENTER, "3", ENTER, "140", ENTER, ENTER),
        table.row("g", ENTER, "b", ENTER, "2", ENTER, ENTER, ENTER),
        table.row("m", ENTER, "b", ENTER, "57", ENTER, "611", F4, ENTER, ENTER),
    ]
    assert sum(took) / len(took) <= MOST_KEYS
    assert table.shown()[2] == ["QRS", "body", "54", "", "", "○ discard", "no diagnostic value", "written"]
    assert table.bench.table.big.text() == "MBU body, 57, 611.0 g, discard"
    assert table.bench.table.settle.text() == "Settle when 1 is sorted or explained"
    assert not table.bench.table.settle.isEnabled()
    # A pebble: "not a sherd", one of them, no grams, "pebble" is proposed.
    table.row(F6, ENTER, ENTER, ENTER)
    assert table.bench.table.settle.text() == "Settle bucket 131"
    table.press(ENTER, CONTROL)
    assert standing_of(desk, code) is Standing.SETTLED
    assert [words for _bold, words in table.bench.words.words.lines] == [
        ": 15 sherds, 524.5 g",
        ": 5 sherds",
        "Nobody has read it yet.",
    ]
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
    assert table.bench.table.fields.cells["ware"].hasFocus()


def test_the_row_above_is_repeated_the_number_pad_writes_and_shift_enter_goes_back(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, "340,5", ENTER, ENTER)
    assert table.row(DOWN, ENTER, DOWN, ENTER, "7", PAD_ENTER, DOWN, PAD_ENTER, ENTER) == 9
    table.type("t", ENTER)
    assert table.bench.table.fields.cells["part"].hasFocus()
    table.press(ENTER, SHIFT)
    assert table.bench.table.fields.cells["ware"].hasFocus()
    assert in_short(table.stored(code).groups) == ["QRS rim 11, 340.5 g, keep", "QRS rim 7, 340.5 g, keep"]


def test_codes_are_typed_in_any_case_by_their_name_or_by_their_number(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    strip = table.bench.table.strip
    assert strip.words() == ["1 QRS", "2 MBU", "3 TGY", "4 CSJ", "5 GGL"]
    table.type("comb")
    assert strip.words()[0] == "4 CSJ"
    table.row(ENTER, "body", ENTER, "3", ENTER, ENTER, ENTER)
    table.row("2", ENTER, "6", ENTER, "4", ENTER, ENTER, ENTER)
    table.row("gGl", ENTER, "RIM WITH", ENTER, "1", ENTER, ENTER, ENTER)
    said = ["CSJ body 3, keep", "MBU base 4, keep", "GGL rim handle 1, keep"]
    assert in_short(table.stored(code).groups) == said


# --- doubts and refusals ------------------------------------------------------------------------------------------


def test_a_typing_doubt_stands_beside_its_row_and_the_dictation_goes_on(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, ENTER, ENTER)
    table.row("tgu", ENTER, "body", ENTER, "5", ENTER, ENTER, ENTER)
    assert table.bench.table.fields.cells["ware"].hasFocus()
    table.row("mbu", ENTER, ENTER, "4", ENTER, ENTER, ENTER)
    table.row("csj", ENTER, "body", ENTER, "9", ENTER, ENTER, ENTER)
    assert [row[0] for row in table.shown()] == ["QRS", "tgu ?", "MBU", "CSJ"]
    assert table.shown()[1][-2] == "No ware tgu. Near it: TGY."
    assert table.shown()[2][-2] == "No part. Rim, body, base?"
    assert table.bar() == ["20 to keep", "112 left of 132, 9 in doubt"]
    assert in_short(table.stored(code).groups) == ["QRS rim 11, keep", "CSJ body 9, keep"]
    table.press(ENTER, CONTROL)
    assert "F2" in table.slip()
    assert standing_of(desk, code) is Standing.SORTING
    # F2 goes to the field that is doubtful; what was right is not typed again.
    table.row(F2, "tgy", ENTER, ENTER, ENTER, ENTER, ENTER)
    table.row(F2, "body", ENTER, ENTER, ENTER, ENTER)
    assert [row[0] for row in table.shown()] == ["QRS", "TGY", "MBU", "CSJ"]
    assert {row[-1] for row in table.shown()} == {"written"}
    assert sorted(in_short(table.stored(code).groups)) == [
        "CSJ body 9, keep", "MBU body 4, keep", "QRS rim 11, keep", "TGY body 5, keep",
    ]  # fmt: skip


def test_a_wrong_number_waits_with_its_row_and_is_kept_as_typed(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "1.5", ENTER, ENTER, ENTER)
    table.row("qrs", ENTER, "rim", ENTER, "0", ENTER, ENTER, ENTER)
    assert "not a whole number" in table.shown()[0][-2]
    assert table.shown()[0][2] == "1.5 ?"
    assert "1 to 100000 pieces" in table.shown()[1][-2]
    assert table.stored(code).groups == ()


def test_what_the_store_refuses_stays_on_the_table_as_it_was_typed(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, ENTER, ENTER)
    table.type(UP, ENTER)
    group = table.stored(code).groups[0]
    # Mika changes the row at the same moment; the news of it has not come yet.
    change_group(sitting(desk, "Mika"), group.id, seen=group.version, pieces=12)
    table.row(ENTER, ENTER, "13", ENTER, ENTER, ENTER)
    assert table.shown()[0][2] == "13"
    assert table.shown()[0][-2] == (
        "Mika Sool changed it too. Count mine 13, theirs 12, before 11. F2, Page down writes mine."
    )
    assert table.stored(code).groups[0].pieces == 12
    # Seen again with what stands there now, the change goes through.
    table.row(F2, PAGE_DOWN)
    assert table.stored(code).groups[0].pieces == 13
    assert table.shown()[0][-1] == "written"


def test_over_is_shown_as_over_nothing_is_refused_and_only_settling_asks(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 10)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "12", ENTER, ENTER, ENTER)
    assert [part.fill for part in table.bench.table.bar.parts] == [Fill.SOLID, Fill.OVER]
    assert table.bar() == ["12 to keep", "2 over the 10"]
    assert table.bench.table.settle.text() == "Settle when 2 over are corrected"
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
        table.row("qrs", ENTER, "rim", ENTER, "8", ENTER, ENTER, ENTER)
        table.row(F8, ENTER, ENTER, ENTER)
        assert "A lead writes that" in table.slip()
        assert table.bench.table.ask.number.line.text() == "2"
        assert table.bench.table.ask.isVisible()
        table.row(ESCAPE)
        assert table.bench.table.fields.cells["ware"].hasFocus()
        table.row(F7, "1", ENTER, ENTER, "3", ENTER)
        entries = table.stored(code).entries[1:]
        assert [(entry.kind, entry.pieces, entry.why) for entry in entries] == [(Entry.FOUND_MORE, 1, "stuck together")]


# --- taking back --------------------------------------------------------------------------------------------------


def test_the_last_is_taken_back_a_row_a_removal_and_an_explanation(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, ENTER, ENTER)
    table.row("tgy", ENTER, "body", ENTER, "5", ENTER, ENTER, ENTER)
    table.type("mb")
    table.press(Qt.Key.Key_Z, CONTROL)
    assert in_short(table.stored(code).groups) == ["QRS rim 11, keep"]
    assert [row[0] for row in table.shown()] == ["QRS"]
    assert table.bench.table.fields.cells["ware"].typed() == "mb"
    table.row("u", ENTER, "body", ENTER, "4", ENTER, ENTER, ENTER)
    table.row(UP, UP, DELETE)
    assert in_short(table.stored(code).groups) == ["MBU body 4, keep"]
    assert table.bench.table.rows.hasFocus()
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
    table.row("qrs", ENTER, "rim", ENTER, "11", ENTER, "340", ENTER, ENTER)
    table.type("cs", ENTER, "bo", UP, ENTER)
    table.row(ENTER, "base", ENTER, "12", ENTER, ENTER, ENTER)
    assert in_short(table.stored(code).groups) == ["QRS base 12, 340.0 g, keep"]
    typed = table.bench.table.fields.typed()
    assert (typed.ware, typed.part) == ("CSJ", "body")
    assert table.bench.table.fields.cells["pieces"].line.hasFocus()
    # Escape leaves a row as it was; a letter typed among the rows goes to the row below.
    table.type(UP, ENTER, "x", ESCAPE, UP, "7", ENTER, ENTER, ENTER)
    table.settle_down()
    assert in_short(table.stored(code).groups)[1] == "CSJ body 7, keep"


def test_grams_that_disagree_are_asked_about_on_the_slip_and_settled_all_the_same(table: Table, desk: Desk) -> None:
    code = put_container(desk, 131, steps=LOOKED_AT)
    log_count(desk, code, pieces=5, tenths=1000)
    mark_dry(desk, [code])
    table.settle_down()
    table.scan(code)
    table.row("q", ENTER, "r", ENTER, "5", ENTER, "80", ENTER, ENTER)
    table.press(ENTER, CONTROL)
    slip = table.bench.refusals
    assert any("100.0 g came in, 80.0 g are accounted for" in label.text() for label in slip.findChildren(QLabel))
    assert standing_of(desk, code) is Standing.SORTING
    next(one for one in slip.findChildren(QPushButton) if one.text() == "It is so, go on").click()
    table.settle_down()
    assert standing_of(desk, code) is Standing.SETTLED
