"""A doubt: a question about one row or entry, in plain words. It waits beside the row; nothing else is held up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from findsdesk.words import Terms, put


@dataclass(frozen=True, slots=True)
class Doubt:
    """What a person must look at before the row goes in.

    ``text`` is a message key, ``facts`` fill its braces (texts and whole numbers only, so that they can be kept),
    ``column`` names the column it is about.
    """

    code: str
    text: str
    facts: Mapping[str, object] = field(default_factory=dict)
    column: str | None = None

    def in_words(self, terms: Terms | None = None, language: str | None = None) -> str:
        """Return the question a person reads."""
        return put(self.text, terms, self.facts, language)
