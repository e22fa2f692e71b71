"""A zip that was brought, unpacked into a folder of ours: nothing may lie outside it, nothing may blow up."""

from __future__ import annotations

import shutil
import stat
import zipfile
from pathlib import Path, PurePosixPath

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.arriving_files import HIGHEST_RATIO, MEGABYTE, damaged
from findsdesk.exchange.outgoing_folders import in_words
from findsdesk.words import N_

_RATIO_FREE = 10 * MEGABYTE
"""Below this unpacked size the ratio does no harm."""


def unpack(archive_file: Path, into: Path) -> Path:
    """Unpack a zip into an empty folder and return the folder that holds its contents.

    Refusals before anything is written: ``zip_path_outside`` (a name that leads out, or a link), ``zip_too_large``,
    ``file_damaged``; and ``cannot_write``.
    """
    try:
        with zipfile.ZipFile(archive_file) as archive:
            members = archive.infolist()
            _refuse_bomb(archive_file, members)
            for member in members:
                _refuse_outside(archive_file, member)
            for member in members:
                _write(archive, member, into)
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, ValueError) as fault:
        raise damaged(archive_file.name) from fault
    inside = list(into.iterdir())
    return inside[0] if len(inside) == 1 and inside[0].is_dir() else into


def _refuse_bomb(archive_file: Path, members: list[zipfile.ZipInfo]) -> None:
    unpacked, packed = sum(one.file_size for one in members), archive_file.stat().st_size
    if unpacked > _RATIO_FREE and unpacked > HIGHEST_RATIO * packed:
        text = N_("{file} unpacks to far more than it holds; it was not opened. Ask for the folder itself.")
        raise Refusal("zip_too_large", text, file=archive_file.name)


def _refuse_outside(archive_file: Path, member: zipfile.ZipInfo) -> None:
    name = PurePosixPath(member.filename.replace("\\", "/"))
    leads_out = name.is_absolute() or ".." in name.parts or ":" in member.filename
    if leads_out or stat.S_ISLNK(member.external_attr >> 16):
        text = N_("{file} wants to write outside its folder ({name}). It was not opened; ask where it comes from.")
        raise Refusal("zip_path_outside", text, file=archive_file.name, name=member.filename[:60])


def _write(archive: zipfile.ZipFile, member: zipfile.ZipInfo, into: Path) -> None:
    target = into / member.filename.replace("\\", "/")
    with in_words(target):
        if member.is_dir():
            target.mkdir(parents=True, exist_ok=True)
            return
        target.parent.mkdir(parents=True, exist_ok=True)
        with archive.open(member) as packed, target.open("wb") as file:
            shutil.copyfileobj(packed, file, 1 << 20)
