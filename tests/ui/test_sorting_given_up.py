"""A change that cannot be written is given up and the row stands as written; a row somebody removed says who it was."""

from PySide6.QtCore import Qt

from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import carried_away, make_list, sign_list
from findsdesk.desk.group_rows import GroupFacts
from findsdesk.desk.pasted_groups import NewGroup, add_groups
from findsdesk.desk.pins import set_pin
from findsdesk.desk.shares import draw_share, shares_ahead
from findsdesk.desk.sherd_groups import remove_group
from findsdesk.desk.sorting import reopen, settle
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.lines import Saved, TableLine, TableLines
from findsdesk.ui.benches.sorting.typed_row import TypedRow
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import (
    CONTROL,
    DELETE,
    ENTER,
    ESCAPE,
    F2,
    PAGE_DOWN,
    UP,
    Table,
    after_what_waits,
    desk,
    in_short,
    keep_and_discard,
    table,
)
from tests.yard import acts, sitting

__all__ = ["desk", "table"]


def change(table: Table, row: int, column: str, said: str) -> None:
    """Change a cell of a row where it stands, and leave the row."""
    table.bench.rows.take_up(table.bench.state.lines.lines[row], column)
    table.settle_down()
    table.row(said, PAGE_DOWN)


def counts(table: Table) -> list[str]:
    return [row[2] for row in table.shown()]


def test_delete_gives_up_the_change_before_it_removes_the_row(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 60)
    add_groups(desk, code, [NewGroup(GroupFacts("QRS", "body", 54)), NewGroup(GroupFacts("TGY", "rim", 6))])
    table.settle_down()
    table.scan(code)
    page, before = table.bench.table, acts(desk)
    change(table, 0, "pieces", "54x")
    assert counts(table) == ["54x ?", "6"]
    table.row(UP, UP, DELETE)
    assert (counts(table), page.rows.currentIndex().row()) == (["54", "6"], 0)
    assert page.big.text() == "Given up, as written: QRS body, 54, keep"
    assert page.settle.isEnabled()
    # What was typed is not lost by it.
    table.press(Qt.Key.Key_Z, CONTROL)
    assert (counts(table), page.settle.isEnabled()) == (["54x ?", "6"], False)
    assert "Ctrl+Y gives up again: QRS body, 54x, keep" in page.turn.text()
    table.press(Qt.Key.Key_Y, CONTROL)
    assert (counts(table), page.big.text()) == (["54", "6"], "Given up again: QRS body, 54x, keep")
    change(table, 0, "pieces", "54y")
    table.row(F2)
    assert page.remove.text() == "Give up: Ctrl+Delete"
    table.press(DELETE, CONTROL)
    assert counts(table) == ["54", "6"]
    # Typed as it is written, it waits for nothing more.
    change(table, 0, "pieces", "54z")
    change(table, 0, "pieces", "54")
    assert (counts(table), page.settle.isEnabled(), acts(desk)) == (["54", "6"], True, before)
    table.row(UP, UP, DELETE)
    assert in_short(table.stored(code).groups) == ["TGY rim 6, keep"]


def test_a_refused_change_is_given_up_also_after_the_window_was_closed(table: Table, desk: Desk) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 20)
    add_groups(desk, code, [NewGroup(GroupFacts("MBU", "body", 20))])
    [ahead] = shares_ahead(desk, code)
    left = draw_share(desk, ahead.group_id, seen=ahead.version, start=4).discarded
    assert left is not None
    table.settle_down()
    typed = TypedRow("MBU", "body", "17", decision=left.decision, reason="no diagnostic value", own=True)
    found = TableLine(typed=typed, of_row=left.id, place=0)
    found.waits_because("share_counted", "A share was drawn over 20 sherds of these.")
    table.bench.state.find_again({left.container_id: TableLines([found], number="131", found_again=True)})
    table.scan(code)
    page = table.bench.table
    assert (counts(table), page.settle.isEnabled()) == (["17", "2"], False)
    table.row(F2, PAGE_DOWN)
    assert "A share was drawn over 20 sherds" in table.bench.state.lines.lines[0].doubt
    table.row(F2, ESCAPE, ESCAPE)
    assert (counts(table), page.settle.isEnabled()) == (["18", "2"], True)
    # A removal that is refused lets the row stand as it is written, too.
    assert [line.saved for line in table.bench.state.lines.lines] == [Saved.WRITTEN, Saved.WRITTEN]


def test_sherds_carried_away_are_neither_changed_nor_removed_and_their_bucket_is_settled_again(
    table: Table, desk: Desk
) -> None:
    code = dry_container(desk, 131, 15)
    thrown = NewGroup(GroupFacts("QRS", "body", 12, reason="modern"), Decision.DISCARD)
    add_groups(desk, code, [thrown, NewGroup(GroupFacts("TGY", "rim", 3))])
    settle(desk, code)
    set_pin(sitting(desk, "Ilo"), "Ilo", pin="2406")
    make_list(desk)
    sign_list(desk, 1, signer="Ilo", pin="2406")
    carried_away(sitting(desk, "Tessa"), 1, where="marked pit in A4", how="barrow", marker="dated tile")
    reopen(desk, code, reason="a rim among them")
    table.settle_down()
    table.scan(code)
    page, before = table.bench.table, acts(desk)
    assert page.settle.isEnabled()
    change(table, 0, "pieces", "10")
    assert (counts(table), page.settle.isEnabled()) == (["10", "3"], False)
    assert "carried away with discard list 1" in table.bench.state.lines.lines[0].doubt
    table.row(F2, ESCAPE, ESCAPE)
    assert (counts(table), page.settle.isEnabled()) == (["12", "3"], True)
    # A removal that is refused leaves the row as it is written, and says why.
    table.row(UP, UP, DELETE)
    assert "carried away with discard list 1" in table.slip()
    assert (counts(table), page.settle.isEnabled(), acts(desk)) == (["12", "3"], True, before)
    table.press(Qt.Key.Key_Return, CONTROL)
    assert "settled" in table.said()


def test_who_removed_a_row_while_it_was_changed_is_said_and_no_other_row_stands_large(table: Table, desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    first, second, third = add_groups(
        desk,
        code,
        [
            NewGroup(GroupFacts("QRS", "rim", 1)),
            NewGroup(GroupFacts("MBU", "body", 2)),
            NewGroup(GroupFacts("TGY", "body", 5)),
        ],
    )
    table.settle_down()
    table.scan(code)
    page, lines = table.bench.table, table.bench.state.lines
    table.bench.rows.take_up(lines.lines[0], "pieces")
    table.type("3")
    remove_group(sitting(desk, "Mika"), first.id, seen=first.version)
    after_what_waits(table)
    table.qtbot.waitUntil(lambda: page.edit_below.text.startswith("Mika Sool removed this row meanwhile"))
    assert page.edit.typed().pieces == "3"
    table.row(PAGE_DOWN)
    assert lines.lines[0].doubt == "Mika Sool removed this row meanwhile. F2, Page down writes it anew."
    assert page.big.text() == "QRS rim, 3, keep — in doubt: F2"
    # What was only looked at goes, and says so.
    table.bench.rows.take_up(lines.lines[1], "pieces")
    remove_group(sitting(desk, "Mika"), second.id, seen=second.version)
    after_what_waits(table)
    table.qtbot.waitUntil(lambda: page.edit_below.text.startswith("Mika Sool removed"))
    table.row(PAGE_DOWN)
    assert page.big.text() == "Removed meanwhile: MBU body, 2, keep"
    assert counts(table) == ["3", "5"]
    # So does the row said last.
    change(table, 1, "pieces", "6")
    assert page.big.text() == "TGY body, 6, keep"
    [row] = table.stored(code).groups
    remove_group(sitting(desk, "Mika"), row.id, seen=row.version)
    after_what_waits(table)
    table.qtbot.waitUntil(lambda: page.big.text() == "Removed meanwhile: TGY body, 6, keep")
    assert third.id == row.id


def test_a_change_of_a_row_that_is_gone_before_the_news_of_it_waits_and_can_be_written_anew(
    table: Table, desk: Desk
) -> None:
    code = dry_container(desk, 131, 132)
    [first] = add_groups(desk, code, [NewGroup(GroupFacts("QRS", "rim", 1))])
    table.settle_down()
    table.scan(code)
    line = table.bench.state.lines.lines[0]
    table.bench.rows.take_up(line, "pieces")
    table.type("3")
    remove_group(sitting(desk, "Mika"), first.id, seen=first.version)
    table.bench.rows.finish_change()
    table.settle_down()
    assert line.doubt == "Mika Sool removed this row meanwhile. F2, Page down writes it anew."
    table.row(F2, PAGE_DOWN)
    assert in_short(table.stored(code).groups) == ["QRS rim 3, keep"]


def test_what_the_rules_decide_anew_stands_in_the_row_before_it_is_left_and_large_after(
    table: Table, desk: Desk
) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 132)
    add_groups(desk, code, [NewGroup(GroupFacts("TGY", "rim", 4)), NewGroup(GroupFacts("TGY", "base", 2))])
    table.settle_down()
    table.scan(code)
    page, edit = table.bench.table, table.bench.table.edit
    for row, part, below, large in (
        (0, "body", "by “One in ten”, was keep", "TGY body, 4, discard, was keep"),
        (0, "base", "by no rule, was discard", "TGY base, 4, keep, was discard"),
        (1, "rim", "by “Rims”", "TGY rim, 2, keep"),
    ):
        table.bench.rows.take_up(table.bench.state.lines.lines[row], "part")
        table.row(part, ENTER)
        assert page.edit_below.text == below
        assert edit.deciding.decision() is (Decision.DISCARD if part == "body" else Decision.KEEP)
        table.row(PAGE_DOWN)
        assert page.big.text() == large
    assert in_short(table.stored(code).groups) == ["TGY base 4, keep", "TGY rim 2, keep (diagnostic)"]
