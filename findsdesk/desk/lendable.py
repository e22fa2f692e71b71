"""What may be lent: a bag, a box, a piece, a container that is in no bags yet, a sample; found by scan or by name."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.bag_loads import WEIGHS
from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import bag_of, container_of
from findsdesk.desk.finding_pieces import looks_like_a_piece, piece_of
from findsdesk.desk.finding_shelves import box_of, is_a
from findsdesk.desk.ledgers import ledger_of, there_now
from findsdesk.desk.lying import all_away
from findsdesk.desk.packed_bags import bag_with
from findsdesk.desk.piece_rows import piece_name
from findsdesk.desk.sample_use import sample_numbered
from findsdesk.desk.shipped import route_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.codes import Kind, could_be_code
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing
from findsdesk.store.models import Bag, Box, Container, LabSample, Loan, LoanLine, Piece, ProxySlip
from findsdesk.words import N_

_BOX = re.compile(r"(?i)box\s+([0-9]+)")
_SAMPLE = re.compile(r"(?i)sample\s+([0-9]+)")

COLUMNS: dict[type[Any], Any] = {
    Bag: LoanLine.bag_id,
    Box: LoanLine.box_id,
    Piece: LoanLine.piece_id,
    Container: LoanLine.container_id,
    LabSample: LoanLine.sample_id,
}
"""The column of a loan's line that holds each kind of thing."""

Lent = Bag | Box | Piece | Container | LabSample


@dataclass(frozen=True, slots=True)
class Lendable:
    """A thing that may be lent: its row, how it is called, its pieces and weight.

    A box has those of its bags, a sample is one piece.
    """

    row: Lent
    name: str
    pieces: int
    tenths: int | None
    material: str

    @property
    def column(self) -> str:
        """Return the name of the column of a loan's line that holds it."""
        return str(COLUMNS[type(self.row)].key)


def thing_named(session: Session, desk: Desk, which: str) -> Lent:
    """Return what a code or a name means: "box 12", "sample 3", "131.4" (a piece), "131" (a container).

    Refusals: ``not_lent`` (a code of something that nobody lends), those of finding.
    """
    if found := _BOX.fullmatch(which.strip()):
        return box_of(session, desk, found[1])
    if found := _SAMPLE.fullmatch(which.strip()):
        return sample_numbered(session, int(found[1]))
    if is_a(desk, which, Kind.BAG):
        return bag_of(session, desk, which)
    if is_a(desk, which, Kind.BOX):
        return box_of(session, desk, which)
    if is_a(desk, which, Kind.PIECE) or looks_like_a_piece(which):
        return piece_of(session, desk, which)
    if could_be_code(which) and not is_a(desk, which, Kind.TAG):
        raise Refusal("not_lent", N_("{code} is nothing that is lent. Scan a bag, a box, a piece or a tag."),
                      code=which.strip())  # fmt: skip
    return container_of(session, desk, which)


def lendable(session: Session, desk: Desk, which: str) -> Lendable:
    """Return a thing that may leave now.

    Refusals: ``on_loan`` (by itself or with what it lies in), ``lent_discarded``, ``lent_to_discard``,
    ``bag_is_empty``, ``bag_is_open``, ``lies_in_bags``,
    ``sample_used_up``, ``box_is_empty``, those of finding.
    """
    row = thing_named(session, desk, which)
    thing = _DESCRIBED[type(row)](session, row)
    refuse_out(session, thing.row)
    return thing


@dataclass(frozen=True, slots=True)
class ToLend:
    """A thing that may be lent, as it is shown: how it was named, what it is called, its pieces, weight, material."""

    which: str
    name: str
    pieces: int
    tenths: int | None
    material: str


def to_lend(desk: Desk, which: str) -> ToLend:
    """Return a thing that may leave now; nothing is written. Refusals: those of ``lendable``."""
    with desk.reading() as reading:
        thing = lendable(reading.session, desk, which)
        return ToLend(which, thing.name, thing.pieces, thing.tenths, thing.material)


def name_in(session: Session, row: Lent) -> str:
    """Return how a thing is called: a bag by its code, a box by its number, a piece and a container by theirs."""
    if isinstance(row, Piece):
        return piece_name(session.get_one(Container, row.container_id), row)
    if isinstance(row, Box):
        return f"box {row.number}"
    if isinstance(row, LabSample):
        return f"sample {row.number}"
    return row.code if isinstance(row, Bag) else row.number


def _bag(session: Session, row: Bag) -> Lendable:
    if not row.pieces:
        raise Refusal("bag_is_empty", N_("Bag {code} holds nothing any more. Scan the bag it was packed into."),
                      code=row.code)  # fmt: skip
    if row.box_id is not None:
        refuse_out(session, session.get_one(Box, row.box_id))
    container = session.get_one(Container, row.container_id)
    if Standing(container.standing) is not Standing.BAGGED:
        raise Refusal(
            "bag_is_open",
            N_("{Container} {number} lies open, and {code} is to be packed again. Pack it before it is lent."),
            number=container.number,
            code=row.code,
        )
    pieces = row.pieces - _taken_out_of(session, row)
    if pieces < 1:
        raise Refusal("bag_is_empty", N_("Bag {code} holds slips alone: all of it was taken out. Scan what leaves."),
                      code=row.code)  # fmt: skip
    tenths = row.tenths if row.gross_tenths is None else row.gross_tenths
    return Lendable(row, row.code, pieces, tenths, container.material)


def _taken_out_of(session: Session, row: Bag) -> int:
    """Return how many pieces slips stand for in a bag."""
    slips = select(func.sum(ProxySlip.pieces)).where(ProxySlip.bag_id == row.id, ProxySlip.laid_back_at.is_(None))
    return int(session.execute(slips).scalar() or 0)


def _box(session: Session, row: Box) -> Lendable:
    here = (Bag.box_id == row.id, Bag.pieces > 0, Bag.id.not_in(tuple(all_away(session).bags)))
    sums = select(func.count(), func.sum(Bag.pieces), func.sum(func.coalesce(WEIGHS, 0))).where(*here)
    bags, pieces, tenths = session.execute(sums).one()
    if not bags:
        raise Refusal("box_is_empty", N_("Box {number} is empty. Scan the box that leaves."), number=row.number)
    slips = select(func.sum(ProxySlip.pieces)).join(Bag, ProxySlip.bag_id == Bag.id)
    out = session.execute(slips.where(*here, ProxySlip.laid_back_at.is_(None))).scalar()
    # Bags with slips alone leave as one: the box goes all the same.
    counted = max(1, int(pieces) - int(out or 0))
    return Lendable(row, name_in(session, row), counted, row.empty_tenths + int(tenths or 0), "")


def _piece(session: Session, row: Piece) -> Lendable:
    name = name_in(session, row)
    if row.discarded or not row.pieces:
        raise _discarded(name)
    if row.decision == Decision.DISCARD:
        raise _to_discard(name)
    bag = bag_with(session, row)
    box = session.get_one(Box, bag.box_id) if bag is not None and bag.box_id is not None else None
    for around in (session.get_one(Container, row.container_id), bag, box):
        if around is not None:
            refuse_out(session, around)
    return Lendable(row, name, row.pieces, row.tenths, session.get_one(Container, row.container_id).material)


def _container(session: Session, row: Container) -> Lendable:
    if Standing(row.standing) is Standing.BAGGED:
        raise Refusal(
            "lies_in_bags", N_("{Container} {number} lies in bags. Scan the bags that leave."), number=row.number
        )
    ledger = ledger_of(session, row.id, row.material)
    left = there_now(ledger)
    if ledger.discarded and not left:
        raise _discarded(row.number)
    if left and ledger.to_discard == left:
        raise _to_discard(row.number)
    left -= _lent_of(session, row)
    return Lendable(row, row.number, max(1, left) if route_of(row.material).counted else 1, None, row.material)


def _lent_of(session: Session, row: Container) -> int:
    """Return how many pieces of a container are on loan by themselves."""
    out = (
        select(func.sum(LoanLine.pieces - LoanLine.pieces_back - LoanLine.pieces_used))
        .join(Piece, LoanLine.piece_id == Piece.id)
        .where(Piece.container_id == row.id, LoanLine.back_on.is_(None))
    )
    return int(session.execute(out).scalar() or 0)


def _lab_sample(session: Session, row: LabSample) -> Lendable:
    if row.used_up_on is not None:
        raise Refusal("sample_used_up", N_("Sample {number} was used up on {day}. Nothing is left of it."),
                      number=row.number, day=row.used_up_on)  # fmt: skip
    tenths = row.taken_tenths if row.rest_tenths is None else row.rest_tenths
    return Lendable(row, name_in(session, row), 1, tenths, session.get_one(Container, row.container_id).material)


_DESCRIBED: dict[type[Any], Callable[[Session, Any], Lendable]] = {
    Bag: _bag,
    Box: _box,
    Piece: _piece,
    Container: _container,
    LabSample: _lab_sample,
}


def _discarded(name: str) -> Refusal:
    return Refusal("lent_discarded", N_("{name} was discarded and cannot be lent. Check the number."), name=name)


def _to_discard(name: str) -> Refusal:
    return Refusal("lent_to_discard", N_("{name} is to be discarded. Decide to keep it before it is lent."), name=name)


def refuse_out(session: Session, row: Lent) -> None:
    """Refuse what is on loan: ``on_loan``."""
    loan = session.execute(
        select(Loan)
        .join(LoanLine, LoanLine.loan_id == Loan.id)
        .where(COLUMNS[type(row)] == row.id, LoanLine.back_on.is_(None))
    ).scalar()
    if loan is not None:
        raise Refusal(
            "on_loan",
            N_("{thing} is on loan {number}, to {who}. Write its return first."),
            thing=name_in(session, row),
            number=loan.number,
            who=loan.borrower,
        )
