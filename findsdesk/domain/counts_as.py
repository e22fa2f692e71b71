"""What an excavation says that the sherds of a part of the vessel count as in the figures."""

from __future__ import annotations

from enum import StrEnum

from findsdesk.words import N_


class CountsAs(StrEnum):
    """What sherds of a part count as, where no share of a circle was read on them."""

    NOT_SAID = ""
    RIM = "rim"
    BASE = "base"
    BOTH = "both"
    HANDLE = "handle"
    NEITHER = "neither"


COUNTS_AS_IN_WORDS: dict[CountsAs, str] = {
    CountsAs.NOT_SAID: "",
    CountsAs.RIM: N_("rim"),
    CountsAs.BASE: N_("base"),
    CountsAs.BOTH: N_("rim and base"),
    CountsAs.HANDLE: N_("handle"),
    CountsAs.NEITHER: N_("neither"),
}
CARRIES_A_RIM = frozenset({CountsAs.RIM, CountsAs.BOTH})
CARRIES_A_BASE = frozenset({CountsAs.BASE, CountsAs.BOTH})
TELLS_THE_VESSEL = CARRIES_A_RIM | CARRIES_A_BASE | {CountsAs.HANDLE}
"""Rims, bases and handles are diagnostic until an excavation says otherwise (common practice, no source)."""
