"""The sorting table with an excavation's own columns, words and policy, by real key events on a real store."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from findsdesk.desk.changing_words import add_word, change_word
from findsdesk.desk.desk import Desk
from findsdesk.desk.proving import prove
from findsdesk.desk.sorting import add_group
from findsdesk.domain.balance import Decision
from findsdesk.domain.counts_as import CountsAs
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import (  # noqa: F401
    CONTROL,
    ENTER,
    F4,
    SHIFT,
    UP,
    Table,
    column,
    desk,
    in_short,
    keep_and_discard,
    table,
)
from tests.ui.at_work import fits
from tests.yard import with_settings

F3, F10, PAGE_DOWN = Qt.Key.Key_F3, Qt.Key.Key_F10, Qt.Key.Key_PageDown
OWN = ("ware", "part", "form", "condition", "pieces", "grams", "decision", "reason", "note")


# --- columns and words --------------------------------------------------------------------------------------------


def test_the_excavations_columns_are_typed_in_their_order_and_shown(table: Table, desk: Desk) -> None:
    with_settings(desk, sorting_columns=OWN)
    code = dry_container(desk, 131, 132)
    table.settle_down()
    table.scan(code)
    fields = table.bench.table.fields
    assert fields.columns == OWN
    heads = [table.bench.table.rows.table.headerData(n, Qt.Orientation.Horizontal) for n in range(10)]
    assert heads == ["Ware", "Part", "Form", "Condition", "Count", "Grams", "Decision", "Why", "Note", "Row"]
    # Several words with a comma or a plus, each completed; the note is in one's own words.
    table.row("q", ENTER, "b", ENTER, ENTER, "bur+so,lim", ENTER, "4", ENTER, "12.5", ENTER, "thin", ENTER)
    assert table.shown()[0] == [
        "QRS", "body", "", "burnt, soot, limescale", "4", "12.5", "● keep", "", "thin", "written",
    ]  # fmt: skip
    said = table.stored(code).groups[0].facts
    assert (said.condition, said.note) == ("burnt soot limescale", "thin")
    fits(table.qtbot, table.bench)


def test_what_a_part_has_of_the_circle_is_held_against_its_count(table: Table, desk: Desk) -> None:
    with_settings(desk, sorting_columns=("ware", "part", "pieces", "rim", "base", "decision", "reason"))
    code = dry_container(desk, 131, 132)
    table.settle_down()
    table.scan(code)
    table.row("q", ENTER, "b", ENTER, "4", ENTER, ENTER, ENTER)
    table.row("q", ENTER, "r", ENTER, "2", ENTER, "35", ENTER, ENTER)
    table.row("q", ENTER, "ba", ENTER, "1", ENTER, ENTER, "120", ENTER)
    assert table.shown()[2][4] == "120 ?"
    assert "0 to 100 %" in table.shown()[2][-2]
    assert in_short(table.stored(code).groups) == ["QRS body 4, keep", "QRS rim 2, 35 %, keep"]


def test_the_excavations_own_words_are_completed_and_a_word_put_away_stays_readable(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    add_word(desk, "parts", name="lug", counts_as=CountsAs.HANDLE)
    row = add_group(desk, code, ware="QRS", part="knob", pieces=1, decision=Decision.KEEP)
    change_word(desk, "parts", "knob", in_use=False)
    change_word(desk, "parts", "body", to="wall")
    table.settle_down()
    table.scan(code)
    table.row("q", ENTER, "lu", ENTER, "2", ENTER, ENTER, ENTER)
    table.row("q", ENTER, "wa", ENTER, "5", ENTER, ENTER, ENTER)
    assert [line[1] for line in table.shown()] == ["knob", "lug", "wall"]
    # The old row can be changed although its word is offered no more.
    table.row(UP, UP, UP, ENTER, ENTER, ENTER, "3", ENTER, ENTER, ENTER)
    assert table.stored(code).groups[0].version == row.version + 1
    assert in_short(table.stored(code).groups) == ["QRS knob 3, keep", "QRS lug 2, keep", "QRS body 5, keep"]


def test_a_mistake_stands_below_its_cell_while_the_row_goes_on(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.scan(code)
    below = table.bench.table.below
    table.type("xyz", ENTER)
    table.settle_down()
    assert (below.column, below.tone) == ("ware", "madder")
    assert below.text.startswith("No ware xyz.")
    assert table.bench.table.fields.cells["ware"].property("wrong")
    table.press(ENTER, SHIFT)
    table.type("qrs", ENTER, "bo", ENTER, "1x", ENTER)
    table.settle_down()
    assert below.column == "pieces"
    assert below.left_of_text() > 100
    assert not table.bench.table.fields.cells["ware"].property("wrong")
    table.press(ENTER, SHIFT)
    table.row("1", ENTER, ENTER, ENTER)
    assert in_short(table.stored(code).groups) == ["QRS body 1, keep"]


def test_page_down_writes_the_row_from_any_cell(table: Table, desk: Desk) -> None:
    with_settings(desk, sorting_columns=(*OWN[:6], "rim", "base", *OWN[6:]))
    code = dry_container(desk, 131, 132)
    table.settle_down()
    table.scan(code)
    table.row("q", ENTER, "b", ENTER, ENTER, ENTER, "4", PAGE_DOWN)
    assert in_short(table.stored(code).groups) == ["QRS body 4, keep"]
    assert column(table) == "ware"


# --- the policy ---------------------------------------------------------------------------------------------------


def test_the_policy_proposes_and_says_by_which_rule_and_an_override_is_asked_why(table: Table, desk: Desk) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 132)
    table.settle_down()
    table.scan(code)
    page = table.bench.table
    table.type("m", ENTER, "b", ENTER)
    assert page.fields.decided() is Decision.DISCARD
    assert page.below.text == "by “One in ten”"
    table.row("54", ENTER, "611", ENTER, ENTER)
    assert table.shown()[0][-4:] == ["", "○ discard", "“One in ten”", "written"]
    group = table.stored(code).groups[0].facts
    assert (group.decision, group.reason, group.rule) == (Decision.DISCARD, "no_diagnostic_value", "One in ten")
    # To keep what a rule would discard stops nobody; to discard what one keeps asks why.
    table.row("m", ENTER, "b", ENTER, "3", F4, F4, F4, ENTER, ENTER, ENTER)
    table.type("q", ENTER, "r", ENTER, "2", F4)
    assert page.below.text == "“Rims” keeps it: say why"
    table.type(ENTER, ENTER, ENTER)
    assert column(table) == "reason"
    assert page.fields.typed().reason == ""
    table.row("be", ENTER)
    assert in_short(table.stored(code).groups) == [
        "MBU body 54, 611.0 g, discard (no diagnostic value)",
        "MBU body 3, keep",
        "QRS rim 2, discard (beyond repair)",
    ]
    said = [(group.facts.rule, group.facts.proposed) for group in table.stored(code).groups]
    assert said == [("One in ten", ""), ("One in ten", "discard"), ("Rims", "keep")]
    assert not prove(desk).findings


def test_a_share_is_drawn_by_one_key_and_pieces_are_lifted_by_another(table: Table, desk: Desk) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 132)
    table.settle_down()
    table.scan(code)
    table.row("m", ENTER, "b", ENTER, "54", ENTER, "540", ENTER, ENTER)
    table.row(F10)
    ask = table.bench.table.ask
    assert "54 laid out, 1 in 10" in ask.heading.text()
    assert 1 <= int(ask.number.line.text()) <= 10
    table.row("4", ENTER, ENTER)
    kept = [(group.pieces, group.decision) for group in table.stored(code).groups]
    # The 4th, 14th, 24th, 34th, 44th and 54th stay.
    assert kept == [(6, Decision.KEEP), (48, Decision.DISCARD)] or kept == [(48, Decision.DISCARD), (6, Decision.KEEP)]
    table.row(F10)
    assert "No row of this table waits" in table.slip()
    table.row("q", ENTER, "r", ENTER, "5", ENTER, "100", ENTER, "60", ENTER)
    table.row(F3)
    assert ask.heading.text() == "Lift out of QRS rim, 5, 100.0 g, rim 60 %, keep"
    table.row("2", ENTER, ENTER)
    assert "lifted out" in table.said()
    assert table.stored(code).lifted == 2
    told = [one.text() for one in table.bench.table.entries.findChildren(QLabel) if one.isVisible()]
    assert "<b>2</b> lifted out as pieces" in told
    assert in_short(table.stored(code).groups)[-1] == "QRS rim 3, 60.0 g, 36 %, keep (diagnostic)"
    # What was lifted still counts in the balance, and one taking back lays it back.
    assert table.bar() == ["11 to keep", "48 to discard, unsigned", "73 left of 132"]
    table.press(Qt.Key.Key_Z, CONTROL)
    assert table.stored(code).lifted == 0
    assert table.bar() == ["11 to keep", "48 to discard, unsigned", "73 left of 132"]
    assert not prove(desk).findings


def test_an_excavation_that_discards_nothing_is_offered_no_discard(table: Table, desk: Desk) -> None:
    with_settings(desk, discards=False)
    code = dry_container(desk, 131, 132)
    table.settle_down()
    table.scan(code)
    table.type("q", ENTER, "b", ENTER, "4")
    seen = []
    for _time in range(3):
        table.type(F4)
        seen.append(table.bench.table.fields.decided())
    assert seen == [Decision.HOLD, Decision.MEND, Decision.KEEP]
