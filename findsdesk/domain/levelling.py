"""Elevations by levelling."""

from __future__ import annotations


def elevation(benchmark_mm: int, backsight_mm: int, foresight_mm: int) -> int:
    """Return the elevation of a point in millimetres: benchmark + backsight − foresight.

    The sum of the first two is the height of the instrument; a staff held upside down reads negative. Formula and
    worked examples: docs/sources.md, "Levelling".
    """
    return benchmark_mm + backsight_mm - foresight_mm
