"""The day page and the evening sheet: what stands where, what needs a person, and every sherd of the season."""

from __future__ import annotations

from datetime import date

import pytest

from findsdesk.cli.day_in_words import balance
from findsdesk.desk.bagging import bag, bags_to_label
from findsdesk.desk.certificate import season_balances
from findsdesk.desk.checking_in import check_in, close_delivery
from findsdesk.desk.counting import count_again, log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.evening import evening
from findsdesk.desk.labels_waiting import labels_waiting
from findsdesk.desk.listed_containers import list_container
from findsdesk.desk.redoing import things_to_redo
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.sheets import redo_sheet
from findsdesk.desk.sorting import add_group, left_to_sort, remove_group, reopen, settle, table_of
from findsdesk.desk.sorting_table import dry_and_waiting
from findsdesk.desk.the_day import the_day
from findsdesk.desk.untagged import register_untagged
from findsdesk.desk.washing import dip_and_look, mark_dry, start_soak
from findsdesk.desk.yard import yard
from findsdesk.domain.routes import Hold, Standing
from findsdesk.ui.benches.day.state import season_figures
from findsdesk.ui.words_around import WordsAround
from tests.desk.at_the_table import dry_container
from tests.yard import DRY, advance, put_container, put_settled, sitting, statements_of

DAY = date(2026, 7, 14)


def test_everything_that_needs_a_person_stands_on_the_day_page(desk: Desk) -> None:
    list_container(desk, "122", deposit="2017")
    close_delivery(desk, DAY)
    differing = list_container(desk, "123", deposit="2017")
    check_in(desk, differing.code, deposit="2019")
    dip_and_look(desk, put_container(desk, "109"), seen=Hold.PAINTED)
    soaking = put_container(desk, "101")
    dip_and_look(desk, soaking)
    start_soak(desk, soaking, tub="4")
    register_untagged(desk, neighbours="left of 123")
    advance(desk, hours=41)
    page = the_day(desk)
    assert [(need.kind, need.numbers) for need in page.needs] == [
        ("not_on_pallet", ("122",)),
        ("soaking_too_long", ("101",)),
        ("held", ("109",)),
        ("other_deposit", ("123",)),
        ("untagged", ("P1",)),
    ]
    assert page.by_standing[Standing.SOAKING] == 1
    assert (page.waits.unaccounted, page.waits.soaking_too_long, page.waits.questions) == (1, 1, 1)
    assert (page.day_of_season, page.days_of_season) == (10, 42)


def test_every_sherd_of_the_season_is_the_sum_of_its_containers(desk: Desk) -> None:
    for number, pieces in (("131", 132), ("132", 88)):
        log_count(desk, put_container(desk, number), pieces=pieces)
    page = the_day(desk)
    assert (page.balance.counted, page.balance.unsorted) == (220, 220)
    assert (page.washed_today, page.pieces_today) == (2, 220)


def test_what_is_over_in_one_bucket_is_not_set_off_against_what_is_left_in_another(desk: Desk) -> None:
    """OWN: 30 left, 2 over; the day and the certificate say both, never 28."""
    over = dry_container(desk, 131, 10)
    add_group(desk, over, ware="QRS", part="body", pieces=12)
    dry_container(desk, 132, 30)
    page, (certified,) = the_day(desk), season_balances(desk, "2026")
    assert (page.unsorted, page.too_many) == (certified.unsorted, certified.over) == (30, 2)
    said = dict(balance(desk, page))
    assert (said["not yet sorted"], said["over"]) == (30, 2)
    shown = season_figures(page, WordsAround.of(desk))
    assert {"30 not yet sorted", "2 over"} <= {part.words for part in shown.parts}
    assert ("30", "not yet sorted") in shown.figures


def test_a_count_again_takes_the_place_of_the_first_in_the_totals_of_its_day(desk: Desk) -> None:
    codes = [put_container(desk, 131, deposit="2017"), put_container(desk, 132, deposit="2017")]
    for code in codes:
        log_count(desk, code, pieces=100_000, sure=True)
    count_again(desk, codes[0], pieces=1_000)
    count_again(desk, codes[0], pieces=100)
    assert yard(desk).pieces_today == the_day(desk).pieces_today == 100_100
    assert (yard(desk).counted_today, the_day(desk).washed_today) == (2, 2)
    assert [(line.washed, line.pieces) for line in evening(desk, DAY) if line.washed] == [(2, 100_100)]
    advance(desk, hours=24)
    count_again(desk, codes[1], pieces=200)
    assert yard(desk).counted_today == the_day(desk).washed_today == 0, "washed and counted the day before"
    assert the_day(desk, DAY).pieces_today == 100_100, "what stood in the evening of that day"


def test_the_evening_sheet_by_square(desk: Desk) -> None:
    tag = list_container(desk, "131", deposit="2017")
    check_in(desk, tag.code)
    log_count(sitting(desk, "Tessa"), tag.code, pieces=132)
    list_container(desk, "140", deposit="2019")
    close_delivery(desk, DAY)
    lines = {line.square: line for line in evening(desk, DAY)}
    assert (lines["A1"].came_in, lines["A1"].washed, lines["A1"].pieces) == (1, 1, 132)
    assert lines["A2"].questions == ("140?",)


def test_what_was_opened_again_is_not_settled_in_the_evening(desk: Desk) -> None:
    for number in (131, 132):
        put_settled(desk, number)

    def settled() -> int:
        return sum(one.read for one in evening(desk, DAY))

    assert settled() == 2
    reopen(desk, "132", reason="a rim was counted twice")
    assert settled() == 1
    settle(desk, "132", sure=True)
    assert settled() == 2, "settled and opened and settled: once"
    advance(desk, hours=24)
    reopen(desk, "132", reason="a rim was counted twice")
    assert settled() == 2, "the evening of that day stays as it was"


def test_what_is_dry_and_waits_is_one_number_on_the_page_and_on_the_rail(desk: Desk) -> None:
    laid_out = put_container(desk, 131)
    log_count(desk, laid_out, pieces=12)
    said_dry = put_container(desk, 132)
    log_count(desk, said_dry, pieces=8)
    mark_dry(desk, [said_dry])
    put_container(desk, 133, material="bone", steps=DRY)
    assert the_day(desk).waits.dry_waiting == dry_and_waiting(desk) == 1
    advance(desk, hours=9)
    assert the_day(desk).waits.dry_waiting == dry_and_waiting(desk) == len(left_to_sort(desk)) == 2


def test_bags_to_label_are_those_that_hold_something(desk: Desk) -> None:
    code = put_settled(desk, 131, kept=3)
    bag(desk, code)
    reopen(desk, code, reason="all of it was misread")
    (row, other) = table_of(desk, code).groups
    remove_group(desk, row.id, seen=row.version)
    add_group(desk, code, ware="QRS", part="body", pieces=3)
    settle(desk, code)
    bag(desk, code)
    assert the_day(desk).waits.bags_to_label == len(bags_to_label(desk)) == 1
    assert other.pieces == 10


def test_each_thing_to_redo_counts_once_however_it_is_asked_for(desk: Desk) -> None:
    put_settled(desk, 131, kept=22, marked=True)
    renumber_deposit(desk, "2017", to="2018", reason="misread")
    (need,) = [need for need in the_day(desk).needs if need.kind == "to_redo"]
    assert need.facts["n"] == labels_waiting(desk).again == sum(one.pieces for one in things_to_redo(desk)) == 23
    assert redo_sheet(desk).rows == 23


@pytest.mark.parametrize(
    ("asked_of", "begins_at"),
    [
        ("called_back_at IS NOT NULL", "SEARCH discard_line"),
        ("discard_list.signed_at IS NOT NULL", "SEARCH discard_list"),
        ("GROUP BY container.standing", "SEARCH container USING COVERING INDEX|SCAN container USING COVERING INDEX"),
    ],
)
def test_the_day_begins_at_the_few_lines_and_lists_not_at_all_containers(
    desk: Desk, asked_of: str, begins_at: str
) -> None:
    """In a store of 100,000 containers the day page took 483 ms, 270 of them since these began at the containers."""
    if desk.store.path is None:
        pytest.skip("the plan is told here as SQLite tells it")
    with statements_of(desk, reading=True) as heard:
        the_day(desk)
    (statement,) = [one for one in heard if asked_of in one]
    with desk.reading() as reading:
        plan = [
            row[3]
            for row in reading.session.connection().exec_driver_sql(
                f"EXPLAIN QUERY PLAN {statement}", (None,) * statement.count("?")
            )
        ]
    first = next(step for step in plan if step.startswith(("SEARCH", "SCAN")))
    assert first.startswith(tuple(begins_at.split("|"))), plan


def test_what_was_summed_of_the_season_stands_until_something_is_written(desk: Desk) -> None:
    put_settled(desk, 131, kept=22)
    first = the_day(desk)
    with statements_of(desk, reading=True) as heard:
        again = the_day(desk)
    assert (again.balance, again.waits.to_mark) == (first.balance, first.waits.to_mark)
    assert not [one for one in heard if "balance_total.counted)" in one or "AS unmarked" in one]
    put_settled(sitting(desk, "Mika"), 132, kept=22)
    with statements_of(desk, reading=True) as heard:
        after = the_day(desk)
    assert [one for one in heard if "balance_total.counted)" in one]
    assert [one for one in heard if "AS unmarked" in one]
    assert after.balance.counted == 2 * first.balance.counted > 0
    assert after.waits.to_mark == 2 * first.waits.to_mark > 0
