"""The law of balance, against a table of real sherds that are moved about."""

from __future__ import annotations

from collections import Counter
from dataclasses import fields

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.balance import Decision, Entry, Ledger, grams_agree, may_settle, needs_lead
from findsdesk.domain.refusals import Refusal

LEAVING = [Entry.MOVED_OUT, Entry.USED_UP, Entry.NOT_A_SHERD, Entry.NOT_FOUND]
COMING = [Entry.COUNTED, Entry.FOUND_MORE, Entry.ARRIVED]
DEEDS = [*COMING, *LEAVING, *Decision]


def test_the_afternoon_of_the_invented_excavation() -> None:
    """132 counted, 131 entered, the last is a pebble: the bucket settles."""
    ledger = Ledger().plus(Entry.COUNTED, 132)
    ledger = ledger.with_group(Decision.KEEP, 11).with_group(Decision.DISCARD, 54).with_group(Decision.MEND, 9)
    assert (ledger.accounted, ledger.unsorted) == (74, 58)
    ledger = ledger.with_group(Decision.DISCARD, 57)
    with pytest.raises(Refusal) as caught:
        may_settle(ledger, {"number": "131"})
    assert caught.value.code == "left_unsorted"
    assert caught.value.in_words().startswith("Container 131: 1 of 132")
    ledger = ledger.plus(Entry.NOT_A_SHERD, 1)
    assert ledger.balances
    may_settle(ledger)


def test_too_many_are_shown_as_over() -> None:
    ledger = Ledger(counted=10).with_group(Decision.KEEP, 12)
    assert (ledger.over, ledger.unsorted, ledger.balances) == (2, -2, False)
    with pytest.raises(Refusal) as caught:
        may_settle(ledger, {"number": "87"})
    assert caught.value.code == "over"
    assert "2 pieces more than the 10" in caught.value.in_words()
    may_settle(ledger.plus(Entry.RECOUNTED, 2))


def test_seven_bones_among_a_hundred_and_forty() -> None:
    """The pieces leave one ledger and arrive in another; together they are what was counted."""
    sherds = Ledger().plus(Entry.COUNTED, 140).plus(Entry.MOVED_OUT, 7)
    bones = Ledger().plus(Entry.ARRIVED, 7)
    assert sherds.unsorted == 133
    both = Ledger.sum([sherds, bones])
    assert both == sherds + bones
    assert both.unsorted == 140


def test_a_signature_changes_only_where_the_discards_stand() -> None:
    ledger = Ledger(counted=54).with_group(Decision.DISCARD, 54).signed_for(50)
    assert (ledger.to_discard, ledger.discarded, ledger.balances) == (4, 50, True)


@given(st.lists(st.tuples(st.sampled_from(DEEDS), st.integers(0, 40))))
def test_the_ledger_says_what_lies_on_the_table(deeds: list[tuple[Entry | Decision, int]]) -> None:
    """Every sherd is one thing with one fate; only as many can leave the heap as lie on it."""
    fates: list[str] = []
    ledger = Ledger()
    for deed, wanted in deeds:
        if deed in COMING:
            fates += [""] * wanted
            ledger = ledger.plus(Entry(deed), wanted)
            continue
        heap = [at for at, fate in enumerate(fates) if not fate][:wanted]
        for at in heap:
            fates[at] = deed
        ledger = ledger.with_group(deed, len(heap)) if isinstance(deed, Decision) else ledger.plus(deed, len(heap))
    lying = Counter(fates)
    assert ledger.expected == len(fates)
    assert ledger.unsorted == lying[""]
    assert ledger.balances == (lying[""] == 0)
    assert ledger.kept == lying[Decision.KEEP] + lying[Decision.MEND]
    assert ledger.on_hold == lying[Decision.HOLD]
    assert ledger.over == 0


@given(st.lists(st.integers(0, 200), min_size=1), st.integers(0, 200), st.integers(0, 50))
def test_a_recount_enters_the_difference_to_what_lies_there(counts: list[int], taken_out: int, more: int) -> None:
    """Whatever was counted wrong before: after the last recount the ledger expects what was last counted there."""
    ledger = Ledger().plus(Entry.COUNTED, counts[0]).plus(Entry.USED_UP, taken_out).plus(Entry.FOUND_MORE, more)
    for count in counts:
        ledger = ledger.plus(Entry.RECOUNTED, count - ledger.unsorted)
        assert ledger.unsorted == count


LEDGERS = st.builds(Ledger, **{field.name: st.integers(0, 1000) for field in fields(Ledger)})


@given(LEDGERS, st.sampled_from(Entry), st.integers(-500, 500))
def test_an_entry_is_answered_by_its_opposite(ledger: Ledger, entry: Entry, pieces: int) -> None:
    assert ledger.plus(entry, pieces).plus(entry, -pieces) == ledger


@given(st.lists(LEDGERS))
def test_the_excavation_balances_as_the_sum_of_its_containers(ledgers: list[Ledger]) -> None:
    total = Ledger.sum(ledgers)
    assert total.expected == sum(ledger.expected for ledger in ledgers)
    assert total.unsorted == sum(ledger.unsorted for ledger in ledgers)


def test_many_not_found_need_the_lead() -> None:
    assert not needs_lead(2, 100, 20)
    assert needs_lead(3, 100, 20)
    assert needs_lead(1, 0, 20)
    assert not needs_lead(0, 0, 20)
    assert needs_lead(1, 1000, 0)


def test_dry_grams_agree_within_the_tolerance() -> None:
    assert grams_agree(10_000, 10_200, 20)
    assert grams_agree(10_000, 9_800, 20)
    assert not grams_agree(10_000, 9_799, 20)
    assert grams_agree(0, 0, 20)
    assert not grams_agree(0, 1, 20)
