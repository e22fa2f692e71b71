"""What a row is typed from, in the words of the window: the type series, the excavation's words, the decisions."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from findsdesk.desk.table_lists import Coded, TableLists
from findsdesk.domain.balance import Decision
from findsdesk.domain.natural_order import folded
from findsdesk.domain.sorting_columns import has_base, has_rim
from findsdesk.domain.vocabularies import Term
from findsdesk.ui.benches.sorting.choices import Choice, Choices
from findsdesk.words import put

DECISIONS: tuple[Decision, ...] = (Decision.KEEP, Decision.DISCARD, Decision.HOLD, Decision.MEND)
"""In the order in which one key goes through them."""

_REASONS = {
    Decision.KEEP: "keep_reasons",
    Decision.MEND: "keep_reasons",
    Decision.DISCARD: "discard_reasons",
    Decision.HOLD: "waiting_reasons",
}
WORDS_OF = {"part": "parts", "surface": "surfaces", "decoration": "decorations", "condition": "conditions"}
"""Columns that are filled from a list of words, and which."""
SEVERAL = frozenset({"surface", "decoration", "condition"})
"""Columns that take several words, parted by a comma or a plus."""
_PARTED = re.compile(r"[,;+]")


@dataclass(frozen=True)
class RowLists:
    """What the fields of a group are filled from, in words; ``of_table`` is what they were made of."""

    columns: Mapping[str, Choices]
    away: Mapping[str, Mapping[str, str]]
    """The words of keys that are offered no more, by column: old rows have them."""
    reasons: Mapping[Decision, Choices]
    decisions: Mapping[Decision, str]
    of_table: TableLists

    @classmethod
    def of(cls, lists: TableLists) -> RowLists:
        """Return the lists in the language of the window."""
        words = lists.words
        columns = {
            "ware": Choices(_coded(lists.wares), one_only=True),
            "form": Choices(_coded(lists.forms), one_only=True),
        } | {column: Choices(_choices(words[name].in_use)) for column, name in WORDS_OF.items()}
        return cls(
            columns=columns,
            away={"ware": {}, "form": {}}
            | {column: {term.key: _in_words(term) for term in words[name].away} for column, name in WORDS_OF.items()},
            reasons={decision: Choices(_choices(words[name].in_use)) for decision, name in _REASONS.items()},
            decisions={
                Decision(term.key): _in_words(term)
                for term in words["decisions"].in_use
                if lists.discards or term.key != Decision.DISCARD
            },
            of_table=lists,
        )

    @property
    def offered(self) -> tuple[Decision, ...]:
        """Return the decisions that are offered, in the order in which one key goes through them."""
        return tuple(decision for decision in DECISIONS if decision in self.decisions)

    def word(self, column: str, key: str) -> str:
        """Return the word of a key of a column, several of them with commas."""
        return ", ".join(self._word(column, one) for one in key.split())

    def _word(self, column: str, key: str) -> str:
        found = (choice.word for choice in self.columns[column].of if choice.key == key)
        return next(found, self.away[column].get(key, key))

    def meant(self, column: str, typed: str) -> tuple[str, str]:
        """Return the keys that a typing means, with a blank between them, and the first word that means none."""
        keys = []
        for word in parted(typed) if column in SEVERAL else [typed.strip()]:
            choice = self.columns[column].meant(word)
            away = next((key for key, said in self.away[column].items() if folded(said) == folded(word)), None)
            if choice is None and away is None:
                return "", word
            keys.append(choice.key if choice else str(away))
        return " ".join(dict.fromkeys(keys)), ""

    def has_circle(self, column: str, part: str) -> bool:
        """Return whether a part, as it is typed, may show some of the rim, or of the base, the column asks for."""
        key = self.meant("part", part)[0] if part.strip() else ""
        term = self.of_table.words["parts"].keyed(key)
        return not key or (has_rim if column == "rim" else has_base)(key, term.counts_as if term else "")

    def merged_into(self, column: str, said: str) -> str:
        """Return the code that a ware or form was merged into whose code was typed, or nothing."""
        return self.of_table.merged.get(column, {}).get(folded(said), "") if said else ""

    def decision_word(self, decision: Decision) -> str:
        """Return a decision in words, also one that is offered no more."""
        return self.decisions.get(decision, str(decision))

    def reason_word(self, decision: Decision, reason: str) -> str:
        """Return the word of a reason by its key; a reason in somebody's own words stays as it is."""
        words = self.of_table.words[_REASONS[decision]].every
        return next((_in_words(term) for term in words if term.key == reason), reason)


def parted(typed: str) -> list[str]:
    """Return the words of a text in which several may stand."""
    return [word.strip() for word in _PARTED.split(typed) if word.strip()]


def _coded(rows: Iterable[Coded]) -> tuple[Choice, ...]:
    return tuple(Choice(row.code, row.code, row.name, row.number) for row in rows)


def _choices(terms: Iterable[Term]) -> tuple[Choice, ...]:
    return tuple(Choice(term.key, _in_words(term)) for term in terms)


def _in_words(term: Term) -> str:
    return term.name if term.own else put(term.name)
