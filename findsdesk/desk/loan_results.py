"""Results that came back with a loan: files kept beside the store byte for byte, named by their SHA-256."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.finding_shelves import loan_of
from findsdesk.desk.kept_files import KeptFile, proved_path, wrong_files
from findsdesk.desk.loan_rows import ResultFacts, result_facts
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.outgoing_folders import copied
from findsdesk.store.models import LoanFile
from findsdesk.store.photo_folder import RESULT_SUFFIX, PhotoState, keep_result, photo_folder
from findsdesk.words import N_


def add_result(desk: Desk, loan: str, path: Path, *, note: str = "") -> ResultFacts:
    """Take a file in that came back with a loan: its bytes are kept before the row is written.

    Opposite: ``take_off_result``. Refusals: ``unknown_loan``, ``no_result_file``, ``result_too_large``,
    ``result_empty``, ``result_there`` (the same bytes with the same loan), ``no_photo_folder``.
    """
    from findsdesk.exchange.result_files import read_result

    folder = photo_folder(desk.store)
    file = read_result(path)
    with desk.deed("add_result") as deed:
        row = loan_of(deed.session, desk, loan)
        same = select(LoanFile.id).where(LoanFile.loan_id == row.id, LoanFile.sha256 == file.sha256)
        if deed.session.execute(same).first():
            raise Refusal(
                "result_there", N_("{file} is here already, with this loan. Nothing was taken in."), file=path.name
            )
        keep_result(folder, file.sha256, file.content)
        kept = deed.add(
            LoanFile(
                loan_id=row.id,
                sha256=file.sha256,
                file_name=file.file_name,
                size_bytes=len(file.content),
                note=note.strip(),
                taken_in_at=deed.happened_at,
                person_id=deed.person_id,
            )
        )
        deed.said = f"{row.number}: {file.file_name} ({file.sha256[:12]})"
        deed.session.flush()
        return result_facts(kept)


def take_off_result(desk: Desk, result_id: int, *, seen: int) -> ResultFacts:
    """Take a result of the version ``seen`` off its loan; the file stays, for the journal names it.

    Opposite: ``add_result``. Refusals: ``result_off``, ``changed_meanwhile``.
    """
    with desk.deed("take_off_result") as deed:
        row = deed.session.get(LoanFile, result_id)
        if row is None:
            raise Refusal("result_off", N_("That file was taken off meanwhile. Look at the loan again."))
        refuse_if_moved(deed.session, row, seen, {})
        facts = result_facts(row)
        deed.session.delete(row)
        deed.said = f"{facts.file_name} ({facts.sha256[:12]})"
    return facts


def result_path(desk: Desk, result: ResultFacts) -> Path:
    """Return the file of a result, proved to be what was taken in. StoreFaults: ``result_gone``, ``result_changed``."""
    return proved_path(
        desk,
        KeptFile(result.sha256, RESULT_SUFFIX, result.file_name),
        gone=("result_gone", N_("The file of {file} is gone from {folder}. Put it back from a copy.")),
        changed=(
            "result_changed",
            N_("The file of {file} is not what was taken in. Put it back from a copy of {folder}."),
        ),
    )


def copy_result(desk: Desk, result: ResultFacts, path: Path) -> Path:
    """Copy the file of a result, under a name that says what it is. Refusal: ``cannot_write``; of ``result_path``."""
    copied(result_path(desk, result), path)
    return path


def wrong_results(session: Session, desk: Desk) -> Iterator[tuple[str, PhotoState]]:
    """Yield each result whose file is gone or changed: its name and how it was found. Reads every file."""
    rows = session.execute(select(LoanFile.sha256, LoanFile.file_name).order_by(LoanFile.id)).all()
    return wrong_files(desk, (KeptFile(sha256, RESULT_SUFFIX, file_name) for sha256, file_name in rows))
