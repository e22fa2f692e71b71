"""What the bench reads, on the reading lane: the container on the table, the wares, what waits, the bags."""

from __future__ import annotations

from dataclasses import dataclass

from findsdesk.desk.bagging import propose_bags
from findsdesk.desk.bags import BagFacts, bags_of
from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import WareFacts, wares
from findsdesk.desk.sorting_table import SortingTable, WaitingContainer, left_to_sort, table_of
from findsdesk.domain.bags import BagProposal
from findsdesk.ui.benches.sorting.state import Asked


@dataclass(frozen=True, slots=True)
class TableRead:
    """One reading: what was asked when it began, of which container, and what was found."""

    asked: Asked
    code: str
    wares: tuple[WareFacts, ...]
    table: SortingTable | None = None
    waiting: tuple[WaitingContainer, ...] = ()
    proposed: tuple[BagProposal, ...] = ()
    bags: tuple[BagFacts, ...] = ()


def read_table(desk: Desk, asked: Asked, code: str) -> TableRead:
    """Read what the bench shows; while a container is read aloud nothing but that container."""
    known = wares(desk)
    if asked is Asked.READ:
        return TableRead(asked, code, known, table_of(desk, code))
    if asked is Asked.BAG:
        return TableRead(asked, code, known, table_of(desk, code), proposed=propose_bags(desk, code))
    if asked is Asked.ONE_BAG:
        return TableRead(asked, code, known, proposed=propose_bags(desk, code))
    waiting = left_to_sort(desk)
    return TableRead(asked, code, known, waiting=waiting, bags=bags_of(desk, code) if asked is Asked.BAGGED else ())
