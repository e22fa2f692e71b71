"""Files kept beside the store under their SHA-256, photographs and results of loans: proved to be what was taken in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from findsdesk.desk.desk import Desk
from findsdesk.domain.refusals import StoreFault
from findsdesk.store.photo_folder import PhotoState, known_photo_folder, path_of, photo_folder, state_of


@dataclass(frozen=True, slots=True)
class KeptFile:
    """A file as its row has it: under which hash and ending it lies, and the name it came with."""

    sha256: str
    suffix: str
    file_name: str


Said = tuple[str, str]
"""The code of a fault and its marked text; ``{file}`` and ``{folder}`` are filled in."""


def proved_path(desk: Desk, file: KeptFile, *, gone: Said, changed: Said) -> Path:
    """Return where a file lies, read and found to be what was taken in.

    StoreFaults: the one named ``gone``, the one named ``changed``; those of ``photo_folder``.
    """
    folder = photo_folder(desk.store)
    state = state_of(folder, file.sha256, file.suffix)
    path = path_of(folder, file.sha256, file.suffix)
    if state is not PhotoState.SOUND:
        code, text = gone if state is PhotoState.GONE else changed
        raise StoreFault(code, text, file=file.file_name, folder=str(path.parent))
    return path


def wrong_files(desk: Desk, files: Iterable[KeptFile]) -> Iterator[tuple[str, PhotoState]]:
    """Yield each file that is gone or changed: its name and how it was found. Reads every file, once.

    Of a store on a server of whose folder nobody told this station nothing is said.
    """
    folder = known_photo_folder(desk.store)
    if folder is None:
        return
    seen: dict[str, PhotoState] = {}
    for file in files:
        if file.sha256 not in seen:
            seen[file.sha256] = state_of(folder, file.sha256, file.suffix)
        if seen[file.sha256] is not PhotoState.SOUND:
            yield file.file_name, seen[file.sha256]
