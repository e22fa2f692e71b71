"""How alike two assemblages are (Brainerd–Robinson)."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

BRAINERD_ROBINSON = Method(
    Unit.NONE,
    N_("200 − sum of the differences between the two percentages of each type; 0 shares nothing, 200 is the same"),
    "Robinson 1951 and Brainerd 1951, American Antiquity 16",
    Grounds.FROM_MEMORY,
)


def brainerd_robinson(one: Mapping[str, int], other: Mapping[str, int], *, names: tuple[str, str] = ("", "")) -> Figure:
    """Return the Brainerd–Robinson coefficient of two assemblages given as counts by type: 0 to 200.

    Counts and percentages give the same. ``names`` are what a refusal calls the two. Refusals: ``assemblage_empty``.
    Values: docs/sources.md, "Brainerd–Robinson".
    """
    first, second = (_shares(counts, name) for counts, name in zip((one, other), names, strict=True))
    none = Fraction(0)
    apart = sum((abs(first.get(kind, none) - second.get(kind, none)) for kind in first | second), none)
    return BRAINERD_ROBINSON.gives(200 - 100 * apart)


def _shares(counts: Mapping[str, int], name: str) -> dict[str, Fraction]:
    total = sum(counts.values())
    if total <= 0:
        raise Refusal(
            "assemblage_empty",
            N_("There is nothing in {name} to compare. Choose another, or enter its sherds first."),
            name=name,
        )
    return {kind: Fraction(count, total) for kind, count in counts.items()}
