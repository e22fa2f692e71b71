"""The registers: deposits, containers, bags, pieces, objects, the journal …; searched, filtered, sorted, paged."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from typing import Any

from findsdesk.desk.bag_register import BAGS, BagInRegister
from findsdesk.desk.boxes import BoxFacts
from findsdesk.desk.container_register import CONTAINERS, ContainerInRegister
from findsdesk.desk.deposit_facts import DepositFacts
from findsdesk.desk.deposit_register import DEPOSITS
from findsdesk.desk.desk import Desk, Reading
from findsdesk.desk.discard_register import DISCARDS, DiscardInRegister
from findsdesk.desk.group_register import GROUPS, GroupInRegister
from findsdesk.desk.joins import JoinRow
from findsdesk.desk.journal_register import JOURNAL, ActInRegister, ActLine, act_lines
from findsdesk.desk.left_in_trench import LeftFacts
from findsdesk.desk.left_register import LEFT
from findsdesk.desk.loan_rows import LoanFacts
from findsdesk.desk.mark_register import MARKS, MarkInRegister
from findsdesk.desk.object_register import OBJECTS, SAMPLES
from findsdesk.desk.objects import ObjectFacts
from findsdesk.desk.people_register import PEOPLE, PersonInRegister
from findsdesk.desk.photo_register import PHOTOS, PhotoInRegister
from findsdesk.desk.piece_register import DRAWINGS, PIECES
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.print_register import PRINTS, LabelInRegister
from findsdesk.desk.reading_register import READINGS
from findsdesk.desk.reading_rows import ReadingFacts
from findsdesk.desk.register_windows import RegisterQuery, Source, counted, every_row, window
from findsdesk.desk.samples import SampleFacts
from findsdesk.desk.shelves import PlaceInTree
from findsdesk.desk.store_registers import BOXES, LOANS, PLACES
from findsdesk.desk.vessel_register import JOINS, VESSELS, VesselInRegister

__all__ = [
    "ActInRegister",
    "ActLine",
    "BagInRegister",
    "ContainerInRegister",
    "DepositFacts",
    "DiscardInRegister",
    "LeftFacts",
    "ReadingFacts",
    "Register",
    "RegisterQuery",
    "RegisterRow",
    "act_lines",
    "all_rows",
    "check_query",
    "count",
    "filters_of",
    "page",
    "sorts_of",
]


class Register(StrEnum):
    """Which register."""

    DEPOSITS = "deposits"
    CONTAINERS = "containers"
    BAGS = "bags"
    BOXES = "boxes"
    PLACES = "places"
    LOANS = "loans"
    MARKS = "marks"
    READINGS = "readings"
    DISCARDS = "discards"
    LEFT = "left"
    PRINTS = "prints"
    GROUPS = "groups"
    PIECES = "pieces"
    OBJECTS = "objects"
    VESSELS = "vessels"
    JOINS = "joins"
    PHOTOS = "photos"
    DRAWINGS = "drawings"
    SAMPLES = "samples"
    PEOPLE = "people"
    JOURNAL = "journal"


RegisterRow = (
    DepositFacts
    | ContainerInRegister
    | BagInRegister
    | BoxFacts
    | PlaceInTree
    | LoanFacts
    | MarkInRegister
    | ReadingFacts
    | DiscardInRegister
    | LeftFacts
    | LabelInRegister
    | GroupInRegister
    | PieceRow
    | ObjectFacts
    | VesselInRegister
    | JoinRow
    | PhotoInRegister
    | SampleFacts
    | PersonInRegister
    | ActInRegister
)

EVERYTHING = RegisterQuery()
"""All rows in the register's own order."""

_SOURCES: dict[Register, Source[Any]] = {
    Register.DEPOSITS: DEPOSITS,
    Register.CONTAINERS: CONTAINERS,
    Register.BAGS: BAGS,
    Register.BOXES: BOXES,
    Register.PLACES: PLACES,
    Register.LOANS: LOANS,
    Register.MARKS: MARKS,
    Register.READINGS: READINGS,
    Register.DISCARDS: DISCARDS,
    Register.LEFT: LEFT,
    Register.PRINTS: PRINTS,
    Register.PIECES: PIECES,
    Register.OBJECTS: OBJECTS,
    Register.VESSELS: VESSELS,
    Register.JOINS: JOINS,
    Register.PHOTOS: PHOTOS,
    Register.SAMPLES: SAMPLES,
    Register.JOURNAL: JOURNAL,
    Register.DRAWINGS: DRAWINGS,
    Register.GROUPS: GROUPS,
    Register.PEOPLE: PEOPLE,
}


def count(desk: Desk, register: Register, query: RegisterQuery = EVERYTHING) -> int:
    """Return how many rows of a register meet a query.

    Refusals: ``unknown_filter``, ``not_a_day``, ``unknown_deposit`` and the like for what a filter names.
    """
    return counted(desk, _SOURCES[register], query)


def page(
    desk: Desk,
    register: Register,
    query: RegisterQuery = EVERYTHING,
    first: int = 0,
    how_many: int = 200,
    *,
    total: int | None = None,
) -> tuple[Any, ...]:
    """Return rows of a register from the row ``first`` on, 0 being the first.

    ``total`` is what ``count`` said; without it the rows are counted again. Refusals: those of ``count``,
    ``unknown_sort``.
    """
    return window(desk, _SOURCES[register], query, first, how_many, total)


def check_query(desk: Desk, register: Register, query: RegisterQuery) -> None:
    """Refuse a query that a register does not answer, as ``page`` would."""
    with desk.reading() as reading:
        source = _SOURCES[register]
        source.conditions(reading, query)
        source.order(query)


def all_rows(reading: Reading, register: Register, query: RegisterQuery = EVERYTHING) -> Iterator[Any]:
    """Yield all rows of a register that meet a query, in its order, as at one moment; refusals as of ``page``."""
    return every_row(reading, _SOURCES[register], query)


def sorts_of(register: Register) -> tuple[str, ...]:
    """Return the names of the columns by which a register is sorted fast, its own order first."""
    return tuple(_SOURCES[register].sorts)


def filters_of(register: Register) -> tuple[str, ...]:
    """Return the names of a register's filters."""
    return tuple(_SOURCES[register].filters)
