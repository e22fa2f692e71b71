"""What lies sorted, as one table: the groups of sherds and the pieces that were lifted out of them."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Integer, Subquery, cast, literal, null, select, union_all

from findsdesk.store.models import Piece, SherdGroup

GROUP = "group"
PIECE = "piece"

COMMON = (
    "id",
    "container_id",
    "ware_id",
    "form_id",
    "part",
    "surface",
    "decoration",
    "condition",
    "pieces",
    "tenths",
    "rim_permille",
    "base_permille",
    "decision",
    "reason",
    "rule",
    "proposed",
    "diagnostic",
    "discarded",
    "vessel_id",
)
"""The columns that a group and a piece share."""


def sorted_sherds(*columns: str, with_years: bool = False) -> Subquery:
    """Return groups and pieces as one subquery: ``kind`` ("group" or "piece") and the named columns, else all shared.

    A sherd is in exactly one of its rows, so sums over it are sums over the pottery. ``with_years`` adds ``earliest``
    and ``latest``, the years said of a piece itself.
    """
    names = columns or COMMON

    def of(kind: Any, called: str) -> Any:
        shared = (getattr(kind, name).label(name) for name in names)
        years = zip(own_years(kind), ("earliest", "latest"), strict=True) if with_years else ()
        return select(literal(called).label("kind"), *shared, *(year.label(name) for year, name in years))

    return union_all(of(SherdGroup, GROUP), of(Piece, PIECE)).subquery("sorted_sherds")


def own_years(kind: Any) -> tuple[Any, Any]:
    """Return the first and the last year said of a piece itself; none of a group."""
    if kind is SherdGroup:
        return cast(null(), Integer), cast(null(), Integer)
    return Piece.earliest, Piece.latest
