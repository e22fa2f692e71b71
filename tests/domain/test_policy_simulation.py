"""What a policy would have kept: pieces, grams, boxes, shares of the wares, mean date."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.balance import Decision
from findsdesk.domain.date_ranges import DateRange
from findsdesk.domain.policy_simulation import Held, SortedRow, simulate_rows
from findsdesk.domain.retention import Fits, Policy, RetentionRule, SaidOfAGroup

RANGES = {"QRS": DateRange(180, 320), "MBU": DateRange(50, 400), "XXX": None}
RIMS = RetentionRule("Rims", Decision.KEEP, fits=Fits(parts=frozenset({"rim"})))
BODY = RetentionRule("Body", Decision.DISCARD, "modern", Fits(parts=frozenset({"body"})), one_in=10)


def row(ware: str, part: str, pieces: int, *, deposit: str = "2003", tenths: int = 0) -> SortedRow:
    return SortedRow(deposit, "sealed", SaidOfAGroup(ware, part), pieces, tenths, 0, Decision.KEEP)


def test_kept_sherds_grams_wares_and_date_by_hand() -> None:
    """DERIVED by hand: of 100 body sherds of MBU 10 stay, of 25 of QRS 2 (places 5 and 15) and 3 (5, 15, 25)."""
    rows = [
        row("QRS", "rim", 10, tenths=1000),
        row("MBU", "body", 100, tenths=20_000),
        row("QRS", "body", 25, tenths=2500),
        row("XXX", "handle", 5),
    ]
    told = simulate_rows(Policy((RIMS, BODY)), rows, RANGES)
    assert (told.sorted.pieces, told.as_decided.pieces, told.by_policy.pieces) == (140, 140, 10 + 10 + 3 + 5)
    assert told.by_policy.grams == (1000 + 2000 + 300) / 10
    assert [(one.rule, one.pieces, one.kept) for one in told.rules] == [("Rims", 10, 10), ("Body", 125, 13), ("", 5, 5)]
    assert told.wares == ("MBU", "QRS", "XXX")
    assert (told.sorted.permille("MBU"), told.by_policy.permille("MBU")) == (714, 357)
    assert told.date_of_all is not None
    assert told.date_by_policy is not None
    assert told.date_of_all.year.value * 135 == 225 * 100 + 250 * 35
    assert told.date_by_policy.year.value * 23 == 225 * 10 + 250 * 13
    assert told.date_by_policy.undated == (("XXX", 5),)


def test_boxes_are_filled_by_weight_and_begun_ones_count() -> None:
    for tenths, boxes in ((0, 0), (1, 1), (100_000, 1), (100_001, 2)):
        held = Held()
        held.put("QRS", 1, Fraction(tenths))
        assert held.boxes == boxes


def test_nothing_sorted_has_no_date_and_no_shares() -> None:
    told = simulate_rows(Policy((BODY,)), [], RANGES)
    assert (told.sorted.pieces, told.by_policy.boxes, told.date_by_policy) == (0, 0, None)
    assert told.by_policy.permille("QRS") == 0


@given(pieces=st.lists(st.integers(1, 60), min_size=1, max_size=12))
def test_rows_said_alike_may_be_taken_together(pieces: list[int]) -> None:
    policy = Policy((BODY,))
    apart = simulate_rows(policy, [row("QRS", "body", n, tenths=10 * n) for n in pieces], RANGES)
    together = simulate_rows(policy, [row("QRS", "body", sum(pieces), tenths=10 * sum(pieces))], RANGES)
    assert apart.by_policy.pieces == together.by_policy.pieces
    assert apart.by_policy.tenths == together.by_policy.tenths


def test_each_deposit_begins_its_own_share() -> None:
    rows = [row("QRS", "body", 5, deposit=str(number)) for number in range(8)]
    assert simulate_rows(Policy((BODY,)), rows, RANGES).by_policy.pieces == 8
