"""Where squares lie. The turn is checked by hand: a quarter turn clockwise takes east to south and north to east."""

from __future__ import annotations

import pytest

from findsdesk.domain.refusals import Refusal
from findsdesk.domain.square_grid import GridPlace, corners_of, place_in_grid, read_corner, read_turn


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


@pytest.mark.parametrize(
    ("text", "corner"),
    [("", (0.0, 0.0)), ("500000,4000000", (500000.0, 4000000.0)), (" 500000.5; 4000000 ", (500000.5, 4000000.0))],
)
def test_a_corner_is_read_as_east_and_north(text: str, corner: tuple[float, float]) -> None:
    assert read_corner(text) == corner


@pytest.mark.parametrize("text", ["north", "500000", "1,2,3"])
def test_what_is_no_corner_is_refused(text: str) -> None:
    with pytest.raises(Refusal, match="corner_unreadable"):
        read_corner(text)


def test_a_turn_is_read_with_point_or_comma() -> None:
    assert (read_turn(""), read_turn("12,5"), read_turn(" -3.25 ")) == (0.0, 12.5, -3.25)
    with pytest.raises(Refusal, match="turn_unreadable"):
        read_turn("east")
