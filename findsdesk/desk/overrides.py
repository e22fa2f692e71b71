"""Rows that somebody decided otherwise than a rule of the policy proposed: which still want a reason, and giving it.

Nobody is asked while the pottery is read aloud: such a row is written and stays open until it says why.
"""

from __future__ import annotations

from sqlalchemy import select

from findsdesk.desk.desk import Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.finding import container_of
from findsdesk.desk.group_checks import reason_named
from findsdesk.desk.group_rows import GroupOf, GroupRow, as_row, facts_from_values, values_of, vessel_numbers
from findsdesk.desk.listed_discards import need_off_lists
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.rows_there import group_there
from findsdesk.desk.wanting_why import WantingWhy, wanting_why_in, wants_why
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, Form, SherdGroup, Ware
from findsdesk.words import N_


def containers_wanting_why(desk: Desk) -> tuple[WantingWhy, ...]:
    """Return the containers with rows that want a reason, in the order of their numbers."""
    with desk.reading() as reading:
        return wanting_why_in(reading.session)


def rows_wanting_why(desk: Desk, tag: str) -> tuple[GroupRow, ...]:
    """Return the rows of a container that are decided against a rule and say no reason, in the order of its table."""
    with desk.reading() as reading:
        container = container_of(reading.session, desk, tag)
        rows = reading.session.execute(
            select(SherdGroup, Ware, Form)
            .outerjoin(Ware, SherdGroup.ware_id == Ware.id)
            .outerjoin(Form, SherdGroup.form_id == Form.id)
            .where(SherdGroup.container_id == container.id, *wants_why(SherdGroup))
            .order_by(SherdGroup.ordinal, SherdGroup.id)
        ).all()
        return tuple(as_row(row, GroupOf(ware, form)) for row, ware, form in rows)


def say_why(desk: Desk, group_id: int, *, seen: int, reason: str) -> GroupRow:
    """Say why a group of the version ``seen`` is decided against a rule, wherever its container stands by now.

    Nothing else of it changes, so a settled container need not be opened again. Opposite: ``change_group``. Refusals:
    ``row_gone``, ``empty``, ``not_against_a_rule``, ``unknown_reason``, ``changed_meanwhile``, those of the lists of
    discards.
    """
    with desk.deed("say_why") as deed:
        row = group_there(deed.session, group_id)
        need_off_lists(deed.session, row)
        container = deed.session.get_one(Container, row.container_id)
        only_here(deed, container)
        _check(row, reason)
        said = reason_named(Decision(row.decision), reason, words_of(desk))
        refuse_if_moved(deed.session, row, seen, {"reason": said})
        row.reason = said
        deed.session.flush()
        facts, of = facts_from_values(deed.session, values_of(row))
        deed.said = f"{container.number}: {facts.in_short()}"
        return as_row(row, of, vessel_numbers(deed.session, [row]))


def _check(row: SherdGroup, reason: str) -> None:
    if not row.proposed:
        raise Refusal("not_against_a_rule", N_("No rule proposed otherwise: this row needs no reason of its own."))
    if not reason.strip():
        raise Refusal("empty", N_("Write the {what} first."), what=N_("reason"))
