"""A table of any number of rows that holds only the pages it was asked for.

The count and each page of 256 rows are read on the reading lane; until a page is there its rows are placeholders, and
old rows stay on screen while they are read again. Sorting and filtering belong to the desk.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, QTimer, Signal

from findsdesk.domain.refusals import Refusal
from findsdesk.ui.background import Job, Lanes
from findsdesk.ui.models.cells import Column, TableRow, cell_data
from findsdesk.ui.models.short import alignment, header_data

Index = QModelIndex | QPersistentModelIndex
_NOWHERE = QModelIndex()
PAGE_ROWS = 256
MOST_PAGES = 50
_PLACEHOLDER = "…"


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a register is asked for: the bench's own filter, the key of the column to sort by, and which way."""

    filter: object = None
    sort: str = ""
    falling: bool = False


@dataclass(frozen=True, slots=True)
class RegisterReads:
    """How a register is read; both run on the reading lane and touch no widget."""

    count: Callable[[Wanted], int]
    page: Callable[[Wanted, int, int], Sequence[TableRow]]
    """(wanted, first row, number of rows) → the rows, in a stable order."""


class PagedTable(QAbstractTableModel):
    """Asks for pages when they are painted; keeps the last fifty."""

    counted = Signal(int)
    """How many rows there are, once known."""
    refused = Signal(object)
    """A ``Refusal`` of the desk to the filter."""

    def __init__(
        self, lanes: Lanes, columns: Sequence[Column], reads: RegisterReads, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self.wanted = Wanted()
        self._lanes = lanes
        self._reads = reads
        self._count = 0
        self._pages: OrderedDict[int, Sequence[TableRow]] = OrderedDict()
        self._stale: set[int] = set()
        self._asked: set[int] = set()
        self._under_way: dict[int, Job] = {}
        self._count_job: Job | None = None
        self._generation = 0
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._fetch_asked)

    # What a bench asks

    def ask(self, filter: object) -> None:
        """Show what passes this filter of the bench's own making."""
        self._want(replace(self.wanted, filter=filter))

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Sort by a column that has a key; others change nothing."""
        key = self.columns[column].key if 0 <= column < len(self.columns) else ""
        if key:
            self._want(replace(self.wanted, sort=key, falling=order == Qt.SortOrder.DescendingOrder))

    def reload(self) -> None:
        """Read again; the rows shown stay until the new ones are there."""
        self._stale.update(self._pages)
        self._recount()

    def leave(self) -> None:
        """Read nothing more: another table takes the place of this one, and no late answer may come here."""
        self._generation += 1
        self._timer.stop()
        self._asked.clear()
        for job in (*self._under_way.values(), self._count_job):
            if job is not None:
                job.call_off()
        self._under_way.clear()
        self._count_job = None

    def row_at(self, row: int) -> TableRow | None:
        """Return a row that is held, or None while its page is not there."""
        page = self._pages.get(row // PAGE_ROWS)
        place = row % PAGE_ROWS
        return page[place] if page is not None and place < len(page) else None

    def is_settled(self) -> bool:
        """Return whether nothing is being read."""
        return not self._under_way and not self._asked and self._count_job is None

    # What Qt asks

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        return 0 if parent.isValid() else self._count

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid():
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return alignment(self.columns[index.column()])
        row = self._row(index.row())
        if row is None:
            return _PLACEHOLDER if role == Qt.ItemDataRole.DisplayRole else None
        return cell_data(row, index.column(), role)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        return header_data(self.columns, section, orientation, role)

    # Pages

    def _row(self, row: int) -> TableRow | None:
        number = row // PAGE_ROWS
        if number not in self._pages or number in self._stale:
            self._ask_for(number)
        if number in self._pages:
            self._pages.move_to_end(number)
        return self.row_at(row)

    def _ask_for(self, number: int) -> None:
        if number not in self._under_way and number not in self._asked:
            self._asked.add(number)
            if not self._timer.isActive():
                self._timer.start()

    def _fetch_asked(self) -> None:
        """Fetch what was painted since; pages scrolled past meanwhile are called off."""
        for number, job in list(self._under_way.items()):
            if self._asked and number not in self._asked:
                job.call_off()
                del self._under_way[number]
        for number in sorted(self._asked):
            self._under_way[number] = self._fetch(number)
        self._asked.clear()

    def _fetch(self, number: int) -> Job:
        wanted, generation = self.wanted, self._generation

        def work() -> Sequence[TableRow]:
            return self._reads.page(wanted, number * PAGE_ROWS, PAGE_ROWS)

        def take(rows: Sequence[TableRow]) -> None:
            if generation == self._generation:
                self._take_page(number, rows)

        return self._lanes.read(work, then=take, refused=self._tell_refusal)

    def _take_page(self, number: int, rows: Sequence[TableRow]) -> None:
        self._under_way.pop(number, None)
        self._stale.discard(number)
        self._pages[number] = rows
        self._pages.move_to_end(number)
        while len(self._pages) > MOST_PAGES:
            dropped, _rows = self._pages.popitem(last=False)
            self._stale.discard(dropped)
        first = number * PAGE_ROWS
        last = min(first + PAGE_ROWS, self._count) - 1
        if last >= first:
            self.dataChanged.emit(self.index(first, 0), self.index(last, len(self.columns) - 1))

    def _want(self, wanted: Wanted) -> None:
        self.wanted = wanted
        self._generation += 1
        for job in self._under_way.values():
            job.call_off()
        self._under_way.clear()
        self._asked.clear()
        self._stale.update(self._pages)
        self._recount()

    def _recount(self) -> None:
        wanted, generation = self.wanted, self._generation
        if self._count_job:
            self._count_job.call_off()

        def work() -> tuple[int, Sequence[TableRow]]:
            return self._reads.count(wanted), self._reads.page(wanted, 0, PAGE_ROWS)

        def take(answer: tuple[int, Sequence[TableRow]]) -> None:
            if generation == self._generation:
                self._count_job = None
                self._take_count(*answer)

        self._count_job = self._lanes.read(work, then=take, refused=self._tell_refusal)

    def _take_count(self, count: int, first: Sequence[TableRow]) -> None:
        if count != self._count:
            self.beginResetModel()
            self._count = count
            self._pages.clear()
            self._stale.clear()
            self._pages[0] = first
            self.endResetModel()
        else:
            self._take_page(0, first)
            if self._stale and self._count:
                self.dataChanged.emit(self.index(0, 0), self.index(self._count - 1, len(self.columns) - 1))
        self.counted.emit(count)

    def _tell_refusal(self, refusal: Refusal) -> None:
        self._count_job = None
        self._under_way.clear()
        self.refused.emit(refusal)
