"""What a column of the store is called by people, and its value as they write it: grams, per cent, millimetres."""

from __future__ import annotations

from datetime import datetime, tzinfo

from findsdesk.domain.balance import Decision
from findsdesk.words import N_, Terms, put

QUIET = frozenset({"id", "version", "number_key", "number_folded", "search_text", "name_key", "name_folded", "scope"})
"""Columns that the store keeps for itself: no news to a person."""
_CALLED = {
    "container_id": N_("{container}"),
    "from_container_id": N_("from {container}"),
    "into_container_id": N_("into {container}"),
    "other_container_id": N_("other {container}"),
    "deposit_id": N_("{deposit}"),
    "merged_into_id": N_("merged into"),
    "square_id": N_("{square}"),
    "season_id": N_("season"),
    "supervisor_id": N_("supervisor"),
    "person_id": N_("who"),
    "entered_by_id": N_("entered by"),
    "parent_id": N_("inside"),
    "ware_id": N_("ware"),
    "bag_id": N_("bag"),
    "form_id": N_("form"),
    "piece_id": N_("piece"),
    "left_id": N_("piece"),
    "right_id": N_("joins the piece"),
    "object_id": N_("object"),
    "vessel_id": N_("vessel"),
    "rim_permille": N_("rim"),
    "base_permille": N_("base"),
    "rim_diameter_mm": N_("rim diameter"),
    "base_diameter_mm": N_("base diameter"),
    "diameter_uncertainty_mm": N_("diameter unsure by"),
    "diameter_method": N_("how the diameter was found"),
    "base_uncertainty_mm": N_("base unsure by"),
    "base_method": N_("how the base was measured"),
    "chord_tenths_mm": N_("chord"),
    "sagitta_tenths_mm": N_("height of the arc"),
    "wall_tenths_mm": N_("wall"),
    "height_mm": N_("height"),
    "length_mm": N_("length"),
    "width_mm": N_("width"),
    "earliest": N_("from the year"),
    "latest": N_("to the year"),
    "colour_surface": N_("colour outside"),
    "colour_inside": N_("colour inside"),
    "colour_core": N_("colour of the core"),
    "colour_slip": N_("colour of the slip"),
    "shared": N_("shared, not measured"),
    "told_at": N_("director knows since"),
    "collected_on": N_("day in the field"),
    "opening_mm": N_("opening elevation"),
    "closing_mm": N_("closing elevation"),
    "pieces": N_("count"),
    "tenths": N_("weight"),
    "gross_tenths": N_("weight with its bag"),
    "empty_tenths": N_("empty weight"),
    "limit_tenths": N_("heaviest it may be"),
    "taken_tenths": N_("weight taken"),
    "rest_tenths": N_("weight left"),
    "volume_ml": N_("volume"),
    "held_for": N_("held back for"),
    "on_list": N_("on a field list"),
    "tag_copy": N_("copy of the tag"),
}
"""What columns are called where the store's own word says little, without their units."""
DECISION_IN_WORDS = {
    Decision.KEEP: N_("keep"),
    Decision.MEND: N_("keep for mending"),
    Decision.HOLD: N_("hold"),
    Decision.DISCARD: N_("discard"),
}
_MEASURED = (("_tenths_mm", 10, "mm"), ("_mm", 1, "mm"), ("_permille", 10, "%"), ("tenths", 10, "g"), ("_ml", 1, "ml"))
"""Endings of columns, how many of the stored numbers are one of the unit, and the unit."""


def column_in_words(column: str, terms: Terms | None = None) -> str:
    """Return what people call a column."""
    if column in _CALLED:
        return put(_CALLED[column], terms)
    return column.removesuffix("_id").removesuffix("_at").replace("_", " ")


def value_in_words(column: str, value: object, zone: tzinfo | None = None, terms: Terms | None = None) -> str:
    """Return a column's value as people write it, moments in a zone where one is named; nothing is an empty text."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return put(N_("yes"), terms) if value else put(N_("no"), terms)
    if isinstance(value, int):
        return _measured(column, value)
    if isinstance(value, str) and column.endswith("_at") and value:
        return f"{datetime.fromisoformat(value).astimezone(zone):%Y-%m-%d %H:%M}"
    if column == "decision" and value in set(Decision):
        return put(DECISION_IN_WORDS[Decision(str(value))], terms)
    return str(value)


def _measured(column: str, value: int) -> str:
    found = next((one for one in _MEASURED if column.endswith(one[0])), None)
    if found is None:
        return str(value)
    _ending, parts, unit = found
    return f"{value / parts:.1f} {unit}" if unit == "g" else f"{value / parts:g} {unit}"
