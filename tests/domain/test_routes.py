"""Standings follow from steps; a route lets a container take a step or says the way out."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.routes import (
    STANDING_IN_WORDS,
    Hold,
    Route,
    Standing,
    StepKind,
    StepTaken,
    Treatment,
    after,
    allowed,
    fold,
    may_go_back,
    step_in_words,
)
from findsdesk.words import Terms

S, K = Standing, StepKind
NO_WATER = "{Container} {number} never goes into water. Put it in the dry crate."


def route(treatment: Treatment = Treatment.WET, **changes: object) -> Route:
    wet = treatment is Treatment.WET
    closed = treatment in (Treatment.CLOSED, Treatment.STOP)
    values: dict[str, object] = {
        "key": "pottery", "name": "pottery", "pieces_one": "{n} sherd", "pieces_many": "{n} sherds",
        "treatment": treatment, "soak": wet, "wash": wet or treatment is Treatment.GENTLE,
        "dry_brush": wet or treatment is Treatment.DRY, "counted": not closed,
        "sorted_here": wet, "crate": "crate", "soak_refusal": NO_WATER, "cautions": (), "aliases": (),
    }  # fmt: skip
    return Route(**(values | changes))  # type: ignore[arg-type]


POTTERY = route()
GLASS = route(Treatment.GENTLE)
METAL = route(Treatment.DRY, dry_brush=False)
SLAG = route(Treatment.DRY, sorted_here=True)
BONE = route(Treatment.SPECIALIST)
SOIL = route(Treatment.CLOSED)
HUMAN = route(Treatment.STOP)


def answer(
    of: Route,
    standing: Standing,
    step: StepKind,
    held: Hold | None = None,
    *,
    at_wash: bool = True,
    looked: bool = True,
) -> str:
    """Return the code of the refusal, or 'yes'; every refusal must read as a sentence with its number in it."""
    try:
        allowed(of, standing, held, step, count_at_wash=at_wash, looked_at=looked, facts={"number": "131"})
    except Refusal as no:
        refusal = no
    else:
        return "yes"
    words = refusal.in_words(Terms(container="bucket", containers="buckets"))
    assert words.endswith((".", "?"))
    assert "131" in words or refusal.code == "stop_route"
    assert "container" not in words.lower()
    return refusal.code


POTTERY_DAY = [
    (K.ISSUED, None, S.ISSUED),
    (K.LISTED, None, S.LISTED),
    (K.MISSING, None, S.MISSING),
    (K.ARRIVED, None, S.ARRIVED),
    (K.LOOKED_AT, None, S.ARRIVED),
    (K.SOAKING, None, S.SOAKING),
    (K.COUNTED, 88, S.DRYING),
    (K.COUNTED, 91, S.DRYING),
    (K.DRY, None, S.DRY),
    (K.SORTING, None, S.SORTING),
    (K.COUNTED, 90, S.SORTING),
    (K.SETTLED, None, S.SETTLED),
    (K.BAGGED, None, S.BAGGED),
    (K.REOPENED, None, S.SORTING),
    (K.SETTLED, None, S.SETTLED),
]


def test_a_container_of_pottery_from_tag_to_bag() -> None:
    standing = S.ISSUED
    for step, pieces, expected in POTTERY_DAY:
        if step is not K.ISSUED:
            assert answer(POTTERY, standing, step) == "yes", step
        standing = after(standing, step, pieces=pieces)
        assert standing is expected
    assert fold(StepTaken(step, pieces) for step, pieces, _ in POTTERY_DAY) is S.SETTLED
    assert fold([]) is S.ISSUED


@pytest.mark.parametrize(
    ("standing", "pieces", "expected"),
    [
        (S.ARRIVED, 5, S.DRYING),
        (S.SOAKING, 5, S.DRYING),
        (S.WASHED, 5, S.DRYING),
        (S.SOAKING, 0, S.EMPTY),
        (S.DRYING, 0, S.EMPTY),
        (S.EMPTY, 3, S.DRYING),
        (S.DRYING, 5, S.DRYING),
        (S.DRY, 5, S.DRY),
        (S.SORTING, 5, S.SORTING),
    ],
)
def test_a_count_means_treated(standing: Standing, pieces: int, expected: Standing) -> None:
    assert after(standing, K.COUNTED, pieces=pieces) is expected


UNMOVING = [K.LOOKED_AT, K.HELD, K.RELEASED, K.CORRECTED, K.SWAPPED, K.ATTRIBUTED, K.SPLIT]


@given(st.sampled_from(Standing), st.sampled_from(UNMOVING))
def test_steps_that_do_not_move_a_container(standing: Standing, step: StepKind) -> None:
    assert after(standing, step) is standing


@pytest.mark.parametrize("standing", [S.ARRIVED, S.SOAKING, S.WASHED, S.DRYING, S.DRY, S.SORTING, S.BAGGED])
def test_a_list_or_a_second_load_that_comes_later_moves_nothing(standing: Standing) -> None:
    assert after(standing, K.LISTED) is standing
    assert after(standing, K.ARRIVED) is standing
    assert after(standing, K.MISSING) is standing


def test_other_ways() -> None:
    assert after(S.ARRIVED, K.DRY_BRUSHED) is S.WASHED
    assert after(S.DRY, K.DRY_BRUSHED) is S.DRY
    assert after(S.ARRIVED, K.LEFT_UNWASHED) is S.WASHED
    assert after(S.ARRIVED, K.HANDED_ON) is S.AWAY
    assert after(S.AWAY, K.CAME_BACK) is S.DRY
    assert after(S.AWAY, K.CAME_BACK, back_to=S.BAGGED) is S.BAGGED
    assert after(S.SOAKING, K.TAKEN_BACK, back_to=S.ARRIVED) is S.ARRIVED
    assert after(S.ARRIVED, K.CLOSED) is S.CLOSED
    assert after(S.ARRIVED, K.JOINED) is S.JOINED
    assert after(S.ISSUED, K.VOIDED) is S.VOID
    assert after(S.ISSUED, K.UNUSED) is S.UNUSED
    assert after(S.UNUSED, K.ARRIVED) is S.ARRIVED
    with pytest.raises(ValueError, match="goes back to"):
        after(S.SOAKING, K.TAKEN_BACK)


def test_a_late_entry_from_paper_takes_its_place_by_time() -> None:
    """Soaking written on paper at 14:00, entered after the count of the next morning: the container still dries."""
    known = [StepTaken(K.ARRIVED), StepTaken(K.LOOKED_AT), StepTaken(K.COUNTED, 132)]
    standing_then = fold(known[:2])
    assert answer(POTTERY, standing_then, K.SOAKING) == "yes"
    assert fold([*known[:2], StepTaken(K.SOAKING), *known[2:]]) is S.DRYING


@pytest.mark.parametrize("of", [GLASS, METAL, BONE, SOIL])
@pytest.mark.parametrize("standing", [S.LISTED, S.ARRIVED, S.DRYING])
def test_what_is_never_soaked_says_where_it_goes(of: Route, standing: Standing) -> None:
    assert answer(of, standing, K.SOAKING) == "never_soaked"


@pytest.mark.parametrize(
    ("of", "standing", "step", "expected"),
    [
        (GLASS, S.ARRIVED, K.WASHED, "yes"),
        (GLASS, S.ARRIVED, K.COUNTED, "yes"),
        (GLASS, S.ARRIVED, K.DRY_BRUSHED, "never_brushed"),
        (METAL, S.ARRIVED, K.WASHED, "never_washed"),
        (METAL, S.ARRIVED, K.DRY_BRUSHED, "never_brushed"),
        (METAL, S.ARRIVED, K.COUNTED, "yes"),
        (METAL, S.ARRIVED, K.LEFT_UNWASHED, "yes"),
        (METAL, S.DRY, K.SORTING, "not_sorted_here"),
        (METAL, S.DRY, K.BAGGED, "yes"),
        (METAL, S.DRYING, K.BAGGED, "not_dry"),
        (SLAG, S.ARRIVED, K.DRY_BRUSHED, "yes"),
        (SLAG, S.DRY, K.SORTING, "yes"),
        (SLAG, S.DRY, K.BAGGED, "not_settled"),
        (BONE, S.ARRIVED, K.WASHED, "never_washed"),
        (BONE, S.ARRIVED, K.COUNTED, "yes"),
        (BONE, S.ARRIVED, K.HANDED_ON, "yes"),
        (SOIL, S.ARRIVED, K.COUNTED, "closed_sample"),
        (SOIL, S.ARRIVED, K.LEFT_UNWASHED, "closed_sample"),
        (SOIL, S.ARRIVED, K.CLOSED, "yes"),
        (SOIL, S.CLOSED, K.BAGGED, "yes"),
        (SOIL, S.CLOSED, K.SPLIT, "closed_sample"),
        (HUMAN, S.ARRIVED, K.SOAKING, "stop_route"),
        (HUMAN, S.ARRIVED, K.COUNTED, "stop_route"),
        (HUMAN, S.ARRIVED, K.BAGGED, "stop_route"),
        (HUMAN, S.ARRIVED, K.HANDED_ON, "yes"),
        (HUMAN, S.ARRIVED, K.CLOSED, "yes"),
        (POTTERY, S.ARRIVED, K.CLOSED, "wrong_step"),
        (route(counted=False), S.ARRIVED, K.COUNTED, "not_counted"),
    ],
)
def test_each_material_has_its_way(of: Route, standing: Standing, step: StepKind, expected: str) -> None:
    assert answer(of, standing, step) == expected


@pytest.mark.parametrize(
    ("standing", "step", "expected"),
    [
        (S.ISSUED, K.SOAKING, "not_arrived"),
        (S.LISTED, K.COUNTED, "not_arrived"),
        (S.MISSING, K.COUNTED, "not_arrived"),
        (S.MISSING, K.ARRIVED, "yes"),
        (S.UNUSED, K.ARRIVED, "yes"),
        (S.VOID, K.ARRIVED, "tag_void"),
        (S.UNUSED, K.COUNTED, "tag_unused"),
        (S.JOINED, K.COUNTED, "joined"),
        (S.AWAY, K.COUNTED, "not_here"),
        (S.AWAY, K.CAME_BACK, "yes"),
        (S.DRY, K.CAME_BACK, "not_away"),
        (S.EMPTY, K.SORTING, "empty"),
        (S.EMPTY, K.COUNTED, "yes"),
        (S.SOAKING, K.SOAKING, "yes"),
        (S.SOAKING, K.HANDED_ON, "in_a_tub"),
        (S.SOAKING, K.DRY, "in_a_tub"),
        (S.SOAKING, K.LEFT_UNWASHED, "yes"),
        (S.ARRIVED, K.DRY, "not_washed"),
        (S.WASHED, K.SOAKING, "already_washed"),
        (S.DRYING, K.SOAKING, "already_washed"),
        (S.SORTING, K.WASHED, "already_washed"),
        (S.ARRIVED, K.SORTING, "not_dry"),
        (S.DRYING, K.SORTING, "not_dry"),
        (S.DRY, K.SETTLED, "not_sorted"),
        (S.DRY, K.REOPENED, "not_settled"),
        (S.SORTING, K.BAGGED, "not_settled"),
        (S.SETTLED, K.COUNTED, "already_settled"),
        (S.SETTLED, K.SETTLED, "already_settled"),
        (S.BAGGED, K.SORTING, "already_settled"),
        (S.BAGGED, K.BAGGED, "yes"),
        (S.ARRIVED, K.VOIDED, "already_here"),
        (S.DRY, K.MISSING, "already_here"),
        (S.ISSUED, K.VOIDED, "yes"),
        (S.LISTED, K.UNUSED, "yes"),
        (S.DRY, K.DRY, "wrong_step"),
        (S.ISSUED, K.ISSUED, "not_arrived"),
        (S.VOID, K.CORRECTED, "yes"),
        (S.VOID, K.SWAPPED, "tag_void"),
        (S.ARRIVED, K.SPLIT, "yes"),
        (S.SETTLED, K.SPLIT, "already_settled"),
        (S.ARRIVED, K.RELEASED, "not_held"),
    ],
)
def test_a_step_that_cannot_follow_says_the_way_out(standing: Standing, step: StepKind, expected: str) -> None:
    assert answer(POTTERY, standing, step) == expected


@pytest.mark.parametrize("standing", [S.ARRIVED, S.SOAKING, S.DRYING, S.SETTLED])
def test_a_second_arrival_is_a_question(standing: Standing) -> None:
    with pytest.raises(Question) as caught:
        allowed(POTTERY, standing, None, K.ARRIVED, facts={"number": "130"})
    assert caught.value.code == "already_here"
    assert "130" in caught.value.in_words()


def test_look_before_the_tub() -> None:
    assert answer(POTTERY, S.ARRIVED, K.SOAKING, looked=False) == "look_first"
    assert answer(POTTERY, S.ARRIVED, K.SOAKING) == "yes"
    assert answer(POTTERY, S.SOAKING, K.SOAKING, looked=False) == "yes"


def test_no_look_is_asked_where_it_would_come_too_late() -> None:
    assert answer(POTTERY, S.ARRIVED, K.COUNTED, looked=False) == "yes"
    assert answer(POTTERY, S.ARRIVED, K.WASHED, looked=False) == "yes"
    assert answer(METAL, S.ARRIVED, K.COUNTED, looked=False) == "yes"
    assert answer(POTTERY, S.ARRIVED, K.LEFT_UNWASHED, looked=False) == "yes"
    assert answer(POTTERY, S.DRYING, K.COUNTED, looked=False) == "yes"


@pytest.mark.parametrize("hold", Hold)
@pytest.mark.parametrize("step", [K.SOAKING, K.WASHED, K.DRY_BRUSHED, K.COUNTED])
def test_what_is_held_back_meets_neither_water_nor_brush(hold: Hold, step: StepKind) -> None:
    assert answer(POTTERY, S.ARRIVED, step, hold) == "held_back"


def test_what_is_held_back_may_be_left_unwashed_counted_and_released() -> None:
    assert answer(POTTERY, S.ARRIVED, K.LEFT_UNWASHED, Hold.PAINTED) == "yes"
    assert answer(POTTERY, S.WASHED, K.COUNTED, Hold.PAINTED) == "yes"
    assert answer(POTTERY, S.ARRIVED, K.RELEASED, Hold.PAINTED) == "yes"
    assert answer(POTTERY, S.SOAKING, K.HELD) == "yes"


def test_counting_at_the_wash_or_at_sorting() -> None:
    assert answer(POTTERY, S.WASHED, K.DRY) == "count_first"
    assert answer(POTTERY, S.WASHED, K.DRY, at_wash=False) == "yes"
    for standing in (S.ARRIVED, S.SOAKING, S.WASHED, S.DRYING, S.DRY):
        assert answer(POTTERY, standing, K.COUNTED, at_wash=False) == "counted_at_sorting"
    assert answer(POTTERY, S.SORTING, K.COUNTED, at_wash=False) == "yes"
    assert answer(route(counted=False), S.WASHED, K.DRY) == "yes"


@pytest.mark.parametrize(
    ("of", "standing", "back_to", "possible"),
    [
        (POTTERY, S.SOAKING, S.ARRIVED, True),
        (POTTERY, S.DRY, S.SOAKING, True),
        (POTTERY, S.EMPTY, S.DRYING, True),
        (POTTERY, S.VOID, S.ISSUED, True),
        (POTTERY, S.VOID, S.ARRIVED, False),
        (POTTERY, S.MISSING, S.LISTED, True),
        (POTTERY, S.UNUSED, S.DRY, False),
        (POTTERY, S.JOINED, S.DRY, False),
        (POTTERY, S.ARRIVED, S.ISSUED, True),
        (POTTERY, S.ARRIVED, S.DRY, False),
        (POTTERY, S.DRY, S.DRY, False),
        (POTTERY, S.DRY, S.AWAY, False),
        (BONE, S.DRY, S.SOAKING, False),
        (BONE, S.AWAY, S.SORTING, False),
        (BONE, S.AWAY, S.ARRIVED, True),
    ],
)
def test_a_step_back_goes_to_what_stands_before(
    of: Route, standing: Standing, back_to: Standing, possible: bool
) -> None:
    if possible:
        may_go_back(of, standing, back_to)
        return
    with pytest.raises(Refusal) as caught:
        may_go_back(of, standing, back_to, facts={"number": "5"})
    assert caught.value.code == "wrong_step"
    with pytest.raises(Refusal):
        allowed(of, standing, None, K.TAKEN_BACK, back_to=back_to)


EVERY_ROUTE = [POTTERY, GLASS, METAL, SLAG, BONE, SOIL, HUMAN]


@given(
    st.sampled_from(EVERY_ROUTE),
    st.sampled_from(Standing),
    st.sampled_from([None, *Hold]),
    st.sampled_from(StepKind),
    st.booleans(),
    st.booleans(),
)
def test_every_case_has_an_answer(
    of: Route, standing: Standing, held: Hold | None, step: StepKind, at_wash: bool, looked: bool
) -> None:
    assert answer(of, standing, step, held, at_wash=at_wash, looked=looked)


@given(st.lists(st.sampled_from(StepKind), max_size=30))
def test_no_row_of_allowed_steps_puts_bone_into_a_tub(steps: list[StepKind]) -> None:
    standing = S.ISSUED
    for step in steps:
        if step is K.TAKEN_BACK or answer(BONE, standing, step) != "yes":
            continue
        standing = after(standing, step, pieces=3)
        assert standing not in (S.SOAKING, S.SORTING, S.SETTLED)


def test_every_standing_and_step_has_words() -> None:
    assert set(STANDING_IN_WORDS) == set(Standing)
    assert all(step_in_words(kind, None) for kind in StepKind)
    assert (step_in_words(K.SPLIT, None), step_in_words(K.SPLIT, 1)) == ("split", "taken out")
