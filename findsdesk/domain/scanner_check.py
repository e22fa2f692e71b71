"""Whether a scanner brings what is printed: three codes with every character that our codes use, sent and received."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from findsdesk.words import N_

TEST_CODES = ("A0123456789B", "CDEFGHIJKLMN", "OPQRSTUVWXYZ")
"""Between them every digit and letter; none is a code of a find, since its check character is wrong or missing."""


class Arrival(Enum):
    """How a test code arrived."""

    AS_PRINTED = N_("as printed")
    OTHER_CASE = N_("in small letters: codes are read all the same")
    OTHER_LETTERS = N_("other signs: {wrong}")
    INCOMPLETE = N_("signs are missing: set the scanner slower, or to a prefix")
    LONGER = N_("more than was printed: set the scanner to send the code alone")


@dataclass(frozen=True, slots=True)
class CodeArrived:
    """One test code as it was sent and received; ``wrong`` are pairs (printed, arrived) of signs that differ."""

    sent: str
    received: str
    arrival: Arrival
    wrong: tuple[tuple[str, str], ...] = ()

    @property
    def good(self) -> bool:
        """Tell whether codes of finds would be read."""
        return self.arrival in (Arrival.AS_PRINTED, Arrival.OTHER_CASE)


def compare(sent: str, received: str) -> CodeArrived:
    """Compare a code as printed with what arrived."""
    if received == sent:
        return CodeArrived(sent, received, Arrival.AS_PRINTED)
    if received.upper() == sent:
        return CodeArrived(sent, received, Arrival.OTHER_CASE)
    if len(received) != len(sent):
        arrival = Arrival.INCOMPLETE if len(received) < len(sent) else Arrival.LONGER
        return CodeArrived(sent, received, arrival)
    wrong = tuple((was, came) for was, came in zip(sent, received, strict=True) if came.upper() != was)
    return CodeArrived(sent, received, Arrival.OTHER_LETTERS, wrong)


def nearest_code(received: str, open_codes: tuple[str, ...]) -> str:
    """Return which of the codes was most likely scanned: by most signs in their place."""
    return max(open_codes, key=lambda sent: sum(a == b for a, b in zip(sent, received.upper(), strict=False)))
