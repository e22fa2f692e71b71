"""Finding a container, a bag or a deposit from what was scanned or typed."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import bindparam, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding_marks import container_marked
from findsdesk.domain.codes import Kind, check_none_is_missing, could_be_code, read_code
from findsdesk.domain.deposits import HowNumbered
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Bag, Container, Deposit, FormerNumber, Piece, Season, Square
from findsdesk.words import N_

APART = "@"
"""Between a number that two deposits bear and which of them is meant: 2044@2."""

# The statements of the commonest deeds are built once.
_BY_CODE = select(Container).where(Container.code == bindparam("code"))


def container_of(session: Session, desk: Desk, which: str) -> Container:
    """Return the container meant by a tag's, a bag's or a piece's code, or a number of the newest season that has it.

    An old label without a code is found by its mark as typed (``finding_marks``). Refusals: ``wrong_check_character``,
    ``foreign_code``, ``unknown_code``, ``unknown_number``, ``one_character_missing``, ``which_season``.
    """
    if could_be_code(which):
        code = read_code(which, desk.facts.code)
        if code.kind is Kind.BAG:
            return session.get_one(Container, bag_of(session, desk, which).container_id)
        if code.kind is Kind.PIECE:
            return session.get_one(Container, piece_coded(session, code.text).container_id)
        found = session.execute(_BY_CODE, {"code": code.text}).scalar_one_or_none()
        if found is None:
            raise Refusal(
                "unknown_code",
                N_("No tag with the code {code} was issued here. Keep it aside and ask the registrar."),
                code=code.text,
            )
        return found
    try:
        return container_numbered(session, which)
    except Refusal as refusal:
        if refusal.code == "unknown_number":
            marked = container_marked(session, desk.facts.code, which)
            if marked is not None:
                return marked
            check_none_is_missing(which, desk.facts.code)
        raise


def container_numbered(session: Session, number: str) -> Container:
    """Return the container of a number; where several seasons or squares have it, the newest season's counts."""
    rows: Sequence[Container] = (
        session.execute(
            select(Container)
            .join(Season, Container.season_id == Season.id)
            .where(Container.number_folded == folded(number))
            .order_by(Season.starts.desc())
        )
        .scalars()
        .all()
    )
    newest = [row for row in rows if row.season_id == rows[0].season_id]
    if not newest:
        raise Refusal(
            "unknown_number",
            N_("There is no {container} {number}. Check the number, or scan its tag."),
            number=number.strip(),
        )
    if len(newest) > 1:
        raise Refusal(
            "number_twice",
            N_("Several squares have a {container} {number}. Scan its tag instead."),
            number=number.strip(),
        )
    return newest[0]


def piece_coded(session: Session, code: str) -> Piece:
    """Return the piece of a code; raises ``unknown_code`` where none has it."""
    found = session.execute(select(Piece).where(Piece.code == code)).scalar_one_or_none()
    if found is None:
        raise Refusal(
            "unknown_code", N_("No piece has the code {code}. Check the label, or search the registers."), code=code
        )
    return found


def bag_of(session: Session, desk: Desk, which: str) -> Bag:
    """Return the bag of a code; raises ``unknown_code`` where none has it."""
    code = read_code(which, desk.facts.code)
    found = session.execute(select(Bag).where(Bag.code == code.text)).scalar_one_or_none()
    if found is None:
        raise Refusal(
            "unknown_code", N_("No bag has the code {code}. Check the label, or search the registers."), code=code.text
        )
    return found


def deposit_of(session: Session, number: str) -> Deposit:
    """Return the deposit that has this number now, or had it once, or took in the one that had it.

    Where two stores gave one number twice, 2044@2 means the second of them. Refusals: ``unknown_deposit``,
    ``number_twice``.
    """
    wanted = folded(number)
    rows = _numbered(session, wanted)
    if not rows and APART in number:
        rows = _one_of_two(session, wanted)
    if len(rows) > 1:
        raise _which_of(session, rows)
    found = rows[0] if rows else _once_numbered(session, wanted)
    if found is None:
        raise Refusal(
            "unknown_deposit",
            N_("There is no {deposit} {number}. Open it in the registers, or check the number."),
            number=number.strip(),
        )
    return found


def _numbered(session: Session, folded_number: str) -> Sequence[Deposit]:
    wanted = select(Deposit).where(Deposit.number_folded == folded_number, Deposit.merged_into_id.is_(None))
    return session.execute(wanted.order_by(Deposit.id)).scalars().all()


def named_apart(session: Session, deposit: Deposit) -> str:
    """Return what finds a deposit alone: its number, or 2044@2 where more than one bears it."""
    alike = _numbered(session, deposit.number_folded)
    if len(alike) < 2 or deposit not in alike:
        return deposit.number
    return f"{deposit.number}{APART}{alike.index(deposit) + 1}"


def _one_of_two(session: Session, folded_number: str) -> Sequence[Deposit]:
    """Return the deposit meant by a number and which of those that bear it; none where that means nothing."""
    number, _sign, place = folded_number.rpartition(APART)
    if not place.isdecimal() or not int(place):
        return ()
    return _numbered(session, number.strip())[int(place) - 1 : int(place)]


def _which_of(session: Session, rows: Sequence[Deposit]) -> Refusal:
    squares = dict(session.execute(select(Square.id, Square.name)).all())
    names = (f"{row.number}{APART}{place} ({squares[row.square_id]})" for place, row in enumerate(rows, start=1))
    return Refusal(
        "number_twice",
        N_("Two stores gave the number {number} to different {deposits}: {names}. Type which, and renumber one."),
        number=rows[0].number,
        names=", ".join(names),
    )


def _once_numbered(session: Session, wanted: str) -> Deposit | None:
    """Return the deposit that had a number last; one that was split off never had the number of the other."""
    return (
        session.execute(
            select(Deposit)
            .join(FormerNumber, FormerNumber.deposit_id == Deposit.id)
            .where(FormerNumber.number_folded == wanted, FormerNumber.how != HowNumbered.SPLIT)
            .order_by(FormerNumber.happened_at.desc(), FormerNumber.id.desc())
        )
        .scalars()
        .first()
    )
