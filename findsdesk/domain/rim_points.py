"""Points along a rim: marked on a photograph beside a scale, or digitised and typed, brought to millimetres."""

from __future__ import annotations

import math
from collections.abc import Sequence

from findsdesk.domain.numbers import read_decimal
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

Point = tuple[float, float]
SHORTEST_SCALE_PX = 20
"""A scale shorter than this on the picture is off by more than 5 % when its end is marked one pixel beside (ours)."""
FARTHEST_MM = 1e10
"""Farther from nothing no point of a rim lies, digitised in whatever grid (ours): 10,000 km."""


def in_millimetres(points: Sequence[Point], scale: tuple[Point, Point], scale_mm: int) -> tuple[Point, ...]:
    """Return points of a picture in millimetres, by the two ends of a scale of known length beside the sherd.

    Refusals: ``scale_length``, ``scale_too_short``.
    """
    if scale_mm <= 0:
        raise Refusal("scale_length", N_("Write how long the scale is, in millimetres."))
    pixels = math.dist(*scale)
    if pixels < SHORTEST_SCALE_PX:
        raise Refusal(
            "scale_too_short",
            N_("The scale is only {pixels} points long on the picture. Mark its two ends farther apart."),
            pixels=round(pixels),
        )
    return tuple((x * scale_mm / pixels, y * scale_mm / pixels) for x, y in points)


def read_points(text: str) -> tuple[Point, ...]:
    """Read digitised points, one a line: x and y in millimetres with a blank, a semicolon or a tab between them.

    Refusals: ``points_unreadable``, with the line.
    """
    points = []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        parts = line.replace(";", " ").split()
        if len(parts) != 2:
            raise _unreadable(number, line)
        try:
            x, y = (float(read_decimal(part)) for part in parts)
        except Refusal:
            raise _unreadable(number, line) from None
        if max(abs(x), abs(y)) > FARTHEST_MM:
            raise _unreadable(number, line)
        points.append((x, y))
    return tuple(points)


def _unreadable(number: int, line: str) -> Refusal:
    return Refusal(
        "points_unreadable",
        N_("Line {number}, “{line}”, is no point. Write x and y in millimetres with a blank between them."),
        number=number,
        line=line.strip()[:30],
    )
