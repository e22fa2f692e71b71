"""What a row of the sorting table is typed from: the type series, the excavation's words, its policy, its columns."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.decided import said_for_the_policy
from findsdesk.desk.desk import Desk
from findsdesk.desk.group_rows import GroupFacts
from findsdesk.desk.retention import policy_in
from findsdesk.desk.word_lists import SHIPPED, WordLists, words_of
from findsdesk.domain.natural_order import folded
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
    number: int = 0
    """By which it may be typed: its own as long as it stands, whatever is added or merged; 0 where it has none."""


@dataclass(frozen=True, slots=True)
class TableLists:
    """All of it at one moment; ``discards`` is False where the excavation discards nothing."""

    wares: tuple[Coded, ...] = ()
    forms: tuple[Coded, ...] = ()
    words: WordLists = field(default_factory=lambda: SHIPPED)
    policy: Policy = field(default_factory=Policy)
    columns: tuple[str, ...] = USUAL
    discards: bool = True
    merged: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    """By "ware" and "form": each code that was merged, folded, and the code it was merged into."""

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
        (wares, away), (forms, forms_away) = _coded(reading.session, Ware), _coded(reading.session, Form)
        return TableLists(
            wares=wares,
            forms=forms,
            words=words_of(desk),
            policy=policy_in(reading.session, discards=settings.discards),
            columns=settings.sorting_columns,
            discards=settings.discards,
            merged={"ware": away, "form": forms_away},
        )


def _coded(session: Session, model: type[Ware] | type[Form]) -> tuple[tuple[Coded, ...], dict[str, str]]:
    """Return the codes in use as they were added, and those merged with the one that stands at the end of mergers."""
    rows = session.execute(
        select(model.id, model.code, model.name, model.earliest, model.merged_into_id).order_by(model.id)
    ).all()
    codes = {row.id: row.code for row in rows}
    into = {row.id: row.merged_into_id for row in rows if row.merged_into_id is not None}
    away = {folded(codes[row_id]): codes[_end_of_mergers(row_id, into)] for row_id in into}
    numbered = ((row, Coded(row.code, row.name, row.earliest, number)) for number, row in enumerate(rows, start=1))
    return tuple(coded for row, coded in numbered if row.merged_into_id is None), away


def _end_of_mergers(row_id: int, into: Mapping[int, int]) -> int:
    """Return the code that stands at the end of mergers; of some that run in a circle any of them."""
    seen = {row_id}
    while row_id in into and into[row_id] not in seen:
        row_id = into[row_id]
        seen.add(row_id)
    return row_id
