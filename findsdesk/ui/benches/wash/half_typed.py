"""Whose number is it? Which of the digits typed around a scan belong to the container before, which to the next.

A scan is looked up on another thread; whoever is fast has typed the next count, and pressed Enter, before its container
is in hand. Digits typed before a scan are never written for the next container, digits typed after it never for the
one before, however long the store takes: the tag is emptied when a look-up begins, and what stood on it waits here.
"""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(slots=True)
class LookUp:
    """One look-up under way."""

    before: str
    """Digits half typed when it began, for whatever was in hand or on its way then."""
    entered: str | None = None
    """Digits closed with Enter since, for what this look-up finds; None while Enter was not pressed."""


@dataclass
class HalfTyped:
    """The look-ups under way, oldest first; what is typed now is for the newest."""

    _under_way: list[LookUp] = field(default_factory=list)

    @property
    def looking_up(self) -> bool:
        """Return whether something is being looked up."""
        return bool(self._under_way)

    def begin(self, digits: str) -> None:
        """A look-up begins; these digits are taken off the tag."""
        self._under_way.append(LookUp(digits))

    def before(self) -> str:
        """Return the digits typed for what is in hand when the look-up now ending began."""
        return self._under_way[0].before if self._under_way else ""

    def put_before(self, digits: str) -> None:
        """Put other digits in their place: another was scanned, or they are written or dropped."""
        if self._under_way:
            self._under_way[0].before = digits

    def enter(self, digits: str) -> None:
        """Keep digits and Enter for what the newest look-up finds; a second Enter adds nothing."""
        if self._under_way[-1].entered is None:
            self._under_way[-1].entered = digits

    def end(self) -> LookUp:
        """End the oldest look-up and return it."""
        return self._under_way.pop(0) if self._under_way else LookUp("")

    def give_back(self, digits: str, on_tag: str) -> str:
        """Put digits in front of those typed since for the same thing; return what stands on the tag then."""
        if self._under_way:
            self._under_way[0].before = digits + self._under_way[0].before
            return on_tag
        return digits + on_tag
