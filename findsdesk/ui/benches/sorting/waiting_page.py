"""What lies on the table and what is dry and waits for it: shown while nothing is in hand."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from findsdesk.desk.shipped import route_of
from findsdesk.desk.sorting_table import WaitingContainer
from findsdesk.desk.wanting_why import WantingWhy
from findsdesk.domain.routes import Standing
from findsdesk.domain.standings import HOLD_IN_WORDS
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.benches.sorting.lines import Saved, TableLines
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.slips import CautionSlip, EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround, pieces_in_words
from findsdesk.words import N_, _, grouped, plural


class WaitingPage(QWidget):
    """Enter or a double click takes a container in hand, as scanning its tag does."""

    chosen = Signal(str)
    """The code of the container."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(_("What waits"))
        say = surroundings.words
        self.model = ShortTable(
            (
                Column(say(N_("{Container}"))),
                Column(say(N_("{Deposit}"))),
                Column(say(N_("{Square}"))),
                Column(_("Counted"), figures=True),
                Column(_("Left"), figures=True),
                Column(_("Where it stands"), grows=True),
            ),
            self,
        )
        self.table = TableView(surroundings.theme, say(N_("Dry {containers} that wait")))
        self.table.setModel(self.model)
        self.table.opened.connect(lambda code: self.chosen.emit(str(code)))
        self.unwritten, self.wanting_why = CautionSlip(surroundings.theme), labels.plain()
        self._surroundings = surroundings
        self.empty = EmptySlip(
            surroundings.theme,
            say(N_("Nothing is dry and waits. Here stand the {containers} that are ready to be sorted.")),
            _("Go to the wash yard"),
        )
        self.empty.act.connect(lambda: surroundings.open_bench.emit("wash"))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.unwritten)
        layout.addWidget(self.wanting_why)
        layout.addWidget(self.table, 1)
        layout.addWidget(self.empty, 1)

    def show_waiting(self, waiting: Sequence[WaitingContainer], around: WordsAround) -> None:
        """Show what waits, what lies on the table first."""
        self.model.show_rows([waiting_row(one, around) for one in waiting])
        self.table.setVisible(bool(waiting))
        self.empty.setVisible(not waiting)
        if self.hasFocus():
            self.take_keyboard()

    def take_keyboard(self) -> None:
        """Give the keyboard to the list; as long as it is not read the page has it, and nothing beside the bench."""
        wanted = self.table if self.model.rows else self
        wanted.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_unwritten(self, tables: Sequence[TableLines]) -> None:
        """Say of which containers rows are typed and not written."""
        told = [_unwritten(one) for one in tables]
        words = self._surroundings.words(
            N_("Typed and not written: {rows}. They are there again when the {container} is taken in hand."),
            rows="; ".join(told),
        )
        self.unwritten.show_caution(Caution("", words) if told else None)

    def show_wanting_why(self, containers: Sequence[WantingWhy]) -> None:
        """Say in which containers something is decided against a rule and says no reason."""
        told = [f"{one.number} ({plural('{n} row', '{n} rows', one.rows)})" for one in containers[:_NAMED]]
        more = len(containers) - _NAMED
        words = self._surroundings.words(
            N_("Decided against a rule, no reason yet: {containers}. In hand, F2 leads there."),
            containers=", ".join([*told, *([_("{n} more").format(n=grouped(more))] if more > 0 else [])]),
        )
        self.wanting_why.setText(labels.breakable(words) if told else "")
        self.wanting_why.setVisible(bool(told))


_NAMED = 8
"""So many containers are named before the others are counted."""


def _unwritten(table: TableLines) -> str:
    """Return what of a container is not written: 80: half a row, 2 rows in doubt."""
    rows = sum(1 for line in table.lines if line.saved is not Saved.WRITTEN)
    half = [_("half a row")] if table.half_typed is not None else []
    told = [*half, *([plural("{n} row in doubt", "{n} rows in doubt", rows)] if rows else [])]
    return f"{table.number}: {', '.join(told)}"


def waiting_row(one: WaitingContainer, around: WordsAround) -> TableRow:
    """Return a waiting container as a row: a hold-back wears a madder edge and says why."""
    route = route_of(one.material)
    counted = pieces_in_words(route, one.pieces) if one.pieces else _("not counted")
    return TableRow(
        row_id=one.code,
        cells=(
            Cell(one.number, strong=True),
            Cell(one.deposit or "–"),
            Cell(one.square or "–"),
            Cell(counted),
            _left(one),
            Cell(_stands(one, around), "madder" if one.held_for else ""),
        ),
        late=one.held_for is not None,
    )


def _left(one: WaitingContainer) -> Cell:
    """Return how many are left to be read, or how many more were read than came in; nothing where none was counted."""
    if not one.pieces:
        return Cell("")
    if one.unsorted < 0:
        return Cell(_("{n} over").format(n=grouped(-one.unsorted)), "madder")
    return Cell(grouped(one.unsorted))


def _stands(one: WaitingContainer, around: WordsAround) -> str:
    since = times.since(one.since, around.now, around.zone) if one.since else ""
    if one.standing is Standing.SORTING:
        stands = around.say(N_("on the table {since}"), since=since)
    elif one.standing is Standing.DRY:
        stands = around.say(N_("dry {since}"), since=since)
    else:
        stands = around.say(N_("should be dry, laid out {since}"), since=since)
    if one.held_for is not None:
        return around.say(N_("{stands}, held back: {why}"), stands=stands, why=around.say(HOLD_IN_WORDS[one.held_for]))
    return stands
