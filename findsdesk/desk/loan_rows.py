"""A loan as it is shown and printed: to whom, what, since when, due when, how late, what is back in which condition."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Reading
from findsdesk.desk.lendable import name_in
from findsdesk.domain.lending import BorrowerKind, LoanStanding, days_overdue, standing
from findsdesk.store.models import (
    Bag,
    Box,
    Container,
    Deposit,
    LabSample,
    Loan,
    LoanChase,
    LoanFile,
    LoanLine,
    Person,
    Piece,
)


@dataclass(frozen=True, slots=True)
class LoanLineFacts:
    """One thing of a loan: its code ('' for a sample), name, where it is from; pieces that left, are back, used up."""

    id: int
    code: str
    name: str
    container: str
    """The number of the container it comes from; '' for a box."""
    deposit: str
    material: str
    pieces: int
    tenths: int | None
    condition_out: str
    pieces_back: int
    pieces_used: int
    condition_back: str
    back_on: date | None

    @property
    def still_out(self) -> int:
        """Return how many pieces are neither back nor used up."""
        return self.pieces - self.pieces_back - self.pieces_used


@dataclass(frozen=True, slots=True)
class Chased:
    """Somebody asked for a loan: when, how, what was answered."""

    happened_at: datetime
    person: str
    how: str
    answer: str


@dataclass(frozen=True, slots=True)
class ResultFacts:
    """A file that came back with a loan."""

    id: int
    version: int
    file_name: str
    sha256: str
    size_bytes: int
    note: str
    taken_in_at: datetime


@dataclass(frozen=True, slots=True)
class LoanFacts:
    """A loan with its lines, the reminders and the results; ``days_overdue`` is of the day it is looked at."""

    id: int
    version: int
    code: str
    number: int
    borrower: str
    kind: BorrowerKind
    address: str
    purpose: str
    permit: str
    lent_on: date
    due_on: date
    back_on: date | None
    note: str
    person: str
    standing: LoanStanding
    days_overdue: int
    lines: tuple[LoanLineFacts, ...]
    chased: tuple[Chased, ...]
    results: tuple[ResultFacts, ...]
    label_copy: int

    @property
    def pieces(self) -> int:
        """Return how many pieces left."""
        return sum(one.pieces for one in self.lines)

    @property
    def still_out(self) -> int:
        """Return how many pieces are still out."""
        return sum(one.still_out for one in self.lines)

    @property
    def tenths(self) -> int:
        """Return what of it was weighed, in tenths of a gram."""
        return sum(one.tenths or 0 for one in self.lines)


def loan_rows(look: Deed | Reading, ids: Sequence[int]) -> tuple[LoanFacts, ...]:
    """Return loans by their ids, in that order; those that are not there are left out."""
    session = look.session
    lines = _grouped(session, LoanLine, ids, LoanLine.ordinal, LoanLine.id)
    chased = _grouped(session, LoanChase, ids, LoanChase.happened_at, LoanChase.id)
    files = _grouped(session, LoanFile, ids, LoanFile.taken_in_at, LoanFile.id)
    people: dict[int, str] = dict(session.execute(select(Person.id, Person.name)).all())
    now = look.happened_at if isinstance(look, Deed) else look.now
    today = now.astimezone(look.desk.facts.zone).date()
    rows = {row.id: row for row in session.execute(select(Loan).where(Loan.id.in_(ids))).scalars()}
    return tuple(
        _facts(
            rows[one],
            today,
            tuple(_line(session, line) for line in lines.get(one, ())),
            tuple(_chased(row, people) for row in chased.get(one, ())),
            tuple(result_facts(row) for row in files.get(one, ())),
            people,
        )
        for one in ids
        if one in rows
    )


def _grouped(session: Session, kind: Any, ids: Sequence[int], *order: Any) -> dict[int, list[Any]]:
    found: dict[int, list[Any]] = {}
    for row in session.execute(select(kind).where(kind.loan_id.in_(ids)).order_by(*order)).scalars():
        found.setdefault(row.loan_id, []).append(row)
    return found


def _line(session: Session, row: LoanLine) -> LoanLineFacts:
    thing = thing_of(session, row)
    container = container_with(session, thing)
    deposit = session.get(Deposit, container.deposit_id) if container and container.deposit_id else None
    return LoanLineFacts(
        id=row.id,
        code="" if isinstance(thing, LabSample) else thing.code,
        name=name_in(session, thing),
        container=container.number if container else "",
        deposit=deposit.number if deposit else "",
        material=container.material if container else "",
        pieces=row.pieces,
        tenths=row.tenths,
        condition_out=row.condition_out,
        pieces_back=row.pieces_back,
        pieces_used=row.pieces_used,
        condition_back=row.condition_back,
        back_on=row.back_on,
    )


def thing_of(session: Session, row: LoanLine) -> Bag | Box | Piece | Container | LabSample:
    """Return what a line of a loan is about."""
    if row.bag_id is not None:
        return session.get_one(Bag, row.bag_id)
    if row.box_id is not None:
        return session.get_one(Box, row.box_id)
    if row.piece_id is not None:
        return session.get_one(Piece, row.piece_id)
    if row.sample_id is not None:
        return session.get_one(LabSample, row.sample_id)
    return session.get_one(Container, row.container_id)


def container_with(session: Session, thing: Bag | Box | Piece | Container | LabSample) -> Container | None:
    """Return the container a thing comes from; a box has bags of several."""
    if isinstance(thing, Container):
        return thing
    return None if isinstance(thing, Box) else session.get_one(Container, thing.container_id)


def _chased(row: LoanChase, people: dict[int, str]) -> Chased:
    person = people.get(row.person_id, "") if row.person_id is not None else ""
    return Chased(row.happened_at, person, row.how, row.answer)


def result_facts(row: LoanFile) -> ResultFacts:
    """Return a file that came back as it is shown."""
    return ResultFacts(row.id, row.version, row.file_name, row.sha256, row.size_bytes, row.note, row.taken_in_at)


def _facts(
    row: Loan,
    today: date,
    lines: tuple[LoanLineFacts, ...],
    chased: tuple[Chased, ...],
    results: tuple[ResultFacts, ...],
    people: dict[int, str],
) -> LoanFacts:
    back = sum(line.pieces_back + line.pieces_used for line in lines)
    return LoanFacts(
        id=row.id,
        version=row.version,
        code=row.code,
        number=row.number,
        borrower=row.borrower,
        kind=BorrowerKind(row.borrower_kind),
        address=row.address,
        purpose=row.purpose,
        permit=row.permit,
        lent_on=row.lent_on,
        due_on=row.due_on,
        back_on=row.back_on,
        note=row.note,
        person=people.get(row.person_id, "") if row.person_id is not None else "",
        standing=standing(row.due_on, row.back_on, today, back),
        days_overdue=days_overdue(row.due_on, row.back_on, today),
        lines=lines,
        chased=chased,
        results=results,
        label_copy=row.label_copy,
    )
