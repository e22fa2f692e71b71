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


@dataclass(frozen=True, slots=True)
class YearsSaid:
    """The years of a find: None where nobody said a first one; the first alone where no last is known (open-ended)."""

    years: DateRange | None = None
    open_ended: bool = False

    @property
    def range(self) -> DateRange | None:
        """Return the years where first and last are known."""
        return None if self.open_ended else self.years


def years_said(*levels: tuple[int | None, int | None]) -> YearsSaid:
    """Return the years of a find from the first and last years said of it, of its form and of its ware, in this order.

    A year that is not said nearer is taken from farther off, unless it does not fit what was said nearer: a piece from
    290 on, of a ware of 180 to 320, is of 290 to 320.
    """
    first: int | None = None
    last: int | None = None
    for begin, end in levels:
        if first is None and begin is not None and (last is None or begin <= last):
            first = begin
        if last is None and end is not None and (first is None or first <= end):
            last = end
    if first is None:
        return YearsSaid()
    return YearsSaid(DateRange(first, first if last is None else last), last is None)
