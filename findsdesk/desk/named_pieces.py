"""Pieces meant by what people call them: a row of the table to lift from, a piece by its code or name."""

from __future__ import annotations

from sqlalchemy import select

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import container_of
from findsdesk.desk.finding_pieces import piece_of
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.pieces import Lifted, lay_back, lift_pieces
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import SherdGroup
from findsdesk.words import N_, CountOf


def lift_from_row(
    desk: Desk,
    tag: str,
    row: int,
    how_many: int = 1,
    *,
    tenths: int | None = None,
    rim_permille: int | None = None,
    base_permille: int | None = None,
) -> Lifted:
    """Lift sherds out of a row of a container's table, counted from 1 as it stands now.

    Refusals: ``no_such_row`` and those of ``lift_pieces``.
    """
    with desk.reading() as reading:
        container = container_of(reading.session, desk, tag)
        groups = reading.session.execute(
            select(SherdGroup.id, SherdGroup.version)
            .where(SherdGroup.container_id == container.id)
            .order_by(SherdGroup.ordinal, SherdGroup.id)
        ).all()
        if not 1 <= row <= len(groups):
            raise Refusal(
                "no_such_row",
                N_("{Container} {number} has {rows} on the table; there is no row {row}."),
                number=container.number,
                rows=CountOf("{n} row", "{n} rows", len(groups)),
                row=row,
            )
    group_id, version = groups[row - 1]
    return lift_pieces(
        desk,
        group_id,
        seen=version,
        how_many=how_many,
        tenths=tenths,
        rim_permille=rim_permille,
        base_permille=base_permille,
    )


def lay_back_named(desk: Desk, piece: str) -> PieceRow:
    """Lay the piece of a code or name back as it stands now. Refusals: those of finding it and of ``lay_back``."""
    with desk.reading() as reading:
        row = piece_of(reading.session, desk, piece)
        piece_id, version = row.id, row.version
    return lay_back(desk, piece_id, seen=version)
