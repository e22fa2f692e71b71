"""All that the bench of pieces shows of one piece, in one look: its row, joins, vessel, photographs, samples."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import func, select

from findsdesk.desk.desk import Desk
from findsdesk.desk.dossier_pieces import piece_in_hand
from findsdesk.desk.finding_pieces import piece_of
from findsdesk.desk.joins import JoinRow
from findsdesk.desk.photos import PhotoFacts, pictures_of
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.samples import SampleFacts, sample_rows
from findsdesk.desk.vessels import VesselFacts, vessel_facts
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import LabSample, Piece, Vessel


@dataclass(frozen=True, slots=True)
class PiecePage:
    """A piece with all that hangs on it; a photograph whose file is gone has no small picture."""

    piece: PieceRow
    joins: tuple[JoinRow, ...]
    vessel: VesselFacts | None
    photos: tuple[tuple[PhotoFacts, bytes], ...]
    samples: tuple[SampleFacts, ...]


def piece_page(desk: Desk, which: str) -> PiecePage:
    """Return the page of the piece of a code or name. Refusals: those of finding it."""
    with desk.reading() as reading:
        session = reading.session
        row = piece_of(session, desk, which)
        shown = piece_in_hand(session, desk, row)
        vessel = session.get(Vessel, row.vessel_id) if row.vessel_id is not None else None
        ids = session.execute(select(LabSample.id).where(LabSample.piece_id == row.id).order_by(LabSample.number))
        samples = sample_rows(session, list(ids.scalars()))
        gathered = vessel_facts(session, desk, vessel) if vessel is not None else None
        piece_id = row.id
    return PiecePage(shown.piece, shown.joins, gathered, pictures_of(desk, ("piece", piece_id)), samples)


def page_if_there(desk: Desk, code: str) -> PiecePage | None:
    """Return the page of the piece of a code; None for one that was laid back meanwhile."""
    try:
        return piece_page(desk, code)
    except Refusal as refusal:
        if refusal.code != "unknown_code":
            raise
        return None


def drawings_wanted(desk: Desk) -> int:
    """Return how many pieces wait to be drawn."""
    with desk.reading() as reading:
        return reading.session.execute(select(func.count()).where(Piece.drawing_wanted)).scalar_one()
