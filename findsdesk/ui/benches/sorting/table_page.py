"""The table itself: the balance above, the rows, the row being typed, the last line large, what settling waits for."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from findsdesk.domain.balance import Decision
from findsdesk.ui.announcing import announce
from findsdesk.ui.bench import act_button
from findsdesk.ui.benches.sorting import table_words
from findsdesk.ui.benches.sorting.ask_line import AskLine
from findsdesk.ui.benches.sorting.below_line import BelowLine
from findsdesk.ui.benches.sorting.choice_field import ChoiceField
from findsdesk.ui.benches.sorting.choice_strip import ChoiceStrip
from findsdesk.ui.benches.sorting.choices import Choice
from findsdesk.ui.benches.sorting.entries_line import EntriesLine
from findsdesk.ui.benches.sorting.lines import TableLine
from findsdesk.ui.benches.sorting.row_fields import RowFields
from findsdesk.ui.benches.sorting.rows_view import RowsView
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.benches.sorting.table_keys import table_keys
from findsdesk.ui.benches.sorting.way_through import last_column
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.balance_bar import BalanceBar
from findsdesk.ui.widgets.big_line import BigLine
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.key_hints import KeyHints
from findsdesk.ui.widgets.slips import CautionSlip
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import _

LOW, ROOMY = 430, 760
"""Pixels of height, at 100 per cent: under the one the keys are left to the page of keys, from the other on the words
of a cell stand in two lines."""


class TablePage(QWidget):
    """Lays out the table and shows what the state says; does nothing by itself."""

    remove_wanted = Signal()
    leave_wanted = Signal()

    def __init__(self, surroundings: Surroundings, state: SortingState, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = surroundings.theme
        self.kept, self.count_note = CautionSlip(self.theme), labels.plain()
        self.bar, self.rows = BalanceBar(self.theme), RowsView(self.theme, state)
        self.fields = RowFields(surroundings, state.lists, self._columns_width)
        self.edit = RowFields(surroundings, state.lists, self._columns_width, self.rows.viewport())
        self.edit.stand_in_a_row()
        self.below = BelowLine(self.theme, self._columns_width)
        self.edit_below = BelowLine(self.theme, self._columns_width, self.rows.viewport())
        self.edit_below.stand_in_a_row()
        self.turn = labels.muted(small=True)
        self.strip, self.ask = ChoiceStrip(self.theme), AskLine(surroundings)
        self.big, self.hints, self.entries = BigLine(self.theme), KeyHints(self.theme), EntriesLine(surroundings)
        self.settle = act_button("")
        self.settle.setToolTip(_("Ctrl+Enter"))
        self.doubts, self.grams_note = labels.plain(), labels.plain()
        self.remove = QPushButton(_("Remove: Ctrl+Delete"))
        self.leave = QPushButton(_("Leave it: Esc"))
        self.what_waits, self.recount = QPushButton(_("What waits")), QPushButton(_("Count"))
        for button in (self.remove, self.leave, self.what_waits, self.recount):
            button.setProperty("quiet", True)
        for button in (self.remove, self.leave):
            # Else a click would take the keyboard out of the row first, and write it.
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.hints.show_keys(table_keys(last_column(state.lists.of_table.columns)))
        self._is_low = self._is_changing = False
        self._doubt = ""
        """Why the row being changed waits, where that is about none of its cells."""
        self.strip.picked.connect(self._pick)
        for fields in (self.fields, self.edit):
            fields.looked_at.connect(self._show_words_of)
            fields.edited.connect(self._say_below)
        self.rows.fitted.connect(self._align)
        self.remove.clicked.connect(self.remove_wanted)
        self.leave.clicked.connect(self.leave_wanted)
        self._lay_out()

    def _lay_out(self) -> None:
        foot = QHBoxLayout()
        for button in (self.settle, self.recount, self.what_waits, self.remove, self.leave):
            foot.addWidget(button)
        said = QVBoxLayout()
        said.addWidget(self.doubts)
        said.addWidget(self.grams_note)
        said.addWidget(self.turn)
        foot.addLayout(said, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        above: tuple[QWidget, ...] = (self.kept, self.bar, self.count_note)
        below: tuple[QWidget, ...] = (self.ask, self.big, self.hints, self.entries)
        for part in above:
            whole.addWidget(part)
        whole.addWidget(self.rows, 1)
        typing = QVBoxLayout()
        typing.setSpacing(1)
        typing.addWidget(self.fields)
        typing.addWidget(self.below)
        whole.addLayout(typing)
        whole.addWidget(self.strip)
        for part in below:
            whole.addWidget(part)
        whole.addLayout(foot)
        self._whole = whole

    def show_state(self, state: SortingState, changing: TableLine | None, around: WordsAround) -> None:
        """Show everything anew; what is being typed is not touched."""
        kept = table_words.kept_words(state, around)
        self.kept.show_caution(Caution("", kept) if kept else None)
        self.bar.show_parts(table_words.bar_parts(state))
        self._say(self.count_note, table_words.count_words(state, around))
        labels.restyle(self.count_note, wrong=bool(state.ledger().over))
        self.rows.show_lines()
        self.rows.mark(changing)
        doubt, self._doubt = self._doubt, table_words.doubt_of_no_cell(changing, state)
        if changing is not None and doubt != self._doubt:
            self._say_below()
        # While a row is changed its two buttons have the room.
        self._say(self.turn, table_words.turn_words(state) if changing is None else "")
        self._is_changing = changing is not None
        gives_up = changing is not None and changing.waits_changed
        self.remove.setText(_("Give up: Ctrl+Delete") if gives_up else _("Remove: Ctrl+Delete"))
        self._show_buttons()
        self.show_last(state)
        figures = list(table_words.ware_figures(state))
        if state.table is not None:
            figures += table_words.lifted_figures(state.table.lifted)
            figures += table_words.grams_figures(state.table.grams, state.accounted_tenths())
        self.entries.show_line(figures, state.table.entries if state.table else ())
        self._show_foot(state, around)

    def _show_buttons(self) -> None:
        """Offer what can be done with the row being changed, in the place of what can be done with the whole."""
        for button in (self.remove, self.leave):
            button.setVisible(self._is_changing)
        self.what_waits.setVisible(not self._is_changing)
        self.recount.setVisible(not (self._is_changing or self._is_low))

    def show_last(self, state: SortingState) -> None:
        """Show the row said last, large, and say it to who listens."""
        said = table_words.big_line(state)
        if said != self.big.text():
            self.big.show_text(said, quiet=state.last is None)
            announce(self.big, said)

    def _show_foot(self, state: SortingState, around: WordsAround) -> None:
        self.settle.setText(table_words.settle_words(state, around))
        self.settle.setEnabled(state.may_settle())
        self.recount.setText(_("Count again") if state.counted else _("Count it here"))
        self._say(self.doubts, table_words.doubt_words(state))
        labels.restyle(self.doubts, wrong=True)
        words, wrong = "", False
        if state.table is not None:
            words, wrong = table_words.grams_words(state.table.grams, state)
        self._say(self.grams_note, words)
        labels.restyle(self.grams_note, wrong=wrong, agreed=bool(words) and not wrong)

    @staticmethod
    def _say(label: QLabel, words: str) -> None:
        label.setText(labels.breakable(words))
        label.setVisible(bool(words))

    def show_asking(self, asking: bool) -> None:
        """Put the line that asks in the place of the row being typed, or the row back."""
        self.fields.setVisible(not asking)
        self.below.setVisible(not asking)
        self.strip.setVisible(not asking)

    def is_typed_in(self) -> bool:
        """Return whether the keyboard is in a row or a line in which something was begun."""
        if self.edit.has_keyboard() or (self.ask.asking is not None and self.ask.isAncestorOf(self.focusWidget())):
            return True
        return self.fields.has_keyboard() and not self.fields.typed().is_empty

    def fit_height(self, height: int) -> None:
        """Leave the keys to the page of keys where there is little room; the rows have what there is."""
        low = height < self.theme.px(LOW)
        self.hints.setVisible(not low)
        self.entries.make_low(low)
        self._is_low = low
        self._show_buttons()
        self.strip.show_lines(2 if height >= self.theme.px(ROOMY) else 1)
        self.big.setFixedHeight(self.theme.px(34 if low else 44))
        self._whole.setSpacing(self.theme.px(3 if low else 6))

    def hasHeightForWidth(self) -> bool:
        # Else the rows would be given the height they like best, and the page would scroll while they can be lower.
        return False

    def minimumSizeHint(self) -> QSize:
        return QSize(self._whole.minimumSize().width(), self._whole.minimumHeightForWidth(max(1, self.width())))

    def sizeHint(self) -> QSize:
        return QSize(self._whole.sizeHint().width(), self._whole.heightForWidth(max(1, self.width())))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self.updateGeometry()

    def use_lists(self, state: SortingState) -> None:
        """Fill the cells from the lists of the state, and show the columns they say; what is typed stays."""
        security = state.table.security if state.table is not None else ""
        for fields in (self.fields, self.edit):
            fields.use_lists(state.lists, security)
            fields.mark_mistakes()
        self.below.columns = self.edit_below.columns = columns = state.lists.of_table.columns
        self.hints.show_keys(table_keys(last_column(columns)))
        self.rows.show_lines()
        self.rows.fit_columns()
        # What stood here before the lists were read was held against none.
        self._say_below()

    def _columns_width(self) -> int:
        return self.rows.viewport().width()

    def _pick(self, field: ChoiceField, choice: Choice) -> None:
        field.pick(choice)
        field.setFocus()
        field.textEdited.emit(field.text())

    def _at_hand(self) -> RowFields:
        return self.edit if self.edit.isVisible() else self.fields

    def _show_words_of(self, field: ChoiceField | None) -> None:
        self.strip.show_for(field, self._at_hand().hint())
        self._say_below()

    def _say_below(self) -> None:
        """Say what is wrong in a cell that was left, else by which rule the row is decided, or nothing, at the row."""
        fields = self._at_hand()
        below, other = (self.edit_below, self.below) if fields is self.edit else (self.below, self.edit_below)
        other.say("", "")
        wrong = fields.mistakes()
        column = next((one for one in fields.columns if one in wrong), "")
        rule, passed_over = fields.deciding.by_rules()
        if column:
            below.say(column, wrong[column], wrong=True)
        elif fields is self.edit and self._doubt:
            below.say(fields.columns[0], self._doubt, wrong=True)
        elif fields.deciding.overrides():
            kept = fields.deciding.proposal.rule
            below.say("decision", _("“{rule}” keeps it: say why").format(rule=kept), wrong=fields.asks_why())
        elif fields.deciding.held_as_late and fields.decided() is Decision.HOLD:
            below.say("decision", _("looks late here: held, for somebody to look at"))
        elif fields.asks_why():
            below.say("reason", _("A discard needs a reason: a number or a word of the list"), wrong=True)
        elif passed_over:
            said = bool(fields.typed().reason.strip())
            below.say("decision", (_("against “{rule}”") if said else _("against “{rule}”: say why")).format(rule=rule))
        else:
            below.say("decision", table_words.decided_by(rule, fields.deciding.moved_from()))

    def _align(self) -> None:
        for fields in (self.fields, self.edit):
            fields.updateGeometry()
            layout = fields.layout()
            if layout is not None:
                layout.setGeometry(fields.rect())
        self.below.update()
        self.edit_below.update()
