"""Changing the excavation itself: its name, its director, its own words, the settings of its yard."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sqlalchemy import select

from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import need_text
from findsdesk.domain.settings import Settings
from findsdesk.domain.square_grid import GridPlace, read_corner, read_turn
from findsdesk.store.models import Excavation
from findsdesk.words import N_, Terms


def change_excavation(
    desk: Desk,
    *,
    name: str | None = None,
    director: str | None = None,
    terms: Terms | None = None,
    settings: Settings | None = None,
) -> None:
    """Change the excavation's name, director, own words or settings; what is not named stays.

    Of words and settings those are written that differ from what this station knew: what another station changed
    meanwhile stays. Refusals: ``empty``, and those of settings that contradict each other.
    """
    known = desk.facts
    with desk.deed("change_excavation") as deed:
        row = deed.session.execute(select(Excavation)).scalar_one()
        changed: dict[str, object] = {}
        if name is not None:
            changed |= _set(row, "name", need_text(name, N_("name of the site")))
        if director is not None:
            changed |= _set(row, "director", director.strip())
        if terms is not None:
            own = {word: getattr(terms, word) for word in Terms._fields}
            changed |= _merge(row, "terms", own, {word: getattr(known.terms, word) for word in Terms._fields})
        if settings is not None:
            changed |= _merge(row, "settings", settings.as_plain(), known.settings.as_plain())
            Settings.from_plain(row.settings).check()
        deed.said = ", ".join(f"{key} {value}" for key, value in changed.items())


def place_grid(
    desk: Desk,
    *,
    square_mm: int | None = None,
    corner: str | None = None,
    turned: str | None = None,
    epsg: int | None = None,
) -> GridPlace:
    """Say where the grid of the squares lies, for the map: what is not named stays.

    ``square_mm`` is the side of a square in millimetres, ``corner`` the south-western one of A1 ("500000,4000000";
    empty for a grid tied to nothing), ``turned`` degrees clockwise from the system's north, ``epsg`` the system (0:
    none). Refusals: ``corner_unreadable``, ``turn_unreadable``, ``grid_impossible``, ``grid_in_degrees``.
    """
    known = desk.facts.settings
    grid = known.grid
    if square_mm is not None:
        grid = replace(grid, square_m=square_mm / 1000)
    if corner is not None:
        east, north = read_corner(corner)
        grid = replace(grid, east=east, north=north)
    if turned is not None:
        grid = replace(grid, turned=read_turn(turned))
    if epsg is not None:
        grid = replace(grid, epsg=epsg or None)
    grid.check()
    change_excavation(desk, settings=replace(known, grid=grid))
    return grid


def _set(row: Excavation, column: str, value: str | None) -> dict[str, object]:
    """Write a column where it differs; returns what was changed."""
    if getattr(row, column) == value:
        return {}
    setattr(row, column, value)
    return {column: value}


def _merge(row: Excavation, column: str, wanted: dict[str, Any], known: dict[str, Any]) -> dict[str, object]:
    """Write the values of a column that differ from those known before; returns what was changed."""
    changed = {key: value for key, value in wanted.items() if value != known.get(key)}
    if changed:
        setattr(row, column, getattr(row, column) | changed)
    return changed
