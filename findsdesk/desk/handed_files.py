"""Photographs and results of loans as files with names people understand, and back into a store's folder."""

from __future__ import annotations

import csv
import hashlib
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import select

from findsdesk.desk.desk import Desk, Reading
from findsdesk.desk.following import Follow, quietly
from findsdesk.desk.mark_lines import mark_lines_of, said_of_containers
from findsdesk.desk.photo_register import PHOTOS, PhotoInRegister
from findsdesk.desk.photos import SUFFIX_OF
from findsdesk.desk.register_windows import RegisterQuery, every_row
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.outgoing_folders import copied, in_words
from findsdesk.exchange.writing import write_csv
from findsdesk.store.models import Container, FoundObject, Loan, LoanFile, Piece
from findsdesk.store.photo_folder import RESULT_SUFFIX, PhotoState, known_photo_folder, path_of, photo_folder, state_of
from findsdesk.store.session import Store
from findsdesk.words import N_

PHOTO_FOLDER, RESULT_FOLDER, LIST = "photographs", "results", "list.csv"
_HEADS = ("file", "state", "of", "name", "came_as", "sha256", "width_px", "height_px", "taken", "note")
_RESULT_HEADS = ("file", "state", "loan", "came_as", "sha256", "note")


@dataclass(frozen=True, slots=True)
class HandedFiles:
    """What was copied: how many files, and the names of those whose file is gone or changed."""

    files: int
    missing: tuple[str, ...]


def write_photos(moment: Desk, folder: Path, follow: Follow = quietly) -> HandedFiles:
    """Copy every photograph into a folder under the mark of what it shows, with a list of them.

    Names are ASCII letters, digits, ``_`` and ``-``. One whose file is gone or changed is named in the list and not
    copied. Refusal: ``cannot_write``.
    """
    kept = known_photo_folder(moment.store)
    folder.mkdir(parents=True, exist_ok=True)
    missing: list[str] = []
    with moment.reading() as reading:
        marks = _Marks(reading)
        photos = list(every_row(reading, PHOTOS, RegisterQuery(sort="taken_in")))

        def rows() -> Iterator[Sequence[str | int]]:
            for place, photo in enumerate(photos):
                follow(place, len(photos))
                suffix, name = SUFFIX_OF[photo.kind], ""
                state = PhotoState.GONE if kept is None else state_of(kept, photo.sha256, suffix)
                if kept is not None and state is PhotoState.SOUND:
                    name = marks.name_for(photo) + suffix
                    copied(path_of(kept, photo.sha256, suffix), folder / name)
                else:
                    missing.append(photo.file_name)
                yield _listed(photo, name, state)

        write_csv(_HEADS, rows(), folder / LIST, for_spreadsheet=False)
    follow(len(photos), len(photos))
    return HandedFiles(len(photos) - len(missing), tuple(missing))


def _listed(photo: PhotoInRegister, name: str, state: PhotoState) -> tuple[str | int, ...]:
    taken = photo.taken_on.isoformat() if photo.taken_on else ""
    of, came_as = photo.of[0], photo.file_name
    return name, state.value, of, photo.name, came_as, photo.sha256, photo.width, photo.height, taken, photo.note


class _Marks:
    """What photographs are named by: the mark of the container or piece, else the kind of thing and its name."""

    def __init__(self, reading: Reading) -> None:
        self._session, self._site = reading.session, reading.desk.facts.code
        self._used: Counter[str] = Counter()

    def name_for(self, photo: PhotoInRegister) -> str:
        """Return the name of a photograph's file, without its ending; none is given twice."""
        stem = _plain("_".join(self._parts(photo))) or "photograph"
        self._used[stem.lower()] += 1
        return f"{stem}_{self._used[stem.lower()]}"

    def _parts(self, photo: PhotoInRegister) -> tuple[str, ...]:
        kind, row_id = photo.of
        if kind == "piece":
            container_id, number = self._session.execute(
                select(Piece.container_id, Piece.number).where(Piece.id == row_id)
            ).one()
            return *self._mark(container_id), f"piece-{number}"
        if kind == "container":
            return self._mark(row_id)
        if kind == "object":
            container_id = self._session.execute(
                select(FoundObject.container_id).where(FoundObject.id == row_id)
            ).scalar_one()
            return *self._mark(container_id), f"object-{photo.name}"
        return kind.replace("_", "-"), photo.name

    def _mark(self, container_id: int) -> tuple[str, ...]:
        row = self._session.execute(said_of_containers().where(Container.id == container_id)).one_or_none()
        return () if row is None else mark_lines_of(row, self._site)


def _plain(name: str) -> str:
    """Return a name of ASCII letters, digits, - and _ alone, as archives ask for it."""
    return re.sub(r"[^A-Za-z0-9_-]+", "-", name).strip("-_")[:100]


def write_results(moment: Desk, folder: Path) -> HandedFiles:
    """Copy the results that came back with loans into a folder, with a list. Refusal: ``cannot_write``."""
    kept = known_photo_folder(moment.store)
    with moment.reading() as reading:
        found = reading.session.execute(
            select(LoanFile, Loan.number).join(Loan, LoanFile.loan_id == Loan.id).order_by(LoanFile.id)
        ).all()
    if not found:
        return HandedFiles(0, ())
    folder.mkdir(parents=True, exist_ok=True)
    missing, rows = [], []
    for place, (file, loan) in enumerate(found, 1):
        state = PhotoState.GONE if kept is None else state_of(kept, file.sha256, RESULT_SUFFIX)
        stem, ending = Path(file.file_name).stem, Path(file.file_name).suffix
        name = f"loan-{loan}_{place}_{_plain(stem)}{ending if re.fullmatch(r'[.][A-Za-z0-9]+', ending) else ''}"
        if kept is not None and state is PhotoState.SOUND:
            copied(path_of(kept, file.sha256, RESULT_SUFFIX), folder / name)
        else:
            missing.append(file.file_name)
            name = ""
        rows.append((name, state.value, str(loan), file.file_name, file.sha256, file.note))
    write_csv(_RESULT_HEADS, rows, folder / LIST, for_spreadsheet=False)
    return HandedFiles(len(found) - len(missing), tuple(missing))


def brings_files(payload: Path) -> bool:
    """Tell whether photographs or results were handed over."""
    return any((payload / name / LIST).is_file() for name in (PHOTO_FOLDER, RESULT_FOLDER))


def take_files_in(payload: Path, store: Store) -> int:
    """Put photographs and results of a hand-over back into a new store's folder under their hashes; returns how many.

    Refusal: ``handed_file_wrong`` for a file that is not the one the list names.
    """
    kept, taken = photo_folder(store), 0
    for name, endings in ((PHOTO_FOLDER, frozenset(SUFFIX_OF.values())), (RESULT_FOLDER, frozenset())):
        folder = payload / name
        if not (folder / LIST).is_file():
            continue
        with (folder / LIST).open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                if name_of := row.get("file"):
                    _take_in(folder / Path(name_of).name, row.get("sha256") or "", endings, kept)
                    taken += 1
    return taken


def _take_in(source: Path, sha256: str, endings: frozenset[str], kept: Path) -> None:
    suffix = source.suffix if source.suffix in endings else RESULT_SUFFIX
    with in_words(source), source.open("rb") as file:
        found = hashlib.file_digest(file, "sha256").hexdigest()
    if found != sha256:
        text = N_("The file {file} is not the one its list names. Ask for the whole folder again.")
        raise Refusal("handed_file_wrong", text, file=source.name)
    copied(source, path_of(kept, found, suffix))
