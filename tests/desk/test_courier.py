"""Courier files: two stores that parted come to the same records, and nothing is overwritten unseen."""

from __future__ import annotations

from pathlib import Path

from findsdesk.desk.clashes import clashes, decide_clash
from findsdesk.desk.counting import log_count
from findsdesk.desk.deposits import change_deposit, open_deposit
from findsdesk.desk.proving import prove
from findsdesk.desk.setting_up import add_ware
from findsdesk.desk.tags import issue_tags
from tests.desk.two_stores import both_ways, brought, parted, records_of
from tests.yard import LOOKED_AT, put_container, put_settled


def sound(desk) -> None:
    assert [one.in_words(desk.terms) for one in prove(desk).findings] == []


def looked_at(desk) -> str:
    return put_container(desk, 131, steps=LOOKED_AT)


def test_what_each_did_apart_is_in_both_afterwards(tmp_path: Path) -> None:
    with parted(tmp_path, looked_at) as (home, trench):
        log_count(home, "131", pieces=40)
        issue_tags(trench, how_many=3)
        put_settled(trench, 140)
        taken = brought(trench, home, tmp_path)
        assert (taken.clashes, taken.same, taken.numbers) == (0, 0, 0)
        brought(home, trench, tmp_path)
        sound(home)
        sound(trench)
        assert records_of(home) == records_of(trench)
        again = brought(trench, home, tmp_path)
        assert again.acts == 1  # the act of taking itself


def test_clashes(tmp_path: Path) -> None:
    with parted(tmp_path, looked_at) as (home, trench):
        log_count(home, "131", pieces=40)
        log_count(trench, "131", pieces=42)
        change_deposit(home, "2017", seen=1, description="floor")
        change_deposit(trench, "2017", seen=1, description="floor fill, burnt")
        add_ware(home, code="NEW", name="New Ware", earliest=1, latest=2)
        add_ware(trench, code="NEW", name="Newer Ware", earliest=1, latest=2)
        put_settled(trench, 150, ware="NEW")
        open_deposit(home, "2044", square="C1", kind="layer", sure=True)
        open_deposit(trench, "2044", square="C1", kind="layer", sure=True)
        both_ways(home, trench, tmp_path)
        sound(home)
        sound(trench)
        assert records_of(home) == records_of(trench)
        for one in clashes(home):
            print(one)
            decide_clash(home, one.id, keep=one.choices[-1])
        sound(home)
        both_ways(home, trench, tmp_path)
        sound(trench)
        assert records_of(home) == records_of(trench)
        assert not clashes(trench)
