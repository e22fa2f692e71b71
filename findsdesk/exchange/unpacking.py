"""A zip that was brought, unpacked into a folder of ours: nothing may lie outside it, nothing may blow up."""

from __future__ import annotations

import shutil
import stat
import zipfile
from pathlib import Path, PurePosixPath

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.archives import unpacks_without_end, whole_or
from findsdesk.exchange.outgoing_folders import in_words
from findsdesk.words import N_

_BESIDE = "__MACOSX"
"""A folder that some computers pack beside the one that somebody meant (from memory)."""


def unpack(archive_file: Path, into: Path) -> Path:
    """Unpack a zip into an empty folder and return the folder that holds its contents.

    Refusals before anything is written: ``zip_path_outside`` (a name that leads out, or a link), ``zip_too_large``,
    ``file_damaged``; and ``cannot_write``.
    """
    with whole_or(_damaged(archive_file)), zipfile.ZipFile(archive_file) as archive:
        members = archive.infolist()
        _refuse_bomb(archive_file, members)
        for member in members:
            _refuse_outside(archive_file, member)
        for member in members:
            _write(archive_file, archive, member, into)
    inside = [one for one in into.iterdir() if one.name != _BESIDE and not one.name.startswith(".")]
    return inside[0] if len(inside) == 1 and inside[0].is_dir() else into


def _damaged(archive_file: Path) -> Refusal:
    text = N_("{file} is damaged and cannot be read. Ask for it again, or for the folder itself.")
    return Refusal("file_damaged", text, file=archive_file.name)


def _refuse_bomb(archive_file: Path, members: list[zipfile.ZipInfo]) -> None:
    if unpacks_without_end(members, archive_file.stat().st_size):
        text = N_("{file} unpacks to far more than it holds; it was not opened. Ask for the folder itself.")
        raise Refusal("zip_too_large", text, file=archive_file.name)


def _refuse_outside(archive_file: Path, member: zipfile.ZipInfo) -> None:
    name = PurePosixPath(member.filename.replace("\\", "/"))
    leads_out = name.is_absolute() or ".." in name.parts or ":" in member.filename
    if leads_out or stat.S_ISLNK(member.external_attr >> 16):
        text = N_("{file} wants to write outside its folder ({name}). It was not opened; ask where it comes from.")
        raise Refusal("zip_path_outside", text, file=archive_file.name, name=member.filename[:60])


def _write(archive_file: Path, archive: zipfile.ZipFile, member: zipfile.ZipInfo, into: Path) -> None:
    target = into / member.filename.replace("\\", "/")
    with in_words(target):
        if member.is_dir():
            target.mkdir(parents=True, exist_ok=True)
            return
        target.parent.mkdir(parents=True, exist_ok=True)
        with target.open("wb") as file, whole_or(_damaged(archive_file)), archive.open(member) as packed:
            shutil.copyfileobj(packed, file, 1 << 20)
