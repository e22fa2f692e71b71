"""Deposits compared by their wares: how alike each two are, and their order along the first axis (seriation)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from findsdesk.analysis.association import Association, association
from findsdesk.analysis.correspondence import Correspondence, correspondence
from findsdesk.analysis.similarities import similarity_matrix
from findsdesk.desk.desk import Desk
from findsdesk.desk.ware_table import DepositRow, WareTable, ware_table
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

LEAST_SHERDS = 30
"""Fewer sherds of known wares say little of a deposit; such are left out and named (ours)."""
MOST_COMPARED = 200
"""More deposits than this nobody reads as a matrix."""


@dataclass(frozen=True, slots=True)
class Comparison:
    """Deposits in the order of the first axis, their wares, and the coefficients in that order, 0 to 200.

    ``left_out`` are the numbers of deposits with too few sherds. Which end of the order is early the axis cannot say.
    """

    deposits: tuple[DepositRow, ...]
    wares: tuple[str, ...]
    alike: tuple[tuple[float, ...], ...]
    correspondence: Correspondence
    association: Association
    left_out: tuple[str, ...]


def compare_deposits(desk: Desk, deposits: Sequence[str] = (), *, least: int = LEAST_SHERDS) -> Comparison:
    """Return all deposits with at least so many sherds of known wares, or those numbered, compared by their wares.

    Refusals: those of finding them, ``table_too_small``, ``too_many_compared``.
    """
    table = ware_table(desk, deposits)
    kept = [row for row in table.rows if sum(row.pieces) >= least]
    if len(kept) > MOST_COMPARED:
        raise Refusal(
            "too_many_compared",
            N_("{n} {deposits} are too many to compare; {most} at most. Choose some, or ask for more sherds each."),
            n=len(kept),
            most=MOST_COMPARED,
        )
    return _compared(table, kept, tuple(row.deposit for row in table.rows if row not in kept))


def _compared(table: WareTable, kept: Sequence[DepositRow], left_out: tuple[str, ...]) -> Comparison:
    counts, names = [row.pieces for row in kept], [row.deposit for row in kept]
    found = correspondence(counts, names, table.wares)
    place = {number: at for at, number in enumerate(found.seriation())}
    ordered = sorted(kept, key=lambda row: place[row.deposit])
    alike = similarity_matrix([row.pieces for row in ordered], [row.deposit for row in ordered])
    return Comparison(
        deposits=tuple(ordered),
        wares=table.wares,
        alike=tuple(tuple(map(float, row)) for row in alike),
        correspondence=found,
        association=association(counts, names, table.wares),
        left_out=left_out,
    )


def nearest(found: Comparison, place: int, how_many: int = 3) -> Sequence[str]:
    """Return the deposits most like the one at a place of the order, with their coefficients."""
    others = sorted(
        (other for other in range(len(found.deposits)) if other != place), key=lambda n: -found.alike[place][n]
    )
    return [f"{found.deposits[other].deposit} {found.alike[place][other]:.0f}" for other in others[:how_many]]
