"""Sherd groups: read aloud and typed at the sorting table, changed, removed, and one's last act taken back.

Nothing here is refused because the container is over: that is shown, and only settling asks for it. The opposite of
adding is removing and the other way round, of a change another change; ``take_back_last`` does each of them.
"""

from __future__ import annotations

from dataclasses import replace
from enum import Enum
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.finding import container_of
from findsdesk.desk.group_rows import (
    SAID_OF_A_GROUP,
    GroupFacts,
    GroupRow,
    as_row,
    erase_group,
    facts_from_values,
    rewrite_group,
    values_of,
    write_group,
)
from findsdesk.desk.on_the_table import need_on_table
from findsdesk.desk.shipped import vocabulary
from findsdesk.domain.balance import Decision
from findsdesk.domain.natural_order import folded
from findsdesk.domain.near_codes import near
from findsdesk.domain.numbers import MOST_PIECES, MOST_TENTHS
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, SherdGroup, Ware
from findsdesk.words import N_


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
    decision: Decision = Decision.KEEP,
    reason: str = "",
    note: str = "",
    sure: bool = False,
) -> GroupRow:
    """Write a group of sherds of a container; the first one begins its sorting. Opposite: ``remove_group``.

    Refusals: ``unknown_ware`` (with near codes), ``unknown_part``, ``group_pieces``, ``group_grams``,
    ``reason_needed``, ``unknown_reason``, those of ``begin_sorting``. Over the count is no refusal.
    """
    said = GroupFacts(ware, part, pieces, tenths, decision, reason, note)
    with desk.deed("add_group") as deed:
        container = container_of(deed.session, desk, tag)
        checked, its_ware = check_group(deed.session, said)
        deed.said = f"{container.number}: {checked.in_short()}"
        need_on_table(deed, container, sure=sure)
        row = write_group(deed, container, checked, its_ware)
        deed.session.flush()
        return as_row(row, its_ware)


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
) -> GroupRow:
    """Change a group of the version ``seen``; what is not named stays. Opposite: the change back.

    Refusals: those of ``add_group``, ``row_gone``, ``changed_meanwhile`` (with mine, theirs and before).
    """
    with desk.deed("change_group") as deed:
        row, container = _group_open(deed, group_id)
        before, _ware = facts_from_values(deed.session, values_of(row))
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
        )
        checked, its_ware = check_group(deed.session, said)
        refuse_if_moved(deed.session, row, seen, _columns(checked, its_ware))
        rewrite_group(deed, container, row, checked, its_ware)
        deed.said = f"{container.number}: {before.in_short()} → {checked.in_short()}"
        deed.session.flush()
        return as_row(row, its_ware)


def remove_group(desk: Desk, group_id: int, *, seen: int) -> GroupRow:
    """Remove a group of the version ``seen``; the journal keeps it. Opposite: ``add_group``, or taking it back."""
    with desk.deed("remove_group") as deed:
        row, container = _group_open(deed, group_id)
        removed = as_row(row, facts_from_values(deed.session, values_of(row))[1])
        refuse_if_moved(deed.session, row, seen, {})
        erase_group(deed, container, row)
        deed.said = f"{container.number}: {removed.facts.in_short()}"
    return removed


# --- what may be said of a group ----------------------------------------------------------------------------------


def check_group(session: Session, said: GroupFacts) -> tuple[GroupFacts, Ware | None]:
    """Return the group in the excavation's own spelling, with its ware; refuses what cannot be meant."""
    ware = _ware_named(session, said.ware)
    if not 1 <= said.pieces <= MOST_PIECES:
        raise Refusal(
            "group_pieces",
            N_("A group has 1 to {most} pieces, not {pieces}. Write the number that lies on the table."),
            pieces=said.pieces,
            most=MOST_PIECES,
        )
    if said.tenths is not None and not 0 <= said.tenths <= MOST_TENTHS:
        raise Refusal(
            "group_grams",
            N_("A group cannot weigh {grams} g. Weigh it again, or leave the grams out."),
            grams=said.tenths / 10,
        )
    checked = replace(
        said,
        ware=ware.code if ware else "",
        part=_part_named(said.part),
        reason=_reason(said),
        note=said.note.strip(),
    )
    return checked, ware


def _ware_named(session: Session, said: str) -> Ware | None:
    wanted = folded(said)
    if not wanted:
        return None
    rows = session.execute(select(Ware).order_by(Ware.code)).scalars().all()
    for row in rows:
        if wanted in (folded(row.code), folded(row.name)):
            return row
    raise Refusal(
        "unknown_ware",
        N_("There is no ware {said}. Near it: {near}. Choose one, or add it in Set-up."),
        said=said.strip(),
        near=", ".join(near(said, [row.code for row in rows])) or "–",
    )


def _part_named(said: str) -> str:
    wanted = folded(said)
    parts = vocabulary("parts")
    for term in parts:
        if wanted in (folded(term.key), folded(term.name)):
            return term.key
    raise Refusal(
        "unknown_part",
        N_("“{said}” is no part of a vessel here. Near it: {near}. Choose one."),
        said=said.strip(),
        near=", ".join(near(said, [term.name for term in parts])),
    )


def _reason(said: GroupFacts) -> str:
    if not said.reason.strip():
        if said.decision is Decision.DISCARD:
            raise Refusal("reason_needed", N_("A discard needs a reason. Choose one from the list."))
        return ""
    if said.decision is not Decision.DISCARD:
        return said.reason.strip()
    wanted = folded(said.reason)
    reasons = vocabulary("discard_reasons")
    for term in reasons:
        if wanted in (folded(term.key), folded(term.name)):
            return term.key
    raise Refusal(
        "unknown_reason",
        N_("“{said}” is no reason for a discard. The reasons: {known}."),
        said=said.reason.strip(),
        known=", ".join(term.name for term in reasons),
    )


def _group_open(deed: Deed, group_id: int) -> tuple[SherdGroup, Container]:
    """Return a group and its container, which must lie on the table."""
    row = deed.session.get(SherdGroup, group_id)
    if row is None:
        raise Refusal("row_gone", N_("That row was removed meanwhile. Look at the table again."))
    container = deed.session.get_one(Container, row.container_id)
    need_on_table(deed, container)
    return row, container


def _columns(said: GroupFacts, ware: Ware | None) -> dict[str, Any]:
    values: dict[str, Any] = {name: getattr(said, name) for name in SAID_OF_A_GROUP if name != "ware_id"}
    return values | {"ware_id": ware.id if ware else None}
