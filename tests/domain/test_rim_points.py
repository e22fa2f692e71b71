"""Points along a rim on a photograph or typed, in millimetres."""

from __future__ import annotations

import pytest

from findsdesk.domain.refusals import Refusal
from findsdesk.domain.rim_points import in_millimetres, read_points


def test_a_scale_of_a_hundred_millimetres_brings_points_to_millimetres() -> None:
    points = in_millimetres([(0, 0), (400, 0), (0, 1000)], ((10, 10), (410, 10)), 100)
    assert points == ((0, 0), (100, 0), (0, 250))


@pytest.mark.parametrize(
    ("scale", "length", "code"),
    [(((0, 0), (400, 0)), 0, "scale_length"), (((0, 0), (12, 0)), 100, "scale_too_short")],
)
def test_a_scale_that_cannot_be_one(scale: object, length: int, code: str) -> None:
    with pytest.raises(Refusal) as caught:
        in_millimetres([(0, 0)], scale, length)  # type: ignore[arg-type]
    assert caught.value.code == code


def test_typed_points_are_read_with_either_decimal_sign() -> None:
    assert read_points("0 0\n\n12,5; 3\n-4.5\t7") == ((0, 0), (12.5, 3), (-4.5, 7))


@pytest.mark.parametrize("text", ["1", "1 2 3", "a b", "1 2\nx 3", f"1 {'9' * 400}", "-1e9 2"])
def test_what_is_no_point(text: str) -> None:
    with pytest.raises(Refusal) as caught:
        read_points(text)
    assert caught.value.code == "points_unreadable"
