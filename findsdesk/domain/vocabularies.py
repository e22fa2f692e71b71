"""Word lists an excavation starts from."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Term:
    """One word of a list: its key in the store, its English name, what kind of word it is.

    ``diagnostic`` marks a word that tells the vessel; ``group`` names the route of a material; ``own`` says that the
    name is the excavation's and is shown as it was written.
    """

    key: str
    name: str
    diagnostic: bool = False
    group: str = ""
    own: bool = False
