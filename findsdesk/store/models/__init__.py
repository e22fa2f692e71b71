"""The tables, by subject.

What the first scan of a day waits for is loaded at once; the others are loaded with the first of their names that
somebody imports from here, module by module: a table with ten columns takes 2.5 ms, and loans or labels are no part of
that scan. A module names tables of others only by keys that point at those loaded at once, at its own, or at those of
modules that it imports. Whoever goes through all tables asks ``store/every_table.py``.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from findsdesk.store.models.bags import Bag
from findsdesk.store.models.base import Base, Editable, Fact, Journaled, Moment
from findsdesk.store.models.container import Container, Count, LedgerEntry, Note, Part, Step
from findsdesk.store.models.excavation import Excavation, Form, Period, Person, Season, Square, Ware, Word
from findsdesk.store.models.field import Deposit, FormerNumber, TagBlock
from findsdesk.store.models.journal import Act, Line, NumberBlock, NumberSeries, Station
from findsdesk.store.models.marks import MarkEntry
from findsdesk.store.models.pieces import Piece, Vessel
from findsdesk.store.models.reading import DiscardLine, DiscardList, PotteryReading
from findsdesk.store.models.search import SearchedText
from findsdesk.store.models.season_end import HandOver, HandOverLine
from findsdesk.store.models.shelves import Box, Place
from findsdesk.store.models.totals import BalanceTotal, WareTotal

if TYPE_CHECKING:
    from findsdesk.store.models.courier import Clash, CourierPassed
    from findsdesk.store.models.deadlines import Deadline
    from findsdesk.store.models.labels import LabelLayout, PrintedLabel, Printing, Redo
    from findsdesk.store.models.loans import Loan, LoanChase, LoanFile, LoanLine, LoanReturn, ProxySlip
    from findsdesk.store.models.moves import Lay, StockScan, StockTake, TakenOut, Transport, TransportLine
    from findsdesk.store.models.objects import FoundObject, LabSample, Photo, SherdJoin
    from findsdesk.store.models.retention import DiscardNote, LeftInTrench, PersonPin, RetentionRule, ShareDrawn
    from findsdesk.store.models.sorting import SherdGroup
    from findsdesk.store.models.taken_lists import ColumnMatch, RowSetAside, TakenList
    from findsdesk.store.models.views import SavedView

LATER = {
    "courier": ("Clash", "CourierPassed"),
    "deadlines": ("Deadline",),
    "labels": ("LabelLayout", "PrintedLabel", "Printing", "Redo"),
    "loans": ("Loan", "LoanChase", "LoanFile", "LoanLine", "LoanReturn", "ProxySlip"),
    "moves": ("Lay", "StockScan", "StockTake", "TakenOut", "Transport", "TransportLine"),
    "objects": ("FoundObject", "LabSample", "Photo", "SherdJoin"),
    "retention": ("DiscardNote", "LeftInTrench", "PersonPin", "RetentionRule", "ShareDrawn"),
    "sorting": ("SherdGroup",),
    "taken_lists": ("ColumnMatch", "RowSetAside", "TakenList"),
    "views": ("SavedView",),
}
"""Modules that are loaded when one of their tables is asked for."""
_MODULE_OF = {name: module for module, names in LATER.items() for name in names}

if not TYPE_CHECKING:  # else mypy would take any name for one of this module

    def __getattr__(name: str) -> Any:
        """Load the module of a table that nobody asked for before (PEP 562)."""
        if name not in _MODULE_OF:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        return getattr(import_module(f"{__name__}.{_MODULE_OF[name]}"), name)


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
