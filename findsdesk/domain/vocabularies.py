"""Word lists an excavation starts from."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Term:
    """One word of a list: its key in the store, its English name, what kind of word it is.

    ``diagnostic`` belongs to parts of a vessel; ``group`` names the route of a material.
    """

    key: str
    name: str
    diagnostic: bool = False
    group: str = ""
