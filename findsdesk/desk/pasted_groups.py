"""Several groups written at once, as they were pasted from a spreadsheet: all of them in one act, or none."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from findsdesk.desk.decided import decide
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding import container_of
from findsdesk.desk.group_checks import check_group
from findsdesk.desk.group_rows import GroupFacts, GroupOf, GroupRow, as_row, write_group
from findsdesk.desk.on_the_table import need_on_table
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.intrusions import LOOKS_LATE
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.store.models import Container
from findsdesk.words import N_

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class NewGroup:
    """A group to be written; no ``decision`` means what is proposed: what the policy says, but what it discards and
    what looks late where it is from is held for somebody to look at.
    """

    said: GroupFacts
    decision: Decision | None = None
    row: int = 0
    """The number by which it is named where it is refused; 0 for its place, counted from 1."""


def add_groups(desk: Desk, tag: str, groups: Sequence[NewGroup], *, sure: bool = False) -> tuple[GroupRow, ...]:
    """Write several groups of a container in their order, as one act. Opposite: taking it back.

    Refusals: ``no_rows``, ``pasted_row`` (naming the row and what is wrong with it), those of ``begin_sorting``.
    """
    if not groups:
        raise Refusal("no_rows", N_("There is no row to write. Copy the rows with their cells, then paste them."))
    with desk.deed("add_groups") as deed:
        container = container_of(deed.session, desk, tag)
        deed.said = f"{container.number}: {len(groups)}"
        need_on_table(deed, container, sure=sure)
        words = words_of(desk)

        def checked(row: int, said: GroupFacts) -> tuple[GroupFacts, GroupOf]:
            return _in_row(row, desk, lambda: check_group(deed.session, said, words))

        rows = [checked(one.row or place, one.said) for place, one in enumerate(groups, start=1)]
        decided = _decided(deed, container, groups, rows)
        return tuple(_written(deed, container, said, of) for said, (_checked, of) in zip(decided, rows, strict=True))


def _decided(
    deed: Deed, container: Container, groups: Sequence[NewGroup], rows: Sequence[tuple[GroupFacts, GroupOf]]
) -> list[GroupFacts]:
    def decided(place: int, said: GroupFacts, decision: Decision | None) -> GroupFacts:
        return _in_row(groups[place].row or place + 1, deed.desk, lambda: decide(deed, container, said, decision))

    facts = [decided(place, said, groups[place].decision) for place, (said, _of) in enumerate(rows)]
    open_yet = {place for place, one in enumerate(groups) if one.decision is None}
    proposed = {place for place in open_yet if facts[place].decision is Decision.DISCARD}
    if proposed:
        # Only what would be discarded is asked after: the sums of a deposit are not read for nothing.
        from findsdesk.desk.late_sherds import looking_late

        late = looking_late(deed.session, container, rows)
        for place in sorted(place for place in proposed if late[place]):
            said = rows[place][0]
            facts[place] = decided(place, replace(said, reason=said.reason or LOOKS_LATE), Decision.HOLD)
    return facts


def _in_row(row: int, desk: Desk, work: Callable[[], T]) -> T:
    """Do what may be refused for one row; the refusal names the row by its number."""
    try:
        return work()
    except Question:
        raise
    except Refusal as refusal:
        raise pasted_row(row, refusal.in_words(desk.terms)) from refusal


def _written(deed: Deed, container: Container, said: GroupFacts, of: GroupOf) -> GroupRow:
    row = write_group(deed, container, said, of)
    deed.session.flush()
    return as_row(row, of)


def pasted_row(row: int, why: str) -> Refusal:
    """Return the refusal of a whole paste for what is wrong with one of its rows, counted from 1."""
    return Refusal("pasted_row", N_("Row {row}: {why} Nothing was pasted."), row=row, why=why)
