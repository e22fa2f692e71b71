"""The tables, by subject."""

from findsdesk.store.models.base import Base, Editable, Fact, Journaled, Moment
from findsdesk.store.models.container import Container, Count, LedgerEntry, Note, Part, Redo, Step
from findsdesk.store.models.excavation import Excavation, Form, Period, Person, Season, Square, Ware, Word
from findsdesk.store.models.field import ColumnMatch, Deposit, FormerNumber, RowSetAside, TagBlock, TakenList
from findsdesk.store.models.journal import Act, Line, NumberBlock, NumberSeries, Station
from findsdesk.store.models.pieces import FoundObject, LabSample, Photo, Piece, SherdJoin, Vessel
from findsdesk.store.models.reading import (
    DiscardLine,
    DiscardList,
    DiscardNote,
    LeftInTrench,
    PersonPin,
    PotteryReading,
    RetentionRule,
    ShareDrawn,
)
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
    "DiscardLine",
    "DiscardList",
    "DiscardNote",
    "Editable",
    "Excavation",
    "Fact",
    "Form",
    "FormerNumber",
    "FoundObject",
    "Journaled",
    "LabSample",
    "LedgerEntry",
    "LeftInTrench",
    "Line",
    "Moment",
    "Note",
    "NumberBlock",
    "NumberSeries",
    "Part",
    "Period",
    "Person",
    "PersonPin",
    "Photo",
    "Piece",
    "PotteryReading",
    "PrintedLabel",
    "Printing",
    "Redo",
    "RetentionRule",
    "RowSetAside",
    "Season",
    "ShareDrawn",
    "SherdGroup",
    "SherdJoin",
    "Square",
    "Station",
    "Step",
    "TagBlock",
    "TakenList",
    "Vessel",
    "Ware",
    "WareTotal",
    "Word",
]
