"""Finding a piece from its scanned code or from its name: 131.4, or 2024/87.3 for an older season."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import container_of, piece_coded
from findsdesk.domain.codes import Kind, could_be_code, read_code
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, Piece, Season
from findsdesk.words import N_


def piece_of(session: Session, desk: Desk, which: str) -> Piece:
    """Return the piece meant by its code or its name.

    Refusals: ``unknown_piece``, ``not_a_piece`` (a code of something else), those of a code and of a container.
    """
    if could_be_code(which):
        return _by_code(session, desk, which)
    season, _slash, name = which.strip().rpartition("/")
    container, dot, number = name.rpartition(".")
    if not dot or not number.isdecimal():
        raise _unknown(which)
    found = session.execute(
        select(Piece).where(
            Piece.container_id == _container(session, desk, season, container).id, Piece.number == int(number)
        )
    ).scalar_one_or_none()
    if found is None:
        raise _unknown(which)
    return found


def piece_there(session: Session, piece_id: int) -> Piece:
    """Return a piece by its id; refuses ``piece_gone`` where it was laid back meanwhile."""
    found = session.get(Piece, piece_id)
    if found is None:
        raise Refusal("piece_gone", N_("That piece was laid back meanwhile. Look at the list again."))
    return found


def looks_like_a_piece(which: str) -> bool:
    """Tell whether something typed has the form of a piece's name."""
    name = which.strip().rpartition("/")[2]
    container, dot, number = name.rpartition(".")
    return bool(container and dot and number.isdecimal())


def _by_code(session: Session, desk: Desk, which: str) -> Piece:
    code = read_code(which, desk.facts.code)
    if code.kind is not Kind.PIECE:
        raise Refusal(
            "not_a_piece", N_("{code} is not the code of a piece. Scan the piece's own label."), code=code.text
        )
    return piece_coded(session, code.text)


def _container(session: Session, desk: Desk, season: str, number: str) -> Container:
    if not season:
        return container_of(session, desk, number)
    found = (
        session.execute(
            select(Container)
            .join(Season, Container.season_id == Season.id)
            .where(Season.name == season.strip(), Container.number_folded == folded(number))
            .order_by(Container.id)
        )
        .scalars()
        .first()
    )
    if found is None:
        raise Refusal(
            "unknown_number",
            N_("There is no {container} {number}. Check the number, or scan its tag."),
            number=f"{season}/{number}",
        )
    return found


def _unknown(which: str) -> Refusal:
    return Refusal(
        "unknown_piece",
        N_("There is no piece {name}. A piece is called by its {container} and its own number, like 131.4."),
        name=which.strip(),
    )
