"""What a ceramicist says of pottery: main, earlier and latest period, and how far two readings of it agree."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from findsdesk.domain.date_ranges import DateRange
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class PeriodSaid:
    """A period of the excavation's list: its code, its name and its years."""

    code: str
    name: str
    years: DateRange


@dataclass(frozen=True, slots=True)
class Periods:
    """The periods of a reading: most of the pottery, what is earlier among it, the latest of it; each may be unsaid."""

    main: PeriodSaid | None = None
    earlier: PeriodSaid | None = None
    latest: PeriodSaid | None = None

    def check(self) -> None:
        """Refuse periods that contradict each other: ``earlier_not_earlier``, ``latest_not_latest``."""
        if self.earlier and self.main and self.earlier.years.begin >= self.main.years.begin:
            raise Refusal(
                "earlier_not_earlier",
                N_("{earlier} does not begin before {main}. Say what is earlier, or leave it empty."),
                earlier=self.earlier.name,
                main=self.main.name,
            )
        before = self.main or self.earlier
        if self.latest and before and self.latest.years.until < before.years.until:
            raise Refusal(
                "latest_not_latest",
                N_("{latest} ends before {main}. Say the latest period there is, or leave it empty."),
                latest=self.latest.name,
                main=before.name,
            )

    @property
    def years(self) -> DateRange | None:
        """Return the years from the earliest to the latest period said; None where none is."""
        said = [one.years for one in (self.earlier, self.main, self.latest) if one is not None]
        if not said:
            return None
        return DateRange(min(one.begin for one in said), max(one.end for one in said))


class Agreement(StrEnum):
    """How far a reading agrees with the first one."""

    SAME = "same"
    OVERLAP = "overlap"
    APART = "apart"
    OPEN = "open"


AGREEMENT_IN_WORDS: dict[Agreement, str] = {
    Agreement.SAME: N_("the same main period"),
    Agreement.OVERLAP: N_("another main period, the years from earliest to latest overlap"),
    Agreement.APART: N_("the years from earliest to latest do not meet"),
    Agreement.OPEN: N_("cannot be told: one names no period"),
}


def agreement(first: Periods, later: Periods) -> Agreement:
    """Return how far two readings agree: the same main period, else whether their years from first to last overlap.

    Our own definition. Years are half-open, so that periods which only touch do not overlap.
    """
    one, other = first.years, later.years
    if one is None or other is None:
        return Agreement.OPEN
    if first.main is not None and later.main is not None and first.main.code == later.main.code:
        return Agreement.SAME
    return Agreement.OVERLAP if one.overlap(other.begin, other.until) else Agreement.APART
