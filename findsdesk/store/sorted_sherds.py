"""What lies sorted, as one table: the groups of sherds and the pieces that were lifted out of them."""

from __future__ import annotations

from sqlalchemy import Subquery, literal, select, union_all

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
    "diagnostic",
    "discarded",
    "vessel_id",
)
"""The columns that a group and a piece share."""


def sorted_sherds(*columns: str) -> Subquery:
    """Return groups and pieces as one subquery: ``kind`` ("group" or "piece") and the named columns, else all shared.

    A sherd is in exactly one of its rows, so sums over it are sums over the pottery.
    """
    names = columns or COMMON
    groups = select(literal(GROUP).label("kind"), *(getattr(SherdGroup, name).label(name) for name in names))
    pieces = select(literal(PIECE).label("kind"), *(getattr(Piece, name).label(name) for name in names))
    return union_all(groups, pieces).subquery("sorted_sherds")
