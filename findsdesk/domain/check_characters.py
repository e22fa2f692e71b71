"""The check character at the end of every code: ISO/IEC 7064, system MOD 37,36.

One character of ``0-9A-Z`` guards a text of the same alphabet; every single wrong character is caught.
"""

from __future__ import annotations

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

_VALUE = {character: value for value, character in enumerate(ALPHABET)}


def _product_after(text: str) -> int:
    """Return the running product (1 to 36) after the last character of the text."""
    product = 36
    for character in text:
        value = _VALUE.get(character)
        if value is None:
            raise ValueError(f"no value for {character!r}: only 0-9 and A-Z can be checked")
        total = (product + value) % 36 or 36
        product = 2 * total % 37
    return product


def mod_37_36(text: str) -> str:
    """Return the ISO/IEC 7064 MOD 37,36 check character of a text of ``0-9A-Z``.

    Dashes, blanks and small letters must be gone before (``codes.tidy``): raises ``ValueError`` for them.
    """
    return ALPHABET[(37 - _product_after(text)) % 36]


def is_valid_37_36(text: str) -> bool:
    """Return whether the last character of the text is the right check character for the rest."""
    if len(text) < 2 or not all(character in _VALUE for character in text):
        return False
    return mod_37_36(text[:-1]) == text[-1]
