"""One picture of one thing that two stores took in: it stands once, by its hash and what it is of."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Set
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.store.batches import batches
from findsdesk.store.courier_clashes import VALUES, ClashFound, Said, found
from findsdesk.store.journal import Changes
from findsdesk.store.models import Photo
from findsdesk.store.numbers import STATION_SHIFT
from findsdesk.store.told_changes import plain_columns, tell_change, tell_gone

_KIND = Photo.__tablename__
_COLUMNS = [column.name for column in Photo.__table__.columns]
_OF = [name for name in _COLUMNS if name.endswith("_id") and name != "person_id"]


def put_pictures_together(session: Session, changes: Changes, touched: Set[int]) -> Iterator[ClashFound | None]:
    """Let one row stay of each touched picture that its thing has twice: that of the lower id, so that both find it.

    Yields of each row that goes the clash of two notes, None where there is none. A note that one lacks is kept.
    """
    for ids in _alike(session, touched):
        first, *others = sorted(ids)
        for other in others:
            yield _put_together(session, changes, first, other)


def _alike(session: Session, touched: Set[int]) -> list[list[int]]:
    by_picture: dict[tuple[Any, ...], list[int]] = defaultdict(list)
    columns = [getattr(Photo, name) for name in _OF]
    for some in batches(sorted(touched)):
        hashes = select(Photo.sha256).where(Photo.id.in_(some))
        rows = session.execute(select(Photo.id, Photo.sha256, *columns).where(Photo.sha256.in_(hashes)))
        for row_id, *of in rows:
            if row_id not in by_picture[tuple(of)]:
                by_picture[tuple(of)].append(row_id)
    return [ids for ids in by_picture.values() if len(ids) > 1 and not touched.isdisjoint(ids)]


def _put_together(session: Session, changes: Changes, stays: int, goes: int) -> ClashFound | None:
    one = plain_columns(session, _KIND, stays, ["note"]) or {}
    whole = plain_columns(session, _KIND, goes, _COLUMNS) or {}
    tell_gone(session, changes, _KIND, goes, {name: value for name, value in whole.items() if name != "version"})
    if not one["note"] and whole["note"]:
        tell_change(session, changes, _KIND, stays, {"note": whole["note"]})
    if not one["note"] or not whole["note"] or one["note"] == whole["note"]:
        return None
    first = Said(stays >> STATION_SHIFT, f"row {stays}", {"note": one["note"]})
    second = Said(goes >> STATION_SHIFT, f"row {goes}", {"note": whole["note"]})
    return found(VALUES, (_KIND, stays), first, second)
