"""How many vessels sherds stand for, by each convention under its own name; never one shown as another."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from enum import StrEnum

from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.joins import Join, connected_parts
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_


class Element(StrEnum):
    """A part that a vessel has once."""

    RIM = "rim"
    BASE = "base"


@dataclass(frozen=True, slots=True)
class Sherds:
    """Sherds recorded together: their key, how many they are, and the elements each of them carries."""

    key: str
    pieces: int = 1
    elements: frozenset[Element] = frozenset()


VESSELS_BY_RIMS = Method(
    Unit.VESSELS,
    N_("rims, joining ones counted as one"),
    "",
    Grounds.COMMON_PRACTICE,
)
FEWEST_VESSELS = Method(
    Unit.VESSELS,
    N_("in doubt the same pot: the larger of the numbers of rims and of bases, joining ones as one; one at least"),
    "Orton, Tyers and Vince 1993, p. 172, for the two habits",
    Grounds.OURS,
)
MOST_VESSELS = Method(
    Unit.VESSELS,
    N_("in doubt another pot: all sherds, those that hang together by joins counted as one"),
    "Orton, Tyers and Vince 1993, p. 172, for the two habits",
    Grounds.OURS,
)


@dataclass(frozen=True, slots=True)
class Vessels:
    """The vessels of one ware or group by each convention; fewest ≤ most ≤ sherds always."""

    by_rims: Figure
    fewest: Figure
    most: Figure


def vessels(sherds: Collection[Sherds], joins: Iterable[Join] = ()) -> Vessels:
    """Return the vessels that sherds of one ware stand for, by each convention.

    ``joins`` are pairs of keys, also for sherds known to be of one vessel without touching. Vessels of several wares
    are counted ware by ware and added. Refusals: ``join_in_group`` (a join names sherds recorded several together),
    ``join_unknown``.
    """
    pairs = list(joins)
    by_key = {one.key: one for one in sherds}
    _check_joins(by_key, pairs)
    single = [one.key for one in sherds if one.pieces == 1]
    parts = connected_parts(single, pairs)
    together = [one for one in sherds if one.pieces != 1]

    def carrying(element: Element) -> int:
        apart = sum(one.pieces for one in together if element in one.elements)
        return apart + sum(any(element in by_key[key].elements for key in part) for part in parts)

    pieces = sum(one.pieces for one in sherds)
    fewest = max(map(carrying, Element))
    return Vessels(
        VESSELS_BY_RIMS.gives(carrying(Element.RIM)),
        FEWEST_VESSELS.gives(max(fewest, min(pieces, 1))),
        MOST_VESSELS.gives(sum(one.pieces for one in together) + len(parts)),
    )


def _check_joins(by_key: dict[str, Sherds], joins: list[Join]) -> None:
    for key in {key for pair in joins for key in pair}:
        if key not in by_key:
            raise Refusal(
                "join_unknown", N_("A join names {key}, which is not among these sherds. Look at the join."), key=key
            )
        if by_key[key].pieces != 1:
            raise Refusal(
                "join_in_group",
                N_("{key} is {pieces} sherds recorded together. Take the joining sherd out as a piece first."),
                key=key,
                pieces=by_key[key].pieces,
            )
