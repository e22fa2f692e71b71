"""Elevations by levelling against published worked examples.

PUBLISHED: the reduced levels stand in the source (a levelling exercise, scribd document 202313858; a lesson in feet,
scribd document 282803623; the blog wyrearchaeology, 16 March 2008). DERIVED: readings published, result computed by
hand here because the source is cut off or wrong at that place.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from findsdesk.domain.levelling import elevation

# (known point, backsight, [(foresight, reduced level)]) in metres, scribd 202313858, all PUBLISHED.
PUBLISHED_SET_UPS = [
    ("40.000", "1.260", [("1.120", "40.140"), ("1.235", "40.025"), ("1.390", "39.870"), ("1.210", "40.050"),
                         ("1.170", "40.090"), ("1.490", "39.770")]),
    ("40.090", "1.685", [("1.390", "40.385"), ("1.470", "40.305"), ("1.520", "40.255"), ("1.570", "40.205"),
                         ("1.660", "40.115")]),
    ("39.770", "1.410", [("1.140", "40.040"), ("1.070", "40.110"), ("0.940", "40.240"), ("0.880", "40.300"),
                         ("1.685", "39.495")]),
    ("40.115", "1.220", [("1.150", "40.185"), ("1.110", "40.225"), ("1.030", "40.305"), ("0.970", "40.365")]),
    ("40.140", "1.120", [("1.240", "40.020"), ("1.140", "40.120"), ("0.940", "40.320")]),
]  # fmt: skip


def thousandths(text: str) -> int:
    whole, _, rest = text.partition(".")
    return int(whole) * 1000 + int(rest.ljust(3, "0"))


@pytest.mark.parametrize(("known", "backsight", "readings"), PUBLISHED_SET_UPS)
def test_published_reduced_levels(known: str, backsight: str, readings: list[tuple[str, str]]) -> None:
    for foresight, level in readings:
        assert elevation(thousandths(known), thousandths(backsight), thousandths(foresight)) == thousandths(level)


def test_published_differences_between_readings_are_those_between_levels() -> None:
    """The check the field books print: a rise between two points is the difference of their readings."""
    for _known, _backsight, readings in PUBLISHED_SET_UPS:
        for (reading, level), (next_reading, next_level) in pairwise(readings):
            rise = thousandths(reading) - thousandths(next_reading)
            assert thousandths(next_level) - thousandths(level) == rise


def test_a_line_of_levels_closes_on_its_sums() -> None:
    """PUBLISHED readings and end, scribd 202313858: from 40.000 over 40.090 and 40.115 to 40.365.

    The check of the field books: the backsights less the foresights are the last level less the first.
    """
    line = [("1.260", "1.170", "40.090"), ("1.685", "1.660", "40.115"), ("1.220", "0.970", "40.365")]
    at = first = thousandths("40.000")
    for backsight, foresight, level in line:
        at = elevation(at, thousandths(backsight), thousandths(foresight))
        assert at == thousandths(level)
    sums = [sum(thousandths(row[place]) for row in line) for place in (0, 1)]
    assert sums[0] - sums[1] == at - first


def test_height_of_instrument_in_feet() -> None:
    """PUBLISHED (scribd 282803623): 820.00 + 8.42 = 828.42 ft; DERIVED: less 1.20 gives 827.22 (the text is cut)."""
    assert elevation(82000, 842, 0) == 82842
    assert elevation(82000, 842, 120) == 82722


def test_a_published_slip_is_not_repeated() -> None:
    """DERIVED: the source prints 40.165 for a reading of 1.075 since it began at 40 instead of 40.14."""
    assert elevation(40140, 1120, 1075) == 40185


def test_point_below_an_instrument() -> None:
    """PUBLISHED (wyrearchaeology): instrument height less 1.465 is 4.595 m; DERIVED: the instrument stands at 6.060."""
    assert elevation(6060, 0, 1465) == 4595
