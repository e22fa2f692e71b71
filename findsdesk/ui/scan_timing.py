"""Scan or typing? The decision, by prefix or by speed, without Qt and with the time passed in.

A scanner that acts as a keyboard types faster than people do: the common limits are at most 30 ms a character on
average and at least 6 characters; Bluetooth scanners are slower (120 ms, gaps up to 250 ms) and therefore need a
prefix, since nobody's typing may be held back that long.
"""

from __future__ import annotations

from enum import Enum

HOLD_MS = 35.0
"""How long the first key of what may be a scan is held at most."""
LEAST_CHARACTERS = 6
AGAIN_MS = 2000.0
"""The same code within this time is a double trigger."""


class ScannerProfile:
    """How one kind of scanner types; milliseconds."""

    def __init__(
        self, average: float = 30.0, longest_gap: float = 80.0, silence: float = 100.0, prefix: str = ""
    ) -> None:
        if len(prefix) > 1:
            raise ValueError("the prefix is one character")
        if not prefix and average > HOLD_MS:
            raise ValueError("a slow scanner can only be told from typing by a prefix")
        self.average, self.longest_gap, self.silence, self.prefix = average, longest_gap, silence, prefix


def usb(prefix: str = "") -> ScannerProfile:
    """Return the profile of a scanner on a cable."""
    return ScannerProfile(prefix=prefix)


def bluetooth(prefix: str) -> ScannerProfile:
    """Return the profile of a scanner by radio; it must be set to send the prefix before each code."""
    return ScannerProfile(average=120.0, longest_gap=250.0, silence=300.0, prefix=prefix)


class Verdict(Enum):
    """What to do with a key just pressed."""

    PASS = "pass"
    """Not a scan's: let it through."""
    HOLD = "hold"
    """Keep it back: it may be a scan's."""
    GIVE_BACK = "give back"
    """What was held was typing: give it back, then let this key through."""
    GIVE_BACK_AND_HOLD = "give back and hold"
    """What was held was typing: give it back, but this key may begin a scan."""
    SCAN = "scan"
    """The scan is complete; this key ended it."""


class ScanTiming:
    """Follows the keys of one keyboard. All times are milliseconds of one steady clock."""

    def __init__(self, profile: ScannerProfile | None = None) -> None:
        self.profile = profile or usb()
        self._held = ""
        self._times: list[float] = []
        self._prefixed = False

    @property
    def holding(self) -> bool:
        """Return whether keys are kept back."""
        return bool(self._times)

    @property
    def held(self) -> str:
        """Return the characters that are kept back, without the prefix."""
        return self._held

    @property
    def prefixed(self) -> bool:
        """Return whether they began with the prefix that the scanner alone sends."""
        return self._prefixed

    def character(self, text: str, now: float) -> Verdict:
        """Judge a key that writes one character."""
        if not self._times:
            return self._begin(text, now)
        if self._is_over(now) or not self._fits(now):
            self.forget()
            self._begin(text, now)
            return Verdict.GIVE_BACK_AND_HOLD
        self._times.append(now)
        self._held += text
        return Verdict.HOLD

    def end_key(self, now: float) -> Verdict:
        """Judge Enter or Tab, with which scanners end a code."""
        if not self._times:
            return Verdict.PASS
        return Verdict.SCAN if self._is_scan() and not self._is_over(now) else Verdict.GIVE_BACK

    def other_key(self) -> Verdict:
        """Judge a key that no scanner sends."""
        return Verdict.GIVE_BACK if self._times else Verdict.PASS

    def wait_until(self) -> float | None:
        """Return the time at which to decide if no further key comes, or None while nothing is held."""
        if not self._times:
            return None
        return self._times[-1] + self._patience()

    def silence(self, now: float) -> Verdict:
        """Judge that no key came: a scan without an end key, typing, or too early to say."""
        until = self.wait_until()
        if until is None or now < until:
            return Verdict.PASS
        return Verdict.SCAN if self._is_scan() else Verdict.GIVE_BACK

    def take(self) -> str:
        """Return the code of a complete scan and begin anew."""
        code = self._held
        self.forget()
        return code

    def forget(self) -> None:
        """Begin anew."""
        self._held, self._times, self._prefixed = "", [], False

    def _begin(self, text: str, now: float) -> Verdict:
        self._times = [now]
        self._prefixed = bool(self.profile.prefix) and text == self.profile.prefix
        self._held = "" if self._prefixed else text
        if self.profile.average > HOLD_MS and not self._prefixed:
            self.forget()
            return Verdict.PASS
        return Verdict.HOLD

    def _average(self, now: float) -> float:
        return (now - self._times[0]) / len(self._times)

    def _fits(self, now: float) -> bool:
        gap = now - self._times[-1]
        return gap <= self.profile.longest_gap and (len(self._times) == 1 or self._average(now) <= self.profile.average)

    def _is_scan(self) -> bool:
        if self._prefixed:
            return len(self._held) >= 1 and self._spread() <= self.profile.average
        return len(self._held) >= LEAST_CHARACTERS and self._spread() <= self.profile.average

    def _spread(self) -> float:
        gaps = len(self._times) - 1
        return (self._times[-1] - self._times[0]) / gaps if gaps else 0.0

    def _patience(self) -> float:
        """Return how long the next key may be waited for: no longer than it could still belong to a scan."""
        if self._prefixed or self._is_scan():
            return self.profile.silence
        if len(self._times) == 1:
            return HOLD_MS
        left = self.profile.average * len(self._times) - (self._times[-1] - self._times[0])
        return max(0.0, min(self.profile.longest_gap, left))

    def _is_over(self, now: float) -> bool:
        return now - self._times[-1] > self._patience()
