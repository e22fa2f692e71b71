"""Pasted rows as they are understood with the table's own lists, before anything is written."""

from __future__ import annotations

from findsdesk.desk.pasted_columns import read_rows
from findsdesk.desk.pasted_groups import NewGroup, pasted_row
from findsdesk.domain.balance import Decision
from findsdesk.domain.natural_order import folded
from findsdesk.domain.pasted_rows import Row
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.sorting_columns import COLUMN_IN_WORDS
from findsdesk.ui.benches.sorting.row_lists import RowLists
from findsdesk.ui.benches.sorting.typed_row import TypedRow, understand
from findsdesk.words import N_, Terms, put


def pasted_groups(text: str, lists: RowLists, terms: Terms) -> tuple[NewGroup, ...]:
    """Return the groups of pasted text; refuses all of it for the first row that is in doubt, naming it.

    Columns go by headings (the table's own words, or the names of the columns), else by the table's order. A row
    without a decision is left to the policy.
    """
    pasted = read_rows(
        text, lists.of_table.columns, _headings(), {one: put(said) for one, said in COLUMN_IN_WORDS.items()}
    )
    return tuple(_group(number, row, lists, terms) for number, row in enumerate(pasted.rows, pasted.first))


def _headings() -> dict[str, str]:
    """Return the column of each word that may stand over one, folded."""
    named = {folded(put(words)): column for column, words in COLUMN_IN_WORDS.items()}
    plain = {folded(words): column for column, words in COLUMN_IN_WORDS.items()}
    return named | plain | {column: column for column in COLUMN_IN_WORDS}


def _group(number: int, row: Row, lists: RowLists, terms: Terms) -> NewGroup:
    said = row.get("decision", "").strip()
    decision = _decision(number, said, lists) if said else None
    typed = TypedRow(decision=decision or Decision.KEEP)
    for column, text in row.items():
        typed = typed if column == "decision" else typed.with_text(column, text)
    understood = understand(typed, lists)
    if understood.doubts:
        raise pasted_row(number, understood.doubts[0].in_words(terms))
    return NewGroup(understood.facts, decision, number)


def _decision(number: int, said: str, lists: RowLists) -> Decision:
    wanted = folded(said)
    for decision, word in lists.decisions.items():
        if wanted in (folded(word), folded(str(decision))):
            return decision
    known = ", ".join(lists.decisions.values())
    raise pasted_row(
        number, Refusal("unknown_decision", N_("No decision “{said}”: {known}."), said=said, known=known).in_words()
    )
