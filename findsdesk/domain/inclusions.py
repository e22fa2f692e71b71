"""What lies in the clay: kind, frequency, size, sorting and rounding, in words of the published charts.

Written as it is said at the table: ``quartz, common, medium, poorly sorted, rounded; grog, 10 %``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.said_words import words_said
from findsdesk.domain.unknown_words import unknown_word
from findsdesk.domain.vocabularies import Term
from findsdesk.words import N_

LISTS = ("inclusions", "frequencies", "grain_sizes", "grain_sortings", "roundings")
"""The lists of words of an inclusion, in the order in which they are said."""

_PERCENT = re.compile(r"([0-9]{1,3}) ?%")


@dataclass(frozen=True, slots=True)
class Inclusion:
    """One kind of inclusion: keys of the lists, '' where nothing was said; ``frequency`` may be a percentage, ``10 %``.

    A percentage read on a comparison chart says more than a word.
    """

    kind: str
    frequency: str = ""
    size: str = ""
    sorting: str = ""
    rounding: str = ""

    def as_plain(self) -> dict[str, str]:
        """Return what is stored."""
        return {
            "kind": self.kind,
            "frequency": self.frequency,
            "size": self.size,
            "sorting": self.sorting,
            "rounding": self.rounding,
        }

    def in_words(self, lists: Mapping[str, Sequence[Term]]) -> str:
        """Return it as it is written: the English names with commas between them."""
        keys = (self.kind, self.frequency, self.size, self.sorting, self.rounding)
        return ", ".join(_name(lists[name], key) for name, key in zip(LISTS, keys, strict=True) if key)


def _name(terms: Sequence[Term], key: str) -> str:
    return next((term.name for term in terms if term.key == key), key)


def read_inclusions(text: str, lists: Mapping[str, Sequence[Term]]) -> tuple[Inclusion, ...]:
    """Read inclusions as they are said; semicolons part them, commas or blanks their words, in any order.

    Refusals: ``unknown_word`` (with near ones), ``said_twice`` (two words of one list), ``inclusion_kind_missing``,
    ``percent_range``.
    """
    parts = [part for part in text.split(";") if part.strip()]
    return tuple(_read_one(part, lists) for part in parts)


def _read_one(text: str, lists: Mapping[str, Sequence[Term]]) -> Inclusion:
    found: dict[str, str] = {}
    for word in _words(text, lists):
        name, key = _placed(word, lists)
        if name in found:
            raise Refusal(
                "said_twice",
                N_("“{said}” is one word too many of its kind. Part inclusions with a semicolon."),
                said=word,
            )
        found[name] = key
    if "inclusions" not in found:
        raise Refusal(
            "inclusion_kind_missing",
            N_("“{said}” does not say what lies in the clay. Begin with its kind: quartz, grog, shell."),
            said=text.strip(),
        )
    return Inclusion(*(found.get(name, "") for name in LISTS))


def _words(text: str, lists: Mapping[str, Sequence[Term]]) -> Iterator[str]:
    """Yield the words of one inclusion."""
    for said in text.split(","):
        yield from words_said(said, lambda word: bool(_PERCENT.fullmatch(word) or _known(word, lists)))


def _known(word: str, lists: Mapping[str, Sequence[Term]]) -> tuple[str, str] | None:
    """Return the list that has a word, and its key there; None where none has it."""
    wanted = folded(word)
    for name in LISTS:
        for term in lists[name]:
            if wanted in (folded(term.key), folded(term.name)):
                return name, term.key
    return None


def _placed(word: str, lists: Mapping[str, Sequence[Term]]) -> tuple[str, str]:
    """Return the list that a word belongs to, and its key there."""
    if percent := _PERCENT.fullmatch(word):
        if not 0 < int(percent[1]) <= 100:
            raise Refusal("percent_range", N_("“{said}” is no share of the clay. Write 1 to 100 %."), said=word)
        return "frequencies", f"{int(percent[1])} %"
    if placed := _known(word, lists):
        return placed
    known = [term.name for name in LISTS for term in lists[name]]
    raise unknown_word("inclusions", word, known)
