"""What may lie in a box together, how heavy it may be, how full it is."""

from __future__ import annotations

import pytest

from findsdesk.domain.box_rules import (
    ASKED_ABOVE_TENTHS,
    LIMIT_TENTHS,
    MOST_TENTHS,
    BoxRule,
    Load,
    check_limit,
    check_material,
    check_size,
    full_permille,
    kilograms,
    over_full,
    over_limit,
    room_of,
    usable_ml,
)
from findsdesk.domain.refusals import Question, Refusal

SHERDS = BoxRule("sherds", "Sherds", ("pottery",), ("tile_brick",), False, "", "", (390, 250, 200), 1.5)


def test_the_usual_limit_lies_within_the_published_figures() -> None:
    """PUBLISHED (training copies of the British guidance): 16 kg for women, 25 kg for men, close to the body between
    knuckle and elbow height; 23 kg is the load constant of the United States equation; an archive keeps below 15 kg."""
    assert LIMIT_TENTHS < 15 * 10_000
    assert ASKED_ABOVE_TENTHS == 16 * 10_000
    assert MOST_TENTHS == 23 * 10_000 < 25 * 10_000


@pytest.mark.parametrize(
    ("tenths", "code"), [(0, "limit_too_high"), (230_001, "limit_too_high"), (-1, "limit_too_high")]
)
def test_a_limit_for_nobody_is_refused(tenths: int, code: str) -> None:
    with pytest.raises(Refusal) as caught:
        check_limit(tenths)
    assert caught.value.code == code
    assert not isinstance(caught.value, Question)


def test_a_heavy_limit_is_asked_about() -> None:
    assert check_limit(160_000) is None
    asked = check_limit(160_001)
    assert asked is not None
    assert asked.code == "heavy_limit"
    assert "local codes" in asked.in_words()


def test_materials_in_a_box() -> None:
    assert check_material(SHERDS, "pottery", bag="A", material_name="Pottery") is None
    asked = check_material(SHERDS, "tile_brick", bag="A", material_name="Tile and brick")
    assert asked is not None
    assert asked.code == "seldom_together"
    with pytest.raises(Refusal) as caught:
        check_material(SHERDS, "bone", bag="A", material_name="Animal bone")
    assert caught.value.code == "never_together"


def test_weight_and_room() -> None:
    """DERIVED: 390 x 250 x 200 mm are 19.5 litres, of which 85 in 100 are filled: 16.575."""
    assert usable_ml((390, 250, 200)) == 16_575
    assert room_of(10_000, 1.5) == 1_500, "a kilogram of sherds takes a litre and a half"
    assert room_of(None, 1.5) == 0
    assert full_permille(96_000, 100_000, 0, 16_575) == 960
    assert full_permille(10_000, 100_000, 8_000, 16_000) == 500
    assert full_permille(1, 0, 1, 0) == 0
    assert kilograms(96_000) == "9.6"
    assert Load(1, 2, 3, 4, 5) + Load(10, 20, 30, 40, 50) == Load(11, 22, 33, 44, 55)


def test_over_the_limit_and_over_full_are_asked_about() -> None:
    assert over_limit(31, 100_000, 100_000) is None
    asked = over_limit(31, 100_001, 100_000)
    assert asked is not None
    assert asked.code == "box_over_limit"
    assert over_full(31, 16_575, 16_575) is None
    asked = over_full(31, 16_576, 16_575)
    assert asked is not None
    assert asked.code == "box_over_full"


@pytest.mark.parametrize("size", [(390, 250), (0, 250, 200), (390, 250, 2001)])
def test_an_impossible_size(size: tuple[int, ...]) -> None:
    with pytest.raises(Refusal) as caught:
        check_size(size)
    assert caught.value.code == "box_size"
