"""Numbers of a set-up as people type them: whole hours and tubs, years before and after the turn, shares, lettering."""

from __future__ import annotations

import re
from decimal import Decimal

from findsdesk.domain.numbers import read_decimal
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

MOST_YEARS = 100_000
"""Further back or ahead than this no period of an excavation reaches."""

_BEFORE = re.compile(r"\s*(?:bce|bc|b\.c\.e?\.?)\s*$", re.IGNORECASE)
_AFTER = re.compile(r"\s*(?:ce|ad|a\.d\.|c\.e\.)\s*$", re.IGNORECASE)


def read_whole(text: str) -> int:
    """Read a whole number from 0 on, as of hours, tubs or tags.

    Refusals: ``not_a_number``, ``group_separator``, ``code_in_number_field``, ``negative``, ``fraction``.
    """
    value, said = read_decimal(text), _said(text)
    if value < 0:
        raise Refusal("negative", N_("“{said}” is less than nothing. Type 0 or more."), said=said)
    if value != int(value):
        raise Refusal("fraction", N_("“{said}” is not a whole number. Type digits only."), said=said)
    return int(value)


def read_per_mille(text: str) -> int:
    """Read a share in per cent, with one decimal at most, as whole per mille from 0 to 1000.

    Refusals: those of ``read_whole`` but ``fraction``, and ``too_fine``, ``not_a_share``.
    """
    share = _tenths(text.replace("%", " "))
    if share > 1000:
        raise Refusal("not_a_share", N_("“{said}” is more than the whole. Type 0 to 100 per cent."), said=_said(text))
    return share


def read_tenths_of_mm(text: str) -> int:
    """Read millimetres with one decimal at most as whole tenths, 0 or more; refusals as of ``read_per_mille``."""
    return _tenths(re.sub(r"mm\s*$", "", text))


def _tenths(text: str) -> int:
    value, said = read_decimal(text), _said(text)
    if value < 0:
        raise Refusal("negative", N_("“{said}” is less than nothing. Type 0 or more."), said=said)
    if value * 10 != int(value * 10):
        raise Refusal("too_fine", N_("“{said}” has more than one decimal. Type one at most."), said=said)
    return int(value * 10)


def read_year(text: str) -> int:
    """Read a year and return it as astronomers count, where 0 is 1 BCE: "180" is 180, "50 BCE" is -49.

    Refusals: ``not_a_number``, ``fraction``, ``year_range``, ``no_year_nought``, ``which_year`` (-49: 50 or 49 BCE?).
    """
    before = _BEFORE.search(text) is not None
    plain = _BEFORE.sub("", text) if before else _AFTER.sub("", text)
    value, said = read_decimal(plain), _said(text)
    if value != int(value):
        raise Refusal("fraction", N_("“{said}” is not a whole number. Type digits only."), said=said)
    if value < 0:
        raise Refusal("which_year", N_("“{said}” can be read in two ways. Write it as 50 BCE."), said=said)
    if value < Decimal(1):
        text = N_("There is no year “{said}”: 1 CE follows 1 BCE. Write one of them.")
        raise Refusal("no_year_nought", text, said=said)
    year = 1 - int(value) if before else int(value)
    if abs(year) > MOST_YEARS:
        raise Refusal("year_range", N_("“{said}” cannot be a year here. Look at it and type it again."), said=said)
    return year


def year_in_words(year: int) -> str:
    """Return a year counted as astronomers do as people write it: 180 is "180", -49 is "50 BCE"."""
    return str(year) if year > 0 else f"{1 - year} BCE"


def _said(text: str) -> str:
    return " ".join(text.split())[:30]
