"""Which columns of a register stand in the table, and in which order: a list beside it, worked by keyboard."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QListWidgetItem, QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.ticked_list import TickedList
from findsdesk.words import _

_KEY = Qt.ItemDataRole.UserRole
_WIDTH = 230


class _Columns(TickedList):
    moved = Signal(int)
    """The chosen column goes up (-1) or down (1)."""
    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        if event.key() in steps and event.modifiers() & Qt.KeyboardModifier.AltModifier:
            self.moved.emit(steps[Qt.Key(event.key())])
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)


class ColumnChoice(QWidget):
    """Space takes a column in or out, Alt and an arrow move it; the table follows at once."""

    chosen = Signal(object)
    """The keys of the columns that stand, in their order; at least one."""
    plain = Signal()
    """The register's own columns are wanted again."""
    left = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.list = _Columns()
        self.list.setAccessibleName(_("Columns"))
        self.list.setProperty("rows", True)
        self.up, self.down = QPushButton(_("Up")), QPushButton(_("Down"))
        self.own, self.done = QPushButton(_("As they were")), QPushButton(_("Done"))
        self._filling = False
        self._lay_out(theme)
        self.list.itemChanged.connect(lambda _item: self._tell())
        self.list.moved.connect(self._move)
        self.list.left.connect(self.left)
        self.up.clicked.connect(lambda: self._move(-1))
        self.down.clicked.connect(lambda: self._move(1))
        self.own.clicked.connect(self.plain)
        self.done.clicked.connect(self.left)

    def show_columns(self, columns: Sequence[tuple[str, str]], standing: Sequence[str]) -> None:
        """Show (key, heading) of all columns: those that stand in their order, then the others."""
        titles, row = dict(columns), self.list.currentRow()
        at = self.list.item(row).data(_KEY) if row >= 0 else ""
        order = [*standing, *(key for key, _title in columns if key not in standing)]
        self._filling = True
        self.list.clear()
        for key in order:
            item = QListWidgetItem(titles[key])
            item.setData(_KEY, key)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(Qt.CheckState.Checked if key in standing else Qt.CheckState.Unchecked)
            self.list.addItem(item)
        self.list.setCurrentRow(order.index(at) if at in order else 0)
        self._filling = False

    def standing(self) -> tuple[str, ...]:
        """Return the keys of the columns that are ticked, in their order."""
        items = (self.list.item(row) for row in range(self.list.count()))
        return tuple(str(item.data(_KEY)) for item in items if item.checkState() == Qt.CheckState.Checked)

    def _move(self, step: int) -> None:
        row = self.list.currentRow()
        if 0 <= row < self.list.count() and 0 <= row + step < self.list.count():
            self._filling = True
            self.list.insertItem(row + step, self.list.takeItem(row))
            self.list.setCurrentRow(row + step)
            self._filling = False
            self._tell()

    def _tell(self) -> None:
        if self._filling:
            return
        standing = self.standing()
        if standing:
            self.chosen.emit(standing)
        else:
            # A table without a column shows nothing that could be put right.
            self._filling = True
            self.list.item(max(self.list.currentRow(), 0)).setCheckState(Qt.CheckState.Checked)
            self._filling = False

    def _lay_out(self, theme: Theme) -> None:
        self.setFixedWidth(theme.px(_WIDTH))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(theme.px(8), 0, 0, 0)
        whole.addWidget(labels.muted(_("Space: in or out. Alt and an arrow: move."), small=True))
        whole.addWidget(self.list, 1)
        for pair in ((self.up, self.down), (self.own, self.done)):
            line = QHBoxLayout()
            for button in pair:
                button.setProperty("quiet", True)
                line.addWidget(button)
            whole.addLayout(line)
