"""What is told a person instead of a result: a Refusal, a Question, or that the world around the store failed."""

from __future__ import annotations

from findsdesk.words import Terms, put


class Told(Exception):
    """Something to tell a person, to be put into words only at the edge: window, terminal, paper.

    ``code`` names it for programs and tests, ``text`` is the message key (one sentence of 25 words or fewer that says
    what is wrong and what to do), ``facts`` fill its braces.
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


class Refusal(Told):
    """What was asked cannot be done; nothing was changed."""


class Question(Refusal):
    """A doubt rather than a no: the same call with ``sure=True`` goes through, and the answer is written down."""


class StoreFault(Told):
    """The store could not be read or written, through no fault of the program or the person; says what to do."""
