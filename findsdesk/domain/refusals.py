"""A Refusal: a plain-language no, with the facts in it and the way out."""

from __future__ import annotations

from findsdesk.words import Terms, put


class Refusal(Exception):
    """What was asked cannot be done; nothing was changed.

    ``code`` names the refusal for programs and tests, ``text`` is the message key (one sentence of 25 words or fewer
    that says what is wrong and what to do), ``facts`` fill its braces. Put into words only at the edge: window,
    terminal, paper.
    """

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


class Question(Refusal):
    """A doubt rather than a no: the same call with ``sure=True`` goes through, and the answer is written down."""
