"""Readings of pottery: periods that fit each other, and how far two readings agree. All values are our own."""

import pytest

from findsdesk.domain.date_ranges import DateRange
from findsdesk.domain.readings import Agreement, Periods, PeriodSaid, agreement
from findsdesk.domain.refusals import Refusal

HARBOUR_I = PeriodSaid("H1", "Harbour I", DateRange(-150, 180))
EARLY = PeriodSaid("H2E", "Harbour II early", DateRange(180, 300))
LATE = PeriodSaid("H2L", "Harbour II late", DateRange(300, 420))
REFUGE = PeriodSaid("RF", "Refuge", DateRange(900, 1250))


def test_a_reading_spans_its_periods() -> None:
    assert Periods(LATE, HARBOUR_I).years == DateRange(-150, 420)
    assert Periods(latest=REFUGE).years == DateRange(900, 1250)
    assert Periods().years is None


@pytest.mark.parametrize(
    ("periods", "code"),
    [
        (Periods(EARLY, earlier=EARLY), "earlier_not_earlier"),
        (Periods(EARLY, earlier=LATE), "earlier_not_earlier"),
        (Periods(LATE, latest=EARLY), "latest_not_latest"),
        (Periods(earlier=LATE, latest=EARLY), "latest_not_latest"),
    ],
)
def test_periods_that_contradict_each_other_are_refused(periods: Periods, code: str) -> None:
    with pytest.raises(Refusal) as refused:
        periods.check()
    assert refused.value.code == code


def test_periods_that_fit_pass() -> None:
    Periods(LATE, HARBOUR_I, REFUGE).check()
    Periods(LATE, latest=LATE).check()
    Periods().check()


@pytest.mark.parametrize(
    ("first", "later", "agrees"),
    [
        (Periods(LATE, HARBOUR_I), Periods(LATE), Agreement.SAME),
        (Periods(LATE, HARBOUR_I), Periods(EARLY), Agreement.OVERLAP),
        (Periods(LATE), Periods(EARLY), Agreement.APART),
        (Periods(LATE), Periods(REFUGE), Agreement.APART),
        (Periods(LATE), Periods(EARLY, latest=REFUGE), Agreement.OVERLAP),
        (Periods(LATE), Periods(), Agreement.OPEN),
    ],
)
def test_two_readings_agree_by_main_period_else_by_years(first: Periods, later: Periods, agrees: Agreement) -> None:
    assert agreement(first, later) is agrees
    assert agreement(later, first) is agrees
