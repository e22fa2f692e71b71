"""What can be done when a store does not open: the ways out of each refusal and fault, the likeliest first."""

from __future__ import annotations

from enum import Enum

from findsdesk.words import N_


class Way(Enum):
    """A way out, with what its button says."""

    AGAIN = N_("Try again")
    READ_ONLY = N_("Open for reading only")
    ANYBODY = N_("Open and choose who sits here")
    RESTORE = N_("Restore a copy into a new file …")
    CHOOSE = N_("Open another store …")
    NEW = N_("New excavation …")
    EXAMPLE = N_("Try the example")


_AT_THE_START = (Way.NEW, Way.CHOOSE, Way.RESTORE, Way.EXAMPLE)
_BY_CODE: dict[str, tuple[Way, ...]] = {
    "no_store": (Way.CHOOSE, Way.NEW, Way.RESTORE, Way.EXAMPLE),
    "store_in_use": (Way.READ_ONLY, Way.AGAIN, Way.CHOOSE),
    "newer_store": (Way.CHOOSE,),
    "other_state": (Way.CHOOSE, Way.NEW),
    "unknown_person": (Way.ANYBODY, Way.CHOOSE),
    "damaged": (Way.RESTORE, Way.CHOOSE, Way.NEW),
    "not_a_store": (Way.CHOOSE, Way.RESTORE, Way.NEW, Way.EXAMPLE),
    "read_only": (Way.READ_ONLY, Way.CHOOSE),
}
_ANY_OTHER = (Way.AGAIN, Way.CHOOSE, Way.RESTORE)


def ways_out(code: str = "") -> tuple[Way, ...]:
    """Return the ways out of a refusal or fault by its code; without one, the ways to begin."""
    return _BY_CODE.get(code, _ANY_OTHER) if code else _AT_THE_START
