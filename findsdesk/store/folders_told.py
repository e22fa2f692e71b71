"""Where this station keeps the files of stores on servers: one folder for each store, in the station's settings."""

from __future__ import annotations

import json
from pathlib import Path

from findsdesk import places
from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.words import N_


def folder_told(address: str) -> Path | None:
    """Return the folder told for a store by its address (without name and password), or None.

    Refusal: ``folders_unreadable``, for the file would be written over.
    """
    told = _read().get(address)
    return Path(told) if told else None


def tell_folder(address: str, folder: Path) -> None:
    """Remember the folder of a store. Refusal: ``folders_unreadable``. StoreFault: ``folders_not_kept``."""
    told = _read() | {address: str(folder)}
    file = _file()
    beside = file.with_suffix(".part")
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        beside.write_text(json.dumps(told, indent=1, ensure_ascii=False), encoding="utf-8")
        beside.replace(file)
    except OSError as error:
        raise StoreFault(
            "folders_not_kept",
            N_("The settings of this station cannot be written in {folder}: {why}. Ask whoever looks after it."),
            folder=str(file.parent),
            why=error.strerror or str(error),
        ) from error


def _file() -> Path:
    return places.settings_folder() / "photo-folders.json"


def _read() -> dict[str, str]:
    try:
        said = json.loads(_file().read_text(encoding="utf-8"))
        return {str(address): str(folder) for address, folder in dict(said).items()}
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, TypeError) as fault:
        raise Refusal(
            "folders_unreadable",
            N_("The folders kept in {file} cannot be read. Move the file away, then name the folders again."),
            file=str(_file()),
        ) from fault
