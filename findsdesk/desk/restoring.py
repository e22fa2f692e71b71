"""Going back to a copy: which copies lie beside a store, and one of them written as a new store."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from findsdesk.domain.refusals import Refusal
from findsdesk.store.backup import copies_of, put_back
from findsdesk.store.photo_folder import take_along
from findsdesk.store.session import is_url, store_path
from findsdesk.words import N_

_MOMENT = "%Y%m%dT%H%M%SZ"


@dataclass(frozen=True, slots=True)
class KeptCopy:
    """A copy of a store: its file, when it was made (UTC), and the head of the store at that moment."""

    path: Path
    made_at: datetime
    head: str


def kept_copies(where: str | Path) -> tuple[KeptCopy, ...]:
    """Return the copies beside a store, the newest first; the store itself need not be there any more."""
    if is_url(str(where)):
        return ()
    return tuple(copy for path in copies_of(store_path(where)) if (copy := _copy(path)) is not None)


def _copy(path: Path) -> KeptCopy | None:
    """Read moment and head from a copy's name (NAME-moment-head); anything else in the folder is no copy."""
    parts = path.stem.rsplit("-", 2)
    if len(parts) != 3:
        return None
    try:
        made_at = datetime.strptime(parts[1], _MOMENT).replace(tzinfo=UTC)
    except ValueError:
        return None
    return KeptCopy(path, made_at, parts[2])


def proposed_name(copy: Path) -> Path:
    """Return a free name for a store made from a copy, beside the store it was taken from."""
    kept = _copy(copy)
    folder = copy.parent.parent if kept is not None else copy.parent
    name = copy.stem.rsplit("-", 2)[0] if kept is not None else copy.stem
    proposal = store_path(folder / f"{name}-restored")
    number = 2
    while proposal.exists():
        proposal = store_path(folder / f"{name}-restored-{number}")
        number += 1
    return proposal


def restore(copy: Path, into: str | Path) -> Path:
    """Write a copy as a new store, its photographs with it, and return its file; nothing is written over.

    Refusal: ``store_exists``; StoreFaults: ``bad_copy``, ``photo_not_kept``.
    """
    target = store_path(into)
    try:
        put_back(copy, target)
    except FileExistsError as error:
        raise Refusal(
            "store_exists",
            N_("There is already a store at {path}. Open it, or choose another name."),
            path=str(target),
        ) from error
    take_along(copy, target)
    return target
