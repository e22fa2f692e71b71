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
    """A ware or a form: its code, its name, and when it begins."""

    code: str
    name: str
    begins: int | None = None
    """The first year it may be of."""


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

    def begins(self, said: GroupFacts) -> int | None:
        """Return the first year a group may be of: its form's, else its ware's; None where nothing says so."""
        coded = ((self.forms, said.form), (self.wares, said.ware))
        found = (one.begins for of, code in coded for one in of if code and one.code == code)
        return next((begins for begins in found if begins is not None), None)


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
        select(model.code, model.name, model.earliest).where(model.merged_into_id.is_(None)).order_by(model.code)
    ).all()
    return tuple(Coded(code, name, earliest) for code, name, earliest in rows)
