"""The wash yard through its use cases: dip and look, tub, count, tray; and what is refused on the way."""

from __future__ import annotations

from datetime import timedelta

import pytest

from findsdesk.desk.counting import count_again, log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.moving import put_together, swap_tags, take_out
from findsdesk.desk.washing import dip_and_look, mark_dry, release, stand_in_parts, start_soak, step_back
from findsdesk.desk.yard import yard
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.routes import Hold, Standing, StepKind
from findsdesk.store.models import BalanceTotal
from tests.yard import acts, advance, put_container, put_containers, sitting, standing_of


@pytest.fixture
def wash(desk: Desk) -> Desk:
    return sitting(desk, "Tessa")


def in_tub(desk: Desk, number: str, tub: str = "1") -> str:
    code = put_container(desk, number)
    dip_and_look(desk, code)
    start_soak(desk, code, tub=tub)
    return code


def dossier(desk: Desk, which: str) -> Dossier:
    found = find(desk, which)
    assert isinstance(found, Dossier)
    return found


def test_a_count_says_washed_and_names_the_next_free_tray(wash: Desk) -> None:
    first, second = in_tub(wash, "131"), in_tub(wash, "132")
    advance(wash, hours=16)
    counted = log_count(wash, first, pieces=132)
    assert (counted.trays, counted.next_tray) == (("1",), "2")
    assert standing_of(wash, first) is Standing.DRYING
    assert log_count(wash, second, pieces=88).trays == ("2",)
    assert dossier(wash, first).ledger.expected == 132
    assert yard(wash).pieces_today == 220


def test_water_only_after_somebody_looked(wash: Desk) -> None:
    code = put_container(wash, "131")
    before = acts(wash)
    with pytest.raises(Refusal) as refused:
        start_soak(wash, code, tub="1")
    assert refused.value.code == "look_first"
    assert acts(wash) == before
    assert standing_of(wash, code) is Standing.ARRIVED


def test_bone_is_refused_for_the_tub_and_stays_in_its_crate(wash: Desk) -> None:
    code = put_container(wash, "140", material="bone")
    with pytest.raises(Refusal) as refused:
        start_soak(wash, code, tub="1")
    assert refused.value.code == "never_soaked"
    assert "140" in refused.value.in_words(wash.terms)


def test_painted_waits_for_the_ceramicist_and_no_volunteer_starts_it(wash: Desk) -> None:
    code = put_container(wash, "109")
    dip_and_look(wash, code, seen=Hold.PAINTED)
    assert [slip.number for slip in yard(wash).held] == ["109"]
    for attempt in (lambda: start_soak(wash, code, tub="1"), lambda: log_count(wash, code, pieces=3)):
        with pytest.raises(Refusal) as refused:
            attempt()
        assert refused.value.code == "held_back"
    with pytest.raises(Refusal, match="ceramicist_releases"):
        release(wash, code, reason="looks sound")
    release(sitting(wash, "Oren"), code, reason="paint holds")
    assert start_soak(wash, code, tub="1").standing is Standing.SOAKING


def test_a_second_count_stands_and_the_first_stays_readable(wash: Desk) -> None:
    code = in_tub(wash, "131")
    log_count(wash, code, pieces=88)
    with pytest.raises(Refusal, match="already_counted"):
        log_count(wash, code, pieces=91)
    again = count_again(wash, code, pieces=91, why="stuck together")
    assert (again.before, again.pieces) == (88, 91)
    life = dossier(wash, code)
    assert [count.pieces for count in life.counts] == [88, 91]
    assert life.ledger.expected == 91


def test_a_recount_that_changes_where_it_stands_changes_where_it_lies(wash: Desk) -> None:
    code = in_tub(wash, "131")
    log_count(wash, code, pieces=3)
    assert count_again(wash, code, pieces=3, why="sure").trays == ()
    count_again(wash, code, pieces=0, why="stones")
    assert dossier(wash, code).stands_at[0].kind == "gone"
    assert count_again(wash, code, pieces=2, why="two under the stones").trays == ("1",)
    step_back(wash, code, to=Standing.SOAKING, reason="still muddy")
    assert dossier(wash, code).stands_at[0].place == "1"
    assert count_again(wash, code, pieces=2).trays == ("1",)
    assert dossier(wash, code).stands_at[0].kind == "tray"


def test_zero_is_empty_after_washing(wash: Desk) -> None:
    code = in_tub(wash, "133")
    assert log_count(wash, code, pieces=0).standing is Standing.EMPTY
    assert yard(wash).next_tray == "1"


def test_wet_grams_stay_out_of_the_balance(wash: Desk) -> None:
    wet, dry = in_tub(wash, "131"), in_tub(wash, "132")
    log_count(wash, wet, pieces=10, tenths=2500, wet=True)
    log_count(wash, dry, pieces=10, tenths=2000)
    assert dossier(wash, wet).counts[0].wet
    with wash.reading() as reading:
        tenths = {row.container_id: row.counted_tenths for row in reading.session.query(BalanceTotal)}
    assert tenths == {dossier(wash, wet).container_id: 0, dossier(wash, dry).container_id: 2000}


def test_grams_weighed_again_stand_in_the_balance(wash: Desk) -> None:
    code = in_tub(wash, "131")
    log_count(wash, code, pieces=10, tenths=2500)
    count_again(wash, code, pieces=10, tenths=2100, why="the scales stood on a stone")
    with wash.reading() as reading:
        (total,) = reading.session.query(BalanceTotal)
    assert (total.counted, total.counted_tenths) == (10, 2100)


def test_a_big_container_stands_in_two_tubs_and_dries_in_two_trays(wash: Desk) -> None:
    code = put_container(wash, "130")
    dip_and_look(wash, code)
    stand_in_parts(wash, code, parts=2)
    start_soak(wash, code, tub="2", part=1)
    start_soak(wash, code, tub="5", part=2)
    places = {slip.part: tub for tub, slips in yard(wash).tubs for slip in slips}
    assert places == {1: "2", 2: "5"}
    assert log_count(wash, code, pieces=260).trays == ("1", "2")


def test_soaking_too_long_is_first_in_the_queue(wash: Desk) -> None:
    in_tub(wash, "101")
    advance(wash, hours=24)
    in_tub(wash, "120")
    advance(wash, hours=17)
    now = yard(wash)
    slips = {slip.number: slip.state for _, slips in now.tubs for slip in slips}
    assert slips == {"101": "too long", "120": "ready"}
    assert now.next_from_tubs == ("101", "120")


def test_bones_among_the_sherds_get_a_container_of_their_own(wash: Desk) -> None:
    code = in_tub(wash, "118")
    log_count(wash, code, pieces=140)
    out = take_out(wash, code, pieces=7, material="bone")
    assert out.left == 133
    bone = dossier(wash, out.tag.code)
    assert (bone.material, bone.standing, bone.ledger.arrived) == ("bone", Standing.ARRIVED, 7)
    assert dossier(wash, code).ledger.moved_out == 7
    with pytest.raises(Refusal, match="more_than_there"):
        take_out(wash, code, pieces=134, material="bone")


def test_swapped_tags_are_put_right_in_one_act(wash: Desk) -> None:
    four, five = in_tub(wash, "104"), in_tub(wash, "105")
    log_count(wash, four, pieces=60)
    log_count(wash, five, pieces=90)
    before = acts(wash)
    swap_tags(wash, four, five, reason="tags of trays 1 and 2 swapped")
    assert acts(wash) == before + 1
    left, right = dossier(wash, four), dossier(wash, five)
    assert (left.ledger.expected, right.ledger.expected) == (90, 60)
    assert (left.stands_at[0].place, right.stands_at[0].place) == ("2", "1")
    assert [count.pieces for count in left.counts] == [60, 90]
    assert left.life[-1].kind is StepKind.SWAPPED


def test_put_together_moves_what_was_counted(wash: Desk) -> None:
    one, two = in_tub(wash, "104"), in_tub(wash, "105")
    log_count(wash, one, pieces=60)
    log_count(wash, two, pieces=5)
    put_together(wash, two, into=one, reason="came over two days")
    assert dossier(wash, one).ledger.expected == 65
    assert standing_of(wash, two) is Standing.JOINED


def test_a_step_back_is_a_step_with_a_reason(wash: Desk) -> None:
    code = in_tub(wash, "131")
    with pytest.raises(Refusal, match="reason_needed"):
        step_back(wash, code, to=Standing.ARRIVED, reason=" ")
    step_back(wash, code, to=Standing.ARRIVED, reason="wrong bucket")
    assert standing_of(wash, code) is Standing.ARRIVED
    assert [step.kind for step in dossier(wash, code).life][-2:] == [StepKind.SOAKING, StepKind.TAKEN_BACK]


def test_entered_later_from_paper_keeps_the_true_time(wash: Desk) -> None:
    code = in_tub(wash, "131")
    true_time = wash.now() + timedelta(hours=16)
    advance(wash, hours=30)
    log_count(wash.at(true_time), code, pieces=12)
    step = dossier(wash, code).life[-1]
    assert (step.happened_at, step.entered_later) == (true_time, True)


def test_dry_trays_go_to_the_sorting_table(wash: Desk) -> None:
    codes = put_containers(wash, ["131", "132"])
    for code in codes:
        dip_and_look(wash, code)
        log_count(wash, code, pieces=10)
    assert {one.standing for one in mark_dry(wash, codes)} == {Standing.DRY}


@pytest.mark.parametrize(
    ("scanned", "code"),
    [("TQT000131", "one_character_missing"), ("999", "unknown_number"), ("KST000001A", "foreign_code")],
)
def test_what_was_scanned_and_is_not_ours(wash: Desk, scanned: str, code: str) -> None:
    with pytest.raises(Refusal) as refused:
        find(wash, scanned)
    assert refused.value.code in (code, "wrong_check_character")


def test_an_absurd_count_is_refused_and_nothing_is_written(wash: Desk) -> None:
    code = in_tub(wash, "131")
    before = acts(wash)
    for pieces in (-1, 100_001):
        with pytest.raises(Refusal, match="pieces_out_of_range"):
            log_count(wash, code, pieces=pieces)
    assert acts(wash) == before


def test_a_count_ten_times_the_usual_is_asked_about_and_the_answer_is_written_down(wash: Desk) -> None:
    # OWN: 2,000 pieces, ten times what one container usually holds.
    code = in_tub(wash, "131")
    before = acts(wash)
    with pytest.raises(Question, match="many_pieces"):
        log_count(wash, code, pieces=2_001)
    assert acts(wash) == before
    log_count(wash, code, pieces=2_000)
    with pytest.raises(Question, match="many_pieces"):
        count_again(wash, code, pieces=20_000)
    count_again(wash, code, pieces=20_000, sure=True)
    assert dossier(wash, code).counts[-1].pieces == 20_000
