"""Identifiers and quantities as people write them: cleaned, with a word on what was cleaned by guessing."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Literal

from findsdesk.domain.list_columns import column_of
from findsdesk.domain.natural_order import folded
from findsdesk.words import Terms

DecimalSign = Literal[".", ","]

_TOO_MANY_METRES = 100_000
_METRES = re.compile(r"\s*(?:m|m\.?a?\.?s\.?l\.?)$")
_PLAIN = re.compile(r"[A-Za-z]?[0-9]+[A-Za-z]?")
_INVISIBLE = re.compile("[\u200b-\u200f\u2060\ufeff\u00ad]")
_QUOTES = "\"'“”„‚‘’«»`"
_EXPONENT = re.compile(r"[0-9]+(?:[.,][0-9]+)?[Ee][+-]?[0-9]+")
_MONTH = r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*"
_LIKE_A_DATE = re.compile(
    r"\d{4}-\d\d-\d\d.*|\d{1,2}[/.]\d{1,2}[/.](?:\d\d|\d{4})"
    rf"|\d{{1,2}}[- ]{_MONTH}(?:[- ]\d+)?|{_MONTH}[- ]\d+",
    re.IGNORECASE,
)
_WORD_BEFORE = re.compile(r"([^\W\d_]{2,}\.?|#)([\s.:#-]*(?:no\.?|nr\.?)?\s*)([0-9].*)", re.IGNORECASE)
_ZEROS_AFTER = re.compile(r"([0-9]+)[.,]0+")
_ODD_SIGNS = re.compile(r"[^\w .,/'’+-]")
_THOUSANDS = re.compile(r"[0-9]{1,3}(?:[,'][0-9]{3})+")
_LIKE_DIGITS = str.maketrans("OoIl", "0011")
"""Letters that are typed, or read off a scan, in place of a digit (common practice, no source)."""
_LETTER_WITHIN = re.compile(r"[0-9OoIl]+[A-Za-z]+[0-9]+")
_WRITTEN: Mapping[DecimalSign, re.Pattern[str]] = {
    ".": re.compile(r"(?:[0-9]{1,9}|[1-9][0-9]{0,2}([, '’])[0-9]{3}(?:\1[0-9]{3})?)(?:\.[0-9]{0,18})?"),
    ",": re.compile(r"(?:[0-9]{1,9}|[1-9][0-9]{0,2}([. '’])[0-9]{3}(?:\1[0-9]{3})?)(?:,[0-9]{0,18})?"),
}
"""A quantity in each decimal sign: what parts its thousands is one sign throughout, with three digits after it."""
_LETTER_GAP = re.compile(r"(?<=\b[A-Za-z]) (?=[0-9])|(?<=[0-9]) (?=[A-Za-z]$)")


@dataclass(frozen=True, slots=True)
class Identifier:
    """An identifier as it was read; ``cleaned`` names what was done to it by guessing ("" if nothing).

    "word" a word before the number, "zeros" a decimal .0 after it, "thousands" a sign between thousands, "mark" a
    question mark or star, "gap" a blank between digits,
    "signs" it holds signs no number has, "spreadsheet" probably changed by a spreadsheet program.
    """

    value: str
    cleaned: str = ""


def is_plain_identifier(text: str) -> bool:
    """Return whether a text is a number with a letter before or after it at most: nothing there to clean."""
    return _PLAIN.fullmatch(text) is not None


@lru_cache(maxsize=65536)
def visible(text: str) -> str:
    """Return a text without invisible signs, with every run of blanks made one and none at the ends."""
    if text.isascii() and text.isprintable() and "  " not in text:
        return text.strip()
    return " ".join(_INVISIBLE.sub("", unicodedata.normalize("NFC", text)).split())


def _unwrapped(text: str) -> str:
    """Take off quotes around a number, and the brackets some recorders put round a deposit's number."""
    bare = text.strip(_QUOTES).strip()
    if len(bare) > 2 and bare[0] + bare[-1] in {"()", "[]", "<>"}:
        return bare[1:-1].strip()
    return bare


def identifier_key(text: str) -> str:
    """Return an identifier as identifiers are compared: case, accents and blanks make no difference."""
    if text.isascii() and text.isalnum():
        return text.lower()
    return folded(text).replace(" ", "")


@lru_cache(maxsize=65536)
def read_identifier(text: str, column: str, terms: Terms) -> Identifier:
    """Return an identifier as it was meant: pure blanks, quotes and brackets go silently, guesses are named."""
    if _PLAIN.fullmatch(text):
        return Identifier(text)
    bare = _LETTER_GAP.sub("", _unwrapped(unicodedata.normalize("NFKC", visible(text))))
    if _PLAIN.fullmatch(bare):
        return Identifier(bare)
    if _EXPONENT.fullmatch(bare) or _LIKE_A_DATE.fullmatch(bare):
        return Identifier(bare, "spreadsheet")
    if found := _ZEROS_AFTER.fullmatch(bare):
        return Identifier(found[1], "zeros")
    if _THOUSANDS.fullmatch(bare):
        return Identifier(re.sub(r"\D", "", bare), "thousands")
    if (found := _WORD_BEFORE.fullmatch(bare)) and _names(found[1], found[2], column, terms):
        return Identifier(found[3].strip(), "word")
    if bare.endswith(("?", "*", "!")) and _PLAIN.fullmatch(bare.rstrip("?*! ")):
        return Identifier(bare.rstrip("?*! "), "mark")
    if re.fullmatch(r"[0-9]+(?: [0-9]+)+", bare):
        return Identifier(bare.replace(" ", ""), "gap")
    return Identifier(bare, "signs" if _ODD_SIGNS.search(bare) else "")


def _names(word: str, gap: str, column: str, terms: Terms) -> bool:
    """Return whether a word before a number only says what the column is, e.g. "ctx" in the deposit's column.

    Two letters grown together with the number (SU12) are taken for a part of it.
    """
    if word == "#" or word.lower().rstrip(".") in {"no", "nr"}:
        return True
    return column_of(word, terms) == column and (bool(gap) or len(word) > 2)


def zero_width_of(column: Iterable[str]) -> int:
    """Return the number of digits to which a column fills its numbers with zeros, or 0 if it does not."""
    widths = {len(bare) for text in set(column) if (bare := text.strip()).isdigit() and bare.startswith("0")}
    return widths.pop() if len(widths) == 1 else 0


def letters_like_digits(column: Collection[str], among: Collection[str] = ()) -> dict[str, str]:
    """Return the numbers with a letter in place of a digit (51O4), each with the number that may be meant.

    ``among`` are numbers that are known beside those of the column. A letter within the digits is one, unless other
    numbers have letters there too; at an end (12l) only where that makes it as long as all numbers of digits are.
    """
    like = {text: bare for text in column if not text.isdigit() if (bare := _digits_meant(text))}
    if not like or any(_LETTER_WITHIN.fullmatch(text) for text in (*column, *among) if text not in like):
        return {}
    widths = {len(text) for text in (*column, *among) if text.isdigit()}
    return {text: bare for text, bare in like.items() if _LETTER_WITHIN.fullmatch(text) or widths == {len(bare)}}


def _digits_meant(text: str) -> str:
    bare = text.translate(_LIKE_DIGITS)
    return bare if bare.isdigit() and any(sign.isdigit() for sign in text) else ""


@dataclass(frozen=True, slots=True)
class WrittenNumber:
    """A quantity without a sign as it was read: with a decimal point and with a comma, None where that cannot be."""

    as_point: Decimal | None
    as_comma: Decimal | None

    @property
    def ambiguous(self) -> bool:
        """Return whether the two signs give two different quantities."""
        return self.as_point is not None and self.as_comma is not None and self.as_point != self.as_comma

    def reading(self, decimal: DecimalSign | None) -> Decimal | None:
        """Return the quantity in the decimal sign named; without one the only quantity it can be."""
        if decimal is None:
            first = self.as_comma if self.as_point is None else self.as_point
            return None if self.ambiguous else first
        return self.as_point if decimal == "." else self.as_comma


def _quantity(bare: str, decimal: DecimalSign) -> Decimal | None:
    found = _WRITTEN[decimal].fullmatch(bare)
    if not found:
        return None
    parting = found[1]
    return Decimal((bare.replace(parting, "") if parting else bare).replace(",", "."))


@lru_cache(maxsize=65536)
def written_number(text: str) -> WrittenNumber:
    """Return a quantity as it was written, in both decimal signs.

    A sign parts thousands only where three digits stand behind it each time: 1,250 may be 1250, 88,5 never 885.
    """
    bare = visible(text)
    return WrittenNumber(_quantity(bare, "."), _quantity(bare, ","))


def both_signs_shown(column: Iterable[str]) -> bool:
    """Return whether some quantities of a column can only have a decimal point and others only a comma."""
    return len(_signs_of(column)[0]) > 1


def decimal_of(column: Iterable[str]) -> DecimalSign | None:
    """Return the decimal sign of a column of quantities, or None if it cannot be told.

    A sign followed by exactly three digits may part thousands; a column with nothing else but such numbers is unsure.
    Without any sign the point is as good as the comma.
    """
    signs, unsure = _signs_of(column)
    if len(signs) == 1:
        return signs.pop()
    return None if unsure or signs else "."


def _signs_of(column: Iterable[str]) -> tuple[set[DecimalSign], bool]:
    """Return the decimal signs that a column shows, and whether it has quantities that may be read with either."""
    signs: set[DecimalSign] = set()
    unsure = False
    for text in set(column):
        bare = re.sub(r"[^0-9.,]", "", text).strip(".,")
        points, commas = bare.count("."), bare.count(",")
        if points and commas:
            signs.add("," if bare.rfind(",") > bare.rfind(".") else ".")
        elif points > 1 or commas > 1:
            signs.add("," if points > 1 else ".")
        elif points or commas:
            after = len(bare) - 1 - max(bare.rfind("."), bare.rfind(","))
            if after == 3 and not bare.startswith("0"):
                unsure = True
            else:
                signs.add("." if points else ",")
    return signs, unsure


def written_metres(text: str) -> tuple[int, WrittenNumber]:
    """Return the sign (1 or -1) and the quantity of metres as they are written, without their unit."""
    bare = _METRES.sub("", visible(text).lower()).replace("−", "-")
    return (-1 if bare.startswith("-") else 1), written_number(bare[1:] if bare[:1] in {"+", "-"} else bare)


@lru_cache(maxsize=65536)
def read_millimetres(text: str, decimal: DecimalSign | None) -> int | None:
    """Return metres as written (``4,21``, ``4.215 m``, ``-0,4``) in whole millimetres, or None if unreadable.

    Without a decimal sign what can be read in two ways (``4.215``) is unreadable.
    """
    sign, written = written_metres(text)
    metres = written.reading(decimal)
    if metres is None or metres >= _TOO_MANY_METRES:
        return None
    return sign * int((metres * 1000).to_integral_value())


def read_parts(text: str) -> int | None:
    """Return in how many parts a container came: ``2``, ``2.0``, ``2 parts``, ``1 of 2``; None if unreadable."""
    found = re.fullmatch(r"(?:\d+ ?(?:of|/) ?)?(\d{1,2})(?:[.,]0+)?(?: ?[a-z]+)?", visible(text).lower())
    return int(found[1]) if found and int(found[1]) >= 1 else None
