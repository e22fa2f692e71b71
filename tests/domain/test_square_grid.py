"""Where squares lie. The turn is checked by hand: a quarter turn clockwise takes east to south and north to east."""

from __future__ import annotations

import pytest

from findsdesk.domain.square_grid import GridPlace, corners_of, place_in_grid


@pytest.mark.parametrize(
    ("name", "place"),
    [("A1", (0, 0)), ("b 3", (1, 2)), ("Z-10", (25, 9)), ("AA1", (26, 0)), ("AB2", (27, 1)), ("C12", (2, 11))],
)
def test_letters_go_east_and_numbers_north(name: str, place: tuple[int, int]) -> None:
    assert place_in_grid(name) == place


@pytest.mark.parametrize("name", ["", "12", "A", "A0", "north", "A1-2", "Trench A1", "ABC1"])
def test_other_names_lie_nowhere(name: str) -> None:
    assert place_in_grid(name) is None
    assert corners_of(name, GridPlace()) == ()


def test_a_square_begins_at_its_south_western_corner() -> None:
    assert corners_of("B1", GridPlace(10.0)) == ((10.0, 0.0), (20.0, 0.0), (20.0, 10.0), (10.0, 10.0))
    assert corners_of("A1", GridPlace(5.0, 100.0, 200.0))[2] == (105.0, 205.0)


def test_a_quarter_turn_clockwise() -> None:
    turned = corners_of("A1", GridPlace(5.0, turned=90.0))
    assert turned == tuple(pytest.approx(corner) for corner in ((0, 0), (0, -5), (5, -5), (5, 0)))
