"""What analysis uses up: pieces and grams of a piece, and samples of which nothing is left."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.group_rows import count_in
from findsdesk.desk.ledgers import enter
from findsdesk.desk.listed_discards import need_off_lists
from findsdesk.desk.packed_bags import take_out_of_bag
from findsdesk.desk.piece_rows import piece_name
from findsdesk.domain.balance import Entry
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, LabSample, Piece
from findsdesk.words import N_


def use_up_of_a_piece(deed: Deed, container: Container, piece: Piece, tenths: int, pieces: int, purpose: str) -> None:
    """Take what is used up out of what a piece has; what it loses stands in the ledger as an entry of its own.

    With its last sherd all its grams go, whatever was said of them: none are left of no sherd.

    Refusals: ``more_than_there``, ``on_discard_list``, ``carried_off``.
    """
    need_off_lists(deed.session, piece)
    if pieces > piece.pieces or (piece.tenths is not None and tenths > piece.tenths):
        raise Refusal(
            "more_than_there",
            N_("Piece {name} counts {pieces} and weighs {grams} g. No more can be taken of it."),
            name=piece_name(container, piece),
            pieces=piece.pieces,
            grams="?" if piece.tenths is None else f"{piece.tenths / 10:g}",
        )
    if pieces == piece.pieces and piece.tenths is not None:
        tenths = piece.tenths
    take_out_of_bag(deed, container, piece, pieces, tenths)
    count_in(deed, container, piece, -1)
    piece.pieces -= pieces
    if piece.tenths is not None:
        piece.tenths -= tenths
    count_in(deed, container, piece, 1)
    if pieces or piece.tenths is not None:
        enter(deed, container, Entry.USED_UP, pieces, tenths=tenths, why=purpose)


def sample_numbered(session: Session, number: int) -> LabSample:
    """Return the sample of a number. Refusal: ``unknown_sample``."""
    row = session.execute(select(LabSample).where(LabSample.number == number)).scalar_one_or_none()
    if row is None:
        raise Refusal(
            "unknown_sample", N_("There is no sample {number}. Look at the register of samples."), number=number
        )
    return row


def use_up_sample(desk: Desk, number: int, *, on: date | None = None, result: str = "") -> date:
    """Write that nothing of a sample is left, on a day (today where none is said); returns the day.

    Opposite: none; what was taken off is gone. Refusals: ``unknown_sample``, ``sample_used_up``.
    """
    with desk.deed("use_up_sample") as deed:
        row = sample_numbered(deed.session, number)
        if row.used_up_on is not None:
            raise Refusal(
                "sample_used_up",
                N_("Sample {number} was used up on {day}. Nothing is left of it."),
                number=number,
                day=row.used_up_on,
            )
        day = on or deed.today()
        write_used_up(row, day)
        row.result = result.strip() or row.result
        deed.said = f"{number}: {day}"
    return day


def write_used_up(row: LabSample, day: date) -> None:
    """Write on a sample that nothing of it is left."""
    row.used_up_on, row.rest_tenths = day, 0
