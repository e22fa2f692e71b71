"""Whose number is it? Which of the digits typed around a scan belong to the container before, which to the next.

A scan is looked up on another thread; who types fast has typed the first digits of the next count before its container
is in hand. Digits typed before the scan are never written for the next container, digits typed after it never for the
one before.
"""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass
class HalfTyped:
    """The digits that stood on the tag when each look-up under way began, oldest first."""

    _then: list[str] = field(default_factory=list)
    enter_waits: bool = False
    """Enter was pressed while something was being looked up: it is for what comes."""

    @property
    def looking_up(self) -> bool:
        """Return whether something is being looked up."""
        return bool(self._then)

    def begin(self, digits: str) -> None:
        """A look-up begins while these digits stand on the tag."""
        self._then.append(digits)

    def before(self) -> str:
        """Return the digits that stood on the tag when the look-up now ending began."""
        return self._then[0] if self._then else ""

    def since(self, digits: str) -> str:
        """Return which of the digits on the tag were typed since then."""
        return _rest(digits, self.before())

    def taken(self) -> None:
        """The digits from before were taken off the tag; later look-ups began without them."""
        before = self.before()
        self._then = ["", *(_rest(digits, before) for digits in self._then[1:])] if self._then else []

    def written(self, digits: str) -> None:
        """These digits were taken off the tag to be written: no look-up under way finds them there."""
        self._then = [_rest(then, digits) for then in self._then]

    def scanned(self, digit: str) -> None:
        """A digit came by scan, before whatever else is still looked up."""
        self._then[1:] = [then + digit for then in self._then[1:]]

    def end(self) -> bool:
        """A look-up ended; return whether an Enter that waited is due now."""
        if self._then:
            self._then.pop(0)
        due = self.enter_waits and not self._then
        if due:
            self.enter_waits = False
        return due


def _rest(digits: str, before: str) -> str:
    return digits[len(before) :] if digits.startswith(before) else ""
