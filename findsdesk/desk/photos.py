"""Photographs of pieces, objects, containers, deposits, vessels and the type series: taken in, shown, taken off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.kept_files import KeptFile, proved_path, wrong_files
from findsdesk.domain.refusals import Refusal, StoreFault
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
from findsdesk.store.photo_folder import PhotoState, keep, keep_thumbnail, photo_folder
from findsdesk.store.photo_folder import thumbnail_path as _thumbnail_path
from findsdesk.words import N_

if TYPE_CHECKING:
    from findsdesk.exchange.photo_files import PhotoFile

SUBJECTS: dict[str, Any] = {
    "piece": Piece,
    "object": FoundObject,
    "container": Container,
    "deposit": Deposit,
    "vessel": Vessel,
    "ware": Ware,
    "form": Form,
    "discard_list": DiscardList,
}
"""What a photograph may be of, by the beginning of its column."""
SUFFIX_OF = {"jpeg": ".jpg", "png": ".png", "tiff": ".tif"}
"""How the file of each kind of photograph ends."""

Subject = tuple[str, int]
"""A kind of thing and its id."""


@dataclass(frozen=True, slots=True)
class PhotoFacts:
    """A photograph as it is shown: of what, which file, pixels, when taken (by the camera) and taken in."""

    id: int
    version: int
    of: Subject
    sha256: str
    file_name: str
    kind: str
    width: int
    height: int
    size_bytes: int
    taken_on: datetime | None
    taken_in_at: datetime
    note: str


def add_photo(desk: Desk, path: Path, *, of: Subject, note: str = "") -> PhotoFacts:
    """Take a photograph in: its bytes are copied beside the store under their SHA-256 before the row is written.

    A piece that waited for one waits no longer. Opposite: ``take_off_photo``. Refusals: those of ``read_photo``,
    ``no_photo_folder``, ``nothing_pictured``, ``photo_there`` (the same picture of the same thing).
    """
    photo = photo_read(desk, path)
    with desk.deed("add_photo") as deed:
        subject = _subject(deed.session, of)
        column = getattr(Photo, f"{of[0]}_id")
        if deed.session.execute(select(Photo.id).where(Photo.sha256 == photo.sha256, column == of[1])).first():
            raise Refusal(
                "photo_there", N_("{file} is here already, of the same thing. Nothing was taken in."), file=path.name
            )
        row = take_in(deed, photo, of, note=note)
        if isinstance(subject, Piece):
            subject.photo_wanted = False
        deed.said = f"{photo.file_name} ({photo.sha256[:12]})"
        deed.session.flush()
        return _facts(row)


def photo_read(desk: Desk, path: Path) -> PhotoFile:
    """Return a photograph to be taken in by a deed. Refusals: those of ``read_photo``, ``no_photo_folder``."""
    from findsdesk.exchange.photo_files import read_photo

    photo_folder(desk.store)
    return read_photo(path, desk.facts.zone)


def take_in(deed: Deed, photo: PhotoFile, of: Subject, *, note: str = "") -> Photo:
    """Copy a photograph in beside the store and write within a deed what it shows; returns its row."""
    keep(photo_folder(deed.desk.store), photo.sha256, SUFFIX_OF[photo.kind], photo.content, photo.thumbnail)
    return deed.add(
        Photo(
            sha256=photo.sha256,
            file_name=photo.file_name,
            kind=photo.kind,
            width=photo.width,
            height=photo.height,
            size_bytes=len(photo.content),
            taken_on=photo.taken_on,
            note=note.strip(),
            taken_in_at=deed.happened_at,
            person_id=deed.person_id,
            **{f"{of[0]}_id": of[1]},
        )
    )


def _subject(session: Session, of: Subject) -> Any:
    row = session.get(SUBJECTS[of[0]], of[1]) if of[0] in SUBJECTS else None
    if row is None:
        raise Refusal("nothing_pictured", N_("What the photograph shows is not there. Choose it again."))
    return row


def take_off_photo(desk: Desk, photo_id: int, *, seen: int) -> PhotoFacts:
    """Take a photograph of the version ``seen`` off what it shows; its file stays, for the journal names it.

    Opposite: ``add_photo``. Refusals: ``photo_off``, ``changed_meanwhile``.
    """
    with desk.deed("take_off_photo") as deed:
        row = _there(deed.session, photo_id)
        refuse_if_moved(deed.session, row, seen, {})
        facts = _facts(row)
        deed.session.delete(row)
        deed.said = f"{facts.file_name} ({facts.sha256[:12]})"
    return facts


def change_photo(desk: Desk, photo_id: int, *, seen: int, note: str) -> PhotoFacts:
    """Change the note of a photograph. Opposite: the change back. Refusals: ``photo_off``, ``changed_meanwhile``."""
    with desk.deed("change_photo") as deed:
        row = _there(deed.session, photo_id)
        refuse_if_moved(deed.session, row, seen, {"note": note.strip()})
        row.note = note.strip()
        deed.said = row.file_name
        deed.session.flush()
        return _facts(row)


def photos_of(desk: Desk, of: Subject) -> tuple[PhotoFacts, ...]:
    """Return the photographs of a thing, the oldest first."""
    with desk.reading() as reading:
        column = getattr(Photo, f"{of[0]}_id")
        rows = reading.session.execute(
            select(Photo).where(column == of[1]).order_by(Photo.taken_in_at, Photo.id)
        ).scalars()
        return tuple(_facts(row) for row in rows)


def pictures_of(desk: Desk, of: Subject) -> tuple[tuple[PhotoFacts, bytes], ...]:
    """Return the photographs of a thing with a small picture each; one whose file is gone has none."""
    return tuple((photo, _small(desk, photo)) for photo in photos_of(desk, of))


def _small(desk: Desk, photo: PhotoFacts) -> bytes:
    try:
        return thumbnail_of(desk, photo)
    except (Refusal, StoreFault):
        return b""


def photo_path(desk: Desk, photo: PhotoFacts) -> Path:
    """Return the file of a photograph, proved to be what was taken in.

    StoreFaults: ``photo_gone``, ``photo_changed``.
    """
    return proved_path(
        desk,
        KeptFile(photo.sha256, SUFFIX_OF[photo.kind], photo.file_name),
        gone=(
            "photo_gone",
            N_("The file of {file} is gone from {folder}. Put it back from a copy, or take the photograph in again."),
        ),
        changed=(
            "photo_changed",
            N_("The file of {file} is not what was taken in. Put it back from a copy of {folder}."),
        ),
    )


def thumbnail_of(desk: Desk, photo: PhotoFacts) -> bytes:
    """Return the small picture of a photograph as JPEG; one that is missing is made again.

    StoreFaults: those of ``photo_path``, where it has to be made.
    """
    folder = photo_folder(desk.store)
    try:
        return _thumbnail_path(folder, photo.sha256).read_bytes()
    except OSError:
        from findsdesk.exchange.photo_files import thumbnail_of as small_picture

        made = small_picture(photo_path(desk, photo).read_bytes(), photo.file_name)
        if not desk.store.read_only:
            keep_thumbnail(folder, photo.sha256, made)
        return made


def wrong_photos(session: Session, desk: Desk) -> Iterator[tuple[str, PhotoState]]:
    """Yield each photograph whose file is gone or changed: its name and how it was found. Reads every file."""
    rows = session.execute(select(Photo.sha256, Photo.kind, Photo.file_name).order_by(Photo.id)).all()
    return wrong_files(desk, (KeptFile(sha256, SUFFIX_OF[kind], file_name) for sha256, kind, file_name in rows))


def photo_rows(session: Session, ids: Sequence[int]) -> tuple[PhotoFacts, ...]:
    """Return photographs by their ids, in that order; those that are gone are left out."""
    rows = {row.id: _facts(row) for row in session.execute(select(Photo).where(Photo.id.in_(ids))).scalars()}
    return tuple(rows[row_id] for row_id in ids if row_id in rows)


def _there(session: Session, photo_id: int) -> Photo:
    row = session.get(Photo, photo_id)
    if row is None:
        raise Refusal("photo_off", N_("That photograph was taken off meanwhile. Look at what it showed again."))
    return row


def _facts(row: Photo) -> PhotoFacts:
    of = next((name, getattr(row, f"{name}_id")) for name in SUBJECTS if getattr(row, f"{name}_id") is not None)
    return PhotoFacts(
        id=row.id,
        version=row.version,
        of=of,
        sha256=row.sha256,
        file_name=row.file_name,
        kind=row.kind,
        width=row.width,
        height=row.height,
        size_bytes=row.size_bytes,
        taken_on=row.taken_on,
        taken_in_at=row.taken_in_at,
        note=row.note,
    )
