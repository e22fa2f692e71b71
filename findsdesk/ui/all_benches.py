"""All benches in the order of the rail. The one place that knows them; none knows another.

A bench is named here without being imported: its module needs the desk, which is loaded only after the window stands.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from findsdesk.ui.widgets.rail import RailTag
from findsdesk.words import N_, put

if TYPE_CHECKING:
    from findsdesk.ui.bench import Bench
    from findsdesk.ui.surroundings import Surroundings


BENCHES = {
    "day": N_("The day"),
    "check_in": N_("Check-in"),
    "wash": N_("Wash yard"),
    "sorting": N_("Sorting table"),
    "pieces": N_("Pieces"),
    "labels": N_("Marks & labels"),
    "shelves": N_("Shelves"),
    "registers": N_("Registers"),
    "figures": N_("Figures"),
    "set_up": N_("Set-up"),
}
"""The marked title of each bench by its key, which is also the name of its package."""


def rail_tags() -> tuple[RailTag, ...]:
    """Return the tags of the rail, before any bench is there."""
    return tuple(RailTag(key, put(BENCHES[key])) for key in BENCHES)


def build_bench(key: str, surroundings: Surroundings) -> Bench:
    """Load the package of a bench and build it; on the window's thread."""
    return bench_class(key)(surroundings)


def bench_class(key: str) -> type[Bench]:
    """Load the page of a bench and return its one bench class."""
    from findsdesk.ui.bench import Bench

    page = import_module(f"findsdesk.ui.benches.{key}.page")
    return next(
        value
        for value in vars(page).values()
        if isinstance(value, type) and issubclass(value, Bench) and value.__module__ == page.__name__
    )
