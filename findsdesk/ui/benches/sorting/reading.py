"""What the bench reads, on the reading lane: the container on the table, its lists, what waits, the bags."""

from __future__ import annotations

from dataclasses import dataclass

from findsdesk.desk.bagging import propose_bags
from findsdesk.desk.bags import BagFacts, bags_of
from findsdesk.desk.desk import Desk
from findsdesk.desk.group_rows import GroupRow
from findsdesk.desk.overrides import containers_wanting_why, rows_wanting_why
from findsdesk.desk.sorting_table import SortingTable, WaitingContainer, left_to_sort, table_of
from findsdesk.desk.table_lists import TableLists, table_lists
from findsdesk.desk.wanting_why import WantingWhy
from findsdesk.domain.bags import BagProposal
from findsdesk.ui.benches.sorting.state import Asked


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be read: for which question, of which container; which rows, where not all; the lists anew or not."""

    asked: Asked
    code: str
    only: frozenset[int] | None = None
    lists: bool = True


@dataclass(frozen=True, slots=True)
class TableRead:
    """One reading: what was wanted when it began, and what was found; ``lists`` None where they were not read."""

    wanted: Wanted
    lists: TableLists | None
    table: SortingTable | None = None
    waiting: tuple[WaitingContainer, ...] = ()
    proposed: tuple[BagProposal, ...] = ()
    bags: tuple[BagFacts, ...] = ()
    wanting_why: tuple[GroupRow, ...] = ()
    """The rows of a settled container that are decided against a rule and say no reason."""
    elsewhere: tuple[WantingWhy, ...] = ()
    """The containers with such rows, while none is in hand."""

    @property
    def code(self) -> str:
        """Return the code of the container that was read."""
        return self.wanted.code


def read_table(desk: Desk, wanted: Wanted) -> TableRead:
    """Read what the bench shows; while a container is read aloud nothing but that container."""
    lists = table_lists(desk) if wanted.lists else None
    asked, code = wanted.asked, wanted.code
    if asked is Asked.READ:
        return TableRead(wanted, lists, table_of(desk, code, only=wanted.only))
    if asked is Asked.BAG:
        table, proposed = table_of(desk, code), propose_bags(desk, code)
        return TableRead(wanted, lists, table, proposed=proposed, wanting_why=rows_wanting_why(desk, code))
    if asked is Asked.ONE_BAG:
        return TableRead(wanted, lists, proposed=propose_bags(desk, code))
    waiting = left_to_sort(desk)
    if asked is Asked.BAGGED:
        bags = bags_of(desk, code)
        return TableRead(wanted, lists, waiting=waiting, bags=bags, wanting_why=rows_wanting_why(desk, code))
    return TableRead(wanted, lists, waiting=waiting, elsewhere=containers_wanting_why(desk))
