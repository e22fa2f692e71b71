"""Years before and after the era as astronomical numbers: 1 CE is 1, 1 BCE is 0, 44 BCE is -43; there is no year 0."""

from __future__ import annotations

import re

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

EARLIEST, LATEST = -1_000_000, 9999
"""Astronomical years that can be written; flint is older than any calendar."""

_WRITTEN = re.compile(r"(?:(ad|ce|bce?)\.? ?)?([0-9]{1,7})(?: ?(ad|ce|bce?))?")
_BEFORE = {"bc", "bce"}


def read_year(text: str) -> int:
    """Read a year as people write it (``330``, ``330 CE``, ``AD 330``, ``44 BCE``) as an astronomical number.

    Refusals: ``not_a_year``, ``year_zero``, ``year_with_sign`` (-43 is 44 BCE for some and 43 BCE for others),
    ``year_range``.
    """
    said = " ".join(text.split())[:30]
    bare = said.lower().replace("b.c.e.", "bce").replace("b.c.", "bc").replace("a.d.", "ad").replace("c.e.", "ce")
    if re.fullmatch(r"[-–−+] ?[0-9]+", bare):
        raise Refusal(
            "year_with_sign", N_("“{said}” can mean two different years. Write it with BCE or CE instead."), said=said
        )
    found = _WRITTEN.fullmatch(bare)
    if found is None or (found[1] and found[3]):
        raise Refusal("not_a_year", N_("“{said}” is not a year. Write it like 330, 330 CE or 44 BCE."), said=said)
    number = int(found[2])
    if number == 0:
        raise Refusal("year_zero", N_("There is no year 0: the year before 1 CE is 1 BCE. Write one of them."))
    year = 1 - number if (found[1] or found[3]) in _BEFORE else number
    if not EARLIEST <= year <= LATEST:
        raise Refusal("year_range", N_("“{said}” is too far off for a year of a find. Write it again."), said=said)
    return year


def named_on_an_axis(year: int) -> int:
    """Return the year that an axis of long spans names where one begins: 200 BCE at -200, which is 201 BCE.

    Before the era people round in the years that they write; the mark moves along, by one year.
    """
    return year if year > 0 else year + 1


def year_in_words(year: int, *, with_era: bool = False) -> str:
    """Return an astronomical year as it is written: ``44 BCE``; ``330``, or ``330 CE`` beside years before the era."""
    if year <= 0:
        return f"{1 - year} BCE"
    return f"{year} CE" if with_era else str(year)
