"""Shares drawn at the table: where they start, what they carry on, what the rows and the ledger say afterwards."""

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.proving import prove
from findsdesk.desk.retention import add_rule, change_rule
from findsdesk.desk.shares import ShareAhead, draw_share, shares_ahead
from findsdesk.desk.sherd_groups import add_group, change_group, remove_group
from findsdesk.desk.sorting import settle
from findsdesk.desk.sorting_table import table_of
from findsdesk.desk.taking_back import do_again, take_back_last
from findsdesk.desk.type_series import add_form
from findsdesk.domain.balance import Decision
from tests.desk.at_the_table import dry_container, prove_totals, refused


@pytest.fixture
def one_in_ten(desk: Desk) -> Desk:
    """Return the yard with a rule that discards body sherds and keeps one in ten of them."""
    add_rule(desk, "Body", decision=Decision.DISCARD, reason="no diagnostic value", parts=["body"], one_in=10)
    return desk


def ahead_of(desk: Desk, code: str) -> ShareAhead:
    [one] = shares_ahead(desk, code)
    return one


def test_start_at_the_fourth_then_each_tenth(one_in_ten: Desk) -> None:
    code = dry_container(one_in_ten, 131, 54)
    add_form(one_in_ten, code="MBU1", name="basin", ware="MBU")
    add_group(one_in_ten, code, ware="MBU", form="MBU1", part="body", pieces=54, tenths=9000)
    ahead = ahead_of(one_in_ten, code)
    assert (ahead.needs_lot, ahead.laid_out, ahead.what) == (True, 54, "MBU1 body")
    with refused(one_in_ten, "lot_needed"):
        draw_share(one_in_ten, ahead.group_id, seen=ahead.version)
    with refused(one_in_ten, "share_start"):
        draw_share(one_in_ten, ahead.group_id, seen=ahead.version, start=11)
    drawn = draw_share(one_in_ten, ahead.group_id, seen=ahead.version, start=4)
    assert drawn.kept is not None
    assert drawn.discarded is not None
    assert (drawn.kept.pieces, drawn.kept.tenths, drawn.kept.decision) == (6, 1000, Decision.KEEP)
    assert (drawn.discarded.pieces, drawn.discarded.tenths) == (48, 8000)
    assert drawn.kept.facts.rule == drawn.discarded.facts.rule == "Body"
    assert drawn.kept.note == drawn.discarded.note == "grams in proportion"
    assert shares_ahead(one_in_ten, code) == ()
    table = table_of(one_in_ten, code)
    assert (table.ledger.kept, table.ledger.to_discard, table.ledger.unsorted) == (6, 48, 0)
    prove_totals(one_in_ten)
    assert prove(one_in_ten).sound


def test_what_is_left_over_is_carried_on_within_a_deposit_and_a_ware(one_in_ten: Desk) -> None:
    kept = 0
    for number, pieces in ((131, 54), (132, 8), (133, 5), (134, 33)):
        code = dry_container(one_in_ten, number, pieces)
        add_group(one_in_ten, code, ware="MBU", part="body", pieces=pieces)
        ahead = ahead_of(one_in_ten, code)
        assert ahead.needs_lot == (number == 131)
        share = draw_share(one_in_ten, ahead.group_id, seen=ahead.version, start=4).share
        assert ahead.share == (None if number == 131 else share), "what will be kept is known before"
        kept += share.kept
    assert kept == 10
    other = dry_container(one_in_ten, 135, 20)
    add_group(one_in_ten, other, ware="QRS", part="body", pieces=10)
    assert ahead_of(one_in_ten, other).needs_lot
    elsewhere = dry_container(one_in_ten, 136, 20, deposit="2019")
    add_group(one_in_ten, elsewhere, ware="MBU", part="body", pieces=10)
    assert ahead_of(one_in_ten, elsewhere).needs_lot


def test_a_share_of_none_leaves_the_row_and_is_drawn_once(one_in_ten: Desk) -> None:
    code = dry_container(one_in_ten, 131, 3)
    add_group(one_in_ten, code, ware="MBU", part="body", pieces=3)
    ahead = ahead_of(one_in_ten, code)
    drawn = draw_share(one_in_ten, ahead.group_id, seen=ahead.version, start=9)
    assert drawn.kept is None
    assert drawn.discarded is not None
    assert drawn.discarded.pieces == 3
    assert shares_ahead(one_in_ten, code) == ()
    with refused(one_in_ten, "share_drawn"):
        draw_share(one_in_ten, ahead.group_id, seen=drawn.discarded.version)


def test_the_minimum_is_kept_before_anything_goes(one_in_ten: Desk) -> None:
    change_rule(one_in_ten, "Body", at_least=5)
    few = dry_container(one_in_ten, 131, 3)
    add_group(one_in_ten, few, ware="MBU", part="body", pieces=3, tenths=300)
    ahead = ahead_of(one_in_ten, few)
    all_kept = draw_share(one_in_ten, ahead.group_id, seen=ahead.version, start=1)
    assert all_kept.discarded is None
    assert all_kept.kept is not None
    assert (all_kept.kept.pieces, all_kept.kept.tenths, all_kept.kept.note) == (3, 300, "")
    more = dry_container(one_in_ten, 132, 30)
    add_group(one_in_ten, more, ware="MBU", part="body", pieces=30)
    ahead = ahead_of(one_in_ten, more)
    assert ahead.kept_before == 3
    assert draw_share(one_in_ten, ahead.group_id, seen=ahead.version).share.kept == 3
    assert prove(one_in_ten).sound


def test_weighed_grams_are_better_than_a_proportion(one_in_ten: Desk) -> None:
    code = dry_container(one_in_ten, 131, 20)
    add_group(one_in_ten, code, ware="MBU", part="body", pieces=20, tenths=4000)
    ahead = ahead_of(one_in_ten, code)
    with refused(one_in_ten, "share_grams"):
        draw_share(one_in_ten, ahead.group_id, seen=ahead.version, start=1, kept_tenths=4001)
    drawn = draw_share(one_in_ten, ahead.group_id, seen=ahead.version, start=1, kept_tenths=570)
    assert drawn.kept is not None
    assert drawn.discarded is not None
    assert (drawn.kept.tenths, drawn.discarded.tenths, drawn.kept.note) == (570, 3430, "")


def test_a_container_is_settled_after_its_shares_are_drawn(one_in_ten: Desk) -> None:
    code = dry_container(one_in_ten, 131, 20)
    add_group(one_in_ten, code, ware="MBU", part="body", pieces=20)
    with refused(one_in_ten, "share_waits"):
        settle(one_in_ten, code)
    ahead = ahead_of(one_in_ten, code)
    draw_share(one_in_ten, ahead.group_id, seen=ahead.version, start=4)
    settle(one_in_ten, code)


def test_taking_back_lays_the_row_together_again(one_in_ten: Desk) -> None:
    code = dry_container(one_in_ten, 131, 20)
    row = add_group(one_in_ten, code, ware="MBU", part="body", pieces=20, tenths=400)
    draw_share(one_in_ten, row.id, seen=row.version, start=4)
    take_back_last(one_in_ten, code)
    [back] = table_of(one_in_ten, code).groups
    assert (back.pieces, back.tenths, back.decision, back.note) == (20, 400, Decision.DISCARD, "")
    assert ahead_of(one_in_ten, code).group_id == back.id
    assert prove(one_in_ten).sound


def test_rows_no_rule_parts_are_left_whole(one_in_ten: Desk) -> None:
    code = dry_container(one_in_ten, 131, 60)
    rim = add_group(one_in_ten, code, ware="MBU", part="rim", pieces=20)
    with refused(one_in_ten, "no_share"):
        draw_share(one_in_ten, rim.id, seen=rim.version, start=1)
    measured = add_group(one_in_ten, code, ware="MBU", part="body", pieces=20, rim_permille=80)
    with refused(one_in_ten, "share_of_rims"):
        draw_share(one_in_ten, measured.id, seen=measured.version, start=1)
    body = add_group(one_in_ten, code, ware="MBU", part="body", pieces=20)
    change_group(one_in_ten, body.id, seen=body.version, pieces=19)
    with refused(one_in_ten, "changed_meanwhile"):
        draw_share(one_in_ten, body.id, seen=body.version, start=1)


def test_the_kept_ones_of_a_share_stay_the_rules_when_a_note_is_added(one_in_ten: Desk) -> None:
    code = dry_container(one_in_ten, 131, 20)
    row = add_group(one_in_ten, code, ware="MBU", part="body", pieces=20)
    kept = draw_share(one_in_ten, row.id, seen=row.version, start=4).kept
    assert kept is not None
    noted = change_group(one_in_ten, kept.id, seen=kept.version, note="large ones")
    assert (noted.facts.rule, noted.reason, noted.decision) == ("Body", "share", Decision.KEEP)


def drawn(desk: Desk, code: str, start: int | None = None) -> int:
    ahead = ahead_of(desk, code)
    return draw_share(desk, ahead.group_id, seen=ahead.version, start=start).share.kept


def with_row(desk: Desk, number: int, pieces: int) -> str:
    code = dry_container(desk, number, pieces)
    add_group(desk, code, ware="MBU", part="body", pieces=pieces)
    return code


def test_what_was_taken_back_carries_nothing_on(one_in_ten: Desk) -> None:
    first = with_row(one_in_ten, 131, 54)
    drawn(one_in_ten, first, start=4)
    second = with_row(one_in_ten, 132, 12)
    assert ahead_of(one_in_ten, second).first == 10
    assert drawn(one_in_ten, second) == 1
    take_back_last(one_in_ten, second)
    assert ahead_of(one_in_ten, second).first == 10
    take_back_last(one_in_ten, first)
    assert ahead_of(one_in_ten, first).needs_lot
    assert ahead_of(one_in_ten, second).needs_lot
    do_again(one_in_ten, first)
    assert ahead_of(one_in_ten, second).first == 10
    take_back_last(one_in_ten, first)
    assert ahead_of(one_in_ten, second).needs_lot
    assert prove(one_in_ten).sound


def test_a_row_whose_share_was_taken_back_is_counted_anew_and_drawn(one_in_ten: Desk) -> None:
    code = with_row(one_in_ten, 131, 54)
    drawn(one_in_ten, code, start=4)
    take_back_last(one_in_ten, code)
    [row] = table_of(one_in_ten, code).groups
    change_group(one_in_ten, row.id, seen=row.version, pieces=53)
    second = with_row(one_in_ten, 132, 12)
    assert drawn(one_in_ten, code, start=2) == 6
    # 2, 12, … 52 of the 53: nine more are passed over, by the draw that stands and not by the one taken back.
    assert ahead_of(one_in_ten, second).first == 10 - 1


def test_a_share_of_none_is_taken_back_too(one_in_ten: Desk) -> None:
    code = with_row(one_in_ten, 131, 3)
    assert drawn(one_in_ten, code, start=9) == 0
    assert take_back_last(one_in_ten, code).deed == "draw_share"
    assert ahead_of(one_in_ten, code).needs_lot
    do_again(one_in_ten, code)
    assert shares_ahead(one_in_ten, code) == ()
    take_back_last(one_in_ten, code)
    assert take_back_last(one_in_ten, code).deed == "add_group"
    assert table_of(one_in_ten, code).groups == ()


def test_a_row_of_a_drawn_share_has_no_other_count_but_may_have_all_its_sherds_again(one_in_ten: Desk) -> None:
    code = dry_container(one_in_ten, 131, 30)
    row = add_group(one_in_ten, code, ware="MBU", part="body", pieces=11)
    drawn = draw_share(one_in_ten, row.id, seen=row.version, start=4)
    assert drawn.kept is not None
    left = drawn.discarded
    assert left is not None
    for pieces in (9, 15):
        with refused(one_in_ten, "share_counted"):
            change_group(one_in_ten, left.id, seen=left.version, pieces=pieces)
    noted = change_group(one_in_ten, left.id, seen=left.version, note="sooted")
    remove_group(one_in_ten, drawn.kept.id, seen=drawn.kept.version)
    whole = change_group(one_in_ten, left.id, seen=noted.version, pieces=11)
    assert change_group(one_in_ten, left.id, seen=whole.version, pieces=12).pieces == 12
    more = dry_container(one_in_ten, 132, 5)
    none = add_group(one_in_ten, more, ware="QRS", part="body", pieces=3)
    draw_share(one_in_ten, none.id, seen=none.version, start=4)
    with refused(one_in_ten, "share_counted"):
        change_group(one_in_ten, none.id, seen=none.version, pieces=5)
    prove_totals(one_in_ten)
    assert prove(one_in_ten).sound


def test_a_share_put_together_is_drawn_of_the_count_put_right_and_the_next_row_carries_that_on(
    one_in_ten: Desk,
) -> None:
    code, more = dry_container(one_in_ten, 131, 30), with_row(one_in_ten, 132, 8)
    row = add_group(one_in_ten, code, ware="MBU", part="body", pieces=11)
    first = draw_share(one_in_ten, row.id, seen=row.version, start=4)
    assert first.kept is not None
    assert first.discarded is not None
    remove_group(one_in_ten, first.kept.id, seen=first.kept.version)
    whole = change_group(one_in_ten, row.id, seen=first.discarded.version, pieces=11)
    take_back_last(one_in_ten, code)
    assert ahead_of(one_in_ten, more).first == 3
    do_again(one_in_ten, code)
    # The draw that was put together carries nothing on; nor is a row that has more by now taken for drawn.
    assert ahead_of(one_in_ten, more).needs_lot
    [whole] = table_of(one_in_ten, code).groups
    change_group(one_in_ten, row.id, seen=whole.version, pieces=15)
    assert (ahead_of(one_in_ten, code).laid_out, ahead_of(one_in_ten, code).needs_lot) == (15, True)
    # The 4th and the 14th of the fifteen; six more are passed over before the next: the 9th of the next row.
    assert drawn(one_in_ten, code, start=4) == 2
    ahead = ahead_of(one_in_ten, more)
    assert (ahead.first, ahead.share and ahead.share.kept) == (9, 0)
    prove_totals(one_in_ten)
    assert prove(one_in_ten).sound


def test_more_of_a_drawn_row_are_a_row_of_their_own_and_carry_its_share_on(one_in_ten: Desk) -> None:
    code, more = dry_container(one_in_ten, 131, 30), with_row(one_in_ten, 132, 8)
    row = add_group(one_in_ten, code, ware="MBU", part="body", pieces=11)
    draw_share(one_in_ten, row.id, seen=row.version, start=4)
    add_group(one_in_ten, code, ware="MBU", part="body", pieces=4)
    # As if fifteen lay there: the 14th is the third of the four.
    assert ahead_of(one_in_ten, code).first == 3
    assert drawn(one_in_ten, code) == 1
    assert ahead_of(one_in_ten, more).first == 9


def test_a_row_that_was_removed_comes_back_with_its_share_drawn(one_in_ten: Desk) -> None:
    code = with_row(one_in_ten, 131, 54)
    drawn(one_in_ten, code, start=4)
    row = table_of(one_in_ten, code).groups[0]
    assert row.decision is Decision.DISCARD
    remove_group(one_in_ten, row.id, seen=row.version)
    take_back_last(one_in_ten, code)
    assert shares_ahead(one_in_ten, code) == ()
    take_back_last(one_in_ten, code)
    assert ahead_of(one_in_ten, code).needs_lot
    prove_totals(one_in_ten)
