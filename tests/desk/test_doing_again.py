"""What was taken back is done again: a new act, in order, one's own, only while nothing else was written."""

from itertools import count

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from findsdesk.desk.counting import count_again
from findsdesk.desk.desk import Desk
from findsdesk.desk.objects import Leaves, register_object
from findsdesk.desk.proving import prove
from findsdesk.desk.sorting import add_group, change_group, do_again, explain, remove_group, table_of, take_back_last
from findsdesk.domain.balance import Decision, Entry
from tests.desk.at_the_table import dry_container, prove_totals, refused
from tests.yard import advance, sitting

Shown = list[tuple[int, str]]


def shown(desk: Desk, code: str) -> Shown:
    return [(row.ordinal, row.facts.in_short()) for row in table_of(desk, code).groups]


def test_two_takings_back_are_done_again_in_order_and_taken_back_once_more(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="QRS", part="rim", pieces=11)
    one = shown(desk, code)
    row = add_group(desk, code, ware="TGY", part="body", pieces=5)
    two = shown(desk, code)
    change_group(desk, row.id, seen=row.version, pieces=7)
    three = shown(desk, code)
    take_back_last(desk, code)
    take_back_last(desk, code)
    assert shown(desk, code) == one
    assert do_again(desk, code).said == "131: TGY body 5, keep"
    assert shown(desk, code) == two
    do_again(desk, code)
    assert shown(desk, code) == three
    with refused(desk, "nothing_to_do_again"):
        do_again(desk, code)
    for expected in (two, one, []):
        take_back_last(desk, code)
        assert shown(desk, code) == expected
    prove_totals(desk)


def test_what_is_in_turn_is_said_in_one_line(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    assert (table_of(desk, code).turn.back.said, table_of(desk, code).turn.again.said) == ("", "")
    add_group(desk, code, ware="QRS", part="rim", pieces=11)
    add_group(desk, code, ware="TGY", part="body", pieces=5)
    assert table_of(desk, code).turn.back.said == "TGY body 5, keep"
    take_back_last(desk, code)
    turn = table_of(desk, code).turn
    assert (turn.back.said, turn.again.said) == ("QRS rim 11, keep", "TGY body 5, keep")
    # What somebody else wrote is not mine to take back.
    turn = table_of(sitting(desk, "Mika"), code).turn
    assert (turn.back.said, turn.again.said) == ("", "")


def test_after_another_row_there_is_nothing_to_do_again(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="QRS", part="rim", pieces=11)
    take_back_last(desk, code)
    add_group(desk, code, ware="TGY", part="body", pieces=5)
    with refused(desk, "nothing_to_do_again"):
        do_again(desk, code)


def test_all_rows_come_again_with_an_object_met_between_or_while_it_lies_dry(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    for pieces in (11, 5, 3):
        add_group(desk, code, ware="QRS", part="rim", pieces=pieces)
        advance(desk, minutes=1)
    rows = shown(desk, code)
    register_object(desk, code, what="coin", material="bronze", leaves=Leaves.NOT_COUNTED)
    for meanwhile in ("nothing", "an object", "a count"):
        for _row in rows:
            advance(desk, minutes=1)
            take_back_last(desk, code)
        advance(desk, minutes=1)
        if meanwhile == "an object":
            register_object(desk, code, what="bead", material="glass", leaves=Leaves.NOT_COUNTED)
        elif meanwhile == "a count":
            count_again(desk, code, pieces=133)
        for n, _row in enumerate(rows, start=1):
            advance(desk, minutes=1)
            do_again(desk, code)
            assert shown(desk, code) == rows[:n]
        with refused(desk, "nothing_to_do_again"):
            do_again(desk, code)
    prove_totals(desk)
    assert prove(desk).sound


def test_what_was_explained_before_an_object_and_the_first_row_is_in_turn(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    explain(desk, code, Entry.NOT_A_SHERD, pieces=1, why="pebble")
    advance(desk, minutes=1)
    register_object(desk, code, what="coin", material="bronze", leaves=Leaves.NOT_COUNTED)
    advance(desk, minutes=1)
    add_group(desk, code, ware="QRS", part="rim", pieces=11)
    assert [take_back_last(desk, code).deed for _act in range(2)] == ["add_group", "explain"]
    assert [do_again(desk, code).deed for _act in range(2)] == ["explain", "add_group"]
    prove_totals(desk)


def test_a_row_somebody_worked_on_since_is_not_changed_again(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=11)
    row = change_group(desk, row.id, seen=row.version, pieces=12)
    take_back_last(desk, code)
    (row,) = table_of(desk, code).groups
    change_group(sitting(desk, "Mika"), row.id, seen=row.version, pieces=9)
    with refused(desk, "row_moved_since"):
        do_again(desk, code)


def test_a_removal_is_done_again(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=11)
    remove_group(desk, row.id, seen=row.version)
    take_back_last(desk, code)
    assert len(shown(desk, code)) == 1
    do_again(desk, code)
    assert shown(desk, code) == []
    take_back_last(desk, code)
    take_back_last(desk, code)
    assert shown(desk, code) == []
    prove_totals(desk)


NUMBERS = count(1000)
DEEDS = st.lists(st.sampled_from(["add", "change", "remove", "back", "again"]), max_size=14)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(deeds=DEEDS)
def test_taking_back_and_doing_again_go_through_what_stood_there(desk: Desk, deeds: list[str]) -> None:
    """Checked against a plain pile of states: back goes down it, again goes up, anything else cuts it off above."""
    code = dry_container(desk, next(NUMBERS), 1000)
    states: list[Shown] = [[]]
    place = 0
    for n, deed in enumerate(deeds, start=1):
        groups = table_of(desk, code).groups
        if deed == "back" and place:
            take_back_last(desk, code)
            place -= 1
        elif deed == "again" and place + 1 < len(states):
            do_again(desk, code)
            place += 1
        elif deed == "add" or (deed in ("change", "remove") and groups):
            if deed == "add":
                add_group(desk, code, ware="QRS", part="body", pieces=n, decision=Decision.HOLD)
            elif deed == "change":
                change_group(desk, groups[-1].id, seen=groups[-1].version, pieces=500 + n)
            else:
                remove_group(desk, groups[0].id, seen=groups[0].version)
            place += 1
            states[place:] = [shown(desk, code)]
        assert shown(desk, code) == states[place]
    if not place:
        with refused(desk, "nothing_to_take_back"):
            take_back_last(desk, code)
    prove_totals(desk)
    assert not prove(desk).findings
