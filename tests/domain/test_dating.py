"""Years, ranges, terminus, mean date, date profile and what looks intrusive: the rules and what is refused."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.date_profiles import DateProfile, WeighedBy, date_profile
from findsdesk.domain.date_ranges import DateRange, years_said
from findsdesk.domain.dated_finds import DatedFind
from findsdesk.domain.deposits import Security
from findsdesk.domain.figures import Unit
from findsdesk.domain.intrusions import look_intrusive
from findsdesk.domain.mean_dates import mean_ceramic_date
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.terminus import terminus_post_quem
from findsdesk.domain.years import EARLIEST, LATEST, read_year, year_in_words

RANGES = st.tuples(st.integers(-3000, 2000), st.integers(0, 600)).map(lambda r: DateRange(r[0], r[0] + r[1]))
WEIGHTS = st.lists(st.tuples(st.none() | RANGES, st.integers(0, 500)), min_size=1, max_size=12)


def refused(call: Callable[[], object]) -> Refusal:
    with pytest.raises(Refusal) as caught:
        call()
    return caught.value


# --- years --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "year"),
    # Astronomical years (ISO 8601, from memory): 1 BCE is 0, 44 BCE is -43.
    [("330", 330), ("330 CE", 330), ("AD 330", 330), ("330ad", 330), (" 1650 ", 1650), ("1 BCE", 0), ("1 CE", 1),
     ("44 BC", -43), ("44 B.C.E.", -43), ("a.d. 79", 79), ("12000 bce", -11999)],
)  # fmt: skip
def test_years_as_people_write_them(text: str, year: int) -> None:
    assert read_year(text) == year


@pytest.mark.parametrize(
    ("text", "code"),
    [("0", "year_zero"), ("0 BCE", "year_zero"), ("-43", "year_with_sign"), ("+43", "year_with_sign"),
     ("−43", "year_with_sign"), ("AD 44 BC", "not_a_year"), ("late", "not_a_year"), ("", "not_a_year"),
     ("1.5", "not_a_year"), ("10000", "year_range"), ("1000002 BCE", "year_range"), ("4th c.", "not_a_year")],
)  # fmt: skip
def test_what_is_no_year_is_refused(text: str, code: str) -> None:
    assert refused(lambda: read_year(text)).code == code


@given(st.integers(EARLIEST, LATEST))
def test_a_written_year_reads_back(year: int) -> None:
    assert read_year(year_in_words(year)) == year
    assert read_year(year_in_words(year, with_era=True)) == year


def test_there_is_no_year_zero_on_paper() -> None:
    assert [year_in_words(year, with_era=True) for year in (-1, 0, 1)] == ["2 BCE", "1 BCE", "1 CE"]
    assert DateRange(-43, 330).in_words() == "44 BCE–330 CE"
    assert DateRange(330, 700).in_words() == "330–700"
    assert DateRange(-43, -43).in_words() == "44 BCE"


def test_a_reversed_range_is_refused() -> None:
    refusal = refused(lambda: DateRange(10, -43))
    assert refusal.code == "range_reversed"
    assert "from 10 CE to 44 BCE" in refusal.in_words()


def test_a_range_over_the_era_has_no_year_zero_to_stumble_over() -> None:
    """From 10 BCE to 10 CE are 19 years; the middle is the turn between 1 BCE and 1 CE."""
    span = DateRange(read_year("10 BCE"), read_year("10 CE"))
    assert span.years == 19
    assert span.midpoint == pytest.approx(0.5)


def test_a_range_of_one_year_counts_as_that_year() -> None:
    assert (DateRange(1650, 1650).years, DateRange(1650, 1650).until) == (1, 1651)
    assert DateRange(1650, 1650).midpoint == 1650


# --- terminus -----------------------------------------------------------------------------------------------------

FLOOR = [
    DatedFind("QRS", DateRange(300, 450), 65),
    DatedFind("coin 31", DateRange(330, 335)),
    DatedFind("CSJ", DateRange(330, 700), 3),
    DatedFind("Green Glaze", DateRange(700, 900), 2, intrusive=True),
    DatedFind("body", None, 40),
]


def test_the_finds_that_give_the_terminus_are_named_and_the_others_listed() -> None:
    found = terminus_post_quem(FLOOR)
    assert found.year.value == 330
    assert [find.key for find in found.given_by] == ["coin 31", "CSJ"]
    assert [find.key for find in found.undated] == ["body"]
    assert [find.key for find in found.intrusive] == ["Green Glaze"]


def test_without_a_date_there_is_no_terminus() -> None:
    assert refused(lambda: terminus_post_quem([FLOOR[3], FLOOR[4]])).code == "nothing_dated"


# --- mean date ----------------------------------------------------------------------------------------------------


def test_types_without_a_date_are_left_out_of_both_sums_and_listed() -> None:
    found = mean_ceramic_date(
        {"a": 3, "b": 1, "plain": 90}, {"a": DateRange(100, 200), "b": DateRange(300, 500), "plain": None}
    )
    assert found.year.value == (3 * 150 + 400) / 4
    assert (found.sherds, found.undated) == (4, (("plain", 90),))


def test_every_type_that_is_not_in_the_table_is_named() -> None:
    refusal = refused(lambda: mean_ceramic_date({"a": 3, "z": 1, "y": 0}, {"a": DateRange(100, 200)}))
    assert refusal.code == "type_not_in_table"
    assert "no y, z." in refusal.in_words()


@pytest.mark.parametrize("counts", [{}, {"plain": 4}, {"a": 0}])
def test_a_mean_date_of_nothing_is_refused(counts: dict[str, int]) -> None:
    assert refused(lambda: mean_ceramic_date(counts, {"a": DateRange(1, 2), "plain": None})).code == "nothing_dated"


# --- date profile -------------------------------------------------------------------------------------------------


def shares(profile: DateProfile) -> list[float]:
    return [float(one.share) for one in profile.bins]


@given(WEIGHTS, st.integers(3, 200), st.integers(-100, 100), st.sampled_from(list(WeighedBy)))
def test_a_profile_loses_nothing(
    weights: list[tuple[DateRange | None, int]], years: int, origin: int, by: WeighedBy
) -> None:
    """What the bins hold together is the dated total, and with the undated everything that went in."""
    if all(span is None for span, _weight in weights):
        assert refused(lambda: date_profile(weights, years=years, by=by)).code == "nothing_dated"
        return
    profile = date_profile(weights, years=years, origin=origin, by=by)
    everything = sum(weight for _span, weight in weights) / by.value
    assert sum(shares(profile)) == pytest.approx(float(profile.total), rel=1e-12, abs=1e-12)
    assert float(profile.total) + float(profile.undated) == pytest.approx(everything, rel=1e-12)
    assert all(share >= 0 for share in shares(profile))
    assert all(one.until - one.begin == years and (one.begin - origin) % years == 0 for one in profile.bins)


def test_a_range_that_ends_where_a_bin_begins_is_not_in_it() -> None:
    profile = date_profile([(DateRange(300, 400), 2)], years=100)
    assert [(one.begin, one.until, float(one.share)) for one in profile.bins] == [(300, 400, 2)]


def test_a_one_year_find_lies_in_one_bin() -> None:
    assert shares(date_profile([(DateRange(399, 399), 1), (DateRange(400, 400), 3)], years=100)) == [1, 3]


def test_bins_lie_over_the_turn_of_the_era() -> None:
    profile = date_profile([(DateRange(-43, 57), 4)], years=100, origin=1)
    assert [(one.begin, one.until) for one in profile.bins] == [(-99, 1), (1, 101)]
    assert shares(profile) == pytest.approx([4 * 0.44, 4 * 0.56])


def test_a_gap_between_finds_is_a_bin_with_nothing() -> None:
    assert shares(date_profile([(DateRange(0, 50), 1), (DateRange(100, 150), 1)], years=50)) == [1, 0, 1]


def test_weights_come_out_in_their_own_unit() -> None:
    grams = date_profile([(DateRange(0, 50), 175), (None, 20)], by=WeighedBy.GRAMS)
    assert (shares(grams), float(grams.undated), grams.total.unit) == ([17.5], 2, Unit.GRAMS)
    eve = date_profile([(DateRange(0, 50), 120)], by=WeighedBy.EVE)
    assert (shares(eve), eve.total.unit) == ([0.12], Unit.VESSEL_EQUIVALENTS)


def test_bins_that_cannot_be_drawn_are_refused() -> None:
    assert refused(lambda: date_profile([(DateRange(0, 50), 1)], years=0)).code == "bin_years"
    assert refused(lambda: date_profile([(DateRange(-200_000, 50), 1)], years=50)).code == "too_many_bins"


# --- what looks intrusive -----------------------------------------------------------------------------------------

SEALED = [
    DatedFind("QRS", DateRange(300, 450), 65),
    DatedFind("CSJ", DateRange(330, 700), 30),
    DatedFind("Green Glaze", DateRange(730, 1100), 2),
    DatedFind("body", None, 40),
]


def test_late_sherds_in_a_sealed_deposit_are_pointed_out() -> None:
    """The invented excavation: two Green Glaze in a sealed deposit whose latest ware ends in 700."""
    found = look_intrusive(SEALED, Security.SEALED)
    assert found is not None
    assert found.end_of_bulk.value == 700
    assert [find.key for find in found.finds] == ["Green Glaze"]


@pytest.mark.parametrize(("begin", "late"), [(699, False), (700, True)])
def test_a_range_that_begins_as_the_bulk_ends_is_late(begin: int, late: bool) -> None:
    """Ranges are half-open: what ends in 700 has no year in common with what begins in 700."""
    found = look_intrusive([*SEALED[:2], DatedFind("x", DateRange(begin, 1100), 2)], Security.SEALED)
    assert found is not None
    assert bool(found.finds) == late


def test_many_late_sherds_are_the_deposit_s_own_date() -> None:
    found = look_intrusive([*SEALED, DatedFind("more Green Glaze", DateRange(730, 1100), 12)], Security.SEALED)
    assert found is not None
    assert (found.end_of_bulk.value, found.finds) == (1100, ())


def test_what_is_called_intrusive_already_is_not_pointed_out_again() -> None:
    known = [*SEALED[:2], DatedFind("Green Glaze", DateRange(730, 1100), 2, intrusive=True)]
    found = look_intrusive(known, Security.SEALED)
    assert found is not None
    assert found.finds == ()


@pytest.mark.parametrize("security", [Security.MIXED, Security.UNSEALED, Security.NOT_SAID])
def test_only_a_sealed_deposit_can_have_intrusions(security: Security) -> None:
    assert look_intrusive(SEALED, security) is None


def test_nothing_dated_points_nothing_out() -> None:
    assert look_intrusive([SEALED[3]], Security.SEALED) is None


def test_what_has_no_end_ends_no_bulk_and_looks_late_where_it_is_little() -> None:
    few, many = (DatedFind("ever since", DateRange(730, 730), pieces, open_ended=True) for pieces in (10, 11))
    found = look_intrusive([*SEALED[:2], few], Security.SEALED)
    assert found is not None
    assert (found.end_of_bulk.value, [find.key for find in found.finds]) == (700, ["ever since"])
    assert look_intrusive([*SEALED[:2], many], Security.SEALED) is None


@given(st.lists(st.tuples(RANGES, st.integers(1, 50), st.booleans()), min_size=1, max_size=10))
def test_never_more_than_a_tenth_looks_intrusive(drawn: list[tuple[DateRange, int, bool]]) -> None:
    finds = [DatedFind(str(n), span, pieces, open_ended=ever) for n, (span, pieces, ever) in enumerate(drawn)]
    found = look_intrusive(finds, Security.SEALED)
    if found is None:
        assert 10 * sum(find.pieces for find in finds if find.open_ended) > sum(find.pieces for find in finds)
        return
    late = sum(find.pieces for find in found.finds)
    assert 10 * late <= sum(find.pieces for find in finds)


@pytest.mark.parametrize(
    ("levels", "years", "open_ended"),
    [
        ([(180, 320)], DateRange(180, 320), False),
        ([(None, None), (180, 320)], DateRange(180, 320), False),
        ([(200, 210), (180, 320)], DateRange(200, 210), False),
        ([(290, None), (180, 260), (180, 320)], DateRange(290, 320), False),
        ([(None, 250), (180, 320)], DateRange(180, 250), False),
        ([(800, None), (180, 320)], DateRange(800, 800), True),
        ([(None, None), (800, None)], DateRange(800, 800), True),
        ([(None, 150), (180, 320)], None, False),
        ([(None, 150)], None, False),
        ([(0, None), (-43, 1)], DateRange(0, 1), False),
        ([], None, False),
    ],
)
def test_a_year_that_is_not_said_nearer_is_taken_from_farther_off(
    levels: list[tuple[int | None, int | None]], years: DateRange | None, open_ended: bool
) -> None:
    """OWN: piece, form and ware in this order; what does not fit what was said nearer is left."""
    said = years_said(*levels)
    assert (said.years, said.open_ended) == (years, open_ended)
    assert said.range == (None if open_ended else years)
