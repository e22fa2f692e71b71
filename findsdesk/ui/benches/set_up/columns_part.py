"""The columns of the sorting table: which are typed and in what order, chosen by keyboard."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QListWidgetItem, QVBoxLayout, QWidget

from findsdesk.desk.changing_excavation import change_excavation
from findsdesk.desk.desk import Desk
from findsdesk.domain.settings import Settings
from findsdesk.domain.sorting_columns import COLUMN_IN_WORDS, NEEDED, checked_columns
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.key_hints import KeyHints
from findsdesk.ui.widgets.said_over import SaidOver
from findsdesk.ui.widgets.ticked_list import TickedList
from findsdesk.words import N_, _, put

_KEY = Qt.ItemDataRole.UserRole
_UP, _DOWN = Qt.Key.Key_Up, Qt.Key.Key_Down


class ColumnList(TickedList):
    """Every column, those that are typed ticked and in their order; Space ticks, Alt with an arrow key moves."""

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("rows", True)
        self.setAccessibleName(_("Columns of the sorting table"))
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)

    def show_columns(self, typed: tuple[str, ...]) -> None:
        """Show the columns that are typed in their order, the others after them."""
        self.clear()
        for key in (*typed, *(key for key in COLUMN_IN_WORDS if key not in typed)):
            item = QListWidgetItem(put(COLUMN_IN_WORDS[key]))
            item.setData(_KEY, key)
            flags = Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEnabled
            item.setFlags(flags if key in NEEDED else flags | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(Qt.CheckState.Checked if key in typed else Qt.CheckState.Unchecked)
            self.addItem(item)
        self.setCurrentRow(0)

    def typed(self) -> tuple[str, ...]:
        """Return the ticked columns in their order."""
        items = (self.item(row) for row in range(self.count()))
        return tuple(item.data(_KEY) for item in items if item.checkState() is Qt.CheckState.Checked)

    def move_column(self, step: int) -> None:
        """Move the column under the cursor up (-1) or down (1)."""
        place = self.currentRow()
        if 0 <= place + step < self.count():
            self.insertItem(place + step, self.takeItem(place))
            self.setCurrentRow(place + step)

    def sizeHint(self) -> QSize:
        row = self.sizeHintForRow(0) if self.count() else self.fontMetrics().height()
        return QSize(super().sizeHint().width(), row * max(1, self.count()) + 2 * self.frameWidth() + 4)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.modifiers() & Qt.KeyboardModifier.AltModifier and event.key() in (_UP, _DOWN):
            self.move_column(-1 if event.key() == _UP else 1)
        else:
            super().keyPressEvent(event)


class ColumnsPart(QWidget):
    """What stands here is what is typed at every station from now on."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench = bench
        self.columns = ColumnList()
        self.over = SaidOver(self.columns)
        self.asked = self.over.asked
        self.button = act_button(_("Write the changes"))
        self.button.clicked.connect(self.write)
        self.hints = KeyHints(bench.theme)
        self.hints.show_keys(((_("Space"), _("typed or not")), ("Alt+↑ ↓", _("earlier or later"))))
        self.note = labels.muted(small=True)
        self._shown: tuple[str, ...] = ()
        self.columns.itemChanged.connect(lambda _item: self._say_what_is_lost())
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(bench.theme.px(10))
        layout.addWidget(
            labels.plain(_("What is typed of each group, in this order. Enter goes from one to the next."))
        )
        layout.addWidget(self.over, 1)
        layout.addWidget(self.hints)
        layout.addWidget(self.note)
        layout.addWidget(self.button, alignment=Qt.AlignmentFlag.AlignLeading)
        layout.addStretch(0)

    def refresh(self) -> None:
        """Show what holds now; what somebody is changing stays."""
        typed = self.bench.surroundings.desk.facts.settings.sorting_columns
        if not self._shown or self.columns.typed() == self._shown:
            self.columns.show_columns(typed)
            self._shown = typed

    def _say_what_is_lost(self) -> None:
        typed = self.columns.typed()
        without = put(N_("Without wares nothing is dated and no figure can be told by ware."))
        self.note.setText("" if "ware" in typed else without)

    def write(self) -> None:
        """Write the columns as one act."""
        desk, typed = self.bench.surroundings.desk, self.columns.typed()
        self.bench.deed(lambda: _write(desk, typed), then=lambda _done: self._written(typed), button=self.button)

    def _written(self, typed: tuple[str, ...]) -> None:
        self._shown = typed
        self.columns.setFocus()
        self.bench.surroundings.say(Answer(Tone.DONE, _("Written"), put(N_(": it holds from now on"))))


def _write(desk: Desk, typed: tuple[str, ...]) -> None:
    plain = desk.facts.settings.as_plain() | {"sorting_columns": list(checked_columns(typed))}
    change_excavation(desk, settings=Settings.from_plain(plain))
