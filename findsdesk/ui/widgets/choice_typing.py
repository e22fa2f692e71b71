"""What letters typed in a box of choices mean: a code, a name or its beginning, blanks being part of a name."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

from findsdesk.domain.natural_order import folded

_PAUSE_S = 1.5
"""After so long without a key, what goes on with no choice begins another word."""


def meant_by(typed: str, choices: Sequence[str]) -> int | None:
    """Return the place of the choice that is meant, None where none is.

    A whole code or name goes before a beginning, the beginning of all its words before that of a later one.
    """
    wanted = folded(typed)
    if not wanted:
        return None
    phrases = [_phrases(words) for words in choices]
    for fits in (
        lambda said: any(wanted == phrase for phrase in said) or said[0].split(" ")[0] == wanted,
        lambda said: said[0].startswith(wanted),
        lambda said: any(phrase.startswith(wanted) for phrase in said),
    ):
        found = next((place for place, said in enumerate(phrases) if fits(said)), None)
        if found is not None:
            return found
    return None


def _phrases(words: str) -> list[str]:
    """Return the words from each of them on to the last: a name is found behind its code too."""
    each = folded(words).split(" ")
    return [" ".join(each[first:]) for first in range(len(each))]


class ChoiceTyping:
    """The letters typed one after the other in one box, and the choice they mean."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        """``clock`` gives seconds."""
        self.typed = ""
        self._clock = clock
        self._last = 0.0

    def add(self, letter: str, choices: Sequence[str], at: int) -> int | None:
        """Take a letter typed while the choice of a place stands there; return the place meant now, None for none."""
        now = self._clock()
        paused, self._last = now - self._last > _PAUSE_S, now
        before, self.typed = self.typed, self.typed + letter
        meant = meant_by(self.typed, choices)
        if meant is not None or not before:
            return meant
        if set(folded(self.typed)) == {folded(letter)}:
            self.typed = letter
            return _next_of(letter, choices, at)
        if paused and letter.strip():
            self.typed = letter
            return meant_by(letter, choices)
        return None

    def shorten(self, choices: Sequence[str]) -> int | None:
        """Take the last letter away; return the place meant now, None for none."""
        self._last = self._clock()
        self.typed = self.typed[:-1]
        return meant_by(self.typed, choices)

    def forget(self) -> None:
        """Begin anew."""
        self.typed = ""


def _next_of(letter: str, choices: Sequence[str], at: int) -> int | None:
    """Return the place of the next choice after one that begins with a letter, all round."""
    places = [place for place, words in enumerate(choices) if folded(words).startswith(folded(letter))]
    return next((place for place in places if place > at), places[0] if places else None)
