"""Deposits opened, closed and changed; a second open one; days that do not fit."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from findsdesk.desk.deposit_facts import DepositFacts, day_doubt, deposit_facts, open_deposits
from findsdesk.desk.deposits import change_deposit, close_deposit, open_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.editing import Differing
from findsdesk.domain.deposits import Security
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.settings import SecondOpenDeposit
from tests.yard import act_lines_of, acts, last_said, put_container, sitting, with_settings


def test_a_deposit_opens_with_all_it_is_given(desk: Desk) -> None:
    opened = open_deposit(
        desk,
        " 2024 ",
        square="b3",
        kind="fill",
        opened=date(2026, 7, 13),
        supervisor="Bryn",
        description="Pale silt under the collapse",
        benchmark_mm=4210,
        backsight_mm=1325,
        foresight_mm=2070,
        security=Security.SEALED,
    )
    assert opened == DepositFacts(
        id=opened.id,
        version=1,
        number="2024",
        former_numbers=(),
        square="B3",
        kind="fill",
        opened=date(2026, 7, 13),
        closed=None,
        supervisor="Bryn Hallo",
        description="Pale silt under the collapse",
        opening_mm=3465,  # 4.210 + 1.325 − 2.070, by hand
        closing_mm=None,
        security=Security.SEALED,
        merged_into=None,
        containers=0,
        named="2024",
    )
    assert deposit_facts(desk, "2024") == opened
    assert last_said(desk) == "2024 (B3) · 4.210 + 1.325 − 2.070 = 3.465 m"
    assert [(line.kind, (line.after or {})["number"]) for line in act_lines_of(desk)] == [("deposit", "2024")]


def test_today_is_meant_when_nobody_says_a_day(desk: Desk) -> None:
    assert open_deposit(desk, "2024", square="B3").opened == date(2026, 7, 14)
    assert close_deposit(desk, "2024").closed == date(2026, 7, 14)


@pytest.mark.parametrize(
    ("code", "call"),
    [
        ("empty", lambda desk: open_deposit(desk, "  ", square="B3")),
        ("number_taken", lambda desk: open_deposit(desk, "2017", square="B3")),
        ("unknown_square", lambda desk: open_deposit(desk, "2024", square="Z9")),
        ("day_in_future", lambda desk: open_deposit(desk, "2024", square="B3", opened=date(2026, 7, 15))),
        ("outside_season", lambda desk: open_deposit(desk, "2024", square="B3", opened=date(2026, 6, 30))),
        ("elevation_range", lambda desk: open_deposit(desk, "2024", square="B3", opening_mm=10_000_001)),
        ("reading_incomplete", lambda desk: open_deposit(desk, "2024", square="B3", benchmark_mm=4210)),
        (
            "elevation_twice",
            lambda desk: close_deposit(
                desk, "2017", closing_mm=1, benchmark_mm=4210, backsight_mm=1325, foresight_mm=2070
            ),
        ),
        ("unknown_deposit", lambda desk: close_deposit(desk, "2999")),
        ("day_in_future", lambda desk: close_deposit(desk, "2017", closed=date(2026, 7, 15))),
        ("closed_first", lambda desk: close_deposit(desk, "2017", closed=date(2026, 7, 5))),
    ],
)
def test_what_cannot_be_is_refused_and_changes_nothing(
    desk: Desk, code: str, call: Callable[[Desk], DepositFacts]
) -> None:
    before = acts(desk)
    with pytest.raises(Refusal) as refused:
        call(desk)
    assert refused.value.code == code
    assert len(refused.value.in_words(desk.terms).split()) <= 25
    assert acts(desk) == before
    assert {facts.number for facts in open_deposits(desk)} == {"2003", "2017", "2019"}


def test_a_second_open_deposit_is_asked_about_refused_or_let_pass(desk: Desk) -> None:
    with pytest.raises(Question, match="second_open") as asked:
        open_deposit(desk, "2024", square="A1")
    assert asked.value.in_words(desk.terms) == "Context 2017 is still open in A1. Open 2024 beside it?"
    open_deposit(desk, "2024", square="A1", sure=True)
    assert last_said(desk) == "2024 (A1) · Context 2017 is still open in A1. Open 2024 beside it? ✓"

    with_settings(desk, second_open_deposit=SecondOpenDeposit.REFUSE)
    with pytest.raises(Refusal, match="second_open") as refused:
        open_deposit(desk, "2025", square="A2", sure=True)
    assert not isinstance(refused.value, Question)

    with_settings(desk, second_open_deposit=SecondOpenDeposit.ALLOW)
    assert open_deposit(desk, "2025", square="A2").number == "2025"


def test_one_deposit_may_follow_another_on_the_same_day(desk: Desk) -> None:
    close_deposit(desk, "2017", closed=date(2026, 7, 10))
    assert open_deposit(desk, "2024", square="A1", opened=date(2026, 7, 10)).number == "2024"
    close_deposit(desk, "2024", closed=date(2026, 7, 12))
    with pytest.raises(Question, match="second_open"):
        open_deposit(desk, "2025", square="A1", opened=date(2026, 7, 11))


def test_a_deposit_closes_once_with_its_elevation(desk: Desk) -> None:
    seen = open_deposit(desk, "2024", square="B3", opening_mm=3465)
    with pytest.raises(Question, match="closes_higher"):
        close_deposit(desk, "2024", closing_mm=3500)
    closed = close_deposit(desk, "2024", benchmark_mm=4210, backsight_mm=1325, foresight_mm=2110)
    assert closed == replace(seen, version=2, closed=date(2026, 7, 14), closing_mm=3425)
    with pytest.raises(Refusal, match="already_closed"):
        close_deposit(desk, "2024")


def test_closing_before_its_last_finds_is_a_question(desk: Desk) -> None:
    put_container(desk, 131, deposit="2017", collected_on=date(2026, 7, 13))
    with pytest.raises(Question, match="later_finds") as asked:
        close_deposit(desk, "2017", closed=date(2026, 7, 11))
    assert "Bucket 131 of context 2017" in asked.value.in_words(desk.terms)
    assert close_deposit(desk, "2017", closed=date(2026, 7, 11), sure=True).closed == date(2026, 7, 11)


def test_a_day_outside_the_open_days_is_a_question(desk: Desk) -> None:
    facts = close_deposit(desk, "2017", closed=date(2026, 7, 10))
    assert day_doubt(facts, date(2026, 7, 6)) is None
    assert day_doubt(facts, date(2026, 7, 10)) is None
    assert day_doubt(facts, None) is None
    early, late = day_doubt(facts, date(2026, 7, 5)), day_doubt(facts, date(2026, 7, 11))
    assert isinstance(early, Question)
    assert early.code == "before_open_days"
    assert isinstance(late, Question)
    assert (
        late.in_words(desk.terms) == "Context 2017 closed on 2026-07-10, and this is of 2026-07-11. Is the day right?"
    )


def test_facts_are_changed_and_others_stay(desk: Desk) -> None:
    seen = deposit_facts(desk, "2017")
    changed = change_deposit(desk, "2017", seen=seen.version, kind="floor", supervisor="Bryn", closing_mm=0)
    assert changed == replace(seen, version=2, kind="floor", supervisor="Bryn Hallo", closing_mm=0)


def test_an_edit_begun_on_an_older_version_shows_mine_theirs_and_before(desk: Desk) -> None:
    seen = deposit_facts(desk, "2017")
    change_deposit(
        sitting(desk, "Bryn"),
        "2017",
        seen=seen.version,
        description="Floor",
        opened=date(2026, 7, 7),
        square="A4",
    )
    change_deposit(sitting(desk, "Mika"), "2017", seen=seen.version + 1, description="Trampled")
    with pytest.raises(Refusal, match="changed_meanwhile") as refused:
        change_deposit(desk, "2017", seen=seen.version, description="Fill", security=Security.UNSEALED)
    assert refused.value.facts["who"] == "Mika Sool"
    differences = refused.value.facts["differences"]
    assert isinstance(differences, tuple)
    assert set(differences) == {
        Differing("description", mine="Fill", theirs="Trampled", before=""),
        Differing("security", mine="unsealed", theirs="sealed", before="sealed"),
        Differing("square", mine="A1", theirs="A4", before="A1"),
        Differing("opened", mine="2026-07-06", theirs="2026-07-07", before="2026-07-06"),
    }
    assert deposit_facts(desk, "2017").description == "Trampled"


def test_reopening_asks_as_opening_does(desk: Desk) -> None:
    close_deposit(desk, "2017", closed=date(2026, 7, 10), closing_mm=3000)
    open_deposit(desk, "2024", square="A1", opened=date(2026, 7, 10))
    seen = deposit_facts(desk, "2017")
    with pytest.raises(Question, match="second_open"):
        change_deposit(desk, "2017", seen=seen.version, reopened=True)
    reopened = change_deposit(desk, "2017", seen=seen.version, reopened=True, sure=True)
    assert (reopened.closed, reopened.closing_mm) == (None, None)


def test_open_deposits_of_a_square(desk: Desk) -> None:
    assert [facts.number for facts in open_deposits(desk, "A1")] == ["2017"]
    close_deposit(desk, "2017")
    assert open_deposits(desk, "A1") == ()


def test_a_kind_nobody_knows_is_asked_about_with_the_near_ones(desk: Desk) -> None:
    before = acts(desk)
    with pytest.raises(Question, match="unknown_kind") as asked:
        open_deposit(desk, "2024", square="B3", kind="flor")
    assert "floor" in str(asked.value.facts["near"])
    assert acts(desk) == before
    with pytest.raises(Question, match="unknown_kind"):
        change_deposit(desk, "2017", kind="xx")
    open_deposit(desk, "2024", square="B3", kind="kiln waste", sure=True)
    assert "kiln waste" in last_said(desk)
    assert open_deposit(desk, "2025", square="B4", kind="Kiln waste").kind == "Kiln waste"
