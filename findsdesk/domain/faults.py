"""A StoreFault: the world around the store failed us; neither the person's mistake nor our bug."""

from __future__ import annotations

from findsdesk.words import Terms, put


class StoreFault(Exception):
    """The store could not be read or written, through no fault of the program or the person; says what to do."""

    def __init__(self, code: str, text: str, /, **facts: object) -> None:
        super().__init__(code)
        self.code = code
        self.text = text
        self.facts = facts

    def in_words(self, terms: Terms | None = None, language: str | None = None) -> str:
        """Return the sentence a person reads."""
        return put(self.text, terms, self.facts, language)

    def __str__(self) -> str:
        return f"{self.code}: {self.in_words()}"
