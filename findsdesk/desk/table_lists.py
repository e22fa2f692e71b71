"""What a row of the sorting table is typed from: the type series, the excavation's words, its policy, its columns."""

from __future__ import annotations

from dataclasses import dataclass, field

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.decided import said_for_the_policy
from findsdesk.desk.desk import Desk
from findsdesk.desk.group_rows import GroupFacts
from findsdesk.desk.retention import policy_in
from findsdesk.desk.word_lists import SHIPPED, WordLists, words_of
from findsdesk.domain.retention import Policy, Proposal
from findsdesk.domain.sorting_columns import USUAL
from findsdesk.store.models import Form, Ware


@dataclass(frozen=True, slots=True)
class Coded:
    """A ware or a form: its code and its name."""

    code: str
    name: str


@dataclass(frozen=True, slots=True)
class TableLists:
    """All of it at one moment; ``discards`` is False where the excavation discards nothing."""

    wares: tuple[Coded, ...] = ()
    forms: tuple[Coded, ...] = ()
    words: WordLists = field(default_factory=lambda: SHIPPED)
    policy: Policy = field(default_factory=Policy)
    columns: tuple[str, ...] = USUAL
    discards: bool = True

    def propose(self, said: GroupFacts, security: str) -> Proposal:
        """Return what the policy says of a group, as it is typed, in a deposit of a security."""
        return self.policy.propose(said_for_the_policy(said, self.words), security)


def table_lists(desk: Desk) -> TableLists:
    """Return what rows are typed from; codes merged into others are not offered."""
    settings = desk.facts.settings
    with desk.reading() as reading:
        return TableLists(
            wares=_coded(reading.session, Ware),
            forms=_coded(reading.session, Form),
            words=words_of(desk),
            policy=policy_in(reading.session, discards=settings.discards),
            columns=settings.sorting_columns,
            discards=settings.discards,
        )


def _coded(session: Session, model: type[Ware] | type[Form]) -> tuple[Coded, ...]:
    rows = session.execute(
        select(model.code, model.name).where(model.merged_into_id.is_(None)).order_by(model.code)
    ).all()
    return tuple(Coded(code, name) for code, name in rows)
