"""A number being typed on a tag: every character stays as typed, and is judged as a whole when it is entered.

A key that were swallowed would leave another number than the one meant: -5 would be written as 5, 1.5 as 15.
"""

from __future__ import annotations

_KEYS = "+*"
"""Signs that do something of their own on a tag."""


def is_typed(character: str) -> bool:
    """Return whether a key's character goes onto the tag; letters are keys of the bench first."""
    return len(character) == 1 and character.isprintable() and not character.isalpha() and character not in _KEYS


def with_character(typed: str, character: str) -> str:
    """Return what stands on the tag after one more character; a zero that leads to nothing goes."""
    if not character.isdecimal():
        return typed + character
    digit = str(int(character))
    return digit if typed == "0" else typed + digit


def with_one_more(typed: str) -> str:
    """Return the number raised by one; what is no number gets the sign, to be refused with the rest."""
    return str(int(typed or 0) + 1) if typed.isdecimal() or not typed else f"{typed}+"
