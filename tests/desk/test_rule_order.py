"""A rule behind one that takes all it would never proposes: that is told, and a place can be given with a new one."""

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.proving import prove
from findsdesk.desk.retention import add_rule, change_rule, rules_of, telling
from findsdesk.desk.word_lists import SHIPPED
from findsdesk.domain.balance import Decision
from findsdesk.domain.retention import Fits
from findsdesk.domain.rule_order import takes_all
from tests.desk.at_the_table import refused


def test_a_rule_behind_one_that_takes_all_it_would_is_told_and_a_place_can_be_given_with_it(desk: Desk) -> None:
    add_rule(desk, "Rims stay", decision=Decision.KEEP, reason="diagnostic", parts=["rim"])
    add_rule(desk, "Body of Marl Buff", decision=Decision.DISCARD, reason="modern", parts=["body"], wares=["mbu"])
    said = {"decision": Decision.KEEP, "parts": ["body"], "wares": ["MBU"], "securities": ["sealed"]}
    last = add_rule(desk, "Marl Buff of floors", **said)  # type: ignore[arg-type]
    assert (last.position, last.behind) == (3, "Body of Marl Buff")
    assert rules_of(desk)[2].behind == "Body of Marl Buff"
    moved = change_rule(desk, "Marl Buff of floors", place=1)
    assert (moved.position, moved.behind) == (1, "")
    first = add_rule(desk, "Marl Buff of pits", **said, place=2)  # type: ignore[arg-type]
    assert (first.position, first.behind) == (2, "Marl Buff of floors")
    change_rule(desk, "Marl Buff of floors", in_force=False)
    assert [one.behind for one in rules_of(desk)] == ["", "", "", ""]
    with refused(desk, "no_such_place"):
        add_rule(desk, "Far away", **said, place=7)  # type: ignore[arg-type]
    assert prove(desk).sound


@pytest.mark.parametrize(
    ("first", "second", "all_of_it"),
    [
        (Fits(), Fits(), True),
        (Fits(), Fits(parts=frozenset({"rim"}), diagnostic=True), True),
        (Fits(parts=frozenset({"rim", "body"})), Fits(parts=frozenset({"rim"}), wares=frozenset({"MBU"})), True),
        (Fits(parts=frozenset({"rim"})), Fits(parts=frozenset({"rim", "body"})), False),
        (Fits(parts=frozenset({"rim"})), Fits(), False),
        (Fits(diagnostic=True), Fits(), False),
        (Fits(diagnostic=True), Fits(diagnostic=True, wares=frozenset({"MBU"})), True),
        (Fits(diagnostic=False), Fits(diagnostic=True), False),
        (Fits(diagnostic=True), Fits(parts=frozenset({"rim"})), True),
        (Fits(diagnostic=True), Fits(parts=frozenset({"rim", "body"})), False),
        (Fits(securities=frozenset({"sealed"})), Fits(parts=frozenset({"rim"})), False),
    ],
)
def test_whether_a_rule_takes_all_that_another_would(first: Fits, second: Fits, *, all_of_it: bool) -> None:
    assert takes_all(first, second, telling(SHIPPED)) is all_of_it
