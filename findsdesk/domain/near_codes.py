"""Codes that look like a mistyped one, so that a refusal can name what was probably meant."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from findsdesk.domain.natural_order import folded

MOST_NAMED = 6


def near(said: str, known: Iterable[str], most: int = MOST_NAMED) -> tuple[str, ...]:
    """Return the known codes nearest to what was said, the nearest first; where none is near, the first ones known.

    A code that begins as what was said comes before one that merely resembles it.
    """
    codes = list(dict.fromkeys(known))
    return alike(said, codes, most) or tuple(codes[:most])


def alike(said: str, known: Iterable[str], most: int = MOST_NAMED) -> tuple[str, ...]:
    """Return the known codes that begin as what was said or resemble it, the nearest first; none where none does."""
    wanted = folded(said)
    by_folded = {folded(code): code for code in known}
    begin = [code for plain, code in by_folded.items() if wanted and plain.startswith(wanted)]
    resembling = [by_folded[plain] for plain in get_close_matches(wanted, list(by_folded), n=most, cutoff=0.5)]
    return tuple(dict.fromkeys([*begin, *resembling]))[:most]
