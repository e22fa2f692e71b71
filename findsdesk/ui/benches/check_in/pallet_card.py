"""The pallet: what was listed and arrived that day, what is missing, what is on no list. A row leads to the thing."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from findsdesk.ui.benches.check_in.state import PalletState
from findsdesk.ui.models.cells import Column
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.day_field import DayField
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.words import N_, _

_SQUARE, _FROM = 3, 5
"""Columns that the dossier has as well, left out where the others would be cut."""
_TABLE = 200
"""Pixels of height, at 100 per cent, that the table keeps: a head and five rows."""


class PalletCard(Card):
    """The table of a day's delivery, the day itself, and the further acts at the pallet."""

    opened = Signal(str)
    """The code of a row."""
    day_chosen = Signal(object)

    def __init__(self, surroundings: Surroundings, acts: Sequence[QPushButton]) -> None:
        say = surroundings.words
        super().__init__(surroundings.theme)
        self.model = ShortTable(
            (
                Column(say(N_("{Container}"))),
                Column(_("Where it is"), grows=True),
                Column(say(N_("{Deposit}"))),
                Column(say(N_("{Square}"))),
                Column(_("Material")),
                Column(_("From")),
            )
        )
        self.table = TableView(self.theme, _("The pallet"))
        self.table.setModel(self.model)
        self.table.may_leave_out((_FROM, _SQUARE))
        self.table.opened.connect(lambda code: self.opened.emit(str(code)))
        text = N_("Nothing is listed for this day and nothing came. Scan what stands here, or take in the field lists.")
        self.nothing = EmptySlip(self.theme, say(text))
        self.day = DayField(_("Day of the delivery"))
        self.day.returnPressed.connect(self._choose_day)
        self.today = QPushButton(_("Today"))
        self.today.setProperty("quiet", True)
        self.today.clicked.connect(lambda: self.day_chosen.emit(None))
        head = QHBoxLayout()
        head.addWidget(labels.group(_("The pallet of")))
        head.addWidget(self.day)
        head.addWidget(self.today)
        head.addStretch(1)
        self.body.addLayout(head)
        self.body.addWidget(self.table, 1)
        self.body.addWidget(self.nothing, 1)
        holder = QWidget()
        flow = FlowLayout(self.theme.px(8), self.theme.px(6))
        holder.setLayout(flow)
        for act in acts:
            flow.addWidget(act)
        self.body.addWidget(holder)
        self._fix_lengths()
        self.theme.changed.connect(self._fix_lengths)

    def _fix_lengths(self) -> None:
        self.day.setMaximumWidth(self.theme.px(160))
        self.table.setMinimumHeight(self.theme.px(_TABLE))

    def show_state(self, state: PalletState, day: date, *, is_today: bool) -> None:
        """Show a delivery."""
        self.model.show_rows(state.rows)
        self.table.setVisible(bool(state.rows))
        self.nothing.setVisible(not state.rows)
        if not self.day.hasFocus():
            self.day.show_day(day)
        self.today.setVisible(not is_today)

    def _choose_day(self) -> None:
        if self.day.day() is not None:
            self.day_chosen.emit(self.day.day())
