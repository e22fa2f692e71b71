"""Printing in one act, for a file of acts: labels were printed on a stock and came out well."""

from __future__ import annotations

from collections.abc import Iterable

from findsdesk.desk.desk import Desk
from findsdesk.desk.laying_out import lay_out_bag_labels, lay_out_field_tags, lay_out_wash_tags, reprint
from findsdesk.desk.printing import PrintedSheets, came_out_well


def bag_labels_came_out(
    desk: Desk, *, stock: str, first_place: int = 1, codes: Iterable[str] | None = None
) -> PrintedSheets:
    """Write that the labels of bags (all without one, or those named) were printed on a stock and came out well.

    Refusals: those of ``lay_out_bag_labels`` and ``came_out_well``.
    """
    return came_out_well(desk, lay_out_bag_labels(desk, codes, stock=stock, first_place=first_place))


def tags_came_out(desk: Desk, *, stock: str, first_place: int = 1, codes: Iterable[str] | None = None) -> PrintedSheets:
    """Write that tags for the trench (all never printed, or those named) came out well."""
    return came_out_well(desk, lay_out_field_tags(desk, codes, stock=stock, first_place=first_place))


def wash_tags_came_out(
    desk: Desk, *, stock: str, first_place: int = 1, codes: Iterable[str] | None = None
) -> PrintedSheets:
    """Write that wash tags (all whose newest count has none yet, or those named) came out well."""
    return came_out_well(desk, lay_out_wash_tags(desk, codes, stock=stock, first_place=first_place))


def reprint_came_out(
    desk: Desk, codes: Iterable[str], *, reason: str, stock: str, first_place: int = 1
) -> PrintedSheets:
    """Write that labels or tags were printed again, with a reason, and came out well: they say copy 2 (or more)."""
    return came_out_well(desk, reprint(desk, codes, reason=reason, stock=stock, first_place=first_place))
