"""Keys typed after a scan wait until what was scanned is in hand: none goes to what was in hand before.

A scan waits in the same way behind what was typed for the one before it.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TYPE_CHECKING

from findsdesk.ui.answers import Answer, Tone
from findsdesk.words import _

if TYPE_CHECKING:
    from findsdesk.ui.window import Window

LONGEST_S = 3.0
"""How long the window stands still for a look-up. A look-up takes 3 ms; behind a long act of the store it is longer."""


class KeysAfterScan:
    """Asked by the scan filter of every key that is none of a scan, before a widget or a shortcut has it."""

    def __init__(self, window: Window, longest_s: float = LONGEST_S) -> None:
        self._window = window
        self._longest_s = longest_s
        self._waited_in_vain = False

    def may_go_on(self, writes: bool) -> bool:
        """Wait until what was scanned is there; return False for a key that must not go on, since it is not.

        ``writes``: it is a letter, a digit, Enter or the like, which a bench may keep for what comes. Only what comes
        back from the lanes is taken meanwhile; more keys wait in the window system, in their order.
        """
        self._window.build_wished()
        self._waited_in_vain = not self._wait(lambda: self._window.keys_wait(writes))
        if self._waited_in_vain:
            self._refuse(_("Still looking it up: what is typed before it is there is not taken."))
        return not self._waited_in_vain

    def may_be_looked_up(self) -> bool:
        """Wait until what was typed for the last scan has gone to it; return False for a scan that cannot be taken."""
        if self._wait(self._something_is_ahead):
            return True
        self._refuse(_("Still looking up the last scan. Scan this one again."))
        return False

    def _something_is_ahead(self) -> bool:
        bench = self._window.bench_open()
        return bench is not None and bench.has_typed_ahead()

    def _wait(self, waits: Callable[[], bool]) -> bool:
        """Stand still as long as something waits; return whether it waits no more."""
        until = time.monotonic() + (0.0 if self._waited_in_vain else self._longest_s)
        while waits() and (left := until - time.monotonic()) > 0:
            self._window.surroundings.lanes.take_what_comes_back(left)
        return not waits()

    def _refuse(self, words: str) -> None:
        self._window.surroundings.say(Answer(Tone.REFUSED, _("Wait."), f" {words}"))
