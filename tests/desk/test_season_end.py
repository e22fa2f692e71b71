from datetime import date

import pytest

from findsdesk.desk.bagging import bag
from findsdesk.desk.changing_pieces import describe_piece
from findsdesk.desk.deadlines import add_deadline, change_deadline, deadlines, take_starting_deadlines
from findsdesk.desk.desk import Desk
from findsdesk.desk.loan_returns import give_back
from findsdesk.desk.loans import lend
from findsdesk.desk.named_pieces import lift_from_row
from findsdesk.desk.named_readings import answer_looked
from findsdesk.desk.pins import set_pin
from findsdesk.desk.proving import prove
from findsdesk.desk.readings import read_container
from findsdesk.desk.season_end import OpenLine, SeasonEnd, open_rows, season_end
from findsdesk.desk.season_end_questions import QUESTIONS
from findsdesk.desk.setting_up import open_season
from findsdesk.desk.shipped import requirements, shipped_deadlines
from findsdesk.desk.signing_open import sign_open
from findsdesk.desk.sorting import reopen, settle
from findsdesk.desk.store_places import add_place
from findsdesk.desk.taking_away import bring_back, take_away
from findsdesk.desk.washing import start_soak, step_back
from findsdesk.domain.lending import BorrowerKind
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.season_end import CountsFrom, StaysAs, Unit
from findsdesk.domain.shelving import PlaceKind
from findsdesk.domain.standings import Standing, StepKind
from findsdesk.store.models import HandOver, HandOverLine
from findsdesk.ui.all_benches import BENCHES
from tests.desk.on_the_shelves import put_bags
from tests.yard import (
    ARRIVED,
    DRY,
    LOOKED_AT,
    acts,
    advance,
    put_bag,
    put_container,
    put_containers,
    put_settled,
    sitting,
)


def line(page: SeasonEnd, key: str) -> OpenLine:
    return next(one for one in page.lines if one.requirement.key == key)


def numbers(page: SeasonEnd, key: str) -> list[str]:
    return [row.number for row in line(page, key).rows]


def study_season(desk: Desk) -> None:
    open_season(desk, name="2027 study", permit="VE-27-003", starts=date(2027, 7, 5), ends=date(2027, 7, 30))


def test_every_requirement_has_its_question_and_a_bench() -> None:
    asked = [one.question for one in requirements()]
    assert sorted(asked) == sorted(QUESTIONS)
    assert len(set(asked)) == len(asked)
    assert len({one.key for one in requirements()}) == len(requirements())
    assert {one.bench for one in requirements()} <= {*BENCHES, "shelves"}
    assert {one.stays_as for one in requirements()} == {"", *StaysAs}
    assert all(one.source and one.name for one in requirements())


def test_each_container_stands_under_what_it_lacks(desk: Desk) -> None:
    put_container(desk, 1, steps=(StepKind.ISSUED,))
    put_container(desk, 2, steps=(StepKind.ISSUED, StepKind.LISTED))
    put_container(desk, 3, steps=ARRIVED)
    put_container(desk, 4, steps=DRY)
    put_settled(desk, 5)
    page = season_end(desk)
    assert (page.season, page.permit, page.days_left) == ("2026", "VE-26-014", 33)
    assert numbers(page, "tags_out") == ["1"]
    assert numbers(page, "not_arrived") == ["2"]
    assert numbers(page, "unwashed") == ["3"]
    assert numbers(page, "uncounted") == ["3", "4"]
    assert numbers(page, "unsorted") == ["4"]
    assert numbers(page, "unread") == numbers(page, "unbagged") == ["5"]
    assert (line(page, "unmarked").many, line(page, "unmarked").pieces) == (1, 22)
    assert (line(page, "discards_unlisted").many, line(page, "discards_unlisted").pieces) == (1, 10)
    assert line(page, "unbalanced").many == 0
    assert numbers(page, "deposits_open") == ["2003", "2017", "2019"]


def test_what_is_done_drops_out(desk: Desk) -> None:
    code = put_settled(desk, 5)
    assert line(season_end(desk), "unread").many == 1
    read_container(sitting(desk, "Oren"), code, main="II")
    assert line(season_end(desk), "unread").many == 0
    bag(desk, code)
    page = season_end(desk)
    assert line(page, "unbagged").many == 0
    assert line(page, "unlabelled").many == line(page, "unboxed").many > 0


def test_wet_ones_are_those_in_water_and_those_that_dry(desk: Desk) -> None:
    code = put_container(desk, 7, steps=LOOKED_AT)
    assert line(season_end(desk), "wet").many == 0
    start_soak(desk, code, tub="1")
    assert numbers(season_end(desk), "wet") == ["7"]


def test_a_second_look_is_open_until_it_is_answered(desk: Desk) -> None:
    code = put_settled(desk, 5)
    read_container(sitting(desk, "Oren"), code, main="II", look_again="two rims are late")
    assert numbers(season_end(desk), "question_open") == ["5"]
    answer_looked(desk, code, says="one of them is")
    assert line(season_end(desk), "question_open").many == 0


def test_pieces_want_their_photograph_and_their_drawing(desk: Desk) -> None:
    code = put_settled(desk, 5)
    reopen(desk, code, reason="a rim to draw")
    lift_from_row(desk, code, 1)
    describe_piece(desk, "5.1", drawing_wanted=True, photo_wanted=True)
    page = season_end(desk)
    assert [(row.number, row.part) for row in line(page, "no_drawing").rows] == [("5", 1)]
    assert [(row.number, row.part) for row in line(page, "no_photo").rows] == [("5", 1)]
    describe_piece(desk, "5.1", drawing="D 12")
    assert line(season_end(desk), "no_drawing").many == 0
    settle(desk, code)


def test_what_is_lent_or_taken_out_is_open_until_it_is_back(desk: Desk) -> None:
    first, second = put_bags(desk, 5, [100, 90], pieces=22)
    loan = lend(
        desk, [first], borrower="Nela Trost", kind=BorrowerKind.SPECIALIST, purpose="report", due_on=date(2026, 9, 1)
    )
    add_place(desk, name="Drawing table", kind=PlaceKind.TABLE)
    take_away(desk, [second], to="Drawing table")
    page = season_end(desk)
    assert [(row.number, row.part, row.pieces) for row in line(page, "on_loan").rows] == [("1", 1, 22)]
    assert numbers(page, "taken_out") == [second]
    give_back(desk, loan.code)
    bring_back(desk, [second])
    page = season_end(desk)
    assert (line(page, "on_loan").many, line(page, "taken_out").many) == (0, 0)


def test_rows_are_paged_in_the_order_of_their_numbers(desk: Desk) -> None:
    put_containers(desk, range(1, 31))
    whole = [row.number for row in open_rows(desk, "unwashed")]
    assert whole == [str(n) for n in range(1, 31)]
    assert [row.number for row in open_rows(desk, "unwashed", first=9, how_many=3)] == ["10", "11", "12"]
    assert len(line(season_end(desk), "unwashed").rows) == 12
    with pytest.raises(Refusal) as refused:
        open_rows(desk, "unpainted")
    assert refused.value.code == "unknown_requirement"


def test_two_sign_for_what_stays_open_and_it_is_carried_over(desk: Desk) -> None:
    unwashed = put_container(desk, 3)
    unread = put_settled(desk, 5)
    page = season_end(desk)
    signed = sign_open(desk, second="Mika", seen=page.open, note="shelf 3")
    assert (signed.season, signed.number, signed.first, signed.second) == ("2026", 1, "Ilo Marr", "Mika Sool")
    assert signed.lines == page.open > 2
    after = season_end(desk)
    assert (after.open, after.unsigned, after.signed[0].lines, after.signed[0].done) == (page.open, 0, page.open, 0)
    assert stays_as(desk) == {("3", "boxed unwashed"), ("5", "boxed unread")}

    study_season(desk)
    advance(desk, days=360)
    study = season_end(desk)
    assert (study.season, study.open) == ("2027 study", page.open)
    assert all(one.carried == one.many for one in study.lines)
    assert [(row.number, row.season, row.carried) for row in line(study, "unread").rows] == [("5", "2026", True)]
    read_container(sitting(desk, "Oren"), unread, main="II")
    assert line(season_end(desk), "unread").many == 0
    assert season_end(desk, "2026").signed[0].done == 1
    put_container(desk, 4, season="2026")
    assert numbers(season_end(desk), "unwashed") == ["3"]
    assert numbers(season_end(desk, "2026"), "unwashed") == ["3", "4"]
    assert season_end(desk, "2026").unsigned > 0
    assert unwashed
    assert prove(desk).findings == ()


def stays_as(desk: Desk) -> set[tuple[str, str]]:
    with desk.reading() as reading:
        rows = reading.session.query(HandOverLine).filter(HandOverLine.stays_as != "").all()
        return {(row.number, row.stays_as) for row in rows}


def test_whoever_has_a_pin_says_it(desk: Desk) -> None:
    put_container(desk, 3)
    set_pin(desk, "Ilo", pin="2406")
    set_pin(sitting(desk, "Mika"), "Mika", pin="5512")
    before = acts(desk)
    for pins in ({}, {"pin": "2406"}, {"second_pin": "5512"}, {"pin": "2406", "second_pin": "2406"}):
        with pytest.raises(Refusal) as refused:
            sign_open(desk, second="Mika", **pins)
        assert refused.value.code == "pin_wrong"
    assert acts(desk) == before
    assert sign_open(desk, second="Mika", pin="2406", second_pin="5512").number == 1


@pytest.mark.parametrize(
    ("by", "second", "code"),
    [
        ("Ilo", "", "two_sign"),
        ("Ilo", "Ilo", "two_sign"),
        ("Ilo", "Lio", "may_not_sign_open"),
        ("Tessa", "Oren", "nobody_answers"),
        ("Ilo", "Nobody", "unknown_person"),
    ],
)
def test_a_signature_that_does_not_count_writes_nothing(desk: Desk, by: str, second: str, code: str) -> None:
    put_container(desk, 3)
    before = acts(desk)
    with pytest.raises(Refusal) as refused:
        sign_open(sitting(desk, by), second=second)
    assert refused.value.code == code
    assert acts(desk) == before


def test_nothing_is_signed_while_something_lies_in_water(desk: Desk) -> None:
    code = put_container(desk, 7, steps=LOOKED_AT)
    start_soak(desk, code, tub="1")
    before = acts(desk)
    with pytest.raises(Refusal) as refused:
        sign_open(desk, second="Mika")
    assert (refused.value.code, refused.value.facts["numbers"]) == ("still_in_water", "7")
    assert acts(desk) == before
    step_back(desk, code, to=Standing.ARRIVED, reason="never put in")
    assert sign_open(desk, second="Mika").lines > 0


def test_a_list_that_changed_or_says_nothing_new_is_not_signed(desk: Desk) -> None:
    put_container(desk, 3)
    seen = season_end(desk).open
    put_container(desk, 4)
    before = acts(desk)
    with pytest.raises(Refusal) as refused:
        sign_open(desk, second="Mika", seen=seen)
    assert refused.value.code == "open_changed"
    assert acts(desk) == before
    sign_open(desk, second="Mika")
    before = acts(desk)
    with pytest.raises(Refusal) as refused:
        sign_open(desk, second="Mika")
    assert refused.value.code == "nothing_new"
    assert acts(desk) == before
    put_container(desk, 5)
    assert sign_open(desk, second="Mika").number == 2


def test_a_bag_in_no_box_is_open_under_its_code(desk: Desk) -> None:
    code = put_bag(desk, put_settled(desk, 5), labelled=False)
    page = season_end(desk)
    assert numbers(page, "unlabelled") == numbers(page, "unboxed") == [code]


def test_prove_finds_a_list_without_its_lines(desk: Desk) -> None:
    put_container(desk, 3)
    sign_open(desk, second="Mika")
    with desk.store.writing() as session:
        session.query(HandOver).update({"lines": HandOver.lines + 1, "second_id": HandOver.first_id})
    found = [one for one in prove(desk).findings if one.kind == "hand-over"]
    assert len(found) == 2


def test_deadlines_ship_and_the_permit_goes_before_them(desk: Desk) -> None:
    assert season_end(desk).deadlines == ()
    taken = take_starting_deadlines(desk)
    assert {one.deliverable for one in taken} == {one.deliverable for one in shipped_deadlines()}
    # PUBLISHED rules (archaeology.ie: 4 weeks, calendar year; Louisiana: 30 days), our season's dates (DERIVED).
    due = {one.deliverable: (one.due_on, one.days_left) for one in taken}
    assert due["preliminary report"] == (date(2026, 9, 13), 61)
    assert due["concise report for the yearly bulletin"][0] == date(2026, 12, 31)
    assert due["list of all catalogue numbers used"] == (None, None)
    changed = change_deadline(
        desk, "Preliminary report", permit_on=date(2026, 8, 31), permit_says="within fifteen days, clause 9"
    )
    assert (changed.due_on, changed.days_left) == (date(2026, 8, 31), 48)
    assert deadlines(desk)[0].deliverable == "preliminary report"
    change_deadline(desk, "list of all catalogue numbers used", counted_from=date(2026, 7, 20))
    assert deadlines(desk)[0].due_on == date(2026, 8, 19)
    assert change_deadline(desk, "preliminary report", without=("permit_on",)).due_on == date(2026, 9, 13)
    assert change_deadline(desk, "preliminary report", done_on=date(2026, 7, 14)).days_left is None
    change_deadline(desk, "preliminary report", in_force=False)
    assert "preliminary report" not in [one.deliverable for one in deadlines(desk)]
    assert prove(desk).findings == ()


def test_a_deadline_of_ones_own(desk: Desk) -> None:
    made = add_deadline(
        desk, "crates to the depot", counts_from=CountsFrom.SEASON_END, offset=-7, source="the depot's own rules"
    )
    assert (made.due_on, made.unit, made.season) == (date(2026, 8, 9), Unit.DAYS, "2026")


def test_deadlines_that_cannot_be_are_refused(desk: Desk) -> None:
    take_starting_deadlines(desk)
    seen = deadlines(desk)[0].version
    change_deadline(desk, "preliminary report", offset=5)
    before = acts(desk)
    end, day = CountsFrom.SEASON_END, date(2026, 9, 1)
    for code, deed in {
        "empty": lambda: add_deadline(desk, " ", counts_from=end),
        "already_there": lambda: add_deadline(desk, "Preliminary  Report", counts_from=end),
        "offset_too_long": lambda: add_deadline(desk, "x", counts_from=end, offset=5000),
        "permit_words_needed": lambda: add_deadline(desk, "x", counts_from=end, permit_on=day),
        "nothing_to_take_in": lambda: take_starting_deadlines(desk),
        "unknown_deadline": lambda: change_deadline(desk, "x", offset=1),
        "nothing_said": lambda: change_deadline(desk, "preliminary report"),
        "no_such_day": lambda: change_deadline(desk, "preliminary report", without=("due_on",)),
        "changed_meanwhile": lambda: change_deadline(desk, "preliminary report", offset=6, seen=seen),
        "unknown_season": lambda: add_deadline(desk, "x", counts_from=end, season="1999"),
    }.items():
        with pytest.raises(Refusal) as refused:
            deed()
        assert refused.value.code == code
    with pytest.raises(Refusal) as refused:
        change_deadline(desk, "preliminary report", named="concise report for the yearly bulletin")
    assert refused.value.code == "already_there"
    assert acts(desk) == before
