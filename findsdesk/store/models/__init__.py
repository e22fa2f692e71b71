"""The tables, by subject."""

from findsdesk.store.models.base import Base, Editable, Fact, Journaled, Moment
from findsdesk.store.models.container import Container, Count, LedgerEntry, Note, Part, Redo, Step
from findsdesk.store.models.excavation import Excavation, Period, Person, Season, Square, Ware
from findsdesk.store.models.field import ColumnMatch, Deposit, FormerNumber, RowSetAside, TagBlock, TakenList
from findsdesk.store.models.journal import Act, Line, NumberBlock, NumberSeries, Station
from findsdesk.store.models.sorting import Bag, BalanceTotal, PrintedLabel, Printing, SherdGroup, WareTotal

__all__ = [
    "Act",
    "Bag",
    "BalanceTotal",
    "Base",
    "ColumnMatch",
    "Container",
    "Count",
    "Deposit",
    "Editable",
    "Excavation",
    "Fact",
    "FormerNumber",
    "Journaled",
    "LedgerEntry",
    "Line",
    "Moment",
    "Note",
    "NumberBlock",
    "NumberSeries",
    "Part",
    "Period",
    "Person",
    "PrintedLabel",
    "Printing",
    "Redo",
    "RowSetAside",
    "Season",
    "SherdGroup",
    "Square",
    "Station",
    "Step",
    "TagBlock",
    "TakenList",
    "Ware",
    "WareTotal",
]
