"""What is asked at the wash yard and whose a number is, without a window."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.washing import dip_and_look, stand_in_parts, start_soak
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Hold, Standing, StepKind
from findsdesk.domain.settings import Settings
from findsdesk.ui.benches.wash.acts import Count, Dry, HoldBack, Look, Soak, Treat
from findsdesk.ui.benches.wash.half_typed import HalfTyped
from findsdesk.ui.benches.wash.quiet_acts import possible, standings_before
from findsdesk.ui.benches.wash.state import Asked, LeftOver, WashState
from tests.yard import new_yard, put_container


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = new_yard(tmp_path, by="Tessa")
    yield opened
    opened.close()


def dossier(desk: Desk, code: str) -> Dossier:
    found = find(desk, code)
    assert isinstance(found, Dossier)
    return found


def arrived(desk: Desk, number: str = "131", material: str = "pottery") -> str:
    return put_container(desk, number, material=material)


def soaking(desk: Desk, number: str = "131", tub: str = "1") -> str:
    code = arrived(desk, number)
    dip_and_look(desk, code)
    start_soak(desk, code, tub=tub)
    return code


def holding(desk: Desk, code: str, **given: object) -> WashState:
    state = WashState(**given)  # type: ignore[arg-type]
    state.take(dossier(desk, code))
    return state


def refused(call: object) -> str:
    with pytest.raises(Refusal) as caught:
        call()  # type: ignore[operator]
    return caught.value.code


def test_pottery_that_arrived_is_looked_at_first(desk: Desk) -> None:
    code = arrived(desk)
    state = holding(desk, code)
    assert state.asked() is Asked.LOOK
    assert state.choose(1) == Look(code)
    assert state.choose(2) == Look(code, Hold.PAINTED)
    assert state.choose(6) == Look(code, Hold.OTHER)


def test_a_count_typed_for_what_was_in_no_tub_is_not_taken_for_a_choice(desk: Desk) -> None:
    state = holding(desk, arrived(desk))
    assert refused(lambda: state.choose(132)) == "not_in_a_tub"
    assert refused(lambda: state.choose(0)) == "not_in_a_tub"


def test_what_was_looked_at_goes_into_a_tub(desk: Desk) -> None:
    code = arrived(desk)
    dip_and_look(desk, code)
    state = holding(desk, code)
    assert state.asked() is Asked.TUB
    assert state.choose(3) == Soak(code, "3")
    assert refused(lambda: state.choose(6)) == "not_in_a_tub"


def test_an_open_tub_takes_what_is_scanned(desk: Desk) -> None:
    code = arrived(desk)
    state = holding(desk, code, open_tub="2")
    assert state.soak_now() is None, "not looked at yet"
    assert state.look(None) == Look(code, None, "2")
    dip_and_look(desk, code)
    state.take(dossier(desk, code))
    assert state.soak_now() == Soak(code, "2")


def test_an_open_tub_does_not_take_what_comes_out_of_another(desk: Desk) -> None:
    state = holding(desk, soaking(desk), open_tub="2")
    assert state.soak_now() is None
    assert state.asked() is Asked.FILLING
    state.comes_out(desk.now())
    assert state.asked() is Asked.FILLING, "it has gone in this minute"
    state.comes_out(desk.now() + timedelta(hours=16))
    assert state.asked() is Asked.COUNT
    assert state.open_tub == ""


def test_a_number_is_a_container_for_the_tub_being_filled_where_it_is_no_choice(desk: Desk) -> None:
    state = holding(desk, arrived(desk), open_tub="2")
    assert state.asked() is Asked.LOOK
    assert not state.means_a_container("6")
    assert state.means_a_container("137")
    assert holding(desk, soaking(desk, "132"), open_tub="2").means_a_container("1")
    assert not holding(desk, soaking(desk, "133")).means_a_container("137")
    assert not WashState(choosing_tub=True).means_a_container("2")


def test_a_count_that_is_asked_for_ends_the_filling(desk: Desk) -> None:
    code = soaking(desk)
    log_count(desk, code, pieces=88)
    again = holding(desk, code, open_tub="2")
    again.begin_again()
    assert (again.asked(), again.open_tub) == (Asked.COUNT_AGAIN, "")
    straight = holding(desk, arrived(desk, "140"), open_tub="2")
    straight.count_without_a_soak()
    assert (straight.asked(), straight.open_tub) == (Asked.COUNT, "")


def test_bone_is_tried_at_an_open_tub_so_that_its_refusal_is_said(desk: Desk) -> None:
    code = arrived(desk, material="bone")
    assert holding(desk, code).asked() is Asked.NOTHING
    assert holding(desk, code, open_tub="2").soak_now() == Soak(code, "2")


def test_there_is_no_tub_six(desk: Desk) -> None:
    state = WashState(Settings(tubs=5))
    state.fill("5")
    assert state.open_tub == "5"
    assert refused(lambda: state.fill("6")) == "unknown_tub"
    assert refused(lambda: state.fill("0")) == "unknown_tub"
    assert state.open_tub == "5"


def test_the_second_part_goes_into_another_tub(desk: Desk) -> None:
    code = arrived(desk)
    dip_and_look(desk, code)
    stand_in_parts(desk, code, parts=2)
    state = holding(desk, code, open_tub="1")
    assert state.soak_now() == Soak(code, "1", 1)
    start_soak(desk, code, tub="1", part=1)
    state.take(dossier(desk, code))
    state.open_tub = "4"
    assert state.soak_now() == Soak(code, "4", 2)
    start_soak(desk, code, tub="4", part=2)
    state.take(dossier(desk, code))
    assert state.asked() is Asked.FILLING
    state.open_tub = ""
    assert state.asked() is Asked.COUNT


def test_out_of_the_tub_it_is_counted(desk: Desk) -> None:
    code = soaking(desk)
    state = holding(desk, code)
    assert state.asked() is Asked.COUNT
    assert state.count(132, 25_000, wet=True) == Count(code, 132, 25_000, wet=True)


def test_where_nothing_is_counted_here_washed_is_offered_instead(desk: Desk) -> None:
    code = soaking(desk)
    state = holding(desk, code, settings=Settings(count_at_wash=False))
    assert state.asked() is Asked.TREATMENT
    assert state.treat() == Treat(code, StepKind.WASHED)
    assert refused(lambda: state.count(3)) == "counted_at_sorting"


def test_dry_material_is_counted_without_water(desk: Desk) -> None:
    state = holding(desk, arrived(desk, material="shell"))
    assert state.asked() is Asked.COUNT
    state.settings = Settings(count_at_wash=False)
    assert (state.asked(), state.treatment()) == (Asked.TREATMENT, StepKind.DRY_BRUSHED)


def test_what_is_held_back_is_neither_soaked_nor_counted(desk: Desk) -> None:
    code = arrived(desk)
    dip_and_look(desk, code, seen=Hold.PAINTED)
    state = holding(desk, code)
    assert state.asked() is Asked.HELD
    assert refused(lambda: state.count(12)) == "held_back"
    assert refused(lambda: state.choose(1)) == "held_back"


def test_a_second_count_is_asked_for_by_name(desk: Desk) -> None:
    code = soaking(desk)
    log_count(desk, code, pieces=88)
    state = holding(desk, code)
    assert state.asked() is Asked.DRY
    assert refused(lambda: state.choose(91)) == "already_counted"
    state.begin_again()
    assert state.count(91) == Count(code, 91, again=True)
    assert state.dry() == Dry((code,))


def test_no_second_count_without_a_first(desk: Desk) -> None:
    state = holding(desk, soaking(desk))
    assert refused(state.begin_again) == "not_counted_yet"
    assert refused(WashState().begin_again) == "nothing_in_hand"


def test_what_shows_after_the_look_holds_back(desk: Desk) -> None:
    code = soaking(desk)
    assert holding(desk, code).look(Hold.FLAKING) == HoldBack(code, Hold.FLAKING)


def test_half_typed_digits_stay_in_words_and_are_never_the_next_ones(desk: Desk) -> None:
    code = soaking(desk, "131")
    state = holding(desk, code)
    state.take(dossier(desk, soaking(desk, "132")), digits="132")
    assert state.left_over == LeftOver("132", "131", code)
    assert state.bring_back() == ""
    state.take(dossier(desk, code))
    assert state.bring_back() == "132"


def test_another_in_hand_asks_anew(desk: Desk) -> None:
    first = soaking(desk, "131")
    log_count(desk, first, pieces=3)
    state = holding(desk, first)
    state.begin_again()
    state.take(dossier(desk, soaking(desk, "132")))
    assert not state.again
    assert state.asked() is Asked.COUNT


def test_only_what_may_be_done_stands_behind_more(desk: Desk) -> None:
    nothing = {act.key for act in possible(WashState())}
    assert nothing == {"grams", "paper", "wash_tags", "card"}
    keys = {act.key for act in possible(holding(desk, soaking(desk)))}
    assert {"unwashed", "washed", "parts", "hold", "back"} <= keys
    assert not keys & {"again", "release", "come_back", "straight"}
    assert "straight" in {act.key for act in possible(holding(desk, arrived(desk, "140")))}


def test_a_step_back_goes_to_what_stands_before(desk: Desk) -> None:
    code = soaking(desk)
    log_count(desk, code, pieces=3)
    before = [value for value, _words in standings_before(holding(desk, code))]
    assert before == [Standing.WASHED, Standing.SOAKING, Standing.ARRIVED]


# --- whose digits ------------------------------------------------------------------------------------------------


def test_digits_from_before_a_scan_are_kept_apart() -> None:
    half = HalfTyped()
    half.begin("13")
    assert half.looking_up
    assert half.before() == "13"
    assert half.end().before == "13"
    assert not half.looking_up


def test_an_enter_is_for_the_newest_scan() -> None:
    half = HalfTyped()
    half.begin("")
    half.enter("132")
    half.begin("")
    half.enter("88")
    half.enter("99")
    assert half.end().entered == "132"
    assert half.end().entered == "88"


def test_digits_go_back_in_front_of_those_typed_since() -> None:
    half = HalfTyped()
    assert half.give_back("13", "2") == "132"
    half.begin("2")
    assert half.give_back("13", "7") == "7"
    assert half.before() == "132"


def test_a_look_up_that_nobody_began_ends_without_harm() -> None:
    half = HalfTyped()
    half.put_before("5")
    assert (half.before(), half.end().entered) == ("", None)
