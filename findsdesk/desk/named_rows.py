"""Rows meant by what people call them, not by an id: a line of a list, a row of a table, an entry by its kind."""

from __future__ import annotations

from datetime import date

from findsdesk.desk.desk import Desk
from findsdesk.desk.explaining import Explained, answer_entry
from findsdesk.desk.group_rows import GroupRow
from findsdesk.desk.new_containers import IssuedTag
from findsdesk.desk.overrides import say_why
from findsdesk.desk.redoing import Written, redo_done, things_to_redo
from findsdesk.desk.rows_set_aside import answer_row, drop_row, rows_set_aside
from findsdesk.desk.shares import DrawnShare, draw_share
from findsdesk.desk.sherd_groups import Stays, change_group, remove_group
from findsdesk.desk.sorting_table import SortingTable, table_of
from findsdesk.domain.balance import Decision, Entry
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, CountOf


def answer_line(
    desk: Desk,
    file: str,
    line: int,
    *,
    number: str | None = None,
    deposit: str | None = None,
    square: str | None = None,
    collected_on: date | None = None,
    material: str | None = None,
    answer: str = "",
) -> IssuedTag:
    """Answer a row set aside, by its file and line. Refusals: ``no_such_row`` and those of ``answer_row``."""
    return answer_row(
        desk,
        _row_of(desk, file, line),
        number=number,
        deposit=deposit,
        square=square,
        collected_on=collected_on,
        material=material,
        answer=answer,
    )


def drop_line(desk: Desk, file: str, line: int, *, reason: str) -> None:
    """Leave the row of a list out that was set aside. Refusals: ``no_such_row``, ``reason_needed``."""
    drop_row(desk, _row_of(desk, file, line), reason=reason)


def _row_of(desk: Desk, file: str, line: int) -> int:
    waiting = [row for row in rows_set_aside(desk) if row.file_name == file and row.row.line == line]
    if not waiting:
        raise Refusal(
            "no_such_row",
            N_("No row of {file}, line {line}, waits for an answer. Look at the list of those that wait."),
            file=file,
            line=line,
        )
    return waiting[-1].id


def change_row(
    desk: Desk,
    tag: str,
    row: int,
    *,
    ware: str | None = None,
    part: str | None = None,
    pieces: int | None = None,
    tenths: int | None = None,
    decision: Decision | None = None,
    reason: str | None = None,
    note: str | None = None,
) -> GroupRow:
    """Change a row of a container's table, counted from 1 as it stands now; what is not said stays."""
    group = group_at(desk, tag, row)
    return change_group(
        desk,
        group.id,
        seen=group.version,
        ware=ware,
        part=part,
        pieces=pieces,
        tenths=Stays.AS_IT_IS if tenths is None else tenths,
        decision=decision,
        reason=reason,
        note=note,
    )


def say_why_of_row(desk: Desk, tag: str, row: int, *, reason: str) -> GroupRow:
    """Say why a row of a container's table, counted from 1, is decided against a rule; it may be settled by now."""
    group = group_at(desk, tag, row)
    return say_why(desk, group.id, seen=group.version, reason=reason)


def remove_row(desk: Desk, tag: str, row: int) -> GroupRow:
    """Remove a row of a container's table, counted from 1 as it stands now."""
    group = group_at(desk, tag, row)
    return remove_group(desk, group.id, seen=group.version)


def draw_row(desk: Desk, tag: str, row: int, *, start: int | None = None, kept_tenths: int | None = None) -> DrawnShare:
    """Draw the share of a row of a container's table, counted from 1. Refusals: ``no_such_row``, ``draw_share``'s."""
    group = group_at(desk, tag, row)
    return draw_share(desk, group.id, seen=group.version, start=start, kept_tenths=kept_tenths)


def group_at(desk: Desk, tag: str, row: int) -> GroupRow:
    """Return a row of a container's table, counted from 1 as it stands now; refuses ``no_such_row``."""
    table = table_of(desk, tag)
    if not 1 <= row <= len(table.groups):
        raise _no_row(table, row)
    return table.groups[row - 1]


def _no_row(table: SortingTable, row: int) -> Refusal:
    return Refusal(
        "no_such_row",
        N_("{Container} {number} has {rows} on the table; there is no row {row}."),
        number=table.number,
        rows=CountOf("{n} row", "{n} rows", len(table.groups)),
        row=row,
    )


def answer_explanation(desk: Desk, tag: str, entry: Entry, *, why: str) -> Explained:
    """Answer the newest open explanation of a kind by its opposite. Refusals: ``unknown_entry``, ``answer_entry``'s."""
    open_entries = [
        one for one in table_of(desk, tag).entries if one.kind is entry and not one.answered and one.answers_id is None
    ]
    if not open_entries:
        raise Refusal("unknown_entry", N_("There is no such entry. Look at the table again."))
    return answer_entry(desk, open_entries[-1].id, why=why)


def written_again(desk: Desk, tag: str, what: Written, *, sure: bool = False) -> int:
    """Write that tag, bag labels or marks of a container were written again. Refusal: ``nothing_to_redo``.

    Question: ``many_marks_again``.
    """
    table = table_of(desk, tag)
    waiting = [thing.id for thing in things_to_redo(desk) if thing.code == table.code and thing.what is what]
    if not waiting:
        raise Refusal("nothing_to_redo", N_("That does not wait to be written again. Look at the list again."))
    return redo_done(desk, waiting, sure=sure)
