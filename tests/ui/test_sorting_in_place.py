"""A row changed where it stands: its fields stand over it, what is given up or gone loses nothing that was typed."""

from PySide6.QtCore import QRect, Qt
from PySide6.QtTest import QTest

from findsdesk.desk.desk import Desk
from findsdesk.desk.group_rows import GroupFacts
from findsdesk.desk.pasted_groups import NewGroup, add_groups
from findsdesk.desk.shares import draw_share
from findsdesk.desk.sherd_groups import remove_group
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.lines import TableLine
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import (
    DELETE,
    ENTER,
    ESCAPE,
    F2,
    F4,
    PAGE_DOWN,
    SHIFT,
    UP,
    Table,
    after_what_waits,
    column,
    desk,
    in_short,
    keep_and_discard,
    table,
)

__all__ = ["desk", "table"]

F10 = Qt.Key.Key_F10


def line_of(table: Table, place: int) -> TableLine:
    return table.bench.state.lines.lines[place]


def row_of_the_fields(table: Table) -> tuple[QRect, QRect]:
    """Return where the row being changed stands, and where its fields and the line below them do."""
    after_what_waits(table)
    page, rows = table.bench.table, table.bench.table.rows
    place = rows.table.place_of(table.bench.rows.changing)
    row = rows.visualRect(rows.table.index(place, 0))
    return row, page.edit.geometry() | page.edit_below.geometry()


def test_the_fields_stand_over_their_row_and_cover_no_other_in_a_list_longer_than_its_room(
    table: Table, desk: Desk
) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 132)
    add_groups(desk, code, [NewGroup(GroupFacts("MBU", "body", n)) for n in range(1, 31)])
    table.settle_down()
    table.scan(code)
    for up in (4, 9):
        table.row(*([UP] * up), ENTER)
        row, fields = row_of_the_fields(table)
        assert fields.top() == row.top()
        assert fields.bottom() <= row.bottom() + 1
        table.row(PAGE_DOWN)


def test_why_a_row_is_held_is_completed_by_its_first_letters_and_may_be_in_own_words(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    table.settle_down()
    table.scan(code)
    look_again = next(one for one in table.bench.state.lists.reasons[Decision.HOLD].of if one.word.startswith("look"))
    for said in (("loo",), ("look at the rim", ENTER), ("loo", DELETE)):
        table.type("q", ENTER, "b", ENTER, "1", F4, F4)
        table.bench.table.fields.go_to("reason")
        table.row(*said, PAGE_DOWN)
    assert [row.reason for row in table.stored(code).groups] == [look_again.key, "look at the rim", "loo"]
    # What somebody said in a word that begins one of the list stays when the row is only looked at.
    table.row(UP, ENTER)
    table.bench.table.edit.go_to("reason")
    table.row(PAGE_DOWN)
    assert table.stored(code).groups[-1].reason == "loo"


def test_a_part_put_right_is_decided_anew_by_the_rules_but_not_what_somebody_decided(table: Table, desk: Desk) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 132)
    add_groups(
        desk,
        code,
        [
            NewGroup(GroupFacts("TGY", "body", 8)),
            NewGroup(GroupFacts("TGY", "body", 3, reason="modern"), Decision.DISCARD),
            NewGroup(GroupFacts("TGY", "body", 2, reason="joins"), Decision.HOLD),
            NewGroup(GroupFacts("TGY", "rim", 4)),
        ],
    )
    table.settle_down()
    table.scan(code)
    for row, part in ((0, "rim"), (2, "rim"), (3, "body")):
        table.bench.rows.take_up(table.bench.state.lines.lines[row], "part")
        table.settle_down()
        table.row(part, PAGE_DOWN)
    assert in_short(table.stored(code).groups) == [
        "TGY rim 8, keep (diagnostic)",
        "TGY body 3, discard (modern)",
        "TGY rim 2, hold (joins)",
        "TGY body 4, discard (no diagnostic value)",
    ]
    # What a rule keeps is not discarded for a reason that was given before: it is asked for.
    table.bench.rows.take_up(table.bench.state.lines.lines[1], "part")
    table.settle_down()
    table.row("rim", PAGE_DOWN)
    assert column(table) == "reason"
    edit = table.bench.table.edit
    assert (edit.typed().decision, edit.typed().reason) == (Decision.DISCARD, "")
    table.row("beyond repair", PAGE_DOWN)
    assert in_short(table.stored(code).groups)[1] == "TGY rim 3, discard (beyond repair)"


def test_a_change_that_waits_is_given_up_by_escape_and_the_container_can_be_settled(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 54)
    add_groups(desk, code, [NewGroup(GroupFacts("QRS", "body", 54))])
    table.settle_down()
    table.scan(code)
    page = table.bench.table
    table.row(UP, ENTER)
    page.edit.go_to("pieces")
    table.row("54x", PAGE_DOWN)
    assert [line[2] for line in table.shown()] == ["54x ?"]
    assert not page.settle.isEnabled()
    table.row(F2, ESCAPE)
    assert page.edit_below.text == "Esc once more gives this up: the row stays as it is written"
    assert [line[2] for line in table.shown()] == ["54x ?"], "one Escape loses nothing that was typed"
    table.row(ESCAPE)
    assert [line[2] for line in table.shown()] == ["54"]
    assert [line[-1] for line in table.shown()] == ["written"]
    assert page.settle.isEnabled()
    assert in_short(table.stored(code).groups) == ["QRS body 54, keep"]


def test_a_row_that_somebody_removes_while_it_is_changed_waits_with_what_was_typed(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    first, second = add_groups(
        desk, code, [NewGroup(GroupFacts("QRS", "rim", 1)), NewGroup(GroupFacts("MBU", "body", 2))]
    )
    table.settle_down()
    table.scan(code)
    page = table.bench.table
    table.bench.rows.take_up(table.bench.state.lines.lines[0], "pieces")
    table.type("3")
    remove_group(desk, first.id, seen=first.version)
    after_what_waits(table)
    table.qtbot.waitUntil(lambda: page.edit.isVisible() and table.bench.state.lines.lines[0].row is None)
    table.row(PAGE_DOWN)
    assert [line[:3] for line in table.shown()] == [["QRS", "rim", "3"], ["MBU", "body", "2"]]
    assert "removed this row meanwhile" in table.bench.state.lines.lines[0].doubt
    assert in_short(table.stored(code).groups) == ["MBU body 2, keep"]
    table.row(F2, PAGE_DOWN)
    assert sorted(in_short(table.stored(code).groups)) == ["MBU body 2, keep", "QRS rim 3, keep"]
    # Where nothing was typed in it, the row is gone.
    line = next(line for line in table.bench.state.lines.lines if line.row and line.row.id == second.id)
    table.bench.rows.take_up(line, "pieces")
    remove_group(desk, second.id, seen=second.version)
    after_what_waits(table)
    table.qtbot.waitUntil(lambda: line.row is None)
    table.row(PAGE_DOWN)
    assert [row[:3] for row in table.shown()] == [["QRS", "rim", "3"]]


def test_a_key_among_the_rows_while_a_question_stands_below_is_meant_for_the_question(table: Table, desk: Desk) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 132)
    (row,) = add_groups(desk, code, [NewGroup(GroupFacts("MBU", "body", 20))])
    table.settle_down()
    table.scan(code)
    page = table.bench.table
    table.row(F10)
    assert page.ask.asking is not None
    table.press(Qt.Key.Key_Tab, SHIFT)
    if not page.rows.hasFocus():
        page.rows.setFocus(Qt.FocusReason.BacktabFocusReason)
    assert page.rows.line() is not None, "the cursor is in a row"
    table.type("8")
    assert page.ask.number.line.hasFocus()
    assert page.ask.number.line.text().endswith("8")
    assert page.fields.typed().is_empty
    # Somebody else draws it meanwhile: the question has no answer any more and goes.
    draw_share(desk, row.id, seen=row.version, start=4)
    table.settle_down()
    page.ask.number.line.setText("8")
    table.row(ENTER, ENTER)
    assert page.ask.asking is None
    assert page.ask.isHidden()
    assert table.slip()
    assert page.fields.isVisible()
    # Where nothing is typed in it yet, it goes as soon as the other station's draw is heard of.
    (other,) = add_groups(desk, code, [NewGroup(GroupFacts("CSJ", "body", 20))])
    after_what_waits(table)
    table.row(F10)
    assert page.ask.isVisible()
    draw_share(desk, other.id, seen=other.version, start=4)
    table.qtbot.waitUntil(page.ask.isHidden)
    assert page.fields.isVisible()


def test_a_count_typed_just_before_another_row_is_opened_by_a_click_stays_in_its_row(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    add_groups(desk, code, [NewGroup(GroupFacts("QRS", "body", 54)), NewGroup(GroupFacts("MBU", "body", 37))])
    table.settle_down()
    table.scan(code)
    rows, lines = table.bench.table.rows, table.bench.state.lines.lines
    table.bench.rows.take_up(lines[1], "pieces")
    table.settle_down()
    table.keyboard.press("4", 400)
    table.keyboard.press("0", 12)
    place = rows.viewport().mapTo(table.program.window, rows.visualRect(rows.table.index(0, 2)).center())
    QTest.mouseDClick(table.program.window.windowHandle(), Qt.MouseButton.LeftButton, pos=place)
    after_what_waits(table)
    assert table.bench.rows.changing is lines[0]
    assert table.bench.table.fields.typed().is_empty
    assert in_short(table.stored(code).groups) == ["QRS body 54, keep", "MBU body 40, keep"]


def test_a_rim_on_a_body_sherd_waits_beside_its_row_and_is_written_by_who_says_so_again(
    table: Table, desk: Desk
) -> None:
    code = dry_container(desk, 131, 132)
    table.settle_down()
    table.scan(code)
    table.row("q", ENTER, "b", ENTER, "3", ENTER, "30", ENTER, "5", ENTER)
    [line] = table.bench.state.lines.lines
    assert (line.doubt_code, table.stored(code).groups) == ("no_rim_there", ())
    table.row(F2)
    assert column(table) == "rim"
    # To look at it, here or on the way through all that wait, is not to say so.
    table.row(F2)
    assert table.stored(code).groups == ()
    table.row(PAGE_DOWN)
    assert in_short(table.stored(code).groups) == ["QRS body 3, 30.0 g, 5 %, keep"]
    # The same of a row that is written.
    table.row("q", ENTER, "b", ENTER, "4", PAGE_DOWN)
    table.bench.rows.take_up(line_of(table, 1), "rim")
    table.row("7", PAGE_DOWN)
    assert line_of(table, 1).doubt_code == "no_rim_there"
    table.row(F2, DELETE, PAGE_DOWN)
    assert in_short(table.stored(code).groups)[1] == "QRS body 4, keep"


def test_the_words_below_are_those_of_the_empty_row_after_one_was_finished_in_its_first_cell(
    table: Table, desk: Desk
) -> None:
    code = dry_container(desk, 131, 132)
    table.settle_down()
    table.scan(code)
    strip = table.bench.table.strip
    words = strip.words()
    table.row("3")
    assert strip.words() != words
    table.row(PAGE_DOWN)
    assert (column(table), strip.words()) == ("ware", words)
