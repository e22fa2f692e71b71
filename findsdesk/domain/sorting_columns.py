"""The columns of the sorting table: which there are, which an excavation types and in what order."""

from __future__ import annotations

from collections.abc import Iterable

from findsdesk.domain.counts_as import CARRIES_A_BASE, CARRIES_A_RIM
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

COLUMN_IN_WORDS: dict[str, str] = {
    "ware": N_("Ware"),
    "part": N_("Part"),
    "form": N_("Form"),
    "surface": N_("Surface"),
    "decoration": N_("Decoration"),
    "condition": N_("Condition"),
    "pieces": N_("Count"),
    "grams": N_("Grams"),
    "rim": N_("Rim %"),
    "base": N_("Base %"),
    "decision": N_("Decision"),
    "reason": N_("Why"),
    "note": N_("Note"),
}
"""Every column there is, in the usual order, and its heading."""
NEEDED = ("part", "pieces", "decision", "reason")
"""Without these no group can be written."""
USUAL = ("ware", "part", "pieces", "grams", "rim", "decision", "reason")

RIM_PARTS = frozenset({"rim", "rim_handle", "profile", "complete", "lid", "lamp", "spout", "other"})
BASE_PARTS = frozenset({"base", "foot", "profile", "complete", "lid", "lamp", "other"})
"""Parts that ship and may show some of the circle (common practice, no source)."""
NO_CIRCLE = frozenset({"neck", "shoulder", "body", "decorated_body", "handle", "knob", "strainer", "indeterminate"})


def has_rim(part: str, counts_as: str = "") -> bool:
    """Tell whether a part may show some of the rim: by what the excavation says it counts as, else as it ships.

    Of a part of the excavation's own of which nothing is said nobody knows: it may.
    """
    if counts_as:
        return counts_as in CARRIES_A_RIM
    return part in RIM_PARTS or part not in NO_CIRCLE | BASE_PARTS


def has_base(part: str, counts_as: str = "") -> bool:
    """Tell whether a part may show some of the base, as ``has_rim`` does of the rim."""
    if counts_as:
        return counts_as in CARRIES_A_BASE
    return part in BASE_PARTS or part not in NO_CIRCLE | RIM_PARTS


def checked_columns(columns: Iterable[str]) -> tuple[str, ...]:
    """Return the columns in their order; refuses unknown ones, one named twice, a needed one left out.

    Refusals: ``unknown_column``, ``column_twice``, ``column_needed``.
    """
    chosen = tuple(columns)
    for column in chosen:
        if column not in COLUMN_IN_WORDS:
            raise Refusal(
                "unknown_column",
                N_("The sorting table has no column {column}. Choose among: {known}."),
                column=column,
                known=", ".join(COLUMN_IN_WORDS),
            )
        if chosen.count(column) > 1:
            raise Refusal("column_twice", N_("The column {column} stands twice. Leave one of them out."), column=column)
    for column in NEEDED:
        if column not in chosen:
            raise Refusal(
                "column_needed",
                N_("No group is written without {column}. Put that column back, wherever it suits."),
                column=COLUMN_IN_WORDS[column],
            )
    return chosen
