"""The pictures of wares and forms on their way out and in: each proved before anything is written."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.photos import SUFFIX_OF, photo_path, photo_rows, take_in
from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.domain.type_pictures import TypePicture, of_line
from findsdesk.domain.type_rows import TypeCode, TypeKind
from findsdesk.store.models import Form, Photo, Ware
from findsdesk.store.photo_folder import photo_folder
from findsdesk.words import N_, put

if TYPE_CHECKING:
    from findsdesk.exchange.photo_files import PhotoFile
    from findsdesk.exchange.type_archives import ArrivedTypes, CarriedPicture

_MODELS: dict[TypeKind, Any] = {TypeKind.WARE: Ware, TypeKind.FORM: Form}


@dataclass(frozen=True, slots=True)
class ProvedPicture:
    """A picture of which all could be seen; its bytes are fetched again when they are written."""

    said: TypePicture
    photo: PhotoFile


def carried_pictures(desk: Desk) -> tuple[tuple[CarriedPicture, ...], tuple[str, ...]]:
    """Return the pictures of the series that go along, and the names of those whose file is gone or changed.

    Refusal and fault of the folder: those of ``photo_folder``.
    """
    from findsdesk.exchange.type_archives import FOLDER, CarriedPicture

    with desk.reading() as reading:
        shown = list(_shown(reading.session))
        photos = photo_rows(reading.session, [photo_id for _code, photo_id, _sha256 in shown])
    carried, missing = [], []
    if photos:
        photo_folder(desk.store)
    for ((kind, code), _photo_id, _sha256), photo in zip(shown, photos, strict=True):
        file = f"{FOLDER}{photo.sha256}{SUFFIX_OF[photo.kind]}"
        said = TypePicture(kind, code, file, photo.sha256, photo.file_name, photo.note)
        try:
            carried.append(CarriedPicture(said, photo_path(desk, photo)))
        except StoreFault:
            missing.append(photo.file_name)
    return tuple(carried), tuple(missing)


def _shown(session: Session) -> Iterator[tuple[TypeCode, int, str]]:
    """Yield each picture of the series: what it is of, its id and its hash; wares first, the oldest picture first."""
    for kind, model in _MODELS.items():
        wanted = select(model.code, Photo.id, Photo.sha256).join(Photo, getattr(Photo, f"{kind}_id") == model.id)
        wanted = wanted.where(model.merged_into_id.is_(None)).order_by(model.code, Photo.taken_in_at, Photo.id)
        for code, photo_id, sha256 in session.execute(wanted):
            yield (kind, code), photo_id, sha256


def proved_pictures(desk: Desk, arrived: ArrivedTypes) -> tuple[tuple[ProvedPicture, ...], tuple[Refusal, ...]]:
    """Look at every picture that came with a series; one that is listed twice of the same code counts once.

    Beside them stands what is wrong with the others, each with its line: ``picture_missing``, ``picture_changed``,
    ``picture_too_large``, ``not_a_photo``, ``photo_too_large``, ``photo_damaged``. Refusal: ``no_photo_folder``.
    """
    faults: list[Refusal] = []
    found: dict[tuple[TypeCode, str], ProvedPicture] = {}
    if arrived.pictures:
        photo_folder(desk.store)
    for said in arrived.pictures:
        try:
            photo = _photo(desk, arrived, said)
        except Refusal as fault:
            faults.append(fault)
            continue
        sure = replace(said, sha256=photo.sha256)
        found.setdefault((said.of, photo.sha256), ProvedPicture(sure, replace(photo, content=b"")))
    return tuple(found.values()), tuple(faults)


def _photo(desk: Desk, arrived: ArrivedTypes, said: TypePicture) -> PhotoFile:
    from findsdesk.exchange.photo_files import photo_from

    content = arrived.content(said)
    try:
        return photo_from(content, said.name, desk.facts.zone)
    except Refusal as no:
        raise of_line(no.code, said.line, no.in_words()) from no


def of_nothing_known(said: TypePicture) -> Refusal:
    """Return what is told of a picture whose code is not there: ``unknown_type``, with its line."""
    why = put(N_("there is no {kind} {code}."), None, {"kind": said.kind, "code": said.code})
    return of_line("unknown_type", said.line, why)


def new_pictures(session: Session, proved: Collection[ProvedPicture]) -> tuple[ProvedPicture, ...]:
    """Return the pictures that their codes do not have yet."""
    here = {(of, sha256) for of, _photo_id, sha256 in _shown(session)}
    return tuple(one for one in proved if (one.said.of, one.said.sha256) not in here)


def take_pictures_in(deed: Deed, arrived: ArrivedTypes, new: Collection[ProvedPicture]) -> None:
    """Copy pictures in beside the store and write of which ware or form each is."""
    for one in new:
        model = _MODELS[one.said.kind]
        of = deed.session.execute(select(model.id).where(model.code == one.said.code)).scalar_one()
        photo = replace(one.photo, content=arrived.content(one.said))
        take_in(deed, photo, (one.said.kind.value, of), note=one.said.note)
