"""The words a field can be filled with: found by their beginning, by any word of their name, or by their number."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from findsdesk.desk.setting_up import WareFacts
from findsdesk.desk.shipped import vocabulary
from findsdesk.domain.balance import Decision
from findsdesk.domain.natural_order import folded
from findsdesk.domain.near_codes import near
from findsdesk.domain.vocabularies import Term
from findsdesk.words import put


@dataclass(frozen=True, slots=True)
class Choice:
    """One word of a list: what the store keeps, what stands in the field, and a longer name it is also found by."""

    key: str
    word: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class Choices:
    """A list in the order in which it is offered."""

    of: tuple[Choice, ...] = ()
    one_only: bool = False
    """Whether a beginning that several share means none of them; else the first of the list is meant."""

    def matching(self, typed: str) -> tuple[Choice, ...]:
        """Return what the typing may mean, the likeliest first; all of the list where nothing is typed."""
        if not folded(typed):
            return self.of
        return tuple(dict.fromkeys(choice for grade in self._grades(typed) for choice in grade))

    def meant(self, typed: str) -> Choice | None:
        """Return the one word that the typing means, or None."""
        for grade in self._grades(typed) if folded(typed) else ():
            if grade:
                return grade[0] if len(grade) == 1 or not self.one_only else None
        return None

    def near(self, typed: str) -> tuple[Choice, ...]:
        """Return the words nearest to a typing that means none or several."""
        found = self.matching(typed)
        if found:
            return found
        by_word = {choice.word: choice for choice in self.of}
        return tuple(by_word[word] for word in near(typed, by_word))

    def number_of(self, choice: Choice) -> int:
        """Return the number by which a word of the list can be typed."""
        return self.of.index(choice) + 1

    def _grades(self, typed: str) -> Iterable[list[Choice]]:
        wanted = folded(typed)
        yield [one for one in self.of if wanted in (folded(one.word), folded(one.key), folded(one.name))]
        if wanted.isdecimal() and 1 <= int(wanted) <= len(self.of):
            yield [self.of[int(wanted) - 1]]
        yield [one for one in self.of if folded(one.word).startswith(wanted)]
        yield [one for one in self.of if folded(one.name).startswith(wanted)]
        words = ((one, f"{folded(one.word)} {folded(one.name)}".split()) for one in self.of)
        yield [one for one, parts in words if any(part.startswith(wanted) for part in parts)]


DECISIONS: tuple[Decision, ...] = (Decision.KEEP, Decision.DISCARD, Decision.HOLD, Decision.MEND)
"""In the order in which one key goes through them."""

_REASONS = {
    Decision.KEEP: "keep_reasons",
    Decision.MEND: "keep_reasons",
    Decision.DISCARD: "discard_reasons",
    Decision.HOLD: "hold_reasons",
}


@dataclass(frozen=True, slots=True)
class WordLists:
    """What the fields of a group are filled from: the excavation's own wares, and the word lists."""

    wares: Choices
    parts: Choices
    reasons: Mapping[Decision, Choices]
    decisions: Mapping[Decision, str]

    @classmethod
    def of(cls, wares: Iterable[WareFacts]) -> WordLists:
        """Return the lists of an excavation with these wares."""
        own = tuple(Choice(ware.code, ware.code, ware.name) for ware in wares)
        return cls(
            wares=Choices(own, one_only=True),
            parts=Choices(_choices(vocabulary("parts"))),
            reasons={decision: Choices(_choices(vocabulary(name))) for decision, name in _REASONS.items()},
            decisions={Decision(term.key): put(term.name) for term in vocabulary("decisions")},
        )

    def part_word(self, key: str) -> str:
        """Return the word of a part by its key."""
        return next((choice.word for choice in self.parts.of if choice.key == key), key)

    def reason_word(self, decision: Decision, reason: str) -> str:
        """Return the word of a reason by its key; a reason in somebody's own words stays as it is."""
        return next((choice.word for choice in self.reasons[decision].of if choice.key == reason), reason)


def _choices(terms: Iterable[Term]) -> tuple[Choice, ...]:
    return tuple(Choice(term.key, put(term.name)) for term in terms)
