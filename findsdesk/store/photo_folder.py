"""The folder of a store's photographs: named by the SHA-256 of their bytes, written once, never changed.

It lies beside a store's file. A store on a server has none beside it: there each station says where it lies.
"""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from enum import StrEnum
from pathlib import Path

from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.store.folders_told import folder_told
from findsdesk.store.session import Store
from findsdesk.words import N_

SUFFIX = ".photos"
RESULT_SUFFIX = ".result"
"""Results of loans, of whatever kind; their own names stand in their rows."""
THUMBNAILS = "thumbnails"
"""Made again from the photographs whenever they are missing."""


class PhotoState(StrEnum):
    """How a photograph's file was found."""

    SOUND = "sound"
    GONE = "gone"
    CHANGED = "changed"


def photo_folder(store: Store) -> Path:
    """Return the folder of a store's photographs, to read from and to write into.

    Refusal: ``no_photo_folder`` for a store on a server, of which this station was told none. StoreFault:
    ``photo_folder_gone``, where the one it was told of is not there: made anew it would hide a share not connected.
    """
    folder = known_photo_folder(store)
    if folder is None:
        raise Refusal(
            "no_photo_folder",
            N_(
                "This store lies on a server, so photographs need a folder of their own. "
                "Name it in Set-up (Where everything is) or with: findsdesk photos."
            ),
        )
    if store.path is None and not folder.is_dir():
        raise StoreFault(
            "photo_folder_gone",
            N_("The folder of the photographs, {folder}, is not there. Connect its disk or share, or name another."),
            folder=str(folder),
        )
    return folder


def known_photo_folder(store: Store) -> Path | None:
    """Return where a store's photographs lie, there or not; None for a store on a server of which nobody said it."""
    return folder_told(store.address) if store.path is None else store.path.with_suffix(SUFFIX)


def keep(folder: Path, sha256: str, suffix: str, content: bytes, thumbnail: bytes) -> Path:
    """Write a photograph and its small picture before its row is written; one that is there already stays.

    Durable when it returns. StoreFault: ``photo_not_kept``.
    """
    path = path_of(folder, sha256, suffix)
    with _in_words(folder):
        if state_of(folder, sha256, suffix) is not PhotoState.SOUND:
            _write(path, content)
        small = thumbnail_path(folder, sha256)
        if not small.exists():
            _write(small, thumbnail)
    return path


def keep_result(folder: Path, sha256: str, content: bytes) -> Path:
    """Write a file that came back with a loan beside the photographs; one that is there already stays.

    Durable when it returns. StoreFault: ``photo_not_kept``.
    """
    path = path_of(folder, sha256, RESULT_SUFFIX)
    with _in_words(folder):
        if state_of(folder, sha256, RESULT_SUFFIX) is not PhotoState.SOUND:
            _write(path, content)
    return path


def keep_thumbnail(folder: Path, sha256: str, thumbnail: bytes) -> None:
    """Write a small picture that was missing. StoreFault: ``photo_not_kept``."""
    with _in_words(folder):
        _write(thumbnail_path(folder, sha256), thumbnail)


def take_along(copy_file: Path, store_file: Path) -> None:
    """Copy the photographs beside the folder a store's copy lies in to where a store made from it looks for them.

    StoreFault: ``photo_not_kept``.
    """
    kept, wanted = copy_file.parent.with_suffix(SUFFIX), store_file.with_suffix(SUFFIX)
    if kept != wanted and kept.is_dir():
        with _in_words(wanted):
            shutil.copytree(kept, wanted, dirs_exist_ok=True)


def path_of(folder: Path, sha256: str, suffix: str) -> Path:
    """Return where the file of a photograph lies."""
    return folder / sha256[:2] / f"{sha256}{suffix}"


def thumbnail_path(folder: Path, sha256: str) -> Path:
    """Return where the small picture of a photograph lies."""
    return folder / THUMBNAILS / f"{sha256}.jpg"


def state_of(folder: Path, sha256: str, suffix: str) -> PhotoState:
    """Read a photograph's file and say whether it is still what it was."""
    path = path_of(folder, sha256, suffix)
    try:
        with path.open("rb") as file:
            found = hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return PhotoState.GONE
    return PhotoState.SOUND if found == sha256 else PhotoState.CHANGED


def _write(path: Path, content: bytes) -> None:
    """Write beside, sync, then put in place: a cut in between leaves no half photograph under its name."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f"{path.name}.{os.getpid()}.part")
    with beside.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    beside.replace(path)
    _sync_folder(path.parent)


def _sync_folder(folder: Path) -> None:
    """Let the name be on the disk too; where folders cannot be opened (Windows) the system does it itself."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


@contextmanager
def _in_words(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise StoreFault(
            "photo_not_kept",
            N_("The photograph could not be written in {folder}: {why}. Check the disk and do it again."),
            folder=str(folder),
            why=error.strerror or str(error),
        ) from error
