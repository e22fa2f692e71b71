"""Bags that hold something else than before: packed anew, emptied, or less by what was used up of a piece in them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed
from findsdesk.desk.label_contents import PrintKind
from findsdesk.desk.lying import close_taking_out, lay_bag
from findsdesk.desk.written_things import Written
from findsdesk.domain.bags import BagOf
from findsdesk.domain.balance import Decision
from findsdesk.domain.routes import Standing
from findsdesk.store.models import Bag, Container, Piece, PrintedLabel, Printing, Redo

_BAG_OF_DECISION = {Decision.MEND: BagOf.MENDING, Decision.HOLD: BagOf.HOLD}


def bag_with(session: Session, piece: Piece) -> Bag | None:
    """Return the bag a piece lies in as bags are packed, by its decision and kind; else the only bag there is."""
    own = _BAG_OF_DECISION.get(Decision(piece.decision), BagOf.DIAGNOSTIC if piece.diagnostic else BagOf.BODY)
    bags = session.execute(select(Bag).where(Bag.container_id == piece.container_id, Bag.pieces > 0)).scalars().all()
    same = [bag for bag in bags if bag.what == own]
    return same[0] if same else bags[0] if len(bags) == 1 else None


def repack(deed: Deed, row: Bag, pieces: int, tenths: int | None) -> None:
    """Let a bag hold something else: its label is to redo, what was measured of it whole is to be measured again."""
    if (row.pieces, row.tenths) == (pieces, tenths):
        return
    row.gross_tenths = row.volume_ml = None
    _holds(deed, row, pieces, tenths)


def empty_bags(deed: Deed, container: Container) -> None:
    """Empty the bags of a container of which nothing is kept any more."""
    for row in deed.session.execute(select(Bag).where(Bag.container_id == container.id, Bag.pieces > 0)).scalars():
        repack(deed, row, 0, None)


def take_out_of_bag(deed: Deed, container: Container, piece: Piece, pieces: int, tenths: int) -> None:
    """Let the bag of a piece hold so many pieces and tenths of a gram less; nothing where the container lies open."""
    if Standing(container.standing) is not Standing.BAGGED:
        return
    row = bag_with(deed.session, piece)
    if row is not None:
        _holds(deed, row, max(0, row.pieces - pieces), _less(row.tenths, tenths))
        row.gross_tenths = _less(row.gross_tenths, tenths)


def use_up_of_bag(deed: Deed, row: Bag, pieces: int) -> None:
    """Let a bag hold so many pieces less; nobody weighed them."""
    _holds(deed, row, row.pieces - pieces, row.tenths)


def _less(tenths: int | None, taken: int) -> int | None:
    return None if tenths is None else max(0, tenths - taken)


def _holds(deed: Deed, row: Bag, pieces: int, tenths: int | None) -> None:
    if (row.pieces, row.tenths) == (pieces, tenths):
        return
    said = _says(row.pieces, row.tenths)
    row.pieces, row.tenths, row.packed_at = pieces, tenths, deed.happened_at
    waits = deed.session.execute(select(Redo).where(Redo.bag_id == row.id, Redo.done_at.is_(None))).scalars().all()
    if not pieces:
        _put_away(deed, row, waits)
        return
    for what in set(_papers_of(deed.session, row)) - {one.what for one in waits}:
        deed.add(
            Redo(
                what=what,
                container_id=row.container_id,
                bag_id=row.id,
                pieces=1,
                said=said,
                says_now=_says(pieces, tenths),
                why="packed again",
                asked_at=deed.happened_at,
                done_at=None,
            )
        )


def _papers_of(session: Session, row: Bag) -> Iterator[Written]:
    """Yield what was printed of a bag: the label outside, the slip inside."""
    if row.label_copy:
        yield Written.LABEL
    slips = select(PrintedLabel.id).join(Printing, PrintedLabel.printing_id == Printing.id)
    of_bag = slips.where(PrintedLabel.bag_id == row.id, Printing.kind == PrintKind.SLIP, Printing.spoiled == "")
    if session.execute(of_bag.limit(1)).scalar() is not None:
        yield Written.INSIDE


def _put_away(deed: Deed, row: Bag, waits: Sequence[Redo]) -> None:
    """Let an empty bag lie nowhere: when its code is used again, it is scanned into a box again."""
    for one in waits:
        one.done_at = deed.happened_at
    close_taking_out(deed, row)
    if row.box_id is not None or row.place_id is not None:
        lay_bag(deed, row, why="empty")


def _says(pieces: int, tenths: int | None) -> str:
    return f"{pieces}" if tenths is None else f"{pieces} · {tenths // 10}.{tenths % 10} g"
