"""Sherd groups: read aloud and typed at the sorting table, changed, removed, and one's last act taken back.

Nothing here is refused because the container is over: that is shown, and only settling asks for it. The opposite of
adding is removing and the other way round, of a change another change; ``take_back_last`` does each of them.
"""

from __future__ import annotations

from enum import Enum

from findsdesk.desk.decided import decide
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.drawn_shares import put_together, refuse_other_count
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.finding import container_of
from findsdesk.desk.following_rules import decide_anew, decide_as_proposed
from findsdesk.desk.group_checks import check_group
from findsdesk.desk.group_rows import (
    GroupFacts,
    GroupRow,
    as_row,
    changed_in_short,
    columns_of,
    erase_group,
    facts_from_values,
    rewrite_group,
    values_of,
    vessel_numbers,
    write_group,
)
from findsdesk.desk.listed_discards import need_off_lists
from findsdesk.desk.on_the_table import need_on_table
from findsdesk.desk.rows_there import group_there
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.balance import Decision
from findsdesk.store.models import Container, SherdGroup


class Stays(Enum):
    """Says of one field of a change that it stays as it is (None already means that there are no grams)."""

    AS_IT_IS = "as it is"


def add_group(
    desk: Desk,
    tag: str,
    *,
    ware: str,
    part: str,
    pieces: int,
    tenths: int | None = None,
    decision: Decision | None = None,
    reason: str = "",
    note: str = "",
    form: str = "",
    surface: str = "",
    decoration: str = "",
    condition: str = "",
    rim_permille: int | None = None,
    base_permille: int | None = None,
    sure: bool = False,
) -> GroupRow:
    """Write a group of sherds of a container; the first one begins its sorting. Opposite: ``remove_group``.

    No ``decision`` means what the retention policy proposes, but what it discards and what looks late here is held.
    Refusals: those of ``check_group``, of ``decide`` and of ``begin_sorting``. Over the count is no refusal.
    """
    said = GroupFacts(
        ware=ware,
        part=part,
        pieces=pieces,
        tenths=tenths,
        reason=reason,
        note=note,
        form=form,
        surface=surface,
        decoration=decoration,
        condition=condition,
        rim_permille=rim_permille,
        base_permille=base_permille,
    )
    with desk.deed("add_group") as deed:
        container = container_of(deed.session, desk, tag)
        checked, of = check_group(deed.session, said, words_of(desk))
        if decision is None:
            checked = decide_as_proposed(deed, container, checked, of)
        else:
            checked = decide(deed, container, checked, decision)
        deed.said = f"{container.number}: {checked.in_short()}"
        need_on_table(deed, container, sure=sure)
        row = write_group(deed, container, checked, of)
        deed.session.flush()
        return as_row(row, of)


def change_group(
    desk: Desk,
    group_id: int,
    *,
    seen: int,
    ware: str | None = None,
    part: str | None = None,
    pieces: int | None = None,
    tenths: int | Stays | None = Stays.AS_IT_IS,
    decision: Decision | None = None,
    reason: str | None = None,
    note: str | None = None,
    form: str | None = None,
    surface: str | None = None,
    decoration: str | None = None,
    condition: str | None = None,
    rim_permille: int | Stays | None = Stays.AS_IT_IS,
    base_permille: int | Stays | None = Stays.AS_IT_IS,
) -> GroupRow:
    """Change a group of the version ``seen``; what is not named stays, but what was proposed of it is proposed anew.

    Opposite: the change back. Refusals: those of ``add_group``, ``row_gone``, ``share_counted``, ``changed_meanwhile``
    (with mine, theirs and before).
    """
    with desk.deed("change_group") as deed:
        row, container = group_open(deed, group_id)
        before, _of = facts_from_values(deed.session, values_of(row))
        decided = before.decision if decision is None else decision
        kept_reason = before.reason if decided == before.decision else ""
        said = GroupFacts(
            ware=before.ware if ware is None else ware,
            part=before.part if part is None else part,
            pieces=before.pieces if pieces is None else pieces,
            tenths=before.tenths if isinstance(tenths, Stays) else tenths,
            decision=decided,
            reason=kept_reason if reason is None else reason,
            note=before.note if note is None else note,
            form=before.form if form is None else form,
            surface=before.surface if surface is None else surface,
            decoration=before.decoration if decoration is None else decoration,
            condition=before.condition if condition is None else condition,
            rim_permille=before.rim_permille if isinstance(rim_permille, Stays) else rim_permille,
            base_permille=before.base_permille if isinstance(base_permille, Stays) else base_permille,
        )
        checked, of = check_group(deed.session, said, words_of(desk))
        refuse_other_count(deed.session, row, checked.pieces)
        if decision is None and reason is None:
            checked = decide_anew(deed, container, checked, of, before)
        else:
            checked = decide(deed, container, checked, decided, before)
        refuse_if_moved(deed.session, row, seen, columns_of(checked, of))
        put_together(deed, row, checked.pieces)
        rewrite_group(deed, container, row, checked, of)
        deed.said = f"{container.number}: {changed_in_short(before, checked)}"
        deed.session.flush()
        return as_row(row, of, vessel_numbers(deed.session, [row]))


def remove_group(desk: Desk, group_id: int, *, seen: int) -> GroupRow:
    """Remove a group of the version ``seen``; the journal keeps it. Opposite: ``add_group``, or taking it back."""
    with desk.deed("remove_group") as deed:
        row, container = group_open(deed, group_id)
        removed = as_row(row, facts_from_values(deed.session, values_of(row))[1])
        refuse_if_moved(deed.session, row, seen, {})
        erase_group(deed, container, row)
        deed.said = f"{container.number}: {removed.facts.in_short()}"
    return removed


def group_open(deed: Deed, group_id: int) -> tuple[SherdGroup, Container]:
    """Return a group and its container, which must lie on the table; refuses what stands on a discard list."""
    row = group_there(deed.session, group_id)
    need_off_lists(deed.session, row)
    container = deed.session.get_one(Container, row.container_id)
    need_on_table(deed, container)
    return row, container
