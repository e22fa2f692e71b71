"""The date profile of finds: each spread evenly over the years it can belong to (aoristic)."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from findsdesk.domain.date_ranges import DateRange
from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, CountOf

MOST_BINS = 2000

_FORMULA = N_("each find spread evenly over its years; the part that falls into each span of years, added up")
_SOURCE = "Johnson, CAA 2003; Crema 2024, Archaeometry 67"


class WeighedBy(Enum):
    """What a find weighs in the profile; the number is how many stored units make one of the profile's."""

    COUNT = 1
    GRAMS = 10
    EVE = 1000


DATE_PROFILE: dict[WeighedBy, Method] = {
    WeighedBy.COUNT: Method(Unit.SHERDS, _FORMULA, _SOURCE, Grounds.PUBLISHED),
    WeighedBy.GRAMS: Method(Unit.GRAMS, _FORMULA, _SOURCE, Grounds.PUBLISHED),
    WeighedBy.EVE: Method(Unit.VESSEL_EQUIVALENTS, _FORMULA, _SOURCE, Grounds.PUBLISHED),
}


@dataclass(frozen=True, slots=True)
class Bin:
    """The years [begin, until) and what falls into them."""

    begin: int
    until: int
    share: Figure


@dataclass(frozen=True, slots=True)
class DateProfile:
    """The bins in order of time, what they hold together, and what could not be dated; one unit for all."""

    bins: tuple[Bin, ...]
    total: Figure
    undated: Figure


def date_profile(
    weights: Iterable[tuple[DateRange | None, int]],
    *,
    years: int = 50,
    origin: int = 0,
    by: WeighedBy = WeighedBy.COUNT,
) -> DateProfile:
    """Return the date profile in bins of so many ``years`` that begin ``origin`` plus whole multiples of them.

    ``weights`` are ranges with pieces, tenths of a gram or per mille of a rim, as ``by`` says. The bins cover all
    ranges, so they add up to the dated total; ranges are half-open (``DateRange``). An origin of 1 makes centuries
    begin in years 1, 101, … Refusals: ``bin_years``, ``nothing_dated``, ``too_many_bins``. Values: docs/sources.md,
    "Date profile".
    """
    if years < 1:
        raise Refusal("bin_years", N_("A date profile needs spans of at least one year. Write a longer span."))
    by_range: dict[DateRange, int] = defaultdict(int)
    undated = 0
    for span, weight in weights:
        if span is None:
            undated += weight
        else:
            by_range[span] += weight
    if not by_range:
        raise Refusal("nothing_dated", N_("No find here has a date. Give the types or the pieces a range of years."))
    method = DATE_PROFILE[by]
    parts = _parts_by_bin(by_range, years, origin)
    first, last = min(parts), max(parts)
    bins = (
        Bin(
            origin + n * years,
            origin + (n + 1) * years,
            method.gives(math.fsum(part / (length * by.value) for length, part in parts.get(n, {}).items())),
        )
        for n in range(first, last + 1)
    )
    total = sum(by_range.values())
    return DateProfile(tuple(bins), method.gives(total / by.value), method.gives(undated / by.value))


def _parts_by_bin(by_range: dict[DateRange, int], years: int, origin: int) -> dict[int, dict[int, int]]:
    """Return, by bin and by length of range, weight × years of overlap: whole numbers, so that nothing is lost."""
    first = min((span.begin - origin) // years for span in by_range)
    last = max((span.until - 1 - origin) // years for span in by_range)
    if last - first >= MOST_BINS:
        raise Refusal(
            "too_many_bins",
            N_("Spans of {years} make {bins} of them; {most} at most. Write a longer span."),
            years=CountOf("{n} year", "{n} years", years),
            bins=last - first + 1,
            most=MOST_BINS,
        )
    parts: dict[int, dict[int, int]] = defaultdict(lambda: defaultdict(int))
    for span, weight in by_range.items():
        begin, until = span.begin - origin, span.until - origin
        length, at, end = until - begin, begin // years, (until - 1) // years
        for n in range(at + 1, end):
            parts[n][length] += weight * years
        parts[at][length] += weight * (min(until, (at + 1) * years) - begin)
        if end > at:
            parts[end][length] += weight * (until - end * years)
    return parts
