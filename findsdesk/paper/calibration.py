"""Meeting a printer that starts a little off and draws a little too large or small: what is set, and how it is found.

A test page is printed, four lengths are measured on it, and from then on every place on a page moves against the
printer's fault. Places move; what stands on a label keeps its true size, for its bars are whole dots of the printer.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

LARGEST_SHIFT = 1000  # hundredths of a mm; more is another sheet or another page size
LARGEST_STRETCH = 50  # per mille; more is “fit to page”
_LONG_PAGE = 100.0
_TENTH = 10


@dataclass(frozen=True, slots=True)
class Calibration:
    """How a printer is met: everything moves to the right and down, and spreads from the page's left and top edge.

    ``right`` and ``down`` in hundredths of a millimetre, ``across`` and ``along`` (down the page) in per mille of all
    lengths; each may be negative.
    """

    right: int = 0
    down: int = 0
    across: int = 0
    along: int = 0

    def left(self, wanted: float) -> float:
        """Return where something must be drawn (mm from the left) to come out ``wanted`` mm from the paper's edge."""
        return wanted * (1 + self.across / 1000) + self.right / 100

    def top(self, wanted: float) -> float:
        """Return where something must be drawn (mm from the top) to come out ``wanted`` mm from the paper's edge."""
        return wanted * (1 + self.along / 1000) + self.down / 100


NONE = Calibration()


class Measured(NamedTuple):
    """What was measured on a test page, in tenths of a millimetre from the paper's left and top edge to its lines."""

    left_to_a: int
    left_to_b: int
    top_to_c: int
    top_to_d: int


class Lines(NamedTuple):
    """Where a test page has its lines, in mm: a and b stand upright, c and d lie across."""

    a: float
    b: float
    c: float
    d: float


def lines_to_measure(page_width: float, page_height: float) -> Lines:
    """Return where the lines of a test page stand on a page of a size in mm, inside what printers reach."""
    return Lines(*_two_lines(page_width), *_two_lines(page_height))


def _two_lines(length: float) -> tuple[float, float]:
    if length < _LONG_PAGE:
        return 5.0, float(int(length - 5.0))
    return 20.0, float(int((length - 20.0) / 10) * 10)


def calibrate(page_width: float, page_height: float, measured: Measured, before: Calibration = NONE) -> Calibration:
    """Return how a printer must be met that put the lines of a test page where they were measured.

    ``before`` is the calibration the test page was printed with. Shifts come in tenths of a millimetre, stretches in
    per mille. Refuses what cannot be a printer's fault.
    """
    lines = lines_to_measure(page_width, page_height)
    drawn = before.left(lines.a), before.left(lines.b), before.top(lines.c), before.top(lines.d)
    found = [length / _TENTH for length in measured]
    right, across = _against(drawn[0], drawn[1], found[0], max(found[1], found[0] + 0.1), page_width)
    down, along = _against(drawn[2], drawn[3], found[2], max(found[3], found[2] + 0.1), page_height)
    if max(abs(right), abs(down)) > LARGEST_SHIFT or max(abs(across), abs(along)) > LARGEST_STRETCH:
        raise Refusal(
            "not_a_calibration",
            N_("A to D should be near {a}, {b}, {c} and {d} mm. Print at actual size, then measure again."),
            **{name: f"{length:g}" for name, length in lines._asdict().items()},
        )
    return Calibration(right, down, across, along)


def _against(drawn_near: float, drawn_far: float, near: float, far: float, page: float) -> tuple[int, int]:
    """Return shift (hundredths of a mm) and stretch (per mille) against a printer's fault in one direction.

    The printer draws x at scale · x + start; what is wanted at w must be drawn at (w - start) / scale. The stretch is
    rounded first, the shift then made right for the middle of the page, so that what is left is least everywhere.
    """
    scale = (far - near) / (drawn_far - drawn_near)
    start = near - scale * drawn_near
    stretch = round((1 / scale - 1) * 1000)
    shift = (page / 2 - start) / scale - page / 2 * (1 + stretch / 1000)
    return round(shift * 10) * 10, stretch
