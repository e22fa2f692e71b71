"""The tables, by subject."""

from findsdesk.store.models.base import Base, Editable, Fact, Journaled, Moment
from findsdesk.store.models.container import Container, Count, LedgerEntry, Note, Part, Redo, Step
from findsdesk.store.models.courier import Clash, CourierPassed
from findsdesk.store.models.excavation import Excavation, Form, Period, Person, Season, Square, Ware, Word
from findsdesk.store.models.field import ColumnMatch, Deposit, FormerNumber, RowSetAside, TagBlock, TakenList
from findsdesk.store.models.journal import Act, Line, NumberBlock, NumberSeries, Station
from findsdesk.store.models.loans import Loan, LoanChase, LoanFile, LoanLine, LoanReturn, ProxySlip
from findsdesk.store.models.marks import MarkEntry
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
from findsdesk.store.models.search import SearchedText
from findsdesk.store.models.season_end import Deadline, HandOver, HandOverLine
from findsdesk.store.models.shelves import (
    Box,
    Lay,
    Place,
    StockScan,
    StockTake,
    TakenOut,
    Transport,
    TransportLine,
)
from findsdesk.store.models.sorting import Bag, BalanceTotal, LabelLayout, PrintedLabel, Printing, SherdGroup, WareTotal
from findsdesk.store.models.views import SavedView

__all__ = [
    "Act",
    "Bag",
    "BalanceTotal",
    "Base",
    "Box",
    "Clash",
    "ColumnMatch",
    "Container",
    "Count",
    "CourierPassed",
    "Deadline",
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
    "HandOver",
    "HandOverLine",
    "Journaled",
    "LabSample",
    "LabelLayout",
    "Lay",
    "LedgerEntry",
    "LeftInTrench",
    "Line",
    "Loan",
    "LoanChase",
    "LoanFile",
    "LoanLine",
    "LoanReturn",
    "MarkEntry",
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
    "Place",
    "PotteryReading",
    "PrintedLabel",
    "Printing",
    "ProxySlip",
    "Redo",
    "RetentionRule",
    "RowSetAside",
    "SavedView",
    "SearchedText",
    "Season",
    "ShareDrawn",
    "SherdGroup",
    "SherdJoin",
    "Square",
    "Station",
    "Step",
    "StockScan",
    "StockTake",
    "TagBlock",
    "TakenList",
    "TakenOut",
    "Transport",
    "TransportLine",
    "Vessel",
    "Ware",
    "WareTotal",
    "Word",
]
