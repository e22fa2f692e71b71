"""How far work over many rows is that goes through them in stages, told as rows done of rows."""

from __future__ import annotations

from collections.abc import Callable

Follow = Callable[[int, int], None]
"""Called with rows done and rows; it may end the work there by a refusal."""
OFTEN = 5_000
"""Rows after which work tells how far it is."""


class Passing:
    """Stages count alike; what is told never goes back."""

    def __init__(self, follow: Follow, rows: int, stages: int) -> None:
        self._follow, self._rows, self._stages = follow, rows, stages
        self._most = 0

    def at(self, stage: int, done: int, of: int) -> None:
        """Tell that so much of a stage (from 0) is done. Refusals: those of whoever follows."""
        share = (stage + (done / of if of else 1.0)) / self._stages
        self._most = max(self._most, min(self._rows, int(self._rows * share)))
        self._follow(self._most, self._rows)
