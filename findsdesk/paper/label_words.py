"""How labels say what they say: language and terms, days, grams, the smallest letters. Nothing here draws."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from findsdesk.words import Terms, plural, put

BETWEEN = " · "
LEAST = 4.0  # points: smaller letters are not read from paper (our own limit)


@dataclass(frozen=True, slots=True)
class Wording:
    """The language of this paper and the excavation's own words."""

    language: str
    terms: Terms

    def say(self, text: str, **facts: object) -> str:
        """Return a marked text in this paper's language with the facts filled in."""
        return put(text, self.terms, facts, self.language)

    def pieces(self, n: int) -> str:
        """Return a number of pieces in words: 38 pieces."""
        return plural("{n} piece", "{n} pieces", n, self.language)


def grams(tenths: int) -> str:
    """Return dry tenths of a gram as grams: 6642 is 664.2 g."""
    return f"{tenths // 10}.{tenths % 10} g"


def days(first: date | None, last: date | None = None) -> str:
    """Return a day, or the first and last of several, in the ISO form."""
    if first is None:
        return ""
    return first.isoformat() if last in (None, first) else f"{first.isoformat()}/{last}"
