"""PINs: what one may be, and how long to wait after wrong ones. A PIN is never said back, not even in a refusal."""

from __future__ import annotations

from datetime import timedelta

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

FEWEST_DIGITS = 4
MOST_DIGITS = 12
TRIES = 5
"""So many wrong PINs in a row cost no time."""
FIRST_WAIT = timedelta(seconds=30)
LONGEST_WAIT = timedelta(minutes=15)


def read_pin(text: str) -> str:
    """Return a PIN without the blanks around it; refuses what is not 4 to 12 digits (``pin_digits``)."""
    pin = text.strip()
    if not (pin.isascii() and pin.isdigit() and FEWEST_DIGITS <= len(pin) <= MOST_DIGITS):
        raise Refusal(
            "pin_digits",
            N_("A PIN has {fewest} to {most} digits and nothing else. Choose another one."),
            fewest=FEWEST_DIGITS,
            most=MOST_DIGITS,
        )
    return pin


def wait_after(failures: int) -> timedelta:
    """Return how long nobody may try after so many wrong PINs in a row: 30 s after the fifth, doubling to 15 min."""
    if failures < TRIES:
        return timedelta(0)
    # Ten doublings are beyond the longest wait already; more would only make a number nobody can hold.
    return min(LONGEST_WAIT, FIRST_WAIT * (1 << min(failures - TRIES, 10)))
