"""Words: every text a person reads goes through here, in every layer.

Messages are looked up by their English text (gettext). A layer below the window marks a text with ``N_`` and leaves
the looking up to the edge, where the language is known; the edge uses ``_``.
"""

from __future__ import annotations

import gettext
from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from findsdesk import places

_DOMAIN = "findsdesk"
_WRITTEN_IN = "en"
_language = _WRITTEN_IN


class Terms(NamedTuple):
    """What this excavation calls its things; one word for one thing on every screen and sheet."""

    deposit: str = "deposit"
    deposits: str = "deposits"
    container: str = "container"
    containers: str = "containers"
    square: str = "square"
    squares: str = "squares"

    def as_facts(self) -> dict[str, str]:
        """Return the words as facts for a message, each also with a capital first letter (``{Container}``)."""
        plain = self._asdict()
        return plain | {name.capitalize(): word[:1].upper() + word[1:] for name, word in plain.items()}


def N_(text: str) -> str:
    """Mark a text for the translators without translating it here."""
    return text


@cache
def _catalogue(language: str) -> gettext.NullTranslations:
    if language == _WRITTEN_IN:
        return gettext.NullTranslations()
    folder = places.resource("translations")
    return gettext.translation(_DOMAIN, folder, languages=[language], fallback=True)


def use_language(language: str) -> None:
    """Choose the language of the window or the terminal (paper has its own and passes it to ``put``)."""
    global _language
    _language = language


def _(text: str, language: str | None = None) -> str:
    """Return the text in the language in use, or in the one named."""
    return _catalogue(language or _language).gettext(text)


def plural(one: str, many: str, n: int, language: str | None = None) -> str:
    """Return the form of the text that goes with n things, with ``{n}`` filled in."""
    return how_many(one, many, n, language)


def how_many(one: str, many: str, n: int, language: str | None = None) -> str:
    """Do as ``plural`` does with two texts marked elsewhere, such as the piece words of a route."""
    text = _catalogue(language or _language).ngettext(one, many, n)
    return text.format(n=grouped(n))


class CountOf(int):
    """A number of things as a fact of a message: the number for programs, "1 piece" or "12 pieces" for people.

    The texts are written out here as those of ``plural`` are. They become words where the message does, in its language
    and with its terms (``{container}``); so a layer that knows no language can say how many, and of several things.
    """

    one: str
    many: str

    def __new__(cls, one: str, many: str, n: int) -> CountOf:
        """Return n things with the texts for one and for more of them, each with ``{n}``."""
        said = super().__new__(cls, n)
        said.one, said.many = one, many
        return said

    def __reduce__(self) -> tuple[type[CountOf], tuple[str, str, int]]:
        return CountOf, (self.one, self.many, int(self))

    def in_words(self, terms: Mapping[str, object], language: str | None = None) -> str:
        """Return the things in words, with the terms filled in (``Terms.as_facts``)."""
        text = _catalogue(language or _language).ngettext(self.one, self.many, self)
        return text.format_map(dict(terms) | {"n": grouped(self)})

    def __str__(self) -> str:
        return self.in_words(Terms().as_facts())


def grouped(n: int) -> str:
    """Return a whole number as people read it on screen, thousands set apart: 12,300."""
    return f"{n:,}"


def put(
    text: str, terms: Terms | None = None, facts: Mapping[str, object] | None = None, language: str | None = None
) -> str:
    """Put a marked message into words: translated, with the excavation's own terms and its facts filled in."""
    own = (terms or Terms()).as_facts()
    said = own | dict(facts or {})
    counts = {name: fact.in_words(own, language) for name, fact in said.items() if isinstance(fact, CountOf)}
    return " ".join(_(text, language).format_map(said | counts).split())
