"""All benches in the order of the rail. The one place that knows them; none knows another.

A bench is named here without being imported: its module needs the desk, which is loaded only after the window stands.
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

from findsdesk.ui.bench import Bench
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.rail import RailTag
from findsdesk.words import N_, put


@dataclass(frozen=True, slots=True)
class BenchPlace:
    """A bench on the rail: its key is also the name of its package; ``title`` is marked."""

    key: str
    title: str


BENCHES = (
    BenchPlace("day", N_("The day")),
    BenchPlace("check_in", N_("Check-in")),
    BenchPlace("wash", N_("Wash yard")),
    BenchPlace("sorting", N_("Sorting table")),
    BenchPlace("labels", N_("Marks & labels")),
    BenchPlace("registers", N_("Registers")),
    BenchPlace("set_up", N_("Set-up")),
)


def places_built() -> tuple[BenchPlace, ...]:
    """Return the benches this program has."""
    folder = Path(__file__).parent / "benches"
    return tuple(place for place in BENCHES if (folder / place.key / "page.py").is_file())


def rail_tags() -> tuple[RailTag, ...]:
    """Return the tags of the rail, before any bench is there."""
    return tuple(RailTag(place.key, put(place.title)) for place in places_built())


def build_bench(key: str, surroundings: Surroundings) -> Bench:
    """Load the package of a bench and build it; on the window's thread."""
    return bench_class(key)(surroundings)


def bench_class(key: str) -> type[Bench]:
    """Load the page of a bench and return its one bench class."""
    page = import_module(f"findsdesk.ui.benches.{key}.page")
    return next(
        value
        for value in vars(page).values()
        if isinstance(value, type) and issubclass(value, Bench) and value.__module__ == page.__name__
    )
