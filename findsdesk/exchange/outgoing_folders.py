"""Folders and files that go out: written beside their place and put there in one step, so that none is ever half."""

from __future__ import annotations

import json
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.writing import cannot_write, written_whole
from findsdesk.words import N_

ABOUT = "about.json"
"""Lies at the top of every folder that goes out; by it a folder of ours is known and may be written anew."""
_OURS = "findsdesk"


@contextmanager
def in_words(path: Path) -> Iterator[None]:
    """Turn what the system says of writing into the refusal ``cannot_write``."""
    try:
        yield
    except OSError as fault:
        raise cannot_write(path, fault) from fault


@contextmanager
def written_folder(path: Path) -> Iterator[Path]:
    """Give a new folder beside a place; when all is written it takes that place, an older one of ours going away.

    Refusals: ``not_ours`` where something else is there, ``cannot_write``. What breaks off leaves the old whole.
    """
    make_room(path)
    refuse_what_is_not_ours(path)
    with in_words(path):
        beside = Path(tempfile.mkdtemp(dir=path.parent, prefix=f".{path.name}."))
        try:
            new = beside / "new"
            new.mkdir()
            yield new
            _sync(new)
            _swap(new, path, beside / "old")
        except Refusal as refusal:
            # A file of the folder could not be written: people know the folder, not the place beside it.
            fault = refusal.__cause__
            if refusal.code == "cannot_write" and isinstance(fault, OSError):
                raise fault from refusal
            raise
        finally:
            shutil.rmtree(beside, ignore_errors=True)


def make_room(path: Path) -> None:
    """Make the folder that something is to be written into, if need be. Refusal: ``cannot_write``."""
    with in_words(path):
        path.parent.mkdir(parents=True, exist_ok=True)


def refuse_what_is_not_ours(path: Path) -> None:
    """Refuse to write over a folder that this program did not write: ``not_ours``."""
    if not path.exists():
        return
    about: Any = None
    with suppress(OSError, ValueError):
        about = json.loads((path / ABOUT).read_bytes())
    if not isinstance(about, dict) or about.get("program") != _OURS:
        text = N_("{folder} is there and holds something else. Choose another folder; nothing was written.")
        raise Refusal("not_ours", text, folder=str(path))


def _sync(folder: Path) -> None:
    """Let the bytes be on the disk before their names are."""
    for file in folder.rglob("*"):
        if file.is_file():
            handle = os.open(file, os.O_RDWR)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)


def _swap(new: Path, path: Path, old: Path) -> None:
    if path.exists():
        path.rename(old)
    try:
        new.rename(path)
    except OSError:
        if old.exists():
            old.rename(path)
        raise


def write_json(value: Any, path: Path) -> None:
    """Write plain values as JSON in UTF-8. Refusal: ``cannot_write``."""
    write_text(json.dumps(value, ensure_ascii=False, indent=2) + "\n", path)


def write_text(text: str, path: Path) -> None:
    """Write a text in UTF-8. Refusal: ``cannot_write``."""
    with written_whole(path) as stream:
        stream.write(text.encode())


def write_about(folder: Path, values: dict[str, Any]) -> None:
    """Write what a folder is: by it the next writing knows the folder for ours."""
    write_json({"program": _OURS, **values}, folder / ABOUT)


def copied(source: Path, target: Path) -> None:
    """Copy a file's bytes. Refusal: ``cannot_write``."""
    with in_words(target):
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(source, target)
