"""Facts of a container put right: deposit, day, square, supervisor, and a material that is another route."""

from collections.abc import Callable
from datetime import date

import pytest

from findsdesk.desk.correcting import Corrected, correct_container, move_container
from findsdesk.desk.counting import log_count
from findsdesk.desk.deposits import close_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.moving import take_out
from findsdesk.desk.redoing import Asked, things_to_redo
from findsdesk.desk.setting_up import open_season
from findsdesk.desk.tags import issue_tags
from findsdesk.desk.washing import start_soak
from findsdesk.domain.balance import Ledger
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.settings import NumberScope
from findsdesk.domain.standings import Standing, StepKind
from tests.yard import (
    LOOKED_AT,
    acts,
    last_said,
    put_container,
    put_containers,
    put_settled,
    sitting,
    standing_of,
)


def in_hand(desk: Desk, tag: str) -> Dossier:
    found = find(desk, tag)
    assert isinstance(found, Dossier)
    return found


def correct(desk: Desk, tag: str, *, sure: bool = False, **facts: object) -> Corrected:
    return correct_container(desk, tag, reason="misread", sure=sure, **facts)  # type: ignore[arg-type]


def test_a_container_moves_to_the_deposit_it_truly_comes_from(desk: Desk) -> None:
    code = put_settled(desk, 131, deposit="2017", kept=22, marked=True)
    moved = move_container(desk, code, to="2019", reason="tag misread")
    assert (moved.deposit, moved.square) == ("2019", "A2")
    assert moved.asked == Asked(tags=1, labels=0, marks=22)
    assert in_hand(desk, code).deposit == "2019"
    assert in_hand(desk, code).life[-1].note == "2017 → 2019: tag misread"
    assert last_said(desk) == "131: 2017 → 2019: tag misread"
    assert [thing.says_now for thing in things_to_redo(desk)][-1] == "VE-26-014 / 2019-131"
    move_container(desk, code, to="2017", reason="it was right")
    assert things_to_redo(desk) == ()


def test_a_deposit_said_for_the_first_time_makes_nothing_wrong(desk: Desk) -> None:
    code = put_container(desk, 131, deposit=None)
    assert move_container(desk, code, to="2019", reason="asked the field").asked == Asked()


def test_moving_into_a_deposit_closed_before_is_a_question(desk: Desk) -> None:
    code = put_container(desk, 131, collected_on=date(2026, 7, 13))
    close_deposit(desk, "2019", closed=date(2026, 7, 10))
    with pytest.raises(Question, match="after_open_days"):
        move_container(desk, code, to="2019", reason="tag misread")
    assert move_container(desk, code, to="2019", reason="tag misread", sure=True).deposit == "2019"


def test_day_square_supervisor_and_description(desk: Desk) -> None:
    code = put_container(desk, 131)
    with pytest.raises(Question, match="square_of_deposit") as asked:
        correct(desk, code, square="A2")
    assert "Context 2017 lies in A1, not in A2" in asked.value.in_words(desk.terms)
    done = correct(desk, code, square="A2", collected_on=date(2026, 7, 12), supervisor="Ruan", sure=True)
    assert (done.square, done.collected_on, done.supervisor) == ("A2", date(2026, 7, 12), "Ruan")
    assert done.asked == Asked(tags=1)
    described = correct(desk, code, description="rims on top")
    assert described.asked == Asked()
    assert in_hand(desk, code).description == "rims on top"
    assert last_said(desk) == "131: – → rims on top: misread"


def test_a_day_before_its_deposit_opened_is_a_question(desk: Desk) -> None:
    code = put_container(desk, 131)
    with pytest.raises(Question, match="before_open_days"):
        correct(desk, code, collected_on=date(2026, 7, 5))
    assert correct(desk, code, collected_on=date(2026, 7, 5), sure=True).collected_on == date(2026, 7, 5)


def test_pottery_that_is_bone_leaves_the_tub_when_asked(desk: Desk) -> None:
    code = put_container(desk, 131, steps=LOOKED_AT)
    start_soak(desk, code, tub="3")
    with pytest.raises(Question, match="leaves_the_tub"):
        correct(desk, code, material="bone")
    assert standing_of(desk, code) is Standing.SOAKING
    done = correct(desk, code, material="bone", sure=True)
    assert (done.material, done.standing) == ("bone", Standing.ARRIVED)
    assert "human_remains_found" in done.cautions
    (part,) = in_hand(desk, code).stands_at
    assert (part.kind, part.place) == ("crate", "bone crate")
    with pytest.raises(Refusal, match="never_soaked"):
        start_soak(desk, code, tub="3")


def test_counted_pieces_go_over_into_the_other_materials_ledger(desk: Desk) -> None:
    code = put_container(desk, 131, steps=LOOKED_AT)
    log_count(desk, code, pieces=40, tenths=9000)
    correct(desk, code, material="tile")
    assert in_hand(desk, code).ledger == Ledger(arrived=40)
    correct(desk, code, material="pottery")
    assert in_hand(desk, code).ledger == Ledger(counted=40, moved_out=40, arrived=40)
    assert take_out(desk, code, pieces=40, material="tile_brick").left == 0


def test_what_is_sorted_is_not_called_another_material(desk: Desk) -> None:
    code = put_settled(desk, 131)
    with pytest.raises(Refusal, match="sorted_already"):
        correct(desk, code, material="tile")


def test_a_closed_sample_that_is_pottery_may_be_washed(desk: Desk) -> None:
    code = put_container(desk, 131, material="charcoal", steps=(StepKind.ISSUED, StepKind.ARRIVED, StepKind.CLOSED))
    assert correct(desk, code, material="pottery").standing is Standing.ARRIVED


def test_numbers_that_run_within_a_square_stay_single(desk: Desk) -> None:
    open_season(
        desk,
        name="2025",
        permit="VE-25-003",
        starts=date(2025, 7, 1),
        ends=date(2025, 8, 1),
        number_scope=NumberScope.SQUARE,
    )
    first = issue_tags(desk, how_many=1, square="B1", season="2025").tags[0]
    second = issue_tags(desk, how_many=1, square="B2", season="2025").tags[0]
    assert first.number == second.number == "1"
    with pytest.raises(Refusal, match="number_taken"):
        correct(desk, first.code, square="B2")
    assert correct(desk, first.code, square="B3").square == "B3"
    assert issue_tags(desk, how_many=1, square="B3", season="2025").tags[0].number == "2"


def test_a_correction_begun_on_an_older_version_is_refused(desk: Desk) -> None:
    code = put_container(desk, 131)
    seen = correct(desk, code, description="rims").version
    correct_container(sitting(desk, "Mika"), code, square="A1", description="rims and handles", reason="looked")
    with pytest.raises(Refusal, match="changed_meanwhile") as refused:
        correct_container(desk, code, description="bases", supervisor="Lio", reason="looked", seen=seen)
    differences = {one.field: (one.mine, one.theirs, one.before) for one in refused.value.facts["differences"]}  # type: ignore[attr-defined]
    assert differences == {
        "description": ("bases", "rims and handles", "rims"),
        "supervisor": ("Lio", "Bryn Hallo", "Bryn Hallo"),
    }


@pytest.mark.parametrize(
    ("code", "call"),
    [
        ("reason_needed", lambda desk: move_container(desk, "131", to="2019", reason="")),
        ("same_deposit", lambda desk: move_container(desk, "131", to="2017", reason="x")),
        ("unknown_deposit", lambda desk: move_container(desk, "131", to="2999", reason="x")),
        ("unknown_number", lambda desk: move_container(desk, "999", to="2019", reason="x")),
        ("nothing_to_correct", lambda desk: correct(desk, "131", square="A1", material="pottery")),
        ("unknown_square", lambda desk: correct(desk, "131", square="Z9")),
        ("unknown_material", lambda desk: correct(desk, "131", material="cheese")),
        ("day_in_future", lambda desk: correct(desk, "131", collected_on=date(2026, 7, 15))),
    ],
)
def test_what_cannot_be_is_refused_and_changes_nothing(
    desk: Desk, code: str, call: Callable[[Desk], Corrected]
) -> None:
    put_containers(desk, (131,))
    before = acts(desk), in_hand(desk, "131")
    with pytest.raises(Refusal) as refused:
        call(desk)
    assert refused.value.code == code
    assert (acts(desk), in_hand(desk, "131")) == before
