"""A row changed where it stands: its fields stand over it, what is given up or gone loses nothing that was typed."""

from PySide6.QtCore import QRect

from findsdesk.desk.desk import Desk
from findsdesk.desk.group_rows import GroupFacts
from findsdesk.desk.pasted_groups import NewGroup, add_groups
from findsdesk.domain.balance import Decision
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import (
    DELETE,
    ENTER,
    F4,
    PAGE_DOWN,
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
