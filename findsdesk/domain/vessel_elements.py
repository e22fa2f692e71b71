"""Which parts of a vessel carry its rim or its base: as the list of parts ships, and as an excavation says of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from findsdesk.domain.counts_as import CARRIES_A_BASE, CARRIES_A_RIM, CountsAs
from findsdesk.domain.vessels import Element

WITH_RIM = frozenset({"rim", "rim_handle", "profile", "complete"})
"""Parts that ship and are or hold a rim; any other counts as one where a share of the rim was read on it."""
WITH_BASE = frozenset({"base", "foot", "profile", "complete"})
"""Parts that ship and are or hold a base; any other counts as one where a share of the base was read on it."""


@dataclass(frozen=True, slots=True)
class Carriers:
    """The parts, by their keys, whose sherds count as rims and as bases."""

    rims: frozenset[str] = WITH_RIM
    bases: frozenset[str] = WITH_BASE

    def elements_of(self, part: str, rim_permille: int | None, base_permille: int | None) -> frozenset[Element]:
        """Return what sherds of a part carry, from the part and the shares of the circles read (per mille)."""
        carried = set()
        if part in self.rims or rim_permille:
            carried.add(Element.RIM)
        if part in self.bases or base_permille:
            carried.add(Element.BASE)
        return frozenset(carried)


def carriers(said: Mapping[str, str]) -> Carriers:
    """Return which parts carry a rim or a base where an excavation says of some of them what they count as."""
    meant = {part: CountsAs(counts_as) for part, counts_as in said.items() if counts_as}
    rims = {part for part, counts_as in meant.items() if counts_as in CARRIES_A_RIM}
    bases = {part for part, counts_as in meant.items() if counts_as in CARRIES_A_BASE}
    return Carriers((WITH_RIM - meant.keys()) | rims, (WITH_BASE - meant.keys()) | bases)


def as_it_ships(part: str) -> CountsAs:
    """Return what a part that ships counts as; not said of the others and of those that may or may not have a rim."""
    if part in WITH_RIM:
        return CountsAs.BOTH if part in WITH_BASE else CountsAs.RIM
    return CountsAs.BASE if part in WITH_BASE else _OTHERS.get(part, CountsAs.NOT_SAID)


_OTHERS = {"handle": CountsAs.HANDLE} | dict.fromkeys(
    ("neck", "shoulder", "body", "decorated_body", "knob", "strainer", "indeterminate"), CountsAs.NEITHER
)
