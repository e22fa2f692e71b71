"""The fields in which somebody says where the grid of the squares lies."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.words import N_, _

if TYPE_CHECKING:
    from findsdesk.domain.refusals import Refusal
    from findsdesk.domain.square_grid import GridPlace

CORNER = N_("Corner: south-western one of {square} A1, east and north in metres; else a grid of its own.")

_REFUSED = {"corner_unreadable": "corner", "turn_unreadable": "turned", "grid_in_degrees": "epsg"}
"""Which field each refusal is about."""


def grid_fields(say: Callable[[str], str], *, beside: bool = True) -> tuple[Field, ...]:
    """Return the fields: the side of a square, the corner of the grid, the system by its EPSG code, the turn."""
    return (
        Field("side", say(N_("Side of a {square}")), FieldKind.METRES, width=90),
        Field("corner", _("Corner"), width=180),
        Field("epsg", _("EPSG code"), FieldKind.WHOLE, width=90, beside=beside),
        Field("turned", _("Turned, degrees"), width=70, beside=beside),
    )


def grid_as_typed(grid: GridPlace) -> dict[str, Any]:
    """Return where a grid lies as the fields show it."""
    turned = f"{grid.turned:g}" if grid.turned else ""
    return {"side": round(grid.square_m * 1000), "corner": grid.corner, "epsg": grid.epsg, "turned": turned}


def grid_typed(said: Mapping[str, Any]) -> GridPlace:
    """Return where the grid lies as the fields say.

    Refusals: ``corner_unreadable``, ``turn_unreadable``, ``grid_in_degrees``, ``grid_impossible``.
    """
    from findsdesk.domain.square_grid import GridPlace, read_corner, read_turn

    east, north = read_corner(said["corner"] or "")
    turned = read_turn(said["turned"] or "")
    grid = GridPlace((said["side"] or 0) / 1000, east, north, turned, said["epsg"] or None)
    grid.check()
    return grid


def mark_refused(form: FieldForm, refusal: Refusal) -> None:
    """Mark the field of the grid that a refusal is about, and give it the keyboard; any other refusal marks none."""
    if field := _REFUSED.get(refusal.code):
        form.refuse_field(field)
