"""Ways to a store that is not there yet: a new excavation, a copy restored, the example built. Runs on the lanes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from findsdesk import places
from findsdesk.ui.store_work import Opened, opened
from findsdesk.words import N_, Terms, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk


def make_excavation(values: Mapping[str, Any], station: str) -> Opened:
    """Make a new store from the answers to the first questions, its first season and squares with it.

    Refusals and faults: those of ``desk.excavation_files.new_filled``; where one is told, nothing was made.
    """
    from findsdesk.desk.excavation_files import SetUp, new_filled
    from findsdesk.desk.opening import NewExcavation
    from findsdesk.desk.setting_up import open_season
    from findsdesk.desk.squares import add_squares

    words = {name: values[name] or getattr(Terms(), name) for name in Terms._fields}
    excavation = NewExcavation(values["name"], values["code"], values["director"], values["time_zone"], Terms(**words))
    season = {name: values[name] for name in ("starts", "ends", "permit")} | {"name": values["season"]}
    squares = values["grid"].replace(",", " ").split()
    deeds: list[Callable[[Desk], object]] = []
    if values["season"]:
        deeds.append(lambda desk: open_season(desk, **season))
    if squares:
        deeds.append(lambda desk: add_squares(desk, squares))
    return opened(new_filled(values["where"], SetUp(excavation, None, tuple(deeds)), station=station))


def copies_in_words(where: str | Path) -> list[tuple[Path, str]]:
    """Return the copies beside a store, the newest first, with what each is called."""
    from datetime import datetime

    from findsdesk.desk.restoring import kept_copies

    here = datetime.now().astimezone().tzinfo
    assert here is not None
    return [
        (
            copy.path,
            put(
                N_("{when}, state {head}"),
                None,
                {"when": f"{copy.made_at.astimezone(here):%Y-%m-%d %H:%M}", "head": copy.head},
            ),
        )
        for copy in kept_copies(where)
    ]


def restored_name(copy: Path) -> Path:
    """Return a free name for a store made from a copy."""
    from findsdesk.desk.restoring import proposed_name

    return proposed_name(copy)


def restore(copy: Path, into: Path) -> Path:
    """Write a copy as a new store; refusals and faults as ``desk.restoring.restore``."""
    from findsdesk.desk.restoring import restore as put_back

    return put_back(copy, into)


def example_folder() -> Path:
    """Return the folder in which the example lies on this computer."""
    return places.default_stores_folder() / "example"


def make_example(progress: Callable[[int, int], None] | None = None) -> Path:
    """Return the store of the example; where it is not there yet, it is made and played as ``findsdesk demo`` does.

    ``progress`` is told how many acts of how many are played.
    """
    from findsdesk.desk.examples import STORE
    from findsdesk.desk.examples import make_example as make

    folder = example_folder()
    if not (folder / STORE).is_file():
        desk, _example = make(folder, progress)
        desk.close()
    return folder / STORE
