"""The words a field can be filled with: found by their beginning, by any word of their name, or by their number."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from findsdesk.domain.natural_order import folded as plainly_folded
from findsdesk.domain.near_codes import alike

folded = lru_cache(maxsize=4096)(plainly_folded)
"""With every key the same words are compared again."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One word of a list: what the store keeps, what stands in the field, and a longer name it is also found by."""

    key: str
    word: str
    name: str = ""
    number: int = 0
    """By which it may be typed, where it has one of its own; 0 for its place in the list."""


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
        """Return the words near a typing that means none or several; none where none is near."""
        found = self.matching(typed)
        if found:
            return found
        by_word = {choice.word: choice for choice in self.of}
        return tuple(by_word[word] for word in alike(typed, by_word))

    def number_of(self, choice: Choice) -> int:
        """Return the number by which a word of the list can be typed."""
        return choice.number or self.of.index(choice) + 1

    def _grades(self, typed: str) -> Iterable[list[Choice]]:
        wanted = folded(typed)
        yield [one for one in self.of if wanted in (folded(one.word), folded(one.key), folded(one.name))]
        if wanted.isdecimal():
            yield [one for one in self.of if self.number_of(one) == int(wanted)]
        yield [one for one in self.of if folded(one.word).startswith(wanted)]
        yield [one for one in self.of if folded(one.name).startswith(wanted)]
        words = ((one, f"{folded(one.word)} {folded(one.name)}".split()) for one in self.of)
        yield [one for one, parts in words if any(part.startswith(wanted) for part in parts)]
