"""Elevations of deposits as they are read off a staff."""

from __future__ import annotations

from dataclasses import dataclass

from findsdesk.domain.levelling import elevation
from findsdesk.domain.numbers import MOST_MILLIMETRES, metres_in_words
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class StaffReading:
    """An elevation as it is read in the field, in millimetres: benchmark, staff on it, staff on the spot."""

    benchmark_mm: int
    backsight_mm: int
    foresight_mm: int

    @property
    def elevation_mm(self) -> int:
        """Return the elevation in millimetres by levelling."""
        return elevation(self.benchmark_mm, self.backsight_mm, self.foresight_mm)

    def in_words(self) -> str:
        """Return the sum as it is written in the field book, in metres."""
        terms = (self.benchmark_mm, self.backsight_mm, self.foresight_mm, self.elevation_mm)
        benchmark, backsight, foresight, spot = map(metres_in_words, terms)
        return f"{benchmark} + {backsight} − {foresight} = {spot} m"


@dataclass(frozen=True, slots=True)
class Elevation:
    """An elevation as it was said, in millimetres: the value itself, or the three readings it comes from."""

    value_mm: int | None = None
    benchmark_mm: int | None = None
    backsight_mm: int | None = None
    foresight_mm: int | None = None

    @property
    def reading(self) -> StaffReading | None:
        """Return the readings, or None where none was said; two of three raise ``reading_incomplete``."""
        said = (self.benchmark_mm, self.backsight_mm, self.foresight_mm)
        if all(part is None for part in said):
            return None
        benchmark_mm, backsight_mm, foresight_mm = said
        if benchmark_mm is None or backsight_mm is None or foresight_mm is None:
            raise Refusal(
                "reading_incomplete", N_("Levelling needs benchmark, backsight and foresight. Write all three.")
            )
        return StaffReading(benchmark_mm, backsight_mm, foresight_mm)

    @property
    def mm(self) -> int | None:
        """Return the elevation in millimetres, or None.

        Refusals: ``reading_incomplete``, ``elevation_twice`` (a value that the readings contradict),
        ``elevation_range`` (beyond ten kilometres).
        """
        reading = self.reading
        value = reading.elevation_mm if reading is not None else self.value_mm
        if reading is not None and self.value_mm not in (None, value):
            raise Refusal(
                "elevation_twice",
                N_("{sum}, not {said} m. Write one of them."),
                sum=reading.in_words(),
                said=metres_in_words(self.value_mm or 0),
            )
        if value is not None and abs(value) > MOST_MILLIMETRES:
            raise Refusal(
                "elevation_range",
                N_("{metres} m cannot be an elevation here. Look at the readings and write them again."),
                metres=metres_in_words(value),
            )
        return value


def elevation_doubt(number: str, opening_mm: int | None, closing_mm: int | None) -> Question | None:
    """Return the question whether a deposit truly closed higher than it opened, or None."""
    if opening_mm is None or closing_mm is None or closing_mm <= opening_mm:
        return None
    return Question(
        "closes_higher",
        N_("{Deposit} {number} would close at {closing} m, above its opening at {opening} m. Is that right?"),
        number=number,
        opening=metres_in_words(opening_mm),
        closing=metres_in_words(closing_mm),
    )
