"""Where the squares of a grid lie: their names read as column and row, in metres of the grid or of the earth."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

Corners = tuple[tuple[float, float], ...]
_NAME = re.compile(r"\s*([A-Z]{1,2})\s*[-./]?\s*(\d{1,4})\s*", re.IGNORECASE)
IN_DEGREES = frozenset({4258, 4267, 4269, 4326, 4937, 4979})
"""The commonest systems of longitude and latitude (EPSG registry, FROM MEMORY): ETRS89, NAD27, NAD83, WGS 84."""
USUAL_SQUARE_M = 5.0
"""The side of a square where nobody says it (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class GridPlace:
    """How a grid lies: the side of its squares in metres, and where its south-western corner is.

    The formula is that of a similarity transformation without a change of scale (IOGP 373-7-2, EPSG method 9621).
    ``epsg`` names the system of ``east`` and ``north`` (metres); without it the grid is tied to nothing and its corner
    is 0, 0. ``turned`` is the angle from the system's north to the grid's, clockwise, in degrees.
    """

    square_m: float = USUAL_SQUARE_M
    east: float = 0.0
    north: float = 0.0
    turned: float = 0.0
    epsg: int | None = None

    @property
    def corner(self) -> str:
        """Return the south-western corner as it is typed; nothing for a grid tied to nothing."""
        return "" if (self.east, self.north) == (0.0, 0.0) else f"{self.east:.12g},{self.north:.12g}"

    def check(self) -> None:
        """Refuse a grid that cannot be laid out: ``grid_impossible``, ``grid_in_degrees``."""
        if self.epsg in IN_DEGREES:
            text = N_("EPSG {epsg} counts in degrees, a grid in metres. Name a system with east and north in metres.")
            raise Refusal("grid_in_degrees", text, epsg=self.epsg)
        numbers = (self.square_m, self.east, self.north, self.turned)
        if not all(map(math.isfinite, numbers)) or self.square_m <= 0 or (self.epsg is not None and self.epsg <= 0):
            text = N_("No grid can be laid out so. The side of a square and the system's number must be above 0.")
            raise Refusal("grid_impossible", text)


def read_corner(text: str) -> tuple[float, float]:
    """Read the south-western corner of square A1, east and north in metres: 500000,4000000 (nothing: 0, 0).

    Refusal: ``corner_unreadable``.
    """
    parts = re.split(r"[,;\s]+", text.strip()) if text.strip() else ["0", "0"]
    try:
        east, north = map(float, parts)
    except ValueError as error:
        text_of = N_("{text} is no corner. Write east and north in metres: 500000,4000000.")
        raise Refusal("corner_unreadable", text_of, text=text.strip()) from error
    return east, north


def read_turn(text: str) -> float:
    """Read by how many degrees a grid is turned clockwise (nothing: 0). Refusal: ``turn_unreadable``."""
    try:
        return float(text.strip().replace(",", ".") or 0)
    except ValueError as error:
        text_of = N_("{text} is no angle. Write how many degrees the grid is turned clockwise: 12.5.")
        raise Refusal("turn_unreadable", text_of, text=text.strip()) from error


def place_in_grid(name: str) -> tuple[int, int] | None:
    """Return column and row of a square from 0, by its letter and number (A1 is 0, 0); None for any other name.

    Letters go eastwards, numbers northwards (common practice, no source): A, B … Z, AA, AB …
    """
    found = _NAME.fullmatch(name)
    if found is None or int(found[2]) == 0:
        return None
    column = 0
    for letter in found[1].upper():
        column = column * 26 + ord(letter) - ord("A") + 1
    return column - 1, int(found[2]) - 1


def corners_of(name: str, grid: GridPlace) -> Corners:
    """Return the four corners of a square in metres (east, north), against the clock from its south-western one.

    A name that is no letter with a number has none: ``()``. A turn by t clockwise takes (x, y) to
    (x cos t + y sin t, y cos t - x sin t).
    """
    place = place_in_grid(name)
    if place is None:
        return ()
    column, row = place
    turn = math.radians(grid.turned)
    return tuple(
        (
            grid.east + x * math.cos(turn) + y * math.sin(turn),
            grid.north + y * math.cos(turn) - x * math.sin(turn),
        )
        for x, y in (
            (grid.square_m * across, grid.square_m * up)
            for across, up in ((column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1))
        )
    )
