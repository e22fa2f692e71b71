"""Folders that prove their own files: BagIt (RFC 8493), checksums by SHA-512 beside what is handed over."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.outgoing_folders import in_words, write_text
from findsdesk.words import N_

PAYLOAD, _MANIFEST, _TAG_MANIFEST = "data", "manifest-sha512.txt", "tagmanifest-sha512.txt"
DECLARATION = "bagit.txt"
_TAGS = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"


@dataclass(frozen=True, slots=True)
class Sealed:
    """A folder that was sealed: how many files and bytes its payload holds."""

    files: int
    size_bytes: int


def seal(folder: Path, info: Mapping[str, str]) -> Sealed:
    """Make a folder whose payload lies in ``data`` a bag: declaration, information, manifests with SHA-512.

    Refusal: ``cannot_write``.
    """
    with in_words(folder):
        payload = _sums(folder, sorted(one for one in (folder / PAYLOAD).rglob("*") if one.is_file()))
        size = sum((folder / one).stat().st_size for one, _sum in payload)
    write_text(_TAGS, folder / DECLARATION)
    said = {**info, "Payload-Oxum": f"{size}.{len(payload)}"}
    write_text("".join(f"{label}: {_one_line(value)}\n" for label, value in said.items()), folder / "bag-info.txt")
    write_text(_manifest(payload), folder / _MANIFEST)
    tags = sorted(one for one in folder.iterdir() if one.is_file() and one.name != _TAG_MANIFEST)
    with in_words(folder):
        sums = _sums(folder, tags)
    write_text(_manifest(sums), folder / _TAG_MANIFEST)
    return Sealed(len(payload), size)


def _sums(folder: Path, files: Iterable[Path]) -> list[tuple[str, str]]:
    return [(file.relative_to(folder).as_posix(), _sum(file)) for file in files]


def _sum(file: Path) -> str:
    with file.open("rb") as stream:
        return hashlib.file_digest(stream, "sha512").hexdigest()


def _manifest(sums: Iterable[tuple[str, str]]) -> str:
    return "".join(f"{digest}  {_encoded(path)}\n" for path, digest in sums)


def _encoded(path: str) -> str:
    """Return a path as a manifest writes it: its %, CR and LF by their codes (RFC 8493, 2.1.3)."""
    return path.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _decoded(path: str) -> str:
    return path.replace("%0A", "\n").replace("%0D", "\r").replace("%25", "%")


def _one_line(value: str) -> str:
    return " ".join(value.split())


def is_sealed(folder: Path) -> bool:
    """Tell whether a folder says that it is a bag."""
    return (folder / DECLARATION).is_file()


def prove_sealed(folder: Path) -> None:
    """Prove that a bag holds what its manifest says, and nothing else.

    Refusals: ``bag_unreadable``, ``bag_path_outside``, ``bag_changed`` (a file is another, is gone or was added).
    """
    try:
        lines = (folder / _MANIFEST).read_text("utf-8").split("\n")
        sums = {_decoded(path.strip()): digest for digest, path in (line.split(maxsplit=1) for line in lines if line)}
    except (OSError, ValueError) as fault:
        text = N_("The checksums of {folder} ({name}) cannot be read. Ask for the whole folder again.")
        raise Refusal("bag_unreadable", text, folder=folder.name, name=_MANIFEST) from fault
    for path in sums:
        if not (folder / path).resolve().is_relative_to((folder / PAYLOAD).resolve()):
            text = N_("The checksums name a file outside their folder ({path}). Nothing was opened; ask for it again.")
            raise Refusal("bag_path_outside", text, path=path[:60])
    there = {one.relative_to(folder).as_posix() for one in (folder / PAYLOAD).rglob("*") if one.is_file()}
    wrong = sorted(there ^ sums.keys()) or sorted(path for path in there if _sum(folder / path) != sums[path])
    if wrong:
        text = N_("{file} is not as it was when the folder was sealed. Ask for the whole folder again.")
        raise Refusal("bag_changed", text, file=wrong[0])
