"""What joins between two deposits say of their mixing: a hint to be looked into, decided by nobody here."""

from __future__ import annotations

from enum import StrEnum

from findsdesk.domain.deposits import Security
from findsdesk.words import N_


class JoinsSay(StrEnum):
    """What joins say of the two deposits they cross."""

    NOTHING = "nothing"
    ALREADY_MIXED = "already mixed"
    SEALED_CROSSED = "sealed crossed"
    BOTH_SEALED = "both sealed"


JOINS_SAY_IN_WORDS: dict[JoinsSay, str] = {
    JoinsSay.NOTHING: N_("The same pots lie in both: filled together, or one dug into the other."),
    JoinsSay.ALREADY_MIXED: N_("One of them is declared mixed, which these joins agree with."),
    JoinsSay.SEALED_CROSSED: N_("One is sealed, the other not: look whether the sealed one was cut."),
    JoinsSay.BOTH_SEALED: N_("Both are sealed, which these joins deny: look at the field records."),
}
"""Our reading; that joins across deposits speak of mixing is common practice, no source."""


def what_joins_say(one: Security, other: Security) -> JoinsSay:
    """Return what joins between two deposits say, by how sure each of them is."""
    both = {one, other}
    if Security.MIXED in both:
        return JoinsSay.ALREADY_MIXED
    if both == {Security.SEALED}:
        return JoinsSay.BOTH_SEALED
    return JoinsSay.SEALED_CROSSED if Security.SEALED in both else JoinsSay.NOTHING
