"""Rules that stand behind others: the first that fits a group proposes, so one may never come to speak."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from findsdesk.domain.retention import LISTS, Fits, RetentionRule

Telling = Mapping[str, frozenset[str]]
"""By the names of the lists: the words that make a sherd diagnostic."""


def takes_all(first: Fits, second: Fits, telling: Telling) -> bool:
    """Tell whether whatever the second fits is fitted by the first, whatever group that may be."""
    if first.diagnostic is not None and first.diagnostic is not _diagnostic(second, telling):
        return False
    return all(_takes_all_of(getattr(first, name), getattr(second, name)) for name in LISTS)


def _diagnostic(fits: Fits, telling: Telling) -> bool | None:
    """Return whether what is fitted is diagnostic, as the rule asks or since its words make it so; None for both."""
    if fits.diagnostic is not None:
        return fits.diagnostic
    lists = ((getattr(fits, name), telling.get(name, frozenset())) for name in LISTS)
    return True if any(words and words <= marked for words, marked in lists) else None


def _takes_all_of(first: frozenset[str], second: frozenset[str]) -> bool:
    return not first or (bool(second) and second <= first)


def behind(rules: Sequence[RetentionRule], rule: RetentionRule, telling: Telling) -> str:
    """Return the name of the first rule before one that takes all it would, '' where it may come to speak.

    ``rules`` are those in force in their order, ``rule`` is one of them.
    """
    before = rules[: next(place for place, one in enumerate(rules) if one is rule)]
    return next((one.name for one in before if takes_all(one.fits, rule.fits, telling)), "")
