"""A picture of a type series as a line of its list: of which ware or form, in which file, with which hash."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.type_rows import TypeCode, TypeKind
from findsdesk.words import N_, put

PICTURE_COLUMNS = ("kind", "code", "file", "sha256", "name", "note")
"""The headers of the list of pictures, in their order."""
_HASH = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class TypePicture:
    """A picture of a ware or form; ``sha256`` is '' where the list does not say it.

    ``file`` is where it lies beside the list, ``name`` what it was called where it was taken in first.
    """

    kind: TypeKind
    code: str
    file: str
    sha256: str
    name: str
    note: str
    line: int = 0

    @property
    def of(self) -> TypeCode:
        """Return what it is of."""
        return self.kind, self.code

    def as_cells(self) -> tuple[str, ...]:
        """Return the line as it is written, in the order of ``PICTURE_COLUMNS``."""
        return (self.kind, self.code, self.file, self.sha256, self.name, self.note)


def read_type_picture(cells: Mapping[str, str], line: int) -> TypePicture:
    """Read a line of the list by its headers. Refusal, with the line and what is wrong: ``type_picture_unreadable``."""
    said = {name: cells.get(name, "").strip() for name in PICTURE_COLUMNS}
    sha256 = said["sha256"].lower()
    wrong = {
        N_("the code is missing."): not said["code"],
        N_("the file is missing."): not said["file"],
        N_("the kind is neither ware nor form."): folded(said["kind"]) not in ("", *TypeKind),
        N_("the sha256 has not 64 signs of 0-9 and a-f."): sha256 and not _HASH.fullmatch(sha256),
    }
    for why in (why for why, is_so in wrong.items() if is_so):
        raise of_line("type_picture_unreadable", line, put(why))
    file = said["file"].replace("\\", "/")
    return TypePicture(
        TypeKind(folded(said["kind"]) or TypeKind.WARE),
        said["code"].upper(),
        file,
        sha256 or _hash_in(file),
        # What is shown is a name, wherever the list says that it lay.
        (said["name"] or file).replace("\\", "/").rsplit("/", 1)[-1],
        said["note"],
        line,
    )


def _hash_in(file: str) -> str:
    """Return the hash that a file is named by, '' where it is named otherwise."""
    stem = file.rsplit("/", 1)[-1].split(".", 1)[0]
    return stem if _HASH.fullmatch(stem) else ""


def of_line(code: str, line: int, why: str) -> Refusal:
    """Return the refusal of a line of the list of pictures; ``why`` is a sentence in words."""
    text = N_("Line {line} of the list of pictures: {why} Nothing was taken in.")
    return Refusal(code, text, line=line, why=why)
