"""How far a long work has come: told whoever waits, who may call it off by raising something."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

Follow = Callable[[int, int], None]
"""Told how much is done and of how much; what it raises calls the work off."""
Row = TypeVar("Row")
_BETWEEN = 1_000
"""After so many rows it is told."""


def quietly(_done: int, _of: int) -> None:
    """Follow nothing."""


def unless(called_off: Callable[[], bool], follow: Follow = quietly) -> Follow:
    """Return what follows and calls off when asked to: the refusal ``called_off``."""

    def told(done: int, of: int) -> None:
        if called_off():
            raise Refusal("called_off", N_("Called off. Nothing was written."))
        follow(done, of)

    return told


class Counting:
    """Counts what passes, over all tables of one work, and tells it in steps."""

    def __init__(self, of: int, follow: Follow) -> None:
        self.done, self._of, self._follow = 0, of, follow

    def passing(self, rows: Iterable[Row]) -> Iterator[Row]:
        """Yield rows on, telling after each thousand how many have passed."""
        for row in rows:
            if self.done % _BETWEEN == 0:
                self._follow(self.done, self._of)
            self.done += 1
            yield row

    def finish(self) -> None:
        """Tell that all has passed."""
        self._follow(self._of, self._of)
