"""What a station remembers of its paper: where papers were kept last, and on which sheets labels were printed.

Nothing of the excavation stands here, and all of it may be thrown away.
"""

from __future__ import annotations

import json
import logging
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from findsdesk import places

_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class PaperMemory:
    """``stocks`` is the stock last used by the kind of label, ``used`` the places gone on its begun sheet, by stock.

    ``printer`` is the one labels were drawn for last, by its name; empty: as it is.
    """

    folder: str = ""
    stocks: Mapping[str, str] = field(default_factory=dict)
    used: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    printer: str = ""


def _file(station: str) -> Path:
    plain = re.sub(r"[^\w-]+", "_", station) or "first"
    return places.settings_folder() / f"paper-{plain}.json"


def read_paper(station: str) -> PaperMemory:
    """Return what the station remembers; a file that is missing or cannot be read remembers nothing."""
    try:
        said = json.loads(_file(station).read_text(encoding="utf-8"))
        return PaperMemory(
            folder=str(said["folder"]),
            stocks={str(kind): str(stock) for kind, stock in dict(said["stocks"]).items()},
            used={str(stock): tuple(int(one) for one in gone) for stock, gone in dict(said["used"]).items()},
            printer=str(said.get("printer", "")),
        )
    except FileNotFoundError:
        return PaperMemory()
    except (OSError, ValueError, KeyError, TypeError):
        _log.warning("what station %s remembers of its paper cannot be read; it begins anew", station)
        return PaperMemory()


def write_paper(station: str, memory: PaperMemory) -> None:
    """Remember. A folder that cannot be written in costs the memory of the station, nothing else."""
    file = _file(station)
    beside = file.with_suffix(".part")
    said = {
        "folder": memory.folder,
        "stocks": dict(memory.stocks),
        "used": {stock: sorted(gone) for stock, gone in memory.used.items()},
        "printer": memory.printer,
    }
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        beside.write_text(json.dumps(said, indent=1, ensure_ascii=False), encoding="utf-8")
        beside.replace(file)
    except OSError:
        _log.warning("the paper of station %s cannot be remembered in %s", station, file.parent)
