"""The day page and the evening sheet: what stands where, what needs a person, and every sherd of the season."""

from __future__ import annotations

from datetime import date

from findsdesk.desk.checking_in import check_in, close_delivery
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.evening import evening
from findsdesk.desk.listed_containers import list_container
from findsdesk.desk.the_day import the_day
from findsdesk.desk.untagged import register_untagged
from findsdesk.desk.washing import dip_and_look, start_soak
from findsdesk.domain.routes import Hold, Standing
from tests.yard import advance, put_container, sitting

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


def test_the_evening_sheet_by_square(desk: Desk) -> None:
    tag = list_container(desk, "131", deposit="2017")
    check_in(desk, tag.code)
    log_count(sitting(desk, "Tessa"), tag.code, pieces=132)
    list_container(desk, "140", deposit="2019")
    close_delivery(desk, DAY)
    lines = {line.square: line for line in evening(desk, DAY)}
    assert (lines["A1"].came_in, lines["A1"].washed, lines["A1"].pieces) == (1, 1, 132)
    assert lines["A2"].questions == ("140?",)
