"""The law of discards through the real use cases: in whatever order lists are made, signed, called back, carried away.

No sherd is lost, none counts twice, and what was carried away stays so.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import select

from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_lists import discard_lists
from findsdesk.desk.discards import call_back, carried_away, make_list, sign_list, take_off
from findsdesk.desk.ledgers import ledger_from
from findsdesk.desk.opening import open_store
from findsdesk.desk.pins import set_pin
from findsdesk.desk.proving import prove
from findsdesk.desk.sorting import reopen, settle
from findsdesk.domain.balance import Decision, Ledger
from findsdesk.domain.discards import Stage
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import BalanceTotal
from tests.yard import MORNING, Clock, new_yard, put_settled

PIN = "2406"
LISTS = st.integers(1, 4)
BUCKETS = st.sampled_from(["131", "132", "133"])
KEEPS = st.sampled_from([Decision.KEEP, Decision.MEND, Decision.HOLD])
ACTS = st.one_of(
    st.tuples(st.just("make")),
    st.tuples(st.just("sign"), LISTS),
    st.tuples(st.just("take off"), LISTS, BUCKETS, KEEPS),
    st.tuples(st.just("call back"), LISTS, BUCKETS, KEEPS),
    st.tuples(st.just("carry"), LISTS),
    st.tuples(st.just("reopen"), BUCKETS),
    st.tuples(st.just("settle"), BUCKETS),
)


def do(desk: Desk, act: tuple[object, ...]) -> None:
    """Do one act; one that is refused changes nothing."""
    kind, *facts = act
    number, bucket = (int(str(facts[0])) if facts and str(facts[0]).isdigit() else 0), str(facts[-1] if facts else "")
    deeds = {
        "make": lambda: make_list(desk),
        "sign": lambda: sign_list(desk, number, signer="Ilo", pin=PIN),
        "take off": lambda: take_off(desk, number, tags=[str(facts[1])], why="painted", to=Decision(str(facts[2]))),
        "call back": lambda: call_back(desk, number, tags=[str(facts[1])], why="joins", to=Decision(str(facts[2]))),
        "carry": lambda: carried_away(desk, number, where="pit", how="barrow", marker="tile"),
        "reopen": lambda: reopen(desk, bucket, reason="a join"),
        "settle": lambda: settle(desk, bucket),
    }
    before = desk.head()
    try:
        deeds[str(kind)]()
    except Refusal:
        assert desk.head() == before


def whole(desk: Desk) -> Ledger:
    with desk.reading() as reading:
        return Ledger.sum(ledger_from(row) for row in reading.session.execute(select(BalanceTotal)).scalars())


@pytest.fixture(scope="module")
def prepared(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the file of a yard with three settled containers of which some is discarded; each example takes a copy."""
    folder = tmp_path_factory.mktemp("discards")
    yard = new_yard(folder)
    for bucket, discarded in ((131, 10), (132, 12), (133, 7)):
        put_settled(yard, bucket, discarded=discarded)
    set_pin(yard, "Ilo", pin=PIN)
    yard.let_go()
    assert yard.store.path is not None
    return yard.store.path


@pytest.mark.skipif("FINDSDESK_TEST_SERVER" in os.environ, reason="each example takes a copy of a file")
@given(acts=st.lists(ACTS, max_size=12))
@settings(max_examples=10, deadline=None)
def test_no_sherd_is_lost_and_what_is_gone_stays_gone(
    prepared: Path, acts: list[tuple[object, ...]], tmp_path_factory: pytest.TempPathFactory
) -> None:
    copy = tmp_path_factory.mktemp("copy") / "tannery.findsdesk"
    shutil.copyfile(prepared, copy)
    desk, gone = open_store(copy, by="Oren", station="first", clock=Clock(MORNING)), 0
    try:
        for act in acts:
            do(desk, act)
            ledger = whole(desk)
            assert ledger.balances
            assert ledger.expected == 3 * 22 + 29
            lists = discard_lists(desk)
            signed = (Stage.SIGNED, Stage.INSPECTED, Stage.CARRIED)
            assert ledger.discarded == sum(one.pieces for one in lists if one.stage in signed)
            carried = sum(one.pieces for one in lists if one.stage is Stage.CARRIED)
            assert carried >= gone
            gone = carried
        assert prove(desk).sound
    finally:
        desk.let_go()
