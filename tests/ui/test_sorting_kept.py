"""What is typed at the sorting table and in no store: kept on disk, taken back in turn, emptied, decided, by keys."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt

from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.group_rows import GroupFacts
from findsdesk.desk.objects import Leaves, register_object
from findsdesk.desk.opening import open_store
from findsdesk.desk.reading_rows import readings_of_container
from findsdesk.desk.readings import read_container
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.kept_rows import KeptRows, text_of
from findsdesk.ui.benches.sorting.lines import Saved, TableLine, TableLines
from findsdesk.ui.benches.sorting.table_words import entry_words
from findsdesk.ui.benches.sorting.typed_row import TypedRow
from findsdesk.ui.kept_file import file_beside
from findsdesk.ui.life_in_words import life_steps
from findsdesk.ui.words_around import WordsAround
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import (  # noqa: F401
    CONTROL,
    DELETE,
    DOWN,
    ENTER,
    ESCAPE,
    F2,
    F4,
    F6,
    PAGE_DOWN,
    UP,
    Table,
    column,
    desk,
    in_short,
    keep_and_discard,
    paste,
    table,
)
from tests.ui.at_work import opened
from tests.ui.conftest import Keyboard
from tests.yard import acts, new_yard, person

F3, F11 = Qt.Key.Key_F3, Qt.Key.Key_F11


def take_back(table: Table) -> None:
    table.press(Qt.Key.Key_Z, CONTROL)


def turn(table: Table) -> str:
    return table.bench.table.turn.text()


# --- kept on disk -------------------------------------------------------------------------------------------------


def test_doubts_and_the_half_typed_row_are_back_after_the_window_was_closed(
    qtbot: Any, keyboard: Keyboard, tmp_path: Path
) -> None:
    first = new_yard(tmp_path, by="Oren")
    code, other = dry_container(first, 131, 132), dry_container(first, 132, 9)
    with opened(qtbot, first, station="two windows") as program:
        table = Table(qtbot, keyboard, program, first)
        table.scan(other)
        table.row("q", ENTER, "r", ENTER, "1", ENTER, ENTER, ENTER)
        table.row("xyz", ENTER, "r", ENTER, "2", ENTER, ENTER, ENTER)
        table.scan(code)
        table.row("zzz", ENTER, "b", ENTER, "4", ENTER, ENTER, ENTER)
        table.type("mb", ENTER, "hello world")
        where = file_beside(first)
        # A process that is ended closes nothing: it stands on disk before.
        qtbot.waitUntil(lambda: where.exists() and "hello world" in where.read_text(encoding="utf-8"))
        table.type("2")
    assert "hello world2" in where.read_text(encoding="utf-8")
    again = open_store(first.store.path or first.store.address, by="Oren", station="first", clock=first.clock)
    with opened(qtbot, again, station="two windows") as program:
        table = Table(qtbot, keyboard, program, again)
        told = table.bench.waiting.unwritten.accessibleName()
        assert "132: 1 row in doubt" in told
        assert "131: half a row, 1 row in doubt" in told
        table.scan(code)
        assert table.bench.table.fields.typed().part == "hello world2"
        said = table.bench.table.kept.accessibleName()
        assert "Kept from before the window was closed: a half typed row, 1 row not written. F2 leads" in said
        table.scan(other)
        assert [row[0] for row in table.shown()] == ["QRS", "xyz ?"]
        table.row(F2, "t", ENTER, PAGE_DOWN)
        assert in_short(table.stored(other).groups) == ["QRS rim 1, keep", "TGY rim 2, keep"]
        table.bench.keeping.keep_now()
        assert list(json.loads(where.read_text(encoding="utf-8"))["tables"]) == [str(table.stored(code).container_id)]


def test_a_half_typed_reading_outlasts_another_container_in_hand_and_the_window(
    qtbot: Any, keyboard: Keyboard, tmp_path: Path
) -> None:
    first = new_yard(tmp_path, by="Oren")
    code, other = dry_container(first, 131, 132), dry_container(first, 132, 9)
    with opened(qtbot, first, station="two windows") as program:
        table = Table(qtbot, keyboard, program, first)
        table.scan(code)
        table.row(F11, "Harbour III", ENTER)
        table.bench.beside_work.reading.form.focus_field("line")
        table.row("half a reading")
        table.scan(other)
        table.row(F11)
        assert half_read(table) == ("", "")
        table.scan(code)
        table.row(F11)
        assert half_read(table) == ("III", "half a reading")
    where = file_beside(first, "readings-sorting")
    assert "half a reading" in where.read_text(encoding="utf-8")
    again = open_store(first.store.path or first.store.address, by="Oren", station="first", clock=first.clock)
    with opened(qtbot, again, station="two windows") as program:
        table = Table(qtbot, keyboard, program, again)
        table.scan(code)
        table.row(F11)
        assert half_read(table) == ("III", "half a reading")
        table.bench.beside_work.reading.write()
        table.settle_down()
        assert [one.line for one in readings_of_container(again, code)] == ["half a reading"]
        table.row(ESCAPE)
        assert not where.exists()


def half_read(table: Table) -> tuple[str, str]:
    values = table.bench.beside_work.reading.form.peek()
    return str(values["main"] or ""), str(values["line"] or "")


def test_a_row_on_its_way_when_the_process_ended_is_written_once(tmp_path: Path) -> None:
    kept, line = KeptRows(tmp_path / "rows.json"), TableLine()
    line.is_sent(TypedRow("QRS", "rim", "1", decision=Decision.HOLD), GroupFacts("QRS", "rim", 1))
    wanted = kept.to_write(text_of({7: TableLines(lines=[line], number="131")}))
    assert wanted is not None
    kept.write(*wanted)
    (table,) = KeptRows(tmp_path / "rows.json").read().values()
    assert (table.number, table.found_again, table.lines[0].act_id) == ("131", True, line.act_id)
    assert (table.lines[0].saved, table.lines[0].doubt_code) == (Saved.WAITS, "not_known")
    assert table.lines[0].typed == TypedRow("QRS", "rim", "1", decision=Decision.HOLD)


@pytest.mark.parametrize("content", ["", "[]", '{"tables": {"1": {}}}', '{"tables": {"x": null}}'])
def test_a_spoilt_file_is_put_aside_and_nothing_of_it_lost(tmp_path: Path, content: str) -> None:
    file = tmp_path / "rows.json"
    file.write_text(content, encoding="utf-8")
    kept = KeptRows(file)
    assert kept.read() == {}
    assert file.with_suffix(".unread").read_text(encoding="utf-8") == content


def test_what_was_typed_later_is_never_written_over_by_what_was_typed_before(tmp_path: Path) -> None:
    kept = KeptRows(tmp_path / "rows.json")
    first = kept.to_write(text_of({1: TableLines(half_typed=TypedRow("a"), number="1")}))
    second = kept.to_write(text_of({1: TableLines(half_typed=TypedRow("ab"), number="1")}))
    assert first is not None
    assert second is not None
    kept.write(*second)
    kept.write(*first)
    assert KeptRows(tmp_path / "rows.json").read()[1].half_typed == TypedRow("ab")
    gone = kept.to_write("")
    assert gone is not None
    kept.write(*gone)
    assert not kept.file.exists()


# --- taken back in turn -------------------------------------------------------------------------------------------


def test_a_removed_doubt_comes_back_in_turn_and_the_cursor_stays_among_the_rows(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("q", ENTER, "r", ENTER, "1", ENTER, ENTER, ENTER)
    table.row("xyz", ENTER, "r", ENTER, "2", ENTER, ENTER, ENTER)
    table.row("zzz", ENTER, "r", ENTER, "3", ENTER, ENTER, ENTER)
    table.row(UP, UP, DELETE, DELETE)
    assert [row[0] for row in table.shown()] == ["QRS"]
    assert table.bench.table.rows.hasFocus()
    assert "brings back: zzz rim, 3" in turn(table)
    written = acts(desk)
    take_back(table)
    assert [row[0] for row in table.shown()] == ["QRS", "zzz ?"]
    assert "Brought back" in table.bench.table.big.text()
    take_back(table)
    assert [row[0] for row in table.shown()] == ["QRS", "xyz ?", "zzz ?"]
    assert acts(desk) == written
    table.press(Qt.Key.Key_Y, CONTROL)
    assert [row[0] for row in table.shown()] == ["QRS", "zzz ?"]
    # What was written after the removal comes first.
    table.row(ESCAPE, "t", ENTER, "b", ENTER, "4", ENTER, ENTER, ENTER)
    assert "takes back: TGY body 4" in turn(table)
    take_back(table)
    take_back(table)
    assert [row[0] for row in table.shown()] == ["QRS", "xyz ?", "zzz ?"]


def test_delete_goes_from_row_to_row_until_none_is_left(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    for pieces in "123":
        table.row("q", ENTER, "r", ENTER, pieces, ENTER, ENTER, ENTER)
    table.row(UP, UP, DELETE)
    table.row(DELETE)
    assert table.bench.table.rows.hasFocus()
    table.row(DELETE)
    assert table.stored(code).groups == ()
    assert column(table) == "ware"


def test_the_offer_is_the_last_act_on_this_table_and_says_what_stays(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("q", ENTER, "r", ENTER, "11", ENTER, ENTER, ENTER)
    table.row(F6, ENTER, ENTER, ENTER)
    assert "takes back: 1 not a sherd (pebble)" in turn(table)
    table.row(F3, ENTER)
    assert "takes back: the lifting of 131.1" in turn(table)
    register_object(desk, code, what="coin", material="bronze", leaves=Leaves.NOT_A_SHERD)
    table.bench.refresh()
    table.settle_down()
    assert "not by Ctrl+Z: object 1: coin (131)" in turn(table)
    take_back(table)
    assert [row[2] for row in table.shown()] == ["11"]
    assert table.stored(code).ledger.not_a_sherd == 2
    assert "takes back: 1 not a sherd (pebble)" in turn(table)
    assert "does again: the lifting of 131.1" in turn(table)


def test_a_paste_is_named_in_words_and_its_last_row_stands_large(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    paste(table, "Ware\tPart\tCount\nQRS\trim\t3\nTGY\tbody\t4\n")
    assert "takes back: the paste of 2 rows" in turn(table)
    assert "TGY body 4" in table.bench.table.big.text()
    take_back(table)
    assert table.bench.table.big.text() == "Taken back: the paste of 2 rows"
    table.press(Qt.Key.Key_Y, CONTROL)
    assert table.bench.table.big.text() == "Done again: the paste of 2 rows"


# --- keys ---------------------------------------------------------------------------------------------------------


def test_escape_twice_empties_the_row_and_it_can_come_back(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.type("q", ENTER, "r", ESCAPE)
    assert "Esc once more" in table.bench.table.below.text
    table.type("2", ESCAPE)
    assert not table.bench.table.fields.typed().is_empty
    table.type(ESCAPE)
    assert table.bench.table.fields.typed().is_empty
    assert column(table) == "ware"
    take_back(table)
    assert [row[:3] for row in table.shown()] == [["QRS", "rim", "2"]]
    assert table.stored(code).groups == ()


def test_f4_on_a_written_row_changes_that_row_and_letters_go_to_the_row_below(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("m", ENTER, "b", ENTER, "6", ENTER, ENTER, ENTER)
    table.row("q", ENTER, "b", ENTER, "2", ENTER, ENTER, ENTER)
    table.type(UP, UP)
    while table.bench.table.edit.decided() is not Decision.HOLD or table.bench.rows.changing is None:
        table.type(F4)
    assert table.bench.table.fields.decided() is Decision.KEEP
    table.row("tgy", ENTER, "b", ENTER, "60", ENTER, ENTER, ENTER)
    assert in_short(table.stored(code).groups) == ["MBU body 6, hold", "QRS body 2, keep", "TGY body 60, keep"]


def test_f4_on_a_written_row_says_where_letters_go_and_takes_them_for_the_reason_a_discard_needs(
    table: Table, desk: Desk
) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("m", ENTER, "b", ENTER, "6", ENTER, ENTER, ENTER)
    table.row("q", ENTER, "b", ENTER, "2", ENTER, ENTER, ENTER)
    edit, strip = table.bench.table.edit, table.bench.table.strip
    table.type(UP, UP)
    while edit.decided() is not Decision.HOLD or table.bench.rows.changing is None:
        table.type(F4)
    assert "Tab: why" in strip.lead()
    assert "letters: the new row" in strip.lead()
    table.row(Qt.Key.Key_Tab, "look again", ENTER)
    assert in_short(table.stored(code).groups)[0] == "MBU body 6, hold (look again)"
    table.row(UP)
    while edit.decided() is not Decision.DISCARD or table.bench.rows.changing is None:
        table.type(F4)
    table.row("un", ENTER)
    assert in_short(table.stored(code).groups)[1] == "QRS body 2, discard (unstratified)"
    assert table.bench.table.fields.typed().is_empty


def test_arrow_down_repeats_and_an_enter_after_it_skips_no_cell(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("m", ENTER, "b", ENTER, "6", ENTER, "25", ENTER, ENTER)
    table.row(DOWN, ENTER, DOWN, ENTER, "7", ENTER, "30", ENTER, ENTER)
    table.row(DOWN, DOWN, DOWN, ENTER, DOWN, ENTER, ENTER)
    assert in_short(table.stored(code).groups)[1:] == ["MBU body 7, 30.0 g, keep"] * 2
    table.type(DOWN)
    assert column(table) == "part"
    # Who presses Enter out of habit stays in step; only the first one is passed over.
    table.row(ENTER, "b", ENTER, "QRS", ENTER, ENTER, ENTER)
    assert "QRS is a ware" in table.bench.table.rows.table.row(3).said


# --- the balance --------------------------------------------------------------------------------------------------


def test_rows_in_doubt_are_part_of_what_is_left(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 108)
    table.scan(code)
    table.row("q", ENTER, "r", ENTER, "20", ENTER, ENTER, ENTER)
    table.row("xyz", ENTER, "r", ENTER, "3", ENTER, ENTER, ENTER)
    assert table.bar() == ["20 to keep", "88 left of 108, 3 in doubt"]
    table.row("xyz", ENTER, "r", ENTER, "99", ENTER, ENTER, ENTER)
    assert table.bar() == ["20 to keep", "88 left of 108, 102 in doubt"]
    assert sum(part.amount for part in table.bench.table.bar.parts) == 108


def test_a_long_doubt_leaves_the_row_said_last_large(table: Table, desk: Desk) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 108)
    table.scan(code)
    table.row("qrs", ENTER, "r", ENTER, "20", ENTER, ENTER, ENTER)
    plain = table.bench.table.big.font_of_text().pixelSize()
    table.row("xyz", ENTER, "rim", ENTER, "99", ENTER, ENTER, ENTER)
    assert table.bench.table.big.text().endswith("in doubt: F2")
    assert table.bench.table.big.font_of_text().pixelSize() == plain


# --- beside the rows ----------------------------------------------------------------------------------------------


def test_the_refusal_of_a_scan_goes_when_something_was_written_since(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 108)
    table.scan(code)
    table.scan("no such thing")
    assert "no such thing" in table.said()
    table.row("qrs", ENTER, "r", ENTER, "20", ENTER, ENTER, ENTER)
    assert table.said() == ""


def test_the_reading_and_the_offer_follow_the_person_at_the_foot(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 108)
    table.scan(code)
    table.row("qrs", ENTER, "r", ENTER, "20", ENTER, ENTER, ENTER)
    read_container(desk, code, main="II", line="floor fill")
    table.row(Qt.Key.Key_F11)
    reading = table.bench.beside_work.reading
    assert (reading.button.text(), reading.form.entries["line"].value()) == ("Correct my reading", "floor fill")
    table.program.sit(person(desk, "Ilo"))
    table.settle_down()
    assert reading.button.text() == "Write a reading of your own"
    assert reading.form.entries["line"].value() == ""
    assert reading.page is not None
    assert [one.line for one in reading.page.readings] == ["floor fill"]
    table.row(ESCAPE)
    table.settle_down()
    assert "takes back" not in turn(table)


def test_a_coin_taken_out_is_said_so_in_the_life_and_in_the_balance(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 108)
    table.scan(code)
    table.row("qrs", ENTER, "r", ENTER, "20", ENTER, ENTER, ENTER)
    made = register_object(desk, code, what="coin", material="bronze", leaves=Leaves.NOT_A_SHERD)
    found = find(desk, code)
    assert isinstance(found, Dossier)
    lines = [f"{step.head}{step.rest}" for step in life_steps(found, WordsAround.of(desk))]
    assert [line for line in lines if line.startswith("Taken out") and line.endswith("1 piece")]
    moved = register_object(desk, code, what="bead", material="glass", leaves=Leaves.MOVED_OUT)
    told = [entry_words(one, desk.terms) for one in table.stored(code).entries]
    assert told[1:] == [
        f"1 not a sherd, now bucket {made.found.container} (object 1)",
        f"1 moved out, now bucket {moved.found.container} (object 2)",
    ]
    (arrived,) = table.stored(moved.tag.code).entries
    assert entry_words(arrived, desk.terms) == "1 arrived from bucket 131"
