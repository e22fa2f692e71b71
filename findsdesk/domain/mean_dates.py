"""The mean ceramic date of an assemblage (South)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from findsdesk.domain.date_ranges import DateRange
from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

MEAN_CERAMIC_DATE = Method(
    Unit.YEAR,
    N_("sum of (middle of the type's years × its sherds) ÷ sum of the sherds; types without a date left out of both"),
    "South, in a dictionary of archaeology (Macmillan 1983); values: Selden 2020, Caddo sites",
    Grounds.PUBLISHED,
)


@dataclass(frozen=True, slots=True)
class MeanDate:
    """The mean date, the sherds it rests on, and the types with their sherds that have no date."""

    year: Figure
    sherds: int
    undated: tuple[tuple[str, int], ...]


def mean_ceramic_date(counts: Mapping[str, int], ranges: Mapping[str, DateRange | None]) -> MeanDate:
    """Return the mean ceramic date as an astronomical year, from sherds by type and the table of types.

    A type whose range in the table is None is left out of both sums and listed. Weak where counts are few or the
    middle is not the peak. Refusals: ``type_not_in_table`` (names each; a misspelled type must not fall out silently),
    ``nothing_dated``. Formula and values: docs/sources.md, "Mean ceramic date".
    """
    unknown = sorted(name for name in counts if name not in ranges)
    if unknown:
        raise Refusal(
            "type_not_in_table",
            N_("The type table has no {types}. Correct the spelling or add it, with or without a date."),
            types=", ".join(unknown),
        )
    spans = {name: span for name in counts if (span := ranges[name]) is not None}
    sherds = sum(counts[name] for name in spans)
    if sherds <= 0:
        raise Refusal("nothing_dated", N_("No find here has a date. Give the types or the pieces a range of years."))
    twice = sum((span.begin + span.end) * counts[name] for name, span in spans.items())
    undated = tuple((name, count) for name, count in counts.items() if name not in spans)
    return MeanDate(MEAN_CERAMIC_DATE.gives(Fraction(twice, 2 * sherds)), sherds, undated)
