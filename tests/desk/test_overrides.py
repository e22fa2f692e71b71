"""What is decided against a rule of the policy: it is written, says which rule, and stays open until it says why."""

from pathlib import Path

import pytest

from findsdesk.desk.bagging import bag_settled
from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.courier import write_courier
from findsdesk.desk.courier_taking import take_courier
from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_sheet import discard_sheet
from findsdesk.desk.discards import make_list, take_off
from findsdesk.desk.needs_in_words import needs_in_words
from findsdesk.desk.overrides import containers_wanting_why, rows_wanting_why, say_why
from findsdesk.desk.pieces import lay_back, lift_pieces
from findsdesk.desk.proving import prove
from findsdesk.desk.register_columns import fields_of, wording
from findsdesk.desk.registers import Register, RegisterQuery, count, page
from findsdesk.desk.retention import add_rule, change_rule
from findsdesk.desk.season_end import season_end
from findsdesk.desk.shares import draw_share, shares_ahead
from findsdesk.desk.sherd_groups import add_group, change_group
from findsdesk.desk.sorting import settle
from findsdesk.desk.sorting_table import table_of
from findsdesk.desk.taking_back import do_again, take_back_last
from findsdesk.desk.the_day import the_day
from findsdesk.desk.wanting_why import WantingWhy
from findsdesk.domain.balance import Decision
from tests.desk.at_the_table import dry_container, refused
from tests.desk.two_stores import TRENCH, parted
from tests.desk.whole_yard import ON_A_FILE, text_of
from tests.yard import statements_of


def rules(desk: Desk) -> None:
    """Let one rule keep rims and another discard body sherds but for one in ten."""
    add_rule(desk, "Rims stay", decision=Decision.KEEP, reason="diagnostic", parts=["rim"])
    add_rule(desk, "Body", decision=Decision.DISCARD, reason="no diagnostic value", parts=["body"], one_in=10)


@pytest.fixture
def code(desk: Desk) -> str:
    """Return the code of a dry container of six sherds, in a yard with rules."""
    rules(desk)
    return dry_container(desk, 131, 6)


def decided(desk: Desk, code: str) -> list[tuple[str, str, str, str]]:
    """Return decision, reason, rule and what the rule proposed of each row."""
    return [(str(one.decision), one.reason, one.facts.rule, one.facts.proposed) for one in table_of(desk, code).groups]


def open_things(desk: Desk) -> dict[str, tuple[int, int]]:
    """Return how many things and pieces of each kind stand open at the end of the season for want of a reason."""
    lines = {one.requirement.key: (one.many, one.pieces) for one in season_end(desk).lines}
    return {key: lines[key] for key in ("rows_unexplained", "pieces_unexplained")}


def said_as_need(desk: Desk) -> list[str]:
    """Return what the day says of rows without a reason."""
    needs = [need for need in the_day(desk).needs if need.kind == "no_reason"]
    return [line for line, _since in needs_in_words(needs, wording(desk), desk.facts.zone)]


def why_shown(desk: Desk) -> list[str]:
    """Return what the register of groups shows as the reason of each row."""
    field = next(one for one in fields_of(Register.GROUPS) if one.key == "reason")
    return [str(field.value(row, wording(desk))) for row in page(desk, Register.GROUPS)]


def test_nothing_is_refused_and_what_is_decided_against_a_rule_stays_open_until_it_says_why(
    desk: Desk, code: str
) -> None:
    body = add_group(desk, code, ware="MBU", part="body", pieces=3, decision=Decision.KEEP)
    add_group(desk, code, ware="QRS", part="rim", pieces=2, decision=Decision.HOLD, reason="joins?")
    add_group(desk, code, ware="QRS", part="rim", pieces=1)
    assert decided(desk, code) == [
        ("keep", "", "Body", "discard"),
        ("hold", "joins?", "Rims stay", "keep"),
        ("keep", "diagnostic", "Rims stay", ""),
    ]
    assert [row.id for row in rows_wanting_why(desk, code)] == [body.id]
    assert containers_wanting_why(desk) == (WantingWhy(code, "131", 1),)
    assert open_things(desk)["rows_unexplained"] == (1, 3)
    assert why_shown(desk) == ["no reason yet, against “Body” (discard)", "joins?, against “Rims stay” (keep)",
                               "diagnostic"]  # fmt: skip
    assert said_as_need(desk) == ["131: decided against a rule, no reason yet: 1 row"]
    for value, rows in (("open", 1), ("said", 1)):
        asked = RegisterQuery(filters=(("against", value),))
        assert count(desk, Register.GROUPS, asked) == rows
    row = change_group(desk, body.id, seen=body.version, reason="ink?")
    assert said_as_need(desk) == []
    assert (row.reason, row.facts.rule, row.facts.proposed) == ("ink?", "Body", "discard")
    assert containers_wanting_why(desk) == ()
    assert open_things(desk)["rows_unexplained"] == (0, 0)
    # Taken back it stands open again, and done again it does not.
    take_back_last(desk, code)
    assert open_things(desk)["rows_unexplained"] == (1, 3)
    do_again(desk, code)
    assert decided(desk, code)[0] == ("keep", "ink?", "Body", "discard")
    assert prove(desk).sound


def test_a_number_put_right_makes_no_override_and_loses_none(desk: Desk) -> None:
    code = dry_container(desk, 131, 20)
    row = add_group(desk, code, ware="MBU", part="body", pieces=3)
    rules(desk)
    # Nobody decided against the rule: it was not there yet.
    row = change_group(desk, row.id, seen=row.version, pieces=4)
    assert decided(desk, code) == [("keep", "", "", "")]
    row = change_group(desk, row.id, seen=row.version, part="rim")
    assert decided(desk, code) == [("keep", "diagnostic", "Rims stay", "")]
    row = change_group(desk, row.id, seen=row.version, decision=Decision.MEND)
    row = change_group(desk, row.id, seen=row.version, pieces=5)
    assert decided(desk, code) == [("mend", "", "Rims stay", "keep")]
    # A rule that says otherwise by now does not change what was passed over.
    change_rule(desk, "Rims stay", decision=Decision.HOLD, reason="specialist")
    assert decided(desk, code) == [("mend", "", "Rims stay", "keep")]
    change_group(desk, row.id, seen=row.version, decision=Decision.HOLD)
    assert decided(desk, code) == [("hold", "specialist", "Rims stay", "")]
    # A row bears the name of the rule it is decided against too.
    add_group(desk, code, ware="MBU", part="body", pieces=1, decision=Decision.KEEP)
    with refused(desk, "rule_in_use"):
        change_rule(desk, "Body", to="Bodies")


def test_what_comes_off_a_discard_list_says_by_or_against_which_rule_it_stays(desk: Desk, code: str) -> None:
    add_group(desk, code, ware="MBU", part="base", pieces=1, decision=Decision.DISCARD, reason="modern")
    add_group(desk, code, ware="QRS", part="rim", pieces=2, decision=Decision.DISCARD, reason="modern")
    add_group(desk, code, ware="MBU", part="body", pieces=3)
    [ahead] = shares_ahead(desk, code)
    draw_share(desk, ahead.group_id, seen=ahead.version, start=4)
    settle(desk, code)
    made = make_list(desk)
    take_off(desk, made.facts.number, why="painted after all", to=Decision.KEEP)
    assert decided(desk, code) == [
        ("keep", "painted after all", "", ""),
        ("keep", "painted after all", "Rims stay", ""),
        ("keep", "painted after all", "Body", "discard"),
    ]
    assert prove(desk).sound


def test_what_a_share_keeps_is_no_override_and_an_override_is_in_no_share(desk: Desk, code: str) -> None:
    add_group(desk, code, ware="MBU", part="body", pieces=2, decision=Decision.KEEP)
    add_group(desk, code, ware="MBU", part="body", pieces=4)
    [ahead] = shares_ahead(desk, code)
    kept = draw_share(desk, ahead.group_id, seen=ahead.version, start=1).kept
    assert kept is not None
    change_group(desk, kept.id, seen=kept.version, note="with ink")
    assert [row.pieces for row in rows_wanting_why(desk, code)] == [2]


def test_a_settled_container_takes_the_reason_without_being_opened_again(desk: Desk, code: str) -> None:
    add_group(desk, code, ware="MBU", part="body", pieces=6, decision=Decision.KEEP)
    settle(desk, code)
    bag_settled(desk, [code])
    [row] = rows_wanting_why(desk, code)
    with refused(desk, "empty"):
        say_why(desk, row.id, seen=row.version, reason=" ")
    with refused(desk, "changed_meanwhile"):
        say_why(desk, row.id, seen=row.version - 1, reason="slag inside")
    said = say_why(desk, row.id, seen=row.version, reason="slag inside")
    assert said.reason == "slag inside"
    assert rows_wanting_why(desk, code) == ()
    assert prove(desk).sound
    plain = add_group(desk, dry_container(desk, 132, 2), ware="QRS", part="rim", pieces=2)
    with refused(desk, "not_against_a_rule"):
        say_why(desk, plain.id, seen=plain.version, reason="diagnostic")
    with refused(desk, "row_gone"):
        say_why(desk, 999, seen=1, reason="diagnostic")


def test_a_reason_given_in_passing_is_taken_back_like_any_other_act(desk: Desk, code: str) -> None:
    row = add_group(desk, code, ware="MBU", part="body", pieces=6, decision=Decision.HOLD)
    say_why(desk, row.id, seen=row.version, reason="specialist")
    assert take_back_last(desk, code).deed == "say_why"
    assert [one.reason for one in rows_wanting_why(desk, code)] == [""]


def test_pieces_carry_along_what_their_row_was_decided_against(desk: Desk, code: str) -> None:
    row = add_group(desk, code, ware="MBU", part="body", pieces=6, decision=Decision.KEEP)
    [piece] = lift_pieces(desk, row.id, seen=row.version).pieces
    assert (piece.rule, piece.proposed) == ("Body", "discard")
    assert [doubt.in_words(desk.terms) for doubt in piece.doubts] == ["Decided against “Body”: say why."]
    assert open_things(desk) == {"rows_unexplained": (1, 5), "pieces_unexplained": (1, 1)}
    piece = change_piece(desk, piece.id, seen=piece.version, reason="painted inside")
    assert (piece.proposed, piece.doubts) == ("discard", ())
    assert open_things(desk)["pieces_unexplained"] == (0, 0)
    piece = change_piece(desk, piece.id, seen=piece.version, reason="")
    lay_back(desk, piece.id, seen=piece.version)
    assert [one.pieces for one in rows_wanting_why(desk, code)] == [6]
    assert prove(desk).sound


def test_the_inspector_reads_what_is_discarded_against_a_rule(desk: Desk, code: str) -> None:
    add_group(desk, code, ware="QRS", part="rim", pieces=2, decision=Decision.DISCARD, reason="beyond repair")
    add_group(desk, code, ware="MBU", part="body", pieces=4)
    [ahead] = shares_ahead(desk, code)
    draw_share(desk, ahead.group_id, seen=ahead.version, start=9)
    settle(desk, code)
    made = make_list(desk)
    assert sorted((line.rule, line.proposed) for line in made.lines) == [("Body", ""), ("Rims stay", "keep")]
    said = " ".join(text_of(discard_sheet(desk, made.facts.number)).split())
    assert "against “Rims stay” (keep)" in said
    field = next(one for one in fields_of(Register.DISCARDS) if one.key == "rule")
    shown = {str(field.value(row, wording(desk))) for row in page(desk, Register.DISCARDS)}
    assert shown == {"Body", "against “Rims stay” (keep)"}
    assert prove(desk).sound


@pytest.mark.skipif(not ON_A_FILE, reason="a server plans otherwise")
def test_the_rows_without_a_reason_are_found_by_their_own_index(desk: Desk, code: str) -> None:
    with statements_of(desk, reading=True) as said:
        containers_wanting_why(desk)
    [asked] = [one for one in said if "proposed" in one]
    with desk.reading() as reading:
        plan = " ".join(str(row) for row in reading.session.connection().exec_driver_sql(f"EXPLAIN QUERY PLAN {asked}"))
    assert "ix_sherd_group_proposed" in plan


def test_a_courier_brings_what_was_decided_against_a_rule(tmp_path: Path) -> None:
    def begin(desk: Desk) -> None:
        rules(desk)
        dry_container(desk, 131, 6)

    with parted(tmp_path, begin) as (home, trench):
        row = add_group(trench, "131", ware="MBU", part="body", pieces=6, decision=Decision.KEEP)
        take_courier(home, write_courier(trench, tmp_path / "stick").file)
        assert decided(home, "131") == [("keep", "", "Body", "discard")]
        say_why(home, row.id, seen=row.version, reason="slag inside")
        take_courier(trench, write_courier(home, tmp_path / "back", to=TRENCH).file)
        assert decided(trench, "131") == [("keep", "slag inside", "Body", "discard")]
        assert prove(home).sound
        assert prove(trench).sound
