"""Several groups written at once, as they were pasted from a spreadsheet: all of them in one act, or none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from findsdesk.desk.decided import decide
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding import container_of
from findsdesk.desk.group_checks import check_group
from findsdesk.desk.group_rows import GroupFacts, GroupRow, as_row, write_group
from findsdesk.desk.on_the_table import need_on_table
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.pasted_rows import Row, matched
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.exchange.pasted_text import cells_of
from findsdesk.store.models import Container
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class NewGroup:
    """A group to be written; no ``decision`` means what the retention policy proposes."""

    said: GroupFacts
    decision: Decision | None = None


def read_rows(
    text: str, columns: Sequence[str], headings: Mapping[str, str], names: Mapping[str, str]
) -> tuple[Row, ...]:
    """Return pasted text as rows of texts by column. Refusals: those of ``matched``."""
    return matched(cells_of(text), columns, headings, names)


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
        return tuple(_written(deed, container, row, group) for row, group in enumerate(groups, start=1))


def _written(deed: Deed, container: Container, row: int, group: NewGroup) -> GroupRow:
    try:
        checked, of = check_group(deed.session, group.said, words_of(deed.desk))
        checked = decide(deed, container, checked, group.decision)
    except Question:
        raise
    except Refusal as refusal:
        raise pasted_row(row, refusal.in_words(deed.desk.terms)) from refusal
    written = write_group(deed, container, checked, of)
    deed.session.flush()
    return as_row(written, of)


def pasted_row(row: int, why: str) -> Refusal:
    """Return the refusal of a whole paste for what is wrong with one of its rows, counted from 1."""
    return Refusal("pasted_row", N_("Row {row}: {why} Nothing was pasted."), row=row, why=why)
