"""A row put right after it was written: what a rule had decided is decided anew, what somebody decided stays."""

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import make_list
from findsdesk.desk.proving import prove
from findsdesk.desk.retention import add_rule
from findsdesk.desk.shares import draw_share, shares_ahead
from findsdesk.desk.sherd_groups import add_group, change_group
from findsdesk.desk.sorting import reopen, settle
from findsdesk.desk.sorting_table import table_of
from findsdesk.desk.taking_back import take_back_last
from findsdesk.domain.balance import Decision
from tests.desk.at_the_table import dry_container, prove_totals, refused


@pytest.fixture
def code(desk: Desk) -> str:
    """Return the code of a dry container of forty sherds, in a yard with rules."""
    add_rule(desk, "Diagnostic", decision=Decision.KEEP, reason="diagnostic", parts=["rim"])
    add_rule(desk, "Handles", decision=Decision.DISCARD, reason="modern", parts=["handle"])
    add_rule(desk, "Other body sherds", decision=Decision.DISCARD, reason="no diagnostic value", parts=["body"])
    return dry_container(desk, 131, 40)


def decided(desk: Desk, code: str) -> list[tuple[str, str, str, str]]:
    """Return decision, reason, rule and what the rule proposed of each row."""
    groups = table_of(desk, code).groups
    return [(str(one.decision), one.reason.replace("_", " "), one.facts.rule, one.facts.proposed) for one in groups]


BODY = ("discard", "no diagnostic value", "Other body sherds", "")
RIM = ("keep", "diagnostic", "Diagnostic", "")


def test_what_a_rule_decided_follows_the_rules_when_what_they_look_at_is_put_right(desk: Desk, code: str) -> None:
    row = add_group(desk, code, ware="TGY", part="body", pieces=8)
    row = change_group(desk, row.id, seen=row.version, part="rim")
    assert decided(desk, code) == [RIM]
    # As a new row would be; what was on no list is on none now either.
    row = change_group(desk, row.id, seen=row.version, part="body")
    assert decided(desk, code) == [BODY]
    row = change_group(desk, row.id, seen=row.version, part="handle")
    assert decided(desk, code) == [("discard", "modern", "Handles", "")]
    # Where no rule fits it is kept, and a row of no rule that was kept follows one.
    row = change_group(desk, row.id, seen=row.version, part="base")
    assert decided(desk, code) == [("keep", "", "", "")]
    change_group(desk, row.id, seen=row.version, part="body")
    assert decided(desk, code) == [BODY]
    take_back_last(desk, code)
    assert decided(desk, code) == [("keep", "", "", "")]
    prove_totals(desk)
    assert prove(desk).sound


def test_what_no_rule_looks_at_leaves_decision_and_reason_as_they_are(desk: Desk, code: str) -> None:
    row = add_group(desk, code, ware="TGY", part="body", pieces=8, reason="modern")
    said = ("discard", "modern", "Other body sherds", "")
    row = change_group(desk, row.id, seen=row.version, pieces=9, note="sooted")
    assert decided(desk, code) == [said]
    # Nor does another ware of which the rules say the same.
    change_group(desk, row.id, seen=row.version, ware="MBU")
    assert decided(desk, code) == [said]


def test_what_somebody_decided_stays_and_is_asked_why(desk: Desk, code: str) -> None:
    kept = add_group(desk, code, ware="TGY", part="body", pieces=8, decision=Decision.HOLD, reason="specialist")
    change_group(desk, kept.id, seen=kept.version, part="rim")
    assert decided(desk, code) == [("hold", "specialist", "Diagnostic", "keep")]
    # Discarded by hand where no rule said so.
    thrown = add_group(desk, code, ware="", part="base", pieces=2, decision=Decision.DISCARD, reason="modern")
    thrown = change_group(desk, thrown.id, seen=thrown.version, part="rim")
    assert decided(desk, code)[1] == ("discard", "modern", "Diagnostic", "keep")
    with refused(desk, "reason_needed"):
        change_group(desk, thrown.id, seen=thrown.version, reason="")
    # Who says the decision with the change says it by hand.
    row = add_group(desk, code, ware="TGY", part="body", pieces=3)
    change_group(desk, row.id, seen=row.version, part="rim", decision=Decision.DISCARD, reason="modern")
    assert decided(desk, code)[2] == ("discard", "modern", "Diagnostic", "keep")


def test_what_looks_late_is_held_and_let_go_as_the_ware_is_put_right(desk: Desk, code: str) -> None:
    add_group(desk, code, ware="QRS", part="rim", pieces=20)
    row = add_group(desk, code, ware="TGY", part="body", pieces=1)
    row = change_group(desk, row.id, seen=row.version, ware="GGL")
    assert decided(desk, code)[1] == ("hold", "looks late", "Other body sherds", "discard")
    row = change_group(desk, row.id, seen=row.version, pieces=2)
    assert decided(desk, code)[1] == ("hold", "looks late", "Other body sherds", "discard")
    row = change_group(desk, row.id, seen=row.version, ware="MBU")
    assert decided(desk, code)[1] == BODY
    change_group(desk, row.id, seen=row.version, ware="GGL", part="rim")
    assert decided(desk, code)[1] == RIM


def test_what_looks_late_is_held_when_it_is_written_without_a_decision_too(desk: Desk, code: str) -> None:
    """As at the window and among pasted rows: a line of the terminal discards nothing that somebody should look at."""
    add_group(desk, code, ware="QRS", part="rim", pieces=20)
    add_group(desk, code, ware="GGL", part="body", pieces=1)
    add_group(desk, code, ware="GGL", part="rim", pieces=1)
    add_group(desk, code, ware="GGL", part="body", pieces=1, decision=Decision.DISCARD)
    assert decided(desk, code)[1:] == [("hold", "looks late", "Other body sherds", "discard"), RIM, BODY]


def test_what_stands_on_a_discard_list_is_not_decided_anew_behind_it(desk: Desk, code: str) -> None:
    row = add_group(desk, code, ware="TGY", part="body", pieces=40)
    settle(desk, code)
    make_list(desk)
    with refused(desk, "container_on_list"):
        reopen(desk, code, reason="a rim among them")
    with refused(desk, "on_discard_list"):
        change_group(desk, row.id, seen=row.version, part="rim")


def test_the_rest_of_a_share_follows_and_what_the_share_kept_stays_kept(desk: Desk) -> None:
    add_rule(desk, "Diagnostic", decision=Decision.KEEP, reason="diagnostic", parts=["rim"])
    add_rule(
        desk, "Body", decision=Decision.DISCARD, reason="no diagnostic value", parts=["body"], wares=["MBU"], one_in=10
    )
    add_rule(
        desk, "Handles", decision=Decision.DISCARD, reason="modern", parts=["handle"], one_in=10
    )  # fmt: skip
    code = dry_container(desk, 131, 40)
    add_group(desk, code, ware="MBU", part="body", pieces=11)
    [ahead] = shares_ahead(desk, code)
    drawn = draw_share(desk, ahead.group_id, seen=ahead.version, start=4)
    assert drawn.kept is not None
    assert drawn.discarded is not None
    # One in ten of them was kept by lot: under the other rule too, whose share is not drawn of them once more.
    kept = change_group(desk, drawn.kept.id, seen=drawn.kept.version, part="handle")
    left = change_group(desk, drawn.discarded.id, seen=drawn.discarded.version, part="handle")
    assert decided(desk, code) == [("discard", "modern", "Handles", ""), ("keep", "share", "Handles", "")]
    assert shares_ahead(desk, code) == ()
    change_group(desk, kept.id, seen=kept.version, part="rim")
    change_group(desk, left.id, seen=left.version, part="rim")
    assert [one[0] for one in decided(desk, code)] == ["keep", "keep"]
    prove_totals(desk)
    assert prove(desk).sound
