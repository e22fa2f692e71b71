"""Finds that look too late for a sealed deposit: shown to be looked at, never decided here."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from findsdesk.domain.dated_finds import DatedFind, dated
from findsdesk.domain.deposits import Security
from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.words import N_

BULK_PERCENT = 90
LOOKS_LATE = "looks late"
"""Why a sherd is held that looks late where it is from; written with its row as a reason."""

END_OF_BULK = Method(
    Unit.YEAR,
    N_("the first year by which the ranges of at least 90 % of the dated pieces have ended"),
    "",
    Grounds.OURS,
)


@dataclass(frozen=True, slots=True)
class Intrusions:
    """The year in which the bulk of the deposit ends, and the finds whose ranges begin then or later."""

    end_of_bulk: Figure
    finds: tuple[DatedFind, ...]


def look_intrusive(finds: Collection[DatedFind], security: Security) -> Intrusions | None:
    """Return what looks intrusive in a sealed deposit; None where it is not sealed or its bulk has no end.

    Our definition: the bulk ends in the first year by which the ranges of at least 90 % of the dated pieces have
    ended; a find looks intrusive when its range begins in that year or later. Where more than 10 % are late, they
    are the bulk's end themselves and none looks intrusive; where they may go on for ever, or nothing is dated, it has
    none. What is already called intrusive counts in neither.
    """
    usable = dated(finds)
    pieces = sum(find.pieces for find, _span in usable)
    if security is not Security.SEALED or pieces <= 0:
        return None
    ended = 0
    for find, span in sorted(usable, key=lambda pair: pair[1].until):
        ended += 0 if find.open_ended else find.pieces
        if 100 * ended >= BULK_PERCENT * pieces:
            end = span.until
            return Intrusions(END_OF_BULK.gives(end), tuple(find for find, span in usable if span.begin >= end))
    return None
