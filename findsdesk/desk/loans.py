"""Loans to specialists, conservators, laboratories: what leaves, to whom, why, due when; asked for when late."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from sqlalchemy import select

from findsdesk.desk.desk import Deed, Desk, Reading
from findsdesk.desk.editing import ask, refuse_if_moved
from findsdesk.desk.finding_shelves import loan_of
from findsdesk.desk.lendable import Lendable, lendable, thing_named
from findsdesk.desk.loan_rows import LoanFacts, container_with, loan_rows
from findsdesk.desk.lying import close_taking_out
from findsdesk.desk.one_at_a_time import only_here_in_store, only_here_of
from findsdesk.desk.proxy_slips import slip_for_a_loan
from findsdesk.desk.setting_up import need_text
from findsdesk.desk.steps import parts_of, stand, take_step
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.lending import BorrowerKind, check_days
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.routes import StepKind
from findsdesk.store.models import Bag, Box, Container, LabSample, Loan, LoanChase, LoanLine, Piece
from findsdesk.store.numbers import take_numbers
from findsdesk.words import N_

SERIALS = "serial:A"
SERIES = "loan"


def lend(
    desk: Desk,
    what: Sequence[str],
    *,
    borrower: str,
    kind: BorrowerKind,
    purpose: str,
    due_on: date,
    lent_on: date | None = None,
    condition: str = "",
    conditions: Mapping[str, str] | None = None,
    address: str = "",
    permit: str = "",
    note: str = "",
    sure: bool = False,
) -> LoanFacts:
    """Lend things by scan, in one act; the loan gets its number and code. Opposite: ``give_back``.

    ``what`` are bags, boxes, pieces, tags, or "sample 3". ``conditions`` say it of single things by the same words,
    ``condition`` of all others. A piece leaves a proxy slip in its bag; a container is handed on. Refusals:
    ``nothing_scanned``, ``empty``, ``due_before_lent``, ``thing_twice``, those of ``lendable`` and of the route.
    Questions: ``lent_without_permit`` (to a laboratory), ``human_remains_lent``.
    """
    with desk.deed("lend") as deed:
        things = _things(deed, what)
        row = _loan(deed, borrower, kind, purpose, lent_on or deed.today(), due_on)
        row.address, row.permit, row.note = address.strip(), permit.strip(), note.strip()
        said = conditions or {}
        for place, (one, thing) in enumerate(things.items(), 1):
            line = _line(deed, row, place, thing, said.get(one, condition))
            _leaves(deed, row, line, thing)
        deed.said = f"{row.number}: {row.borrower}, {', '.join(thing.name for thing in things.values())}"
        for question in _questions(row, list(things.values())):
            ask(deed, question, sure)
        deed.session.flush()
        return loan_rows(deed, [row.id])[0]


def _things(deed: Deed, what: Sequence[str]) -> dict[str, Lendable]:
    keep_here(deed, what)
    things: dict[str, Lendable] = {}
    seen: set[tuple[str, int]] = set()
    for one in what:
        thing = lendable(deed.session, deed.desk, one)
        if (thing.column, thing.row.id) in seen:
            raise Refusal("thing_twice", N_("{name} was scanned twice. Scan each thing once."), name=thing.name)
        seen.add((thing.column, thing.row.id))
        things[one] = thing
    if not things:
        raise Refusal("nothing_scanned", N_("Nothing was scanned. Scan what leaves."))
    return things


def keep_here(deed: Deed, what: Sequence[str]) -> None:
    """Let no other station lend, open or discard the things meanwhile; containers first, as everywhere."""
    named = [thing_named(deed.session, deed.desk, one) for one in dict.fromkeys(what)]
    around = [container_with(deed.session, one) for one in named]
    only_here_of(deed, {one.id for one in around if one is not None})
    only_here_in_store(deed, *(one for one in named if not isinstance(one, Container)))


def _loan(deed: Deed, borrower: str, kind: BorrowerKind, purpose: str, lent_on: date, due_on: date) -> Loan:
    check_days(lent_on, due_on)
    station = deed.desk.station_id
    serial = take_numbers(deed.session, SERIALS, 1, station_id=station)[0]
    number = take_numbers(deed.session, SERIES, 1, station_id=station)[0]
    return deed.add(
        Loan(
            code=make_code(deed.desk.facts.code, Kind.LOAN, serial),
            number=number,
            borrower=need_text(borrower, N_("who borrows")),
            borrower_kind=kind,
            purpose=need_text(purpose, N_("purpose")),
            lent_on=lent_on,
            due_on=due_on,
            made_at=deed.happened_at,
            person_id=deed.person_id,
        )
    )


def _line(deed: Deed, loan: Loan, place: int, thing: Lendable, condition: str) -> LoanLine:
    return deed.add(
        LoanLine(
            loan_id=loan.id,
            ordinal=place,
            pieces=thing.pieces,
            tenths=thing.tenths,
            condition_out=condition.strip(),
            **{thing.column: thing.row.id},
        )
    )


def _leaves(deed: Deed, loan: Loan, line: LoanLine, thing: Lendable) -> None:
    """Write what follows from a thing's leaving: back from a table, handed on, sent, a slip in its bag."""
    row = thing.row
    if isinstance(row, Bag | Box):
        close_taking_out(deed, row)
    elif isinstance(row, Container):
        take_step(deed, row, StepKind.HANDED_ON, place=loan.borrower, note=loan.purpose)
        for part in parts_of(deed, row):
            stand(deed, part, "gone", loan.borrower)
    elif isinstance(row, LabSample):
        row.sent_on, row.laboratory = loan.lent_on, loan.borrower
    elif isinstance(row, Piece):
        slip_for_a_loan(deed, row, thing.name, loan, line)


def _questions(loan: Loan, things: Sequence[Lendable]) -> list[Question | None]:
    bones = [thing.name for thing in things if thing.material == "human_bone"]
    without = Question(
        "lent_without_permit",
        N_("No permit is written for this loan. Does local law let it go to {who} without one?"),
        who=loan.borrower,
    )
    remains = Question(
        "human_remains_lent",
        N_("{name} are human remains. Does the permit let them leave, and is the director told?"),
        name=", ".join(bones[:3]),
    )
    laboratory = BorrowerKind(loan.borrower_kind) is BorrowerKind.LABORATORY
    return [without if laboratory and not loan.permit else None, remains if bones else None]


def change_loan(
    desk: Desk,
    loan: str,
    *,
    seen: int | None = None,
    due_on: date | None = None,
    address: str | None = None,
    permit: str | None = None,
    note: str | None = None,
) -> LoanFacts:
    """Change what is said of a loan, above all the day it is due; what is not named stays. Opposite: the change back.

    Refusals: ``unknown_loan``, ``changed_meanwhile``, ``due_before_lent``.
    """
    with desk.deed("change_loan") as deed:
        row = loan_of(deed.session, desk, loan)
        said: dict[str, Any] = {"due_on": due_on, "address": address, "permit": permit, "note": note}
        mine = {
            name: value.strip() if isinstance(value, str) else value
            for name, value in said.items()
            if value is not None
        }
        if seen is not None:
            refuse_if_moved(deed.session, row, seen, mine)
        for column, value in mine.items():
            setattr(row, column, value)
        check_days(row.lent_on, row.due_on)
        deed.said = f"{row.number}: {', '.join(mine)}"
        deed.session.flush()
        return loan_rows(deed, [row.id])[0]


def chase_loan(desk: Desk, loan: str, *, how: str, answer: str = "") -> LoanFacts:
    """Write that somebody asked for what is still out, how, and what was answered. Opposite: none; it was said.

    Refusals: ``unknown_loan``, ``empty``, ``loan_is_back``.
    """
    with desk.deed("chase_loan") as deed:
        row = loan_of(deed.session, desk, loan)
        if row.back_on is not None:
            raise Refusal("loan_is_back", N_("Loan {number} is back. Nothing of it is asked for."), number=row.number)
        asked = need_text(how, N_("how it was asked for"))
        deed.write(
            LoanChase,
            loan_id=row.id,
            how=asked,
            answer=answer.strip(),
            happened_at=deed.happened_at,
            person_id=deed.person_id,
        )
        deed.said = f"{row.number}: {asked}"
        return loan_rows(deed, [row.id])[0]


def loan_named(desk: Desk, loan: str) -> LoanFacts:
    """Return a loan by its code or number. Refusals: ``unknown_loan``, those of a code."""
    with desk.reading() as reading:
        return loan_rows(reading, [loan_of(reading.session, desk, loan).id])[0]


def loans_out(desk: Desk) -> tuple[LoanFacts, ...]:
    """Return the loans of which something is still out, the longest due first."""
    with desk.reading() as reading:
        return loan_rows(reading, _ids(reading, Loan.back_on.is_(None)))


def every_loan(desk: Desk) -> tuple[LoanFacts, ...]:
    """Return all loans, those still out and longest due first."""
    with desk.reading() as reading:
        return loan_rows(reading, [*_ids(reading, Loan.back_on.is_(None)), *_ids(reading, Loan.back_on.is_not(None))])


def _ids(reading: Reading, condition: Any) -> list[int]:
    wanted = select(Loan.id).where(condition).order_by(Loan.due_on, Loan.number)
    return list(reading.session.execute(wanted).scalars())
