"""The retention policy: which rule fits, what it proposes, and shares drawn from rows of sherds."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.retention import (
    Fits,
    Policy,
    Proposal,
    RetentionRule,
    SaidOfAGroup,
    check_override,
    draw,
    draw_of,
)

RIMS = RetentionRule("Rims stay", Decision.KEEP, fits=Fits(parts=frozenset({"rim", "base"})))
INK = RetentionRule("Ink waits", Decision.HOLD, fits=Fits(conditions=frozenset({"inscribed"})))
BODY = RetentionRule(
    "Body of Marl Buff",
    Decision.DISCARD,
    "no_diagnostic_value",
    Fits(parts=frozenset({"body"}), wares=frozenset({"MBU"})),
    one_in=10,
)
MIXED = RetentionRule("Mixed", Decision.DISCARD, "unstratified", Fits(securities=frozenset({"mixed"})))
POLICY = Policy((INK, RIMS, BODY, MIXED))


def test_the_first_rule_that_fits_proposes() -> None:
    inked_rim = SaidOfAGroup(ware="MBU", part="rim", condition="abraded inscribed")
    assert POLICY.propose(inked_rim, "sealed") == Proposal(Decision.HOLD, "", "Ink waits")
    assert POLICY.propose(SaidOfAGroup(ware="MBU", part="rim"), "mixed").rule == "Rims stay"
    share = POLICY.propose(SaidOfAGroup(ware="MBU", part="body"), "sealed")
    assert share == Proposal(Decision.DISCARD, "no_diagnostic_value", "Body of Marl Buff", 10)
    assert share.splits


def test_a_rule_of_a_security_fits_only_there() -> None:
    body = SaidOfAGroup(ware="QRS", part="body")
    assert POLICY.propose(body, "mixed").rule == "Mixed"
    assert POLICY.propose(body, "sealed") == Proposal(Decision.KEEP)


def test_no_rule_means_keep() -> None:
    assert Policy().propose(SaidOfAGroup(part="body"), "") == Proposal(Decision.KEEP)


def test_a_rule_may_ask_for_what_is_diagnostic() -> None:
    told = Policy((RetentionRule("Telling", Decision.KEEP, "diagnostic", Fits(diagnostic=True)), MIXED))
    assert told.propose(SaidOfAGroup(part="body", diagnostic=True), "mixed").rule == "Telling"
    assert told.propose(SaidOfAGroup(part="body"), "mixed").rule == "Mixed"


def test_what_a_rule_fits_is_written_and_read_back() -> None:
    for fits in (RIMS.fits, BODY.fits, Fits(), Fits(diagnostic=False, decorations=frozenset({"combed", "incised"}))):
        assert Fits.from_plain(fits.as_plain()) == fits
    assert BODY.fits.as_plain() == {"parts": ["body"], "wares": ["MBU"]}


def test_keeping_against_a_rule_needs_no_word_and_discarding_needs_one() -> None:
    keeps = POLICY.propose(SaidOfAGroup(part="rim"), "")
    with pytest.raises(Refusal) as refused:
        check_override(keeps, Decision.DISCARD, "  ")
    assert refused.value.code == "override_reason"
    assert refused.value.facts["rule"] == "Rims stay"
    check_override(keeps, Decision.DISCARD, "beyond_repair")
    check_override(POLICY.propose(SaidOfAGroup(ware="MBU", part="body"), ""), Decision.KEEP, "")
    check_override(Proposal(Decision.KEEP), Decision.DISCARD, "")


@pytest.mark.parametrize(
    ("rule", "code"),
    [
        (RetentionRule(" ", Decision.KEEP), "empty"),
        (RetentionRule("x", Decision.DISCARD), "reason_needed"),
        (RetentionRule("x", Decision.KEEP, one_in=10), "share_of_kept"),
        (RetentionRule("x", Decision.HOLD, at_least=10), "share_of_kept"),
        (RetentionRule("x", Decision.DISCARD, "modern", one_in=1), "share_range"),
        (RetentionRule("x", Decision.DISCARD, "modern", one_in=1001), "share_range"),
        (RetentionRule("x", Decision.DISCARD, "modern", at_least=0), "share_range"),
    ],
)
def test_a_rule_that_cannot_be_meant_is_refused(rule: RetentionRule, code: str) -> None:
    with pytest.raises(Refusal) as refused:
        rule.check()
    assert refused.value.code == code


def test_start_at_the_fourth_then_each_tenth() -> None:
    """DERIVED by hand: 54 in a row, from the 4th each 10th: 4, 14, 24, 34, 44, 54; 9 of the next are passed over."""
    share = draw(54, 10, 4)
    assert (share.drawn, share.carried) == (6, 9)
    on = draw(8, 10, share.carried + 1)
    assert (on.drawn, on.carried) == (0, 1)
    assert draw(5, 10, on.carried + 1).drawn == 1


@pytest.mark.parametrize(
    ("step", "first", "code"), [(10, 0, "share_start"), (10, 11, "share_start"), (0, 1, "share_range")]
)
def test_a_start_outside_the_step_is_refused(step: int, first: int, code: str) -> None:
    with pytest.raises(Refusal) as refused:
        draw(20, step, first)
    assert refused.value.code == code


ROWS = st.lists(st.integers(0, 300), max_size=30)


@given(rows=ROWS, step=st.integers(1, 60), data=st.data())
def test_rows_in_turn_keep_what_one_long_row_would(rows: list[int], step: int, data: st.DataObject) -> None:
    first = data.draw(st.integers(1, step))
    kept, start = 0, first
    for laid_out in rows:
        share = draw(laid_out, step, start)
        kept, start = kept + share.drawn, share.carried + 1
    assert kept == draw(sum(rows), step, first).drawn
    assert kept == len(range(first, sum(rows) + 1, step))


@given(laid_out=st.integers(0, 2000), step=st.integers(1, 60))
def test_each_sherd_is_drawn_by_exactly_one_of_the_starts(laid_out: int, step: int) -> None:
    """So a random start gives every sherd the same chance of one in ``step``."""
    assert sum(draw(laid_out, step, first).drawn for first in range(1, step + 1)) == laid_out


@given(
    laid_out=st.integers(0, 200),
    one_in=st.none() | st.integers(2, 40),
    at_least=st.none() | st.integers(1, 60),
    kept_before=st.integers(0, 80),
)
def test_the_minimum_is_kept_or_all_there_are(
    laid_out: int, one_in: int | None, at_least: int | None, kept_before: int
) -> None:
    proposal = Proposal(Decision.DISCARD, "modern", "rule", one_in, at_least)
    share = draw_of(laid_out, proposal, first=1, kept_before=kept_before)
    assert 0 <= share.kept <= laid_out
    assert kept_before + share.kept >= min(at_least or 0, kept_before + laid_out)
    assert share.more == 0 or kept_before + share.kept == min(at_least or 0, kept_before + laid_out)
