"""Where this station keeps the photographs of a store on a server; beside a store's file they need no word."""

from __future__ import annotations

from pathlib import Path

from findsdesk.desk.desk import Desk
from findsdesk.domain.refusals import Refusal
from findsdesk.store.folders_told import tell_folder
from findsdesk.store.photo_folder import known_photo_folder
from findsdesk.words import N_


def where_photos_lie(desk: Desk) -> Path | None:
    """Return the folder of the photographs, there or not; None where this station was told none."""
    return known_photo_folder(desk.store)


def name_photo_folder(desk: Desk, folder: Path) -> Path:
    """Let this station keep the photographs of a store on a server in a folder; it is remembered, no deed.

    Every station names the same one, as it reaches it: a share. Refusals: ``photos_beside_store`` (the store is a
    file), ``no_such_folder``, ``folders_unreadable``. StoreFault: ``folders_not_kept``.
    """
    if desk.store.path is not None:
        text = N_("This store is a file: its photographs lie beside it in {folder}. No other folder is needed.")
        raise Refusal("photos_beside_store", text, folder=str(known_photo_folder(desk.store)))
    whole = folder.expanduser().absolute()
    if not whole.is_dir():
        text = N_("There is no folder {folder}. Make it, or connect its disk or share, then name it again.")
        raise Refusal("no_such_folder", text, folder=str(whole))
    tell_folder(desk.store.address, whole)
    return whole
