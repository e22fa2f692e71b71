"""Natural order: numbers sort as people read them (2, 10, 10a, 10b, 11), and searches fold case and accents.

Both texts are computed here and stored in a column, so that every database orders and finds the same.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from findsdesk.domain.codes import is_dash

LONGEST_KEY = 200

# Letters that carry a stroke or are joined have no accent that Unicode could take off.
_PLAIN_LETTERS = str.maketrans(
    {"ø": "o", "ł": "l", "đ": "d", "ħ": "h", "ŧ": "t", "ı": "i", "æ": "ae", "œ": "oe", "þ": "th", "ð": "d", "ĸ": "k"}
)
_IDLE_BLANK = re.compile(r"(?<=[0-9]) (?=[a-z])|(?<=[a-z]) (?=[0-9])")
_RUNS = re.compile(r"[0-9]+|[^0-9]")


@lru_cache(maxsize=4096)
def _plain_character(character: str) -> str:
    digit = unicodedata.decimal(character, None)
    if digit is not None:
        return str(digit)
    if is_dash(character):
        return "-"
    category = unicodedata.category(character)
    if category in {"Mn", "Me", "Cf"}:
        return ""
    if category in {"Cc", "Zs", "Zl", "Zp"}:
        return " "
    return character


def folded(text: str) -> str:
    """Return a text as searches compare it.

    Case and accents folded, compatible forms (full width, ligatures) and other scripts' digits made plain, dashes of
    any kind made one, runs of blanks made one, none at the ends.
    """
    plain = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", text).casefold())
    kept = "".join(_plain_character(character) for character in plain).translate(_PLAIN_LETTERS)
    return " ".join(kept.split())


def _number_key(digits: str) -> str:
    """Return digits so that text order is number order: how many there are, then the digits themselves."""
    significant = digits.lstrip("0") or "0"
    length = len(significant)
    return f"{length}{significant}" if length < 9 else f"9{min(length, 999):03d}{significant}"


def _sign_key(character: str) -> str:
    """Return one sign in ASCII: a blank for punctuation, a-z, and after those every other letter by its number."""
    if "a" <= character <= "z":
        return character
    if not character.isalnum():
        return " "
    place = ord(character)
    return f"~{place:04x}" if place <= 0xFFFF else f"~~{place:06x}"


def sort_key(number: str) -> str:
    """Return an ASCII key of at most 200 characters whose bytewise order is the natural order of numbers.

    A blank or sign comes before a digit, a digit before a letter: 10, 10-1, 10a, 10b, 11. Case, accents, leading
    zeros, the kind of sign and a blank between digits and letters (10 a, A 2) make no difference.
    """
    runs = _RUNS.findall(folded(number))
    key = "".join(_number_key(run) if run.isdigit() else _sign_key(run) for run in runs)
    return _IDLE_BLANK.sub("", " ".join(key.split()))[:LONGEST_KEY].rstrip()
