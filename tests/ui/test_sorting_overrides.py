"""A row decided against a rule at the table: nobody is stopped, and what is missing stays in sight until it is said."""

from PySide6.QtCore import Qt

from findsdesk.desk.desk import Desk
from findsdesk.desk.shares import draw_share, shares_ahead
from findsdesk.desk.sherd_groups import add_group
from findsdesk.desk.sorting import settle
from findsdesk.domain.balance import Decision
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import (
    CONTROL,
    ENTER,
    F2,
    F4,
    PAGE_DOWN,
    UP,
    Table,
    column,
    desk,
    in_short,
    keep_and_discard,
    table,
)

__all__ = ["desk", "table"]

OPEN = "against “One in ten”: say why"
TOLD = "1 row against a rule, no reason yet: F2"


def reasons(table: Table, code: str) -> list[str]:
    return [group.reason for group in table.stored(code).groups]


def test_a_row_kept_against_a_rule_is_written_and_says_until_then_that_it_wants_a_reason(
    table: Table, desk: Desk
) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 5)
    table.settle_down()
    table.scan(code)
    page = table.bench.table
    table.type("m", ENTER, "b", ENTER, "5", F4, F4, F4)
    assert (page.below.text, page.below.tone) == (OPEN, "muted")
    # No key more than any other row: it is written, and the container may be settled.
    table.row(ENTER, ENTER, ENTER)
    assert in_short(table.stored(code).groups) == ["MBU body 5, keep"]
    row = page.rows.table.row(0)
    [cell] = [one for one in row.cells if one.text == OPEN]
    assert (cell.tone, row.cells[-1].text) == ("madder", "written")
    assert OPEN in row.said
    assert (page.doubts.text(), page.settle.isEnabled()) == (TOLD, True)
    table.row(F2)
    assert column(table) == "reason"
    assert page.edit_below.text == OPEN
    table.row("1", PAGE_DOWN)
    said = table.bench.state.lists.reasons[Decision.KEEP].of[0]
    assert reasons(table, code) == [said.key]
    assert [one.text for one in page.rows.table.row(0).cells][-2:] == [said.word, "written"]
    assert "against “One in ten”" in page.rows.table.row(0).said
    assert page.doubts.isHidden()
    table.press(Qt.Key.Key_Z, CONTROL)
    assert (reasons(table, code), page.doubts.text()) == ([""], TOLD)


def test_what_is_settled_and_what_waits_say_it_too_and_take_the_reason(table: Table, desk: Desk) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 5)
    add_group(desk, code, ware="MBU", part="body", pieces=5, decision=Decision.KEEP)
    settle(desk, code)
    table.bench.refresh()
    table.settle_down()
    waiting, words = table.bench.waiting.wanting_why, table.bench.words
    assert waiting.isVisible()
    assert "no reason yet: 131 (1 row)." in waiting.text()
    table.scan(code)
    assert ("", TOLD) in words.words.lines
    table.row(F2)
    assert words.ask.heading.text() == "“One in ten” says discard; decided is MBU body, 5, keep. Why?"
    # Nothing is proposed: a reason that nobody gave is none.
    table.row(ENTER)
    assert (words.ask.isVisible(), reasons(table, code)) == (True, [""])
    table.row("1", ENTER)
    assert reasons(table, code) == [table.bench.state.lists.reasons[Decision.KEEP].of[0].key]
    assert ("", TOLD) not in words.words.lines
    table.press(Qt.Key.Key_L, CONTROL)
    assert waiting.isHidden()


def test_what_a_share_keeps_is_not_said_to_be_against_its_rule(table: Table, desk: Desk) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 20)
    add_group(desk, code, ware="MBU", part="body", pieces=20)
    [ahead] = shares_ahead(desk, code)
    draw_share(desk, ahead.group_id, seen=ahead.version, start=4)
    table.settle_down()
    table.scan(code)
    page = table.bench.table
    assert page.doubts.isHidden()
    table.row(UP, ENTER)
    assert page.edit.typed().decision is Decision.KEEP
    assert page.edit_below.text == "by “One in ten”"
    table.row("3", ENTER, PAGE_DOWN)
    assert page.doubts.isHidden()
