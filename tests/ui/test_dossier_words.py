"""Dossiers in words: the life line, the one next step, balances, deposits under old numbers.

The order of the yard's work and who may do what is common practice, no source; the wording is ours.
"""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from findsdesk.desk.checking_in import check_in
from findsdesk.desk.counting import count_again, log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import find as find_thing
from findsdesk.desk.listed_containers import list_container
from findsdesk.desk.marking import check_marks, slip_bag, write_marks
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.tags import issue_tags
from findsdesk.desk.untagged import register_untagged
from findsdesk.desk.washing import dip_and_look, hand_on, stand_in_parts, start_soak
from findsdesk.domain.balance import Entry
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Hold
from findsdesk.domain.standings import StepKind
from findsdesk.ui import moments_in_words as times
from findsdesk.ui import store_work
from findsdesk.ui.answers import Tone
from findsdesk.ui.benches.sorting.table_words import ENTRY_IN_WORDS
from findsdesk.ui.dossier_words import LEDGER_IN_WORDS, facts_of
from findsdesk.ui.life_in_words import HEADS
from findsdesk.ui.next_step import answer_to
from findsdesk.ui.widgets.dossier_facts import DossierFacts, When
from findsdesk.ui.words_around import WordsAround
from tests.yard import DRY, SETTLED, SORTING, ZONE, advance, new_yard, put_container, put_settled, sitting


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """Return a desk in the invented yard with Tessa at it."""
    opened = new_yard(tmp_path, by="Tessa")
    yield opened
    opened.close()


def answer(desk: Desk, which: str) -> str:
    return answer_to(find_thing(desk, which), WordsAround.of(desk)).in_one_line()


def facts(desk: Desk, which: str) -> DossierFacts:
    return facts_of(find_thing(desk, which), WordsAround.of(desk))


def life(desk: Desk, which: str) -> list[str]:
    return [f"{step.head}{step.rest}" for step in facts(desk, which).life]


def test_the_morning_of_one_bucket(desk: Desk) -> None:
    issue_tags(sitting(desk, "Bryn"), how_many=3, supervisor="Bryn Hallo")
    advance(desk, hours=1)
    list_container(desk, "2", deposit="2017", collected_on=date(2026, 7, 14), supervisor="Bryn Hallo", sure=True)
    assert answer(desk, "2") == "Bucket 2, context 2017: expected: check it in"
    check_in(desk, "2")
    assert answer(desk, "2").endswith("dip and look, then the tub")
    dip_and_look(desk, "2")
    assert answer(desk, "2").endswith("into a tub")
    start_soak(desk, "2", tub="3")
    advance(desk, hours=2)
    assert answer(desk, "2").endswith("soaking 2 h, shortest 12 h")
    advance(desk, hours=14, minutes=36)
    assert answer(desk, "2").endswith(": count it")
    log_count(desk, "2", pieces=132)
    assert answer(desk, "2").endswith("drying in tray 1, dry from about 08:26")
    assert life(desk, "2") == [
        "Tag issued 14 July 06:50, block of Bryn",
        "On the field list 07:50 by Tessa",
        "Checked in 07:50 by Tessa",
        "Dipped and looked at 07:50 by Tessa, nothing seen",
        "Soaking 07:50 to 15 July 00:26, tub 3, 16 h 36",
        "Counted 15 July 00:26 by Tessa, 132 sherds",
        "In hand: drying in tray 1, dry from about 08:26",
        "Sorting",
        "Settled",
        "Marked and bagged",
    ]
    kinds = [step.when for step in facts(desk, "2").life]
    assert kinds == [When.BEHIND] * 6 + [When.NOW] + [When.AHEAD] * 3


def test_soaking_too_long_is_said(desk: Desk) -> None:
    put_container(desk, 101)
    dip_and_look(desk, "101")
    start_soak(desk, "101", tub="4")
    advance(desk, hours=41)
    assert answer(desk, "101").endswith("soaking too long: wash and count it now")


@pytest.mark.parametrize(
    ("material", "said"),
    [
        ("bone", "no water: to the bone crate, for trained hands"),
        ("metal", "no water: count it dry, metal crate"),
        ("glass", "wash it gently by hand, never in a tub"),
        ("charcoal", "leave it shut, to the sample shelf"),
        ("human_bone", "human remains: stop, cover, tell the director"),
    ],
)
def test_each_material_has_its_own_next_step(desk: Desk, material: str, said: str) -> None:
    put_container(desk, 7, material=material)
    assert answer(desk, "7").endswith(said)


def test_what_is_held_back_says_why(desk: Desk) -> None:
    put_container(desk, 109)
    dip_and_look(desk, "109", seen=Hold.PAINTED)
    assert answer(desk, "109").endswith("held back: painted. No water, no brush")
    assert "painted" in facts(desk, "109").line


@pytest.mark.parametrize(("steps", "said"), [(DRY, "dry: sort it"), (SORTING, "go on sorting"), (SETTLED, "bag it")])
def test_the_way_after_the_wash(desk: Desk, steps: tuple[StepKind, ...], said: str) -> None:
    put_container(desk, 12, steps=steps)
    assert answer(desk, "12").endswith(said)


def test_what_is_away_must_come_back_first(desk: Desk) -> None:
    put_container(desk, 11, material="bone")
    hand_on(desk, "11", to="the bone specialist")
    assert "away" in answer(desk, "11")


def test_both_counts_stay_readable(desk: Desk) -> None:
    put_container(desk, 4)
    log_count(desk, "4", pieces=88)
    count_again(desk, "4", pieces=91, why="volunteer unsure")
    pieces = next(section for section in facts(desk, "4").sections if section.title == "Its counts")
    assert pieces.rows == (("Count", "91 sherds, Tessa"), ("First count", "88 sherds, Tessa"))


def test_parts_are_shown_where_there_are_several(desk: Desk) -> None:
    put_container(desk, 130)
    dip_and_look(desk, "130")
    stand_in_parts(desk, "130", parts=2)
    start_soak(desk, "130", tub="2", part=1)
    parts = next(section for section in facts(desk, "130").sections if section.title == "In parts")
    assert parts.rows == (("1 of 2", "tub 2"), ("2 of 2", "in the yard"))


def test_a_find_without_a_tag_says_what_stood_beside_it(desk: Desk) -> None:
    find = register_untagged(desk, neighbours="between 130 and 132", deposit="2017")
    assert life(desk, find.code)[:2] == [
        "Provisional number given 14 July 06:50",
        "Checked in 06:50 by Tessa, between 130 and 132",
    ]


def test_an_open_question_stands_in_the_dossier(desk: Desk) -> None:
    put_container(desk, 119, steps=(StepKind.ISSUED,))
    check_in(desk, "119", deposit="2019")
    asked = facts(desk, "119").sections[0]
    assert (asked.title, asked.text) == ("Open question", "The tag says 2019, the list says 2017: which is it?")


def test_cautions_are_those_of_the_work_ahead(desk: Desk) -> None:
    put_container(desk, 3, steps=(StepKind.ISSUED,))
    assert [caution.head[:4] for caution in facts(desk, "3").cautions] == ["Lift"]
    put_container(desk, 5, material="human_bone")
    assert facts(desk, "5").cautions[0].head.startswith("Human remains: stop")


def test_a_deposit_answers_to_its_old_number(desk: Desk) -> None:
    put_container(desk, 3, deposit="2003")
    renumber_deposit(desk, "2003", to="2031", reason="written down twice")
    assert answer(desk, "2003") == "Context 2031, once 2003: square B2, one bucket"
    shown = facts(desk, "2003")
    assert (shown.title, shown.aside) == ("Context 2031", "square B2")
    assert shown.sections[-1].rows == (("3", "arrived"),)


def test_every_step_has_a_head() -> None:
    assert set(HEADS) == set(StepKind)


def test_a_place_or_a_command_is_no_find(desk: Desk) -> None:
    tub = make_code("TQ", Kind.PLACE, 3)
    found = store_work.find(desk, tub)
    assert found.thing == found.thing.__class__("TQ", Kind.PLACE, 3)  # type: ignore[call-arg]
    assert found.answer.tone is Tone.REFUSED
    assert found.dossier is None


def test_nothing_is_found_while_nothing_is_open() -> None:
    with pytest.raises(Refusal) as refused:
        store_work.find(None, "118")
    assert refused.value.code == "not_open"


def test_things_are_shown_by_kind_and_id_or_number(desk: Desk) -> None:
    code = put_container(desk, 118)
    thing = find_thing(desk, code)
    number = thing.container_id  # type: ignore[union-attr]
    assert store_work.thing(desk, "container", number).dossier == store_work.find(desk, code).dossier
    assert store_work.thing(desk, "deposit", "2017").dossier.title == "Context 2017"  # type: ignore[union-attr]
    deposit = find_thing(desk, "2017").deposit_id
    assert deposit is not None
    assert store_work.thing(desk, "deposit", deposit).answer.head == "Context 2017"


def test_spans_as_people_say_them() -> None:
    now = datetime(2026, 7, 15, 7, 50, tzinfo=ZONE)
    assert [times.hours(h) for h in (0.6, 16.6, 17.0, 41.2, 49.0)] == ["36 min", "16 h 36", "17 h", "41 h 12", "49 h"]
    assert times.since(now - timedelta(hours=1), now, ZONE) == "since 06:50"
    assert times.since(now - timedelta(days=1), now, ZONE) == "yesterday"
    assert times.since(now - timedelta(days=5), now, ZONE) == "Friday"
    assert times.since(now - timedelta(days=12), now, ZONE) == "3 July"
    assert times.long_day(date(2026, 7, 15)) == "Wednesday 15 July"
    assert times.day_in_words(date(2024, 7, 30), now.date()) == "30 July 2024"
    assert times.age(now - timedelta(minutes=14), now) == "14 min"
    assert times.age(now - timedelta(hours=73), now) == "3 days"


def test_the_ledger_is_told_in_the_words_of_the_sorting_table() -> None:
    ledger = dict(LEDGER_IN_WORDS)
    assert ledger["not_a_sherd"] == ENTRY_IN_WORDS[Entry.NOT_A_SHERD]
    assert ledger["not_found"] == ENTRY_IN_WORDS[Entry.NOT_FOUND]
    assert ledger["moved_out"] == ENTRY_IN_WORDS[Entry.MOVED_OUT]


def test_marks_are_told_text_by_text_as_they_were_written(desk: Desk) -> None:
    put_settled(desk, 131)
    write_marks(desk, "131", pieces=10, who="Lio")
    check_marks(desk, "131")
    renumber_deposit(desk, "2017", to="2018", reason="misread")
    slip_bag(desk, "131", pieces=2)
    around = WordsAround.of(desk)
    section = next(one for one in facts_of(find_thing(desk, "131"), around).sections if one.title == "Its marks")
    assert section.text.splitlines() == [
        "VE-26-014 / 2017-131: 10 marked, 1 checked",
        "VE-26-014 / 2018-131: 2 with a slip",
    ]
