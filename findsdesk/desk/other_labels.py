"""The other labels (slips, pieces, boxes, places, loans) as somebody asks for them: of today, of what is in hand, all.

Also which slips and labels of pieces of a container came out of a printer, so that they can be printed again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, time
from enum import StrEnum
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.label_contents import LabelBatch, LabelToPrint, PrintKind
from findsdesk.desk.label_gathering import copies_out, every_label, gather
from findsdesk.store.models import Bag, Box, Loan, Piece, Place, PrintedLabel, Printing


class Which(StrEnum):
    """Which labels of a kind are meant."""

    TODAY = "today"
    """Never printed, of what was packed, lifted or made today."""
    IN_HAND = "in hand"
    """Never printed, of the container in hand."""
    WAITING = "waiting"
    """All that were never printed."""
    AGAIN = "again"
    """All that were printed: again, for a reason."""


MADE_AT: Mapping[PrintKind, Any] = {
    PrintKind.SLIP: (Bag.code, Bag.packed_at),
    PrintKind.PIECE: (Piece.code, Piece.lifted_at),
    PrintKind.BOX: (Box.code, Box.made_at),
    PrintKind.PLACE: (Place.code, Place.made_at),
    PrintKind.LOAN: (Loan.code, Loan.made_at),
}
"""Of each kind the code on its label and when what it stands for was packed, lifted or made."""


@dataclass(frozen=True, slots=True)
class OtherLabels:
    """Labels of a kind: those that were asked for, and how many of each choice were never printed."""

    which: Which
    batch: LabelBatch
    waiting: Mapping[Which, int] = field(default_factory=dict)
    printed: tuple[str, ...] = ()
    """The codes of those that were printed; gathered only where they were asked for."""


@dataclass(frozen=True, slots=True)
class PaperOut:
    """A slip or the label of a piece that came out of a printer, by the code on it."""

    kind: PrintKind
    code: str


def other_labels(
    desk: Desk, kind: PrintKind, which: Which | None = None, *, container_id: int | None = None
) -> OtherLabels:
    """Return the labels of a kind that are meant; where nobody chose, those of today, or else all that wait.

    Of ``Which.AGAIN`` the codes alone: they are gathered with a reason (``gather_again``).
    """
    batch = gather(desk, kind)
    with desk.reading() as reading:
        today = _made_today(reading.session, desk, kind)
        printed = _printed(reading.session, desk, kind) if which is Which.AGAIN else ()
    of = {
        Which.TODAY: tuple(one for one in batch.labels if one.code in today),
        Which.IN_HAND: tuple(one for one in batch.labels if one.container_id == container_id and container_id),
        Which.WAITING: batch.labels,
    }
    meant = which or (Which.TODAY if of[Which.TODAY] else Which.WAITING)
    labels: tuple[LabelToPrint, ...] = of.get(meant, ())
    waiting = {one: len(found) for one, found in of.items()}
    return OtherLabels(meant, replace(batch, labels=labels), waiting, printed)


def _made_today(session: Session, desk: Desk, kind: PrintKind) -> frozenset[str]:
    code, made_at = MADE_AT[kind]
    zone = desk.facts.zone
    midnight = datetime.combine(desk.now().astimezone(zone).date(), time(), zone)
    return frozenset(session.execute(select(code).where(made_at >= midnight)).scalars())


def _printed(session: Session, desk: Desk, kind: PrintKind) -> tuple[str, ...]:
    codes = [one.code for one in every_label(session, desk, kind)]
    out = copies_out(session, kind, codes)
    return tuple(code for code in codes if code in out)


def papers_out(desk: Desk, container_id: int) -> tuple[PaperOut, ...]:
    """Return the slips and labels of pieces of a container that came out of a printer, by kind and code."""
    wanted = (
        select(Printing.kind, PrintedLabel.code)
        .join(Printing, PrintedLabel.printing_id == Printing.id)
        .where(
            PrintedLabel.container_id == container_id,
            Printing.kind.in_((PrintKind.SLIP, PrintKind.PIECE)),
            Printing.spoiled == "",
        )
        .distinct()
        .order_by(Printing.kind, PrintedLabel.code)
    )
    with desk.reading() as reading:
        return tuple(PaperOut(PrintKind(kind), code) for kind, code in reading.session.execute(wanted))
