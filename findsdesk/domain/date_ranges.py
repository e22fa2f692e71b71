"""The range of years in which a type was made or a piece can have been."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from findsdesk.domain.refusals import Refusal
from findsdesk.domain.years import year_in_words
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class DateRange:
    """A range of astronomical years, half-open: from the start of ``begin`` to the start of ``end``.

    Years are continuous. A range of one year (1650 to 1650) counts as that year: [1650, 1651). Refusals:
    ``range_reversed``.
    """

    begin: int
    end: int

    def __post_init__(self) -> None:
        if self.end < self.begin:
            raise Refusal(
                "range_reversed",
                N_("A range from {begin} to {end} runs backwards. Write the earlier year first."),
                begin=year_in_words(self.begin, with_era=True),
                end=year_in_words(self.end, with_era=True),
            )

    @property
    def until(self) -> int:
        """Return the year before whose start the range lies; one more than the year of a one-year range."""
        return max(self.end, self.begin + 1)

    @property
    def years(self) -> int:
        """Return how many years long the range is, at least 1."""
        return self.until - self.begin

    @property
    def midpoint(self) -> Fraction:
        """Return the middle between the two years as they are written."""
        return Fraction(self.begin + self.end, 2)

    def overlap(self, begin: int, until: int) -> int:
        """Return how many years of the range lie in [begin, until)."""
        return max(0, min(self.until, until) - max(self.begin, begin))

    def in_words(self) -> str:
        """Return the range as it is written: ``44 BCE–330 CE``."""
        with_era = self.begin <= 0
        begin, end = year_in_words(self.begin, with_era=with_era), year_in_words(self.end, with_era=with_era)
        return begin if self.begin == self.end else f"{begin}–{end}"
