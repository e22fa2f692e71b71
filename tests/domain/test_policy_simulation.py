"""What a policy would have kept: pieces, grams, boxes, shares of the wares, mean date."""

from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.balance import Decision
from findsdesk.domain.date_ranges import DateRange, YearsSaid
from findsdesk.domain.policy_simulation import Held, SortedRow, simulate_rows
from findsdesk.domain.retention import Fits, Policy, RetentionRule, SaidOfAGroup

RANGES = {"QRS": DateRange(180, 320), "MBU": DateRange(50, 400), "XXX": None}
RIMS = RetentionRule("Rims", Decision.KEEP, fits=Fits(parts=frozenset({"rim"})))
BODY = RetentionRule("Body", Decision.DISCARD, "modern", Fits(parts=frozenset({"body"})), one_in=10)


def row(ware: str, part: str, pieces: int, *, deposit: str = "2003", tenths: int = 0) -> SortedRow:
    return SortedRow(
        deposit, "sealed", SaidOfAGroup(ware, part), pieces, tenths, 0, Decision.KEEP, YearsSaid(RANGES[ware])
    )


def test_kept_sherds_grams_wares_and_date_by_hand() -> None:
    """DERIVED by hand: of 100 body sherds of MBU 10 stay, of 25 of QRS 2 (places 5 and 15) and 3 (5, 15, 25)."""
    rows = [
        row("QRS", "rim", 10, tenths=1000),
        row("MBU", "body", 100, tenths=20_000),
        row("QRS", "body", 25, tenths=2500),
        row("XXX", "handle", 5),
    ]
    told = simulate_rows(Policy((RIMS, BODY)), rows)
    assert (told.sorted.pieces, told.as_decided.pieces, told.by_policy.pieces) == (140, 140, 10 + 10 + 3 + 5)
    assert told.by_policy.grams == (1000 + 2000 + 300) / 10
    assert [(one.rule, one.pieces, one.kept) for one in told.rules] == [("Rims", 10, 10), ("Body", 125, 13), ("", 5, 5)]
    assert told.wares == ("MBU", "QRS", "XXX")
    assert (told.sorted.permille("MBU"), told.by_policy.permille("MBU")) == (714, 357)
    assert told.sorted.mean_date is not None
    assert told.by_policy.mean_date is not None
    assert told.sorted.mean_date.year.value * 135 == 225 * 100 + 250 * 35
    assert told.by_policy.mean_date.year.value * 23 == 225 * 10 + 250 * 13
    assert told.by_policy.mean_date.undated == (("XXX", 5),)


def test_a_policy_that_throws_the_latest_ware_away_brings_the_terminus_down() -> None:
    """DERIVED by hand: only body sherds of QRS begin in 180; what looks late gives no date, kept or not."""
    everything = Policy((RetentionRule("Body", Decision.DISCARD, "modern", Fits(parts=frozenset({"body"}))),))
    glaze = SaidOfAGroup("GGL", "rim")
    late = SortedRow("2003", "sealed", glaze, 2, 0, 0, Decision.KEEP, YearsSaid(DateRange(900, 1250)), late=True)
    told = simulate_rows(everything, [row("QRS", "body", 3), row("MBU", "rim", 5), late])
    assert told.sorted.terminus is not None
    assert told.by_policy.terminus is not None
    assert (told.sorted.terminus.year.value, told.by_policy.terminus.year.value) == (180, 50)
    assert (told.sorted.pieces, told.sorted.late, told.by_policy.pieces, told.by_policy.late) == (10, 2, 7, 2)


def test_sherds_of_one_ware_count_by_their_own_years() -> None:
    """OWN: 2 of a form of 180 to 260 and 2 of the ware's 180 to 320: (2 × 220 + 2 × 250) ÷ 4."""
    of_form = SortedRow(
        "2003", "", SaidOfAGroup("QRS", "rim", "QRS1"), 2, 0, 0, Decision.KEEP, YearsSaid(DateRange(180, 260))
    )
    told = simulate_rows(Policy(), [of_form, row("QRS", "rim", 2)])
    assert told.by_policy.mean_date is not None
    assert told.by_policy.mean_date.year.value == 235


def test_boxes_are_filled_by_weight_and_begun_ones_count() -> None:
    for tenths, boxes in ((0, 0), (1, 1), (100_000, 1), (100_001, 2)):
        held = Held()
        held.put(row("QRS", "rim", 1, tenths=tenths), 1)
        assert held.boxes == boxes


def test_nothing_sorted_has_no_date_and_no_shares() -> None:
    told = simulate_rows(Policy((BODY,)), [])
    assert (told.sorted.pieces, told.by_policy.boxes, told.by_policy.mean_date) == (0, 0, None)
    assert told.by_policy.terminus is None
    assert told.by_policy.permille("QRS") == 0


@given(pieces=st.lists(st.integers(1, 60), min_size=1, max_size=12))
def test_rows_said_alike_may_be_taken_together(pieces: list[int]) -> None:
    policy = Policy((BODY,))
    apart = simulate_rows(policy, [row("QRS", "body", n, tenths=10 * n) for n in pieces])
    together = simulate_rows(policy, [row("QRS", "body", sum(pieces), tenths=10 * sum(pieces))])
    assert apart.by_policy.pieces == together.by_policy.pieces
    assert apart.by_policy.tenths == together.by_policy.tenths


def test_each_deposit_begins_its_own_share() -> None:
    rows = [row("QRS", "body", 5, deposit=str(number)) for number in range(8)]
    assert simulate_rows(Policy((BODY,)), rows).by_policy.pieces == 8
