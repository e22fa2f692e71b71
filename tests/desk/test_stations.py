"""Two stations: each its own chain, no number twice, the same act written once."""

from __future__ import annotations

import uuid

import pytest

from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.opening import at_station
from findsdesk.desk.stations import set_numbers_aside
from findsdesk.desk.tags import issue_tags
from findsdesk.domain.refusals import Refusal
from tests.yard import acts, put_container


def test_numbers_set_aside_are_given_only_at_their_station(desk: Desk) -> None:
    trench = at_station(desk, "trench laptop")
    aside = set_numbers_aside(desk, station="trench laptop", how_many=5)
    here = issue_tags(desk, how_many=3)
    there = issue_tags(trench, how_many=3)
    assert (there.first_number, there.last_number) == (str(aside.first_number), str(aside.first_number + 2))
    assert here.first_number == str(aside.last_number + 1)
    codes = [tag.code for tag in (*here.tags, *there.tags)]
    assert len(set(codes)) == 6


def test_a_used_up_block_goes_on_from_the_common_series(desk: Desk) -> None:
    trench = at_station(desk, "trench laptop")
    set_numbers_aside(desk, station="trench laptop", how_many=2)
    issue_tags(trench, how_many=2)
    assert issue_tags(trench, how_many=1).first_number == "3"


def test_too_many_numbers_are_refused(desk: Desk) -> None:
    with pytest.raises(Refusal, match="numbers_at_once"):
        set_numbers_aside(desk, station="trench laptop", how_many=0)


def test_an_act_sent_twice_is_written_once(desk: Desk) -> None:
    code = put_container(desk, "131")
    act = str(uuid.uuid4())
    log_count(desk.as_act(act), code, pieces=12)
    before = acts(desk)
    with pytest.raises(Refusal, match="already_written"):
        log_count(desk.as_act(act), code, pieces=12)
    assert acts(desk) == before
