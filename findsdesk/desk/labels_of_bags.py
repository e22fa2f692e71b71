"""Slips that lie inside bags, and labels of numbered pieces, as plain values from the store."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import bag_of
from findsdesk.desk.finding_pieces import piece_of
from findsdesk.desk.label_batches import bags_with_place, filled
from findsdesk.desk.label_contents import LabelToPrint, bag_label, mark_of
from findsdesk.desk.mark_sums import KEPT
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.refusals import Refusal
from findsdesk.paper.label_kinds import BagLabel, PieceLabel, SlipLabel
from findsdesk.store.models import Container, Deposit, Form, Piece, Season, Square, Ware
from findsdesk.words import N_

AT_ONCE = 5000


def slips(session: Session, desk: Desk, codes: Sequence[str] | None) -> list[LabelToPrint]:
    """Return the slips of bags, by the bags' codes; None means of all that hold something.

    Refusals: those of finding a bag, ``empty_bag``.
    """
    ids = None if codes is None else [filled(bag_of(session, desk, code)).id for code in codes]
    return [_slip(bag_label(row, desk.facts)) for row in bags_with_place(session, ids)]


def _slip(outside: LabelToPrint) -> LabelToPrint:
    assert isinstance(outside.label, BagLabel)
    said = {one.name: getattr(outside.label, one.name) for one in fields(BagLabel)}
    return LabelToPrint(SlipLabel(**(said | {"copy": 1})), outside.container_id, outside.bag_id)


def piece_labels(session: Session, desk: Desk, codes: Sequence[str] | None) -> list[LabelToPrint]:
    """Return the labels of pieces by code or name; None means of all that are kept.

    Refusals: of finding a piece, ``piece_used_up``.
    """
    if codes is None:
        return list(_pieces(session, desk, None))
    ids = list(dict.fromkeys(_there(piece_of(session, desk, code)).id for code in codes))
    found = {
        one.code: one for first in range(0, len(ids), AT_ONCE) for one in _pieces(session, desk, ids[first:][:AT_ONCE])
    }
    order = [session.get_one(Piece, one).code for one in ids]
    return [found[code] for code in order]


def _there(row: Piece) -> Piece:
    if not row.pieces:
        raise Refusal("piece_used_up", N_("Of {code} no sherd is left, so there is nothing to label."), code=row.code)
    return row


def _pieces(session: Session, desk: Desk, ids: Sequence[int] | None) -> Iterator[LabelToPrint]:
    wanted = (
        select(Piece, Container, Season, Deposit.number, Square.name, Ware.code, Form.name)
        .join(Container, Piece.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Ware, Piece.ware_id == Ware.id)
        .outerjoin(Form, Piece.form_id == Form.id)
        .order_by(Deposit.number_key, Container.number_key, Piece.number)
    )
    chosen = (Piece.decision.in_(KEPT)) & (Piece.pieces > 0) if ids is None else Piece.id.in_(ids)
    parts = words_of(desk)["parts"]
    for piece, container, season, deposit, square, ware, form in session.execute(wanted.where(chosen)):
        part = parts.keyed(piece.part)
        ware_and_part = " ".join(word for word in (ware, part.name if part else piece.part) if word)
        mark = mark_of(container, season, deposit or "", square or "", desk.facts.code, str(piece.number))
        label = PieceLabel(
            code=piece.code,
            piece=str(piece.number),
            deposit=deposit or "",
            container=container.number,
            mark_lines=mark,
            what=", ".join(word for word in (ware_and_part, form) if word),
            square=square or "",
            site=desk.facts.name,
            season=season.name,
            permit=season.permit,
        )
        yield LabelToPrint(label, container.id)
