"""The word lists of an excavation: those that ship, with what it added, says in its own words, or put away."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from findsdesk.domain.balance import Decision
from findsdesk.domain.natural_order import folded
from findsdesk.domain.vocabularies import Term

TELLING = ("parts", "surfaces", "decorations", "conditions")
"""Lists of which a word may make a sherd diagnostic."""
OWN_LISTS = (
    *TELLING,
    "keep_reasons",
    "discard_reasons",
    "waiting_reasons",
    "inclusions",
    "frequencies",
    "grain_sizes",
    "grain_sortings",
    "roundings",
    "firings",
    "conservation_needs",
    "sample_purposes",
    "confidences",
    "step_back_reasons",
)
"""Lists that an excavation edits, in the order in which they are offered.

The others are the program's own: what follows from each of their words is written in it (decisions, reasons to hold
back, to void and to print again, security, materials).
"""
REASON_LISTS = {
    Decision.KEEP: "keep_reasons",
    Decision.MEND: "keep_reasons",
    Decision.DISCARD: "discard_reasons",
    Decision.HOLD: "waiting_reasons",
}
"""The list from which the reason of each decision is taken; any but a discard's may be said in free words."""
NEVER_EMPTY = frozenset({"parts", "discard_reasons", "inclusions", "sample_purposes", "confidences"})
"""Lists without which something cannot be written at all."""


@dataclass(frozen=True, slots=True)
class OwnWord:
    """A word the excavation added, or says in place of a shipped one (the same key), or put away."""

    list: str
    key: str
    name: str
    position: int
    diagnostic: bool = False
    in_use: bool = True
    address: str = ""
    counts_as: str = ""


@dataclass(frozen=True, slots=True)
class WordList:
    """One list: the words in use in their order, and those that were put away but stand in old rows."""

    in_use: tuple[Term, ...] = ()
    away: tuple[Term, ...] = ()

    @property
    def every(self) -> tuple[Term, ...]:
        """Return the words in use and those put away."""
        return (*self.in_use, *self.away)

    def named(self, said: str) -> Term | None:
        """Return the word in use that has this key or name, in any case, or None."""
        wanted = folded(said)
        return next((term for term in self.in_use if wanted in (folded(term.key), folded(term.name))), None)

    def keyed(self, key: str) -> Term | None:
        """Return the word of a key, in use or put away."""
        return next((term for term in self.every if term.key == key), None)

    def called(self, key: str) -> str:
        """Return the name of a key as a message to be put into words, the key itself where the list has none.

        Braces that people wrote stand doubled, so that they are no place for a fact.
        """
        term = self.keyed(key)
        if term is not None and not term.own:
            return term.name
        return (term.name if term else key).replace("{", "{{").replace("}", "}}")

    def telling(self) -> frozenset[str]:
        """Return the keys of the words that make a sherd diagnostic."""
        return frozenset(term.key for term in self.every if term.diagnostic)


def overlaid(shipped: Iterable[Term], own: Iterable[OwnWord]) -> WordList:
    """Return a list with the excavation's words laid over the shipped ones; words of its own stand at the end."""
    said = {word.key: word for word in sorted(own, key=lambda word: (word.position, word.key))}
    terms: list[tuple[Term, bool]] = []
    for term in shipped:
        word = said.pop(term.key, None)
        terms.append((term, True) if word is None else (_term(word, term), word.in_use))
    terms += [(_term(word), word.in_use) for word in said.values()]
    return WordList(
        tuple(term for term, in_use in terms if in_use), tuple(term for term, in_use in terms if not in_use)
    )


def _term(word: OwnWord, shipped: Term | None = None) -> Term:
    own = shipped is None or word.name != shipped.name
    group = shipped.group if shipped else ""
    return Term(word.key, word.name, word.diagnostic, group, own, word.address, word.counts_as)


def key_of(name: str, taken: Iterable[str]) -> str:
    """Return a key for a new word: its letters and digits in small, without blanks, and none that is taken."""
    plain = re.sub(r"\W+", "_", folded(name)).strip("_") or "word"
    known = set(taken)
    return next(key for key in (plain, *(f"{plain}_{n}" for n in range(2, len(known) + 3))) if key not in known)


def tells_the_vessel(lists: Mapping[str, WordList], said: Mapping[str, str]) -> bool:
    """Tell whether what is said of a sherd makes it diagnostic by the excavation's rule.

    ``said`` are keys by list, several with a blank between them. The rule is the mark on the words: rims, bases,
    handles, spouts, what is decorated or inscribed (common practice, no source).
    """
    return any(not lists[name].telling().isdisjoint(said.get(name, "").split()) for name in TELLING)
