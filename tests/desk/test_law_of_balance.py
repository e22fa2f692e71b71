"""The law of balance through the real use cases: whatever is written in whatever order, the ledger is the sum of it.

Checked against a plain sum kept beside it, and against the rows of the store summed afresh.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from findsdesk.desk.counting import count_again
from findsdesk.desk.desk import Desk
from findsdesk.desk.sorting import (
    add_group,
    answer_entry,
    change_group,
    explain,
    remove_group,
    settle,
    table_of,
    take_back_last,
)
from findsdesk.domain.balance import Decision, Entry
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.standings import Standing
from tests.desk.at_the_table import dry_container, prove_totals
from tests.yard import new_yard

NUMBERS = count(1000)
PIECES = st.integers(1, 40)
DECISIONS = st.sampled_from(list(Decision))
EXPLAINED = st.sampled_from([Entry.FOUND_MORE, Entry.NOT_A_SHERD, Entry.NOT_FOUND, Entry.USED_UP])
WARES = st.sampled_from(["QRS", "TGY", ""])
ACTS = st.one_of(
    st.tuples(st.just("add"), WARES, PIECES, DECISIONS),
    st.tuples(st.just("change"), WARES, PIECES, DECISIONS),
    st.tuples(st.just("remove")),
    st.tuples(st.just("take back")),
    st.tuples(st.just("explain"), EXPLAINED, PIECES),
    st.tuples(st.just("answer")),
    st.tuples(st.just("count again"), st.integers(0, 60)),
)


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """Return one yard for all examples: each sorts a container of its own."""
    folder: Path = tmp_path_factory.mktemp("law")
    opened = new_yard(folder)
    yield opened
    opened.close()


def reason(decision: Decision) -> str:
    return "modern" if decision is Decision.DISCARD else ""


def do(desk: Desk, code: str, act: tuple[object, ...]) -> None:
    """Do one act at the table; one that finds nothing to act on does nothing."""
    table = table_of(desk, code)
    kind, *facts = act
    if kind == "add":
        ware, pieces, decision = facts
        assert isinstance(ware, str)
        assert isinstance(pieces, int)
        assert isinstance(decision, Decision)
        add_group(
            desk,
            code,
            ware=ware,
            part="body",
            pieces=pieces,
            tenths=pieces * 175,
            decision=decision,
            reason=reason(decision),
        )
    elif kind == "change" and table.last:
        ware, pieces, decision = facts
        assert isinstance(ware, str)
        assert isinstance(pieces, int)
        assert isinstance(decision, Decision)
        change_group(
            desk,
            table.last.id,
            seen=table.last.version,
            ware=ware,
            pieces=pieces,
            decision=decision,
            reason=reason(decision),
        )
    elif kind == "remove" and table.groups:
        remove_group(desk, table.groups[0].id, seen=table.groups[0].version)
    elif kind == "take back":
        taken_back(desk, code)
    elif kind == "explain":
        entry, pieces = facts
        assert isinstance(entry, Entry)
        assert isinstance(pieces, int)
        explain(desk, code, entry, pieces=pieces, why="")
    elif kind == "answer":
        open_ones = [row for row in table.entries if row.answers_id is None and not row.answered]
        for row in open_ones[1:2]:
            if row.kind is not Entry.RECOUNTED:
                answer_entry(desk, row.id, why="wrong")
    elif kind == "count again":
        (pieces,) = facts
        assert isinstance(pieces, int)
        count_again(desk, code, pieces=pieces or 1, why="")


def taken_back(desk: Desk, code: str) -> None:
    try:
        take_back_last(desk, code)
    except Refusal as refusal:
        if refusal.code not in ("nothing_to_take_back", "stays_written"):
            raise


@given(counted=st.integers(1, 60), acts=st.lists(ACTS, max_size=9))
@settings(max_examples=15, deadline=None)
def test_whatever_is_written_the_law_holds(yard: Desk, counted: int, acts: list[tuple[object, ...]]) -> None:
    code = dry_container(yard, next(NUMBERS), counted)
    for act in acts:
        do(yard, code, act)
    table = table_of(yard, code)
    sums = dict.fromkeys(Decision, 0)
    for row in table.groups:
        sums[row.decision] += row.pieces
    entered = {kind: sum(row.pieces for row in table.entries if row.kind is kind) for kind in Entry}
    ledger = table.ledger
    assert ledger.counted == entered[Entry.COUNTED] + entered[Entry.RECOUNTED]
    assert (ledger.kept, ledger.on_hold, ledger.to_discard) == (
        sums[Decision.KEEP] + sums[Decision.MEND],
        sums[Decision.HOLD],
        sums[Decision.DISCARD],
    )
    assert ledger.counted + ledger.found_more == (
        sum(sums.values())
        + entered[Entry.USED_UP]
        + entered[Entry.NOT_A_SHERD]
        + entered[Entry.NOT_FOUND]
        + ledger.unsorted
    )
    prove_totals(yard)
    settles_exactly_when_it_balances(yard, code, ledger.unsorted)


def settles_exactly_when_it_balances(desk: Desk, code: str, unsorted: int) -> None:
    table = table_of(desk, code)
    if table.standing is not Standing.SORTING:
        return
    if unsorted:
        with pytest.raises(Refusal) as caught:
            settle(desk, code)
        assert caught.value.code == ("left_unsorted" if unsorted > 0 else "over")
        assert table_of(desk, code) == table
    else:
        assert settle(desk, code).ledger == table.ledger
