"""What this station remembers from one start to the next: palette, zoom, window, and who sat here at which store."""

from __future__ import annotations

import json
import logging
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

from findsdesk import places

_log = logging.getLogger(__name__)


class StationSettings(NamedTuple):
    """Nothing of the excavation but the names of its stores and of who sat here; all of it may be thrown away."""

    theme: str = "shade"
    zoom: int = 100
    people: Mapping[str, str] = MappingProxyType({})
    """Who sat here last, by the path of the store."""
    last_store: str = ""
    size: tuple[int, int] = (0, 0)
    """Pixels of width and height the window had when it was closed; nothing while it filled the screen."""


def _file(station: str) -> Path:
    plain = re.sub(r"[^\w-]+", "_", station) or "first"
    return places.settings_folder() / f"station-{plain}.json"


def read_station(station: str) -> StationSettings:
    """Return what the station remembers; a file that is missing or cannot be read remembers nothing."""
    try:
        said = json.loads(_file(station).read_text(encoding="utf-8"))
        return StationSettings(
            theme=str(said["theme"]),
            zoom=int(said["zoom"]),
            people={str(store): str(name) for store, name in dict(said["people"]).items()},
            last_store=str(said["last_store"]),
            size=_size(said.get("size", (0, 0))),
        )
    except FileNotFoundError:
        return StationSettings()
    except (OSError, ValueError, KeyError, TypeError):
        _log.warning("what station %s remembers cannot be read; it begins anew", station)
        return StationSettings()


def _size(said: Sequence[object]) -> tuple[int, int]:
    width, height = said
    return int(str(width)), int(str(height))


def write_station(station: str, settings: StationSettings) -> None:
    """Remember these settings. A folder that cannot be written in costs the memory of the station, nothing else."""
    file = _file(station)
    beside = file.with_suffix(".part")
    said = {
        "theme": settings.theme,
        "zoom": settings.zoom,
        "people": dict(settings.people),
        "last_store": settings.last_store,
        "size": settings.size,
    }
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        beside.write_text(json.dumps(said, indent=1, ensure_ascii=False), encoding="utf-8")
        beside.replace(file)
    except OSError:
        _log.warning("the settings of station %s cannot be kept in %s", station, file.parent)
