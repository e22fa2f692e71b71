"""Proxy slips: what stands in a bag for what was taken out of it, by a loan, for the type series or for sampling."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding import bag_of
from findsdesk.desk.finding_pieces import piece_of
from findsdesk.desk.packed_bags import bag_with
from findsdesk.desk.piece_rows import piece_name
from findsdesk.desk.setting_up import need_text
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Bag, Container, Loan, LoanLine, Person, Piece, ProxySlip
from findsdesk.store.numbers import take_numbers
from findsdesk.words import N_, CountOf

SERIES = "proxy_slip"


@dataclass(frozen=True, slots=True)
class SlipFacts:
    """A slip as it is printed: in which bag, for what, how many pieces, why, where it went, since when, by whom."""

    id: int
    number: int
    bag_code: str
    container: str
    what: str
    pieces: int
    why: str
    went_to: str
    loan: int
    made_at: datetime
    person: str
    laid_back_at: datetime | None


def write_slip(
    desk: Desk, bag: str, *, what: str = "", piece: str = "", pieces: int = 1, why: str, went_to: str = ""
) -> SlipFacts:
    """Write a slip for what is taken out of a bag: a piece by its code or name, or sherds in words.

    Opposite: ``take_slip_away``. Refusals: ``empty``, ``slip_pieces``, ``not_of_this_bag``, those of finding.
    """
    with desk.deed("write_slip") as deed:
        row = bag_of(deed.session, desk, bag)
        taken = piece_of(deed.session, desk, piece) if piece.strip() else None
        name = what.strip() or (_named(deed.session, taken) if taken else "")
        if taken is not None and taken.container_id != row.container_id:
            raise Refusal("not_of_this_bag", N_("{name} is not of the bag {code}. Scan the bag it was taken out of."),
                          name=name, code=row.code)  # fmt: skip
        if not 1 <= pieces <= row.pieces:
            raise Refusal("slip_pieces", N_("Bag {code} holds {pieces}. A slip stands for 1 to {held}."), code=row.code,
                          pieces=CountOf("{n} piece", "{n} pieces", row.pieces), held=row.pieces)  # fmt: skip
        said = need_text(name, N_("what was taken out"))
        slip = _slip(deed, row, taken, pieces, said or "", need_text(why, N_("why it was taken out")) or "")
        slip.went_to = went_to.strip()
        deed.said = f"{slip.number}: {row.code}, {said}"
        deed.session.flush()
        return slip_rows(deed.session, [slip.id])[0]


def _named(session: Session, piece: Piece) -> str:
    return piece_name(session.get_one(Container, piece.container_id), piece)


def _slip(deed: Deed, bag: Bag, piece: Piece | None, pieces: int, what: str, why: str) -> ProxySlip:
    number = take_numbers(deed.session, SERIES, 1, station_id=deed.desk.station_id)[0]
    return deed.add(
        ProxySlip(
            number=number,
            bag_id=bag.id,
            piece_id=piece.id if piece else None,
            pieces=pieces,
            what=what,
            why=why,
            made_at=deed.happened_at,
            person_id=deed.person_id,
        )
    )


def slip_for_a_loan(deed: Deed, piece: Piece, name: str, loan: Loan, line: LoanLine) -> ProxySlip | None:
    """Write the slip for a piece that is lent, where its bag is packed; returns None where it lies in none."""
    bag = bag_with(deed.session, piece)
    if bag is None:
        return None
    slip = _slip(deed, bag, piece, piece.pieces, name, loan.purpose)
    slip.went_to, slip.loan_line_id = loan.borrower, line.id
    return slip


def take_slip_away(desk: Desk, number: int) -> SlipFacts:
    """Write that what a slip stood for lies in its bag again. Opposite: ``write_slip``.

    Refusals: ``unknown_slip``, ``slip_gone``, ``slip_of_a_loan`` (the loan's return takes it away).
    """
    with desk.deed("take_slip_away") as deed:
        row = deed.session.execute(select(ProxySlip).where(ProxySlip.number == number)).scalar_one_or_none()
        if row is None:
            raise Refusal("unknown_slip", N_("There is no proxy slip {number}. Look into the bag."), number=number)
        if row.laid_back_at is not None:
            raise Refusal("slip_gone", N_("Proxy slip {number} was taken away already."), number=number)
        if row.loan_line_id is not None:
            raise Refusal("slip_of_a_loan", N_("Proxy slip {number} stands for a loan. Write the return of that."),
                          number=number)  # fmt: skip
        row.laid_back_at = deed.happened_at
        deed.said = str(number)
        deed.session.flush()
        return slip_rows(deed.session, [row.id])[0]


def slips_in_bag(desk: Desk, bag: str) -> tuple[SlipFacts, ...]:
    """Return the slips that stand in a bag now, the oldest first. Refusals: those of finding the bag."""
    with desk.reading() as reading:
        row = bag_of(reading.session, desk, bag)
        wanted = select(ProxySlip.id).where(ProxySlip.bag_id == row.id, ProxySlip.laid_back_at.is_(None))
        return slip_rows(reading.session, list(reading.session.execute(wanted.order_by(ProxySlip.number)).scalars()))


def slips_standing(desk: Desk) -> tuple[SlipFacts, ...]:
    """Return all slips that stand in bags now, the oldest first."""
    with desk.reading() as reading:
        wanted = select(ProxySlip.id).where(ProxySlip.laid_back_at.is_(None)).order_by(ProxySlip.number)
        return slip_rows(reading.session, list(reading.session.execute(wanted).scalars()))


def slip_rows(session: Session, ids: Sequence[int]) -> tuple[SlipFacts, ...]:
    """Return slips by their ids, in that order."""
    found = session.execute(
        select(ProxySlip, Bag.code, Container.number, Loan.number, Person.name)
        .join(Bag, ProxySlip.bag_id == Bag.id)
        .join(Container, Bag.container_id == Container.id)
        .outerjoin(LoanLine, ProxySlip.loan_line_id == LoanLine.id)
        .outerjoin(Loan, LoanLine.loan_id == Loan.id)
        .outerjoin(Person, ProxySlip.person_id == Person.id)
        .where(ProxySlip.id.in_(ids))
    ).all()
    rows = {
        row.id: SlipFacts(
            id=row.id,
            number=row.number,
            bag_code=code,
            container=container,
            what=row.what,
            pieces=row.pieces,
            why=row.why,
            went_to=row.went_to,
            loan=loan or 0,
            made_at=row.made_at,
            person=person or "",
            laid_back_at=row.laid_back_at,
        )
        for row, code, container, loan, person in found
    }
    return tuple(rows[one] for one in ids if one in rows)
