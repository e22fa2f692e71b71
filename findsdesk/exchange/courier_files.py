"""Courier files: what a store knows, its acts as they are, and the photographs that came with them, in one zip.

Three kinds of members: ``courier.json`` (what it is, with the hash of the acts), ``acts.jsonl`` (an act a line, its
changes spelled as they were hashed), and ``files/`` (photographs and results, named by the SHA-256 of their bytes).
The directory of a zip stands at its end, so that a file half written is known by lacking it.
"""

from __future__ import annotations

import hashlib
import json
import zipfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.archives import unpacks_without_end, whole_or
from findsdesk.exchange.arriving_files import MEGABYTE
from findsdesk.exchange.writing import written_whole
from findsdesk.words import N_

HEAD, ACTS, FILES = "courier.json", "acts.jsonl", "files/"
FORM = 1
SUFFIX = ".courier"
_LARGEST_HEAD = 20 * MEGABYTE


@dataclass(frozen=True, slots=True)
class CarriedFile:
    """A photograph or result that travels along: the SHA-256 of its bytes, how its name ends, where it lies now."""

    sha256: str
    suffix: str
    path: Path


@dataclass(frozen=True, slots=True)
class ArrivedCourier:
    """A courier file that was proved whole: what it says of itself, and the acts in it, read when asked."""

    path: Path
    digest: str
    said: dict[str, Any] = field(default_factory=dict)

    def acts(self) -> Iterator[list[Any]]:
        """Yield each act as plain values. Refusal: ``courier_damaged``."""
        with _opened(self.path) as archive, archive.open(ACTS) as stream:
            for line in stream:
                yield json.loads(line)

    def files(self) -> tuple[tuple[str, str], ...]:
        """Return hash and ending of each file that travels along."""
        return tuple((str(one["sha256"]), str(one["suffix"])) for one in self.said.get("files", []))

    def content(self, sha256: str) -> bytes:
        """Return the bytes of a file. Refusal: ``courier_damaged`` where they are not those it is named by."""
        with _opened(self.path) as archive:
            content = archive.read(FILES + sha256)
        if hashlib.sha256(content).hexdigest() != sha256:
            raise damaged(self.path)
        return content


def write_courier_file(
    path: Path, said: dict[str, Any], acts: Iterable[list[Any]], files: Iterable[CarriedFile]
) -> tuple[int, int]:
    """Write a courier file, whole or not at all; returns its acts and files. Refusal: ``cannot_write``.

    A file that is named twice goes along once.
    """
    written, carried = 0, {one.sha256: one for one in files}
    digest = hashlib.sha256()
    with written_whole(path) as whole, zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as archive:
        with archive.open(ACTS, "w", force_zip64=True) as stream:
            for act in acts:
                line = json.dumps(act, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"
                digest.update(line)
                stream.write(line)
                written += 1
        for one in carried.values():
            archive.write(one.path, FILES + one.sha256, zipfile.ZIP_STORED)
        listed = [{"sha256": one.sha256, "suffix": one.suffix} for one in carried.values()]
        own = {"program": "findsdesk", "courier": FORM}
        told = own | said | {"acts": written, "acts_sha256": digest.hexdigest(), "files": listed}
        archive.writestr(HEAD, json.dumps(told, ensure_ascii=False, indent=1))
    return written, len(carried)


def read_courier_file(path: Path) -> ArrivedCourier:
    """Open a courier file and prove that it is whole.

    Refusals: ``no_courier`` (no such file, or another kind), ``courier_damaged`` (half written, or changed since),
    ``courier_newer``, ``zip_too_large``.
    """
    if not path.is_file():
        raise Refusal("no_courier", N_("There is no file {file}. Name the courier file itself."), file=str(path))
    with _opened(path) as archive:
        said = _said(path, archive)
        if said["courier"] != FORM:
            raise newer(path)
        _refuse_bomb(path, archive)
        digest = hashlib.sha256()
        with archive.open(ACTS) as stream:
            while part := stream.read(1 << 20):
                digest.update(part)
        if digest.hexdigest() != said.get("acts_sha256"):
            raise damaged(path)
        names = set(archive.namelist())
        if any(FILES + str(one.get("sha256")) not in names for one in said.get("files", [])):
            raise damaged(path)
    with path.open("rb") as file:
        return ArrivedCourier(path, hashlib.file_digest(file, "sha256").hexdigest(), said)


def newer(path: Path) -> Refusal:
    """Return the refusal of a file that a newer version wrote."""
    text = N_("{file} was written by a newer version of this program. Take it in with that version.")
    return Refusal("courier_newer", text, file=path.name)


def damaged(path: Path) -> Refusal:
    """Return the refusal of a file that is half written or was changed."""
    text = N_("{file} is not whole or was changed. Nothing was taken in; write it again at the other station.")
    return Refusal("courier_damaged", text, file=path.name)


@contextmanager
def _opened(path: Path) -> Iterator[zipfile.ZipFile]:
    try:
        with whole_or(damaged(path)), zipfile.ZipFile(path) as archive:
            yield archive
    except OSError as fault:
        text = N_("{file} cannot be read ({why}). Copy it to this computer and try again.")
        raise Refusal("cannot_read", text, file=path.name, why=fault.strerror or type(fault).__name__) from fault


def _said(path: Path, archive: zipfile.ZipFile) -> dict[str, Any]:
    ours = HEAD in archive.namelist() and archive.getinfo(HEAD).file_size <= _LARGEST_HEAD
    said = json.loads(archive.read(HEAD)) if ours else None
    if not isinstance(said, dict) or said.get("program") != "findsdesk" or not isinstance(said.get("courier"), int):
        text = N_("{file} is no courier file. Choose one that was written with: findsdesk courier STORE --write.")
        raise Refusal("no_courier", text, file=path.name)
    return said


def _refuse_bomb(path: Path, archive: zipfile.ZipFile) -> None:
    if unpacks_without_end(archive.infolist(), path.stat().st_size):
        text = N_("{file} unpacks to far more than it holds; it was not opened. Ask for it again.")
        raise Refusal("zip_too_large", text, file=path.name)
