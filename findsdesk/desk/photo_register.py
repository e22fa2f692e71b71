"""The register of photographs: each with what it shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Reading
from findsdesk.desk.photos import SUBJECTS, Subject, photo_rows
from findsdesk.desk.piece_register import of_containers
from findsdesk.desk.piece_rows import piece_name
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import (
    Container,
    Deposit,
    DiscardList,
    Form,
    FoundObject,
    Photo,
    Piece,
    Vessel,
    Ware,
)
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class PhotoInRegister:
    """A photograph with the name of what it shows; ``container_id`` is where that lies, None where it has none."""

    id: int
    version: int
    of: Subject
    name: str
    container_id: int | None
    file_name: str
    sha256: str
    kind: str
    width: int
    height: int
    size_bytes: int
    taken_on: datetime | None
    taken_in_at: datetime
    note: str


def _holds_word(word: str) -> Condition:
    pieces = select(Piece.id).where(of_containers(word))
    return or_(Photo.file_name.ilike(word, escape="/"), Photo.note.ilike(word, escape="/"), Photo.piece_id.in_(pieces))


def _of(_reading: Reading, values: Sequence[str]) -> Condition:
    unknown = [value for value in values if value not in SUBJECTS]
    if unknown:
        raise Refusal(
            "unknown_subject",
            N_("Photographs are of {known}, not of “{said}”."),
            known=", ".join(SUBJECTS),
            said=", ".join(unknown),
        )
    return or_(*(getattr(Photo, f"{value}_id").is_not(None) for value in values))


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, PhotoInRegister]:
    photos = photo_rows(reading.session, keys)
    named = _names(reading.session, [photo.of for photo in photos])
    return {
        photo.id: PhotoInRegister(
            id=photo.id,
            version=photo.version,
            of=photo.of,
            name=named[photo.of][0],
            container_id=named[photo.of][1],
            file_name=photo.file_name,
            sha256=photo.sha256,
            kind=photo.kind,
            width=photo.width,
            height=photo.height,
            size_bytes=photo.size_bytes,
            taken_on=photo.taken_on,
            taken_in_at=photo.taken_in_at,
            note=photo.note,
        )
        for photo in photos
    }


def _names(session: Session, subjects: Sequence[Subject]) -> dict[Subject, tuple[str, int | None]]:
    """Return what people call the things, and the container each lies in."""
    found: dict[Subject, tuple[str, int | None]] = dict.fromkeys(subjects, ("", None))

    def ids(kind: str) -> list[int]:
        return [row_id for name, row_id in subjects if name == kind]

    pieces = select(Piece, Container).join(Container, Piece.container_id == Container.id)
    for piece, container in session.execute(pieces.where(Piece.id.in_(ids("piece")))):
        found["piece", piece.id] = piece_name(container, piece), container.id
    for row in session.execute(select(FoundObject).where(FoundObject.id.in_(ids("object")))).scalars():
        found["object", row.id] = str(row.number), row.container_id
    for kind, key, name in (
        ("container", Container.id, Container.number),
        ("deposit", Deposit.id, Deposit.number),
        ("vessel", Vessel.id, Vessel.number),
        ("ware", Ware.id, Ware.code),
        ("form", Form.id, Form.code),
        ("discard_list", DiscardList.id, DiscardList.number),
    ):
        for row_id, said in session.execute(select(key, name).where(key.in_(ids(kind)))):
            found[kind, row_id] = str(said), row_id if kind == "container" else None
    return found


PHOTOS = Source(
    key=Photo.id,
    sorts={"taken_in": (Photo.taken_in_at,)},
    filters={"of": _of},
    holds_word=_holds_word,
    rows=_rows,
    newest_first=True,
)
