"""The excavation's retention policy: its rules in their order, and the decisions they propose at the table."""

import pytest

from findsdesk.desk.changing_set_up import change_ware
from findsdesk.desk.desk import Desk
from findsdesk.desk.proving import prove
from findsdesk.desk.retention import add_rule, change_rule, move_rule, policy_of, rules_of, take_starting_policy
from findsdesk.desk.sherd_groups import add_group, change_group
from findsdesk.desk.type_series import add_form, change_form
from findsdesk.domain.balance import Decision
from findsdesk.domain.retention import Proposal, SaidOfAGroup
from tests.desk.at_the_table import dry_container, refused
from tests.yard import with_settings


@pytest.fixture
def with_rules(desk: Desk) -> Desk:
    """Return the yard with a rule that keeps rims and one that discards the body of Marl Buff."""
    add_rule(desk, "Rims stay", decision=Decision.KEEP, reason="diagnostic", parts=["rim"])
    add_rule(
        desk,
        "Body of Marl Buff",
        decision=Decision.DISCARD,
        reason="no diagnostic value",
        parts=["body"],
        wares=["mbu"],
    )
    return desk


def test_a_rule_is_written_in_the_excavations_own_spelling(with_rules: Desk) -> None:
    body = rules_of(with_rules)[1]
    assert body.position == 2
    assert body.rule.reason == "no_diagnostic_value"
    assert body.rule.fits.as_plain() == {"parts": ["body"], "wares": ["MBU"]}
    assert policy_of(with_rules).propose(SaidOfAGroup(ware="MBU", part="body"), "").rule == "Body of Marl Buff"
    assert prove(with_rules).sound


def test_no_rules_leave_everything_as_it_was(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="MBU", part="body", pieces=5)
    assert (row.decision, row.facts.rule) == (Decision.KEEP, "")


def test_the_policy_decides_what_nobody_decided(with_rules: Desk) -> None:
    code = dry_container(with_rules, 131, 132)
    row = add_group(with_rules, code, ware="MBU", part="body", pieces=50)
    assert (row.decision, row.reason, row.facts.rule) == (
        Decision.DISCARD,
        "no_diagnostic_value",
        "Body of Marl Buff",
    )
    typed = add_group(with_rules, code, ware="QRS", part="rim", pieces=2, decision=Decision.KEEP)
    assert (typed.reason, typed.facts.rule) == ("diagnostic", "Rims stay")


def test_what_a_rule_keeps_is_discarded_only_with_a_reason(with_rules: Desk) -> None:
    code = dry_container(with_rules, 131, 132)
    with refused(with_rules, "override_reason"):
        add_group(with_rules, code, ware="QRS", part="rim", pieces=2, decision=Decision.DISCARD)
    row = add_group(
        with_rules, code, ware="QRS", part="rim", pieces=2, decision=Decision.DISCARD, reason="beyond repair"
    )
    assert (row.reason, row.facts.rule, row.facts.proposed) == ("beyond_repair", "Rims stay", "keep")
    kept = add_group(with_rules, code, ware="MBU", part="body", pieces=3, decision=Decision.KEEP, reason="ink?")
    assert (kept.reason, kept.facts.rule, kept.facts.proposed) == ("ink?", "Body of Marl Buff", "discard")
    again = add_group(with_rules, code, ware="TGY", part="rim", pieces=1)
    with refused(with_rules, "override_reason"):
        change_group(with_rules, again.id, seen=again.version, decision=Decision.DISCARD)


def test_a_change_of_part_asks_the_policy_again(with_rules: Desk) -> None:
    code = dry_container(with_rules, 131, 132)
    row = add_group(with_rules, code, ware="MBU", part="body", pieces=3)
    changed = change_group(with_rules, row.id, seen=row.version, decision=Decision.HOLD, reason="joins")
    assert (changed.facts.rule, changed.facts.proposed) == ("Body of Marl Buff", "discard")
    back = change_group(with_rules, row.id, seen=changed.version, decision=Decision.DISCARD)
    assert (back.reason, back.facts.rule, back.facts.proposed) == ("no_diagnostic_value", "Body of Marl Buff", "")


def test_a_part_put_right_follows_the_rules_where_nobody_decided(with_rules: Desk) -> None:
    code = dry_container(with_rules, 131, 132)
    row = add_group(with_rules, code, ware="MBU", part="body", pieces=8)
    changed = change_group(with_rules, row.id, seen=row.version, part="rim")
    assert (changed.decision, changed.reason, changed.facts.rule) == (Decision.KEEP, "diagnostic", "Rims stay")
    own = add_group(
        with_rules, code, ware="MBU", part="body", pieces=2, decision=Decision.DISCARD, reason="beyond repair"
    )
    still = change_group(with_rules, own.id, seen=own.version, part="rim")
    assert (still.decision, still.reason) == (Decision.DISCARD, "beyond_repair")


def test_the_first_rule_that_fits_is_the_one_further_up(with_rules: Desk) -> None:
    add_rule(with_rules, "All Marl Buff", decision=Decision.HOLD, reason="specialist", wares=["MBU"])
    body = SaidOfAGroup(ware="MBU", part="body")
    assert policy_of(with_rules).propose(body, "").rule == "Body of Marl Buff"
    moved = move_rule(with_rules, "all marl buff", place=1)
    assert [one.rule.name for one in moved] == ["All Marl Buff", "Rims stay", "Body of Marl Buff"]
    assert policy_of(with_rules).propose(body, "").rule == "All Marl Buff"
    with refused(with_rules, "no_such_place"):
        move_rule(with_rules, "Rims stay", place=4)
    change_rule(with_rules, "All Marl Buff", place=3)
    assert [one.rule.name for one in rules_of(with_rules)] == ["Rims stay", "Body of Marl Buff", "All Marl Buff"]
    assert prove(with_rules).sound


def test_a_rule_out_of_force_proposes_nothing_and_comes_back(with_rules: Desk) -> None:
    body = SaidOfAGroup(ware="MBU", part="body")
    change_rule(with_rules, "Body of Marl Buff", in_force=False)
    assert policy_of(with_rules).propose(body, "") == Proposal(Decision.KEEP)
    change_rule(with_rules, "Body of Marl Buff", in_force=True, one_in=10, wares=["any"], to="Body")
    proposal = policy_of(with_rules).propose(SaidOfAGroup(ware="QRS", part="body"), "")
    assert (proposal.rule, proposal.one_in) == ("Body", 10)
    changed = change_rule(with_rules, "Body", one_in=0)
    assert changed.rule.one_in is None


def test_a_rule_goes_on_to_fit_a_ware_whose_code_changes(with_rules: Desk) -> None:
    change_ware(with_rules, "MBU", to="MBF")
    assert policy_of(with_rules).propose(SaidOfAGroup(ware="MBF", part="body"), "").rule == "Body of Marl Buff"
    add_form(with_rules, code="F1", name="flat dish")
    change_rule(with_rules, "Rims stay", forms=["F1"])
    change_form(with_rules, "F1", to="F2")
    assert rules_of(with_rules)[0].rule.fits.forms == frozenset({"F2"})
    assert prove(with_rules).sound


def test_the_name_that_rows_bear_stays(with_rules: Desk) -> None:
    code = dry_container(with_rules, 131, 132)
    add_group(with_rules, code, ware="QRS", part="rim", pieces=2)
    with refused(with_rules, "rule_in_use"):
        change_rule(with_rules, "Rims stay", to="Rims")
    assert change_rule(with_rules, "Body of Marl Buff", to="Body").rule.name == "Body"


def test_a_rule_changed_meanwhile_is_not_overwritten(with_rules: Desk) -> None:
    seen = rules_of(with_rules)[0].version
    change_rule(with_rules, "Rims stay", parts=["rim", "base"])
    with refused(with_rules, "changed_meanwhile"):
        change_rule(with_rules, "Rims stay", seen=seen, parts=["handle"])


def test_what_no_list_knows_is_refused(with_rules: Desk) -> None:
    for name, code, words in (
        ("parts", "unknown_part", ["toe"]),
        ("wares", "unknown_ware", ["XYZ"]),
        ("conditions", "unknown_word", ["sour"]),
        ("securities", "unknown_word", ["safe"]),
    ):
        with refused(with_rules, code):
            add_rule(with_rules, "New", decision=Decision.KEEP, **{name: words})  # type: ignore[arg-type]
    with refused(with_rules, "already_there"):
        add_rule(with_rules, "rims STAY", decision=Decision.KEEP)
    with refused(with_rules, "unknown_reason"):
        add_rule(with_rules, "New", decision=Decision.DISCARD, reason="boring")
    with refused(with_rules, "unknown_rule"):
        change_rule(with_rules, "Nobody's", decision=Decision.KEEP)
    with refused(with_rules, "share_of_kept"):
        change_rule(with_rules, "Rims stay", one_in=10)


def test_the_shipped_policy_is_taken_in_once(desk: Desk) -> None:
    taken = take_starting_policy(desk)
    assert len(taken) >= 5
    policy = policy_of(desk)
    assert policy.propose(SaidOfAGroup(part="rim", diagnostic=True), "sealed").decision is Decision.KEEP
    assert policy.propose(SaidOfAGroup(part="body"), "sealed").one_in == 10
    assert policy.propose(SaidOfAGroup(part="body"), "mixed").one_in is None
    assert policy.propose(SaidOfAGroup(part="body", condition="burnt inscribed"), "mixed").decision is Decision.KEEP
    with refused(desk, "policy_there"):
        take_starting_policy(desk)
    assert prove(desk).sound


def test_an_excavation_that_discards_nothing_is_proposed_no_discard(with_rules: Desk) -> None:
    with_settings(with_rules, discards=False)
    assert policy_of(with_rules).propose(SaidOfAGroup(ware="MBU", part="body"), "") == Proposal(Decision.KEEP)
    code = dry_container(with_rules, 131, 132)
    with refused(with_rules, "nothing_discarded"):
        add_group(
            with_rules, code, ware="MBU", part="body", pieces=5, decision=Decision.DISCARD, reason="no_diagnostic_value"
        )
    with refused(with_rules, "nothing_discarded"):
        add_rule(with_rules, "New", decision=Decision.DISCARD, reason="modern")
