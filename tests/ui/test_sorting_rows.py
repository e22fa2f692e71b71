"""Rows of the sorting table changed where they stand, taken back, done again and pasted, by real key events."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from findsdesk.desk.desk import Desk
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.sorting import add_group, change_group
from findsdesk.desk.vessels import vessel_of
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.table_words import turn_words
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import (  # noqa: F401
    CONTROL,
    DOWN,
    ENTER,
    ESCAPE,
    F2,
    UP,
    Table,
    after_what_waits,
    column,
    desk,
    in_short,
    keep_and_discard,
    paste,
    table,
)
from tests.yard import acts, sitting

F3, F10, PAGE_DOWN = Qt.Key.Key_F3, Qt.Key.Key_F10, Qt.Key.Key_PageDown
OWN = ("ware", "part", "form", "condition", "pieces", "grams", "decision", "reason", "note")


# --- rows changed where they stand --------------------------------------------------------------------------------


def test_a_row_is_changed_where_it_stands_from_the_cell_under_the_cursor(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "body", ENTER, "11", ENTER, "340", ENTER, ENTER)
    table.row("tgy", ENTER, "body", ENTER, "5", ENTER, ENTER, ENTER)
    rows = table.bench.table.rows
    table.type(UP, UP, Qt.Key.Key_Right, Qt.Key.Key_Right, ENTER)
    edit = table.bench.table.edit
    assert edit.isVisible()
    assert column(table) == "pieces"
    at = rows.visualRect(rows.table.index(0, 0))
    assert (edit.y(), edit.parentWidget()) == (at.top(), rows.viewport())
    table.row("12", ENTER, ENTER, ENTER)
    assert not edit.isVisible()
    assert in_short(table.stored(code).groups)[0] == "QRS body 12, 340.0 g, keep"
    assert column(table) == "ware"


def test_a_changed_row_is_written_when_the_keyboard_leaves_it(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "body", ENTER, "11", ENTER, ENTER, ENTER)
    table.type("tgy", ENTER, UP, ENTER, ENTER, ENTER, "7")
    table.bench.table.fields.cells["part"].setFocus()
    after_what_waits(table)
    assert in_short(table.stored(code).groups) == ["QRS body 7, keep"]
    assert table.bench.table.fields.cells["ware"].typed() == "TGY"
    # Looked at and left as it was, nothing is written.
    before = acts(desk)
    table.row(UP, ENTER, ENTER, ENTER, ENTER, ENTER, ENTER)
    assert acts(desk) == before


def test_news_of_another_ones_change_does_not_let_mine_pass_over_it(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "body", ENTER, "11", ENTER, ENTER, ENTER)
    table.type(UP, ENTER, ENTER, ENTER, "13")
    (group,) = table.stored(code).groups
    change_group(sitting(desk, "Mika"), group.id, seen=group.version, ware="TGY", pieces=12)
    # The news has come, the row is still being changed: mine was begun on what stood there before.
    after_what_waits(table)
    table.row(ENTER, ENTER, ENTER)
    assert in_short(table.stored(code).groups) == ["TGY body 12, keep"]
    assert table.shown()[0][-2] == (
        "Mika Sool changed it too. Ware mine QRS, theirs TGY, before QRS; "
        "Count mine 13, theirs 12, before 11. F2, Page down writes mine."
    )
    table.row(F2, PAGE_DOWN)
    assert in_short(table.stored(code).groups) == ["QRS body 13, keep"]


def test_what_somebody_else_writes_at_the_same_desk_stands_there_at_once(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.row("qrs", ENTER, "body", ENTER, "11", ENTER, ENTER, ENTER)
    table.type("mb")
    theirs = add_group(sitting(desk, "Mika"), code, ware="TGY", part="rim", pieces=2, decision=Decision.KEEP)
    after_what_waits(table)
    assert [line[0] for line in table.shown()] == ["QRS", "TGY"]
    assert table.bar() == ["13 to keep", "119 left of 132"]
    assert table.bench.table.fields.cells["ware"].typed() == "mb"
    lift_pieces(sitting(desk, "Mika"), theirs.id, seen=theirs.version, how_many=2)
    after_what_waits(table)
    assert [line[0] for line in table.shown()] == ["QRS"]
    assert table.bar() == ["13 to keep", "119 left of 132"]


# --- undo, redo, paste --------------------------------------------------------------------------------------------


def test_what_is_taken_back_and_done_again_is_said_before_it_is_done(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    turn = table.bench.table.turn
    table.row("qrs", ENTER, "body", ENTER, "11", ENTER, ENTER, ENTER)
    table.row("tgy", ENTER, "body", ENTER, "5", ENTER, ENTER, ENTER)
    assert turn.text() == "Ctrl+Z takes back: TGY body 5, keep"
    table.press(Qt.Key.Key_Z, CONTROL)
    assert "Ctrl+Z takes back: QRS body 11, keep" in turn.text()
    assert "Ctrl+Y does again: TGY body 5, keep" in turn.text()
    table.press(Qt.Key.Key_Y, CONTROL)
    assert in_short(table.stored(code).groups) == ["QRS body 11, keep", "TGY body 5, keep"]
    assert "Ctrl+Y" not in turn.text()
    table.press(Qt.Key.Key_Y, CONTROL)
    assert "taken back nothing" in table.slip()


def test_rows_of_a_spreadsheet_are_pasted_as_one_act_and_taken_back_as_one(table: Table, desk: Desk) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 132)
    table.settle_down()
    table.scan(code)
    before = acts(desk)
    paste(
        table, "Count\tWARE\tpart\tDecision\tWhy\n11\tqrs\trim\t\t\n54\tMBU\tbody\tdiscard\tmodern\n2\t\thandle\thold\t"
    )
    assert in_short(table.stored(code).groups) == [
        "QRS rim 11, keep (diagnostic)", "MBU body 54, discard (modern)", "handle 2, hold",
    ]  # fmt: skip
    assert acts(desk) == before + 1
    assert [line[-1] for line in table.shown()] == ["written"] * 3
    assert "3 rows pasted" in table.said()
    table.press(Qt.Key.Key_Z, CONTROL)
    assert table.shown() == []
    table.press(Qt.Key.Key_Y, CONTROL)
    assert len(table.shown()) == 3
    # By the order of the table, with semicolons.
    paste(table, "TGY;body;3;12,5;;keep;")
    assert in_short(table.stored(code).groups)[-1] == "TGY body 3, 12.5 g, keep"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("QRS\trim", "Row 1, 2 cells; 7 are wanted: Ware, Part, Count"),
        ("no.\tware\tpart\tweight\n1\tQRS\trim\t11", "No column is called “no.”."),
        ("ware\tpart\tcount\nQRS\trim\t1\nXYZ\tbody\t2", "Row 3: No ware XYZ."),
        ("ware\tpart\tcount\nQRS\trim\t1\nQRS\tbody\ttwo", "Row 3: “two” is not a whole number"),
        ("ware\tpart\tcount\tdecision\nQRS\trim\t1\tburn", "Row 2: No decision “burn”"),
        ("ware\tpart\tcount\tdecision\nQRS\tbody\t1\tdiscard", "Row 2: A discard needs a reason."),
    ],
)
def test_a_paste_that_cannot_be_read_is_explained_and_nothing_of_it_written(
    table: Table, desk: Desk, text: str, said: str
) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    before = acts(desk)
    paste(table, text)
    assert said in table.slip()
    assert "Nothing was pasted" in table.slip()
    assert acts(desk) == before
    assert table.stored(code).groups == ()


def test_a_single_value_is_pasted_into_its_cell(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    paste(table, "qrs")
    assert table.bench.table.fields.cells["ware"].typed() == "qrs"
    table.type(ESCAPE)


# --- a bucket of thousands ----------------------------------------------------------------------------------------


def test_a_bucket_of_thousands_of_rows_puts_only_what_is_seen_into_words(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 1_000)
    row = "QRS\tbody\t1\t5\t\tkeep\t"
    table.scan(code)
    paste(table, "\n".join([row] * 3_000))
    model = table.bench.table.rows.table
    assert model.rowCount() == 3_000
    table.row("t", ENTER, "b", ENTER, "2", ENTER, ENTER, ENTER)
    assert model.rowCount() == 3_001
    assert model.row(3_000).cells[0].text == "TGY"
    assert len(model._words) < 100
    assert table.bar() == ["3,002 to keep", "2,002 over the 1,000"]
    # After the first reading only what changed is read.
    assert table.bench.state.table is not None
    assert table.bench.state.table.only is not None
    table.type(DOWN)
    assert table.bench.table.fields.cells["ware"].typed() == "TGY"


def test_a_row_that_is_left_is_the_only_one_painted_anew(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    for _row in range(3):
        table.row("qrs", ENTER, "body", ENTER, "11", ENTER, "340", ENTER, ENTER)
    model = table.bench.table.rows.table
    changed: set[int] = set()
    model.dataChanged.connect(lambda first, last: changed.update(range(first.row(), last.row() + 1)))
    table.row("tgy", ENTER, "body", ENTER, "5", ENTER, ENTER, ENTER)
    assert changed <= {3}
    shown = table.shown()
    assert [row[0] for row in shown] == ["QRS", "QRS", "QRS", "TGY"]
    assert {row[-1] for row in shown} == {"written"}


def test_a_row_is_gathered_into_a_vessel_and_taken_out_again(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    table.press(Qt.Key.Key_G, CONTROL)
    assert "Write the row first" in table.bench.refusals.accessibleName()
    table.row("q", ENTER, "b", ENTER, "9", ENTER, ENTER, ENTER)
    table.press(Qt.Key.Key_G, CONTROL)
    assert table.bench.table.ask.heading.text().startswith("Gather QRS body, 9")
    # No number: a new one; for mending where the row is kept for that.
    table.row(ENTER)
    (row,) = table.stored(code).groups
    assert (row.vessel, vessel_of(desk, 1).for_mending) == (1, row.decision is Decision.MEND)
    assert [cells[-1] for cells in table.shown()] == ["vessel 1"]
    # The gathering is named, taken back and done again in turn.
    assert "takes back: the gathering into vessel 1: 131 QRS body 9" in turn_words(table.bench.state)
    table.press(Qt.Key.Key_Z, CONTROL)
    assert table.stored(code).groups[0].vessel is None
    table.press(Qt.Key.Key_Y, CONTROL)
    assert [cells[-1] for cells in table.shown()] == ["vessel 1"]
    table.press(Qt.Key.Key_G, CONTROL)
    assert table.stored(code).groups[0].vessel is None
    assert [cells[-1] for cells in table.shown()] == ["written"]
    table.press(Qt.Key.Key_G, CONTROL)
    table.row("7", ENTER)
    assert "There is no vessel 7" in table.bench.refusals.accessibleName()
    assert table.bench.table.ask.isVisible()
