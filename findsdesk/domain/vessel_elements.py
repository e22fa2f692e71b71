"""Which parts of a vessel carry its rim or its base, by the keys of the shipped list of parts."""

from __future__ import annotations

from findsdesk.domain.vessels import Element

WITH_RIM = frozenset({"rim", "rim_handle", "profile", "complete"})
"""Parts that are or hold a rim; any other counts as one where a share of the rim was read on it."""
WITH_BASE = frozenset({"base", "foot", "profile", "complete"})
"""Parts that are or hold a base; any other counts as one where a share of the base was read on it."""


def elements_of(part: str, rim_permille: int | None, base_permille: int | None) -> frozenset[Element]:
    """Return the elements that sherds of a part carry, from the part and the shares of the circles read (per mille)."""
    carried = set()
    if part in WITH_RIM or rim_permille:
        carried.add(Element.RIM)
    if part in WITH_BASE or base_permille:
        carried.add(Element.BASE)
    return frozenset(carried)
