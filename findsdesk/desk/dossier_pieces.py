"""What a dossier says of pieces: the one that was scanned, and joins that lead out of a container or a deposit."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import ColumnElement, Select, and_, or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.joins import JoinRow, join_rows
from findsdesk.desk.piece_rows import PieceRow, piece_rows
from findsdesk.desk.word_lists import words_of
from findsdesk.store.models import Container, Piece, SherdJoin

MOST_SHOWN = 40
"""So many joins are shown in a dossier; the register of joins has them all."""


@dataclass(frozen=True, slots=True)
class PieceInHand:
    """The piece that was scanned or named, with its joins."""

    piece: PieceRow
    joins: tuple[JoinRow, ...]


def piece_in_hand(session: Session, desk: Desk, piece: Piece) -> PieceInHand:
    """Return a piece as a dossier shows it."""
    joins = _joins(session, or_(SherdJoin.left_id == piece.id, SherdJoin.right_id == piece.id))
    return PieceInHand(piece_rows(session, [piece.id], words_of(desk))[0], joins)


def joins_out_of_container(session: Session, container_id: int) -> tuple[JoinRow, ...]:
    """Return the joins of a container's pieces with pieces of others."""
    return _crossing(session, select(Piece.id).where(Piece.container_id == container_id))


def joins_out_of_deposit(session: Session, deposit_id: int) -> tuple[JoinRow, ...]:
    """Return the joins of a deposit's pieces with pieces of others."""
    of_it = select(Piece.id).join(Container, Piece.container_id == Container.id)
    return _crossing(session, of_it.where(Container.deposit_id == deposit_id))


def _crossing(session: Session, ours: Select[int]) -> tuple[JoinRow, ...]:
    """Return the joins of which one side alone is ours."""
    inside, outside = SherdJoin.left_id.in_(ours), SherdJoin.right_id.in_(ours)
    wanted = (
        select(SherdJoin.id)
        .where(or_(and_(inside, ~outside), and_(outside, ~inside)))
        .order_by(SherdJoin.found_at, SherdJoin.id)
        .limit(MOST_SHOWN)
    )
    return join_rows(session, list(session.execute(wanted).scalars()))


def _joins(session: Session, those: ColumnElement[bool]) -> tuple[JoinRow, ...]:
    ids = session.execute(select(SherdJoin.id).where(those).order_by(SherdJoin.found_at, SherdJoin.id)).scalars()
    return join_rows(session, list(ids))
