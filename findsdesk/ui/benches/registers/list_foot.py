"""What stands below a list: the act with which it goes on, what leaves as file or paper, and the keys."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Signal
from PySide6.QtWidgets import QMenu, QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.bench import act_button
from findsdesk.ui.benches.registers.list_kinds import ListKind
from findsdesk.ui.benches.registers.lists import ASIDE, DEPOSITS, DISCARDS, EVERYWHERE, REDO
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.key_hints import KeyHints
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _


class ListFoot(QWidget):
    """Where height is dear, only the act stays, and what leaves goes behind the button ``more``."""

    file_wanted = Signal()
    paper_wanted = Signal()
    export_wanted = Signal()
    """Not this list alone: everything there is."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.begin = act_button("")
        self.redo = act_button("")
        self.file = QPushButton(_("Keep as a file …"))
        self.paper = QPushButton(_("Print …"))
        self.export = QPushButton(_("Export everything …"))
        self.more = QPushButton(_("More …"))
        """Stands elsewhere, beside the search."""
        self.hints = KeyHints(theme)
        self._low = False
        self._kind: ListKind = DEPOSITS
        self.file.clicked.connect(self.file_wanted)
        self.paper.clicked.connect(self.paper_wanted)
        self.export.clicked.connect(self.export_wanted)
        self.more.clicked.connect(self._show_more)
        px = theme.px
        self._buttons = QWidget()
        flow = FlowLayout(px(10), px(6))
        self._buttons.setLayout(flow)
        for part in (self.begin, self.redo, self.file, self.paper, self.export):
            flow.addWidget(part)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(px(8))
        whole.addWidget(self._buttons)
        whole.addWidget(self.hints)

    def show_list(self, kind: ListKind, around: WordsAround) -> None:
        """Show what goes with a list."""
        self._kind = kind
        self.begin.setText(around.say(kind.first_act or DEPOSITS.first_act))
        self.say_chosen(0, around)
        narrow = ((_("F4"), _("narrow")),) if kind.filters else ()
        ends = ((_("Enter"), _("show")), (_("Home"), _("first")), (_("End"), _("last")))
        views = ((_("F6"), _("views, columns")),) if kind.register is not None and not kind.fixed else ()
        self.hints.show_keys(((_("F3"), _("search")), *narrow, *views, *ends))
        self._show_parts()

    def make_low(self, low: bool) -> None:
        """Take less height."""
        self._low = low
        self._show_parts()

    def say_rows(self, rows: int) -> None:
        """Let only a list with rows leave."""
        for part in (self.file, self.paper, self.more):
            part.setEnabled(bool(rows))

    def say_chosen(self, chosen: int, around: WordsAround) -> None:
        """Say how many rows are chosen to be written again."""
        many = N_("Chosen: {n}, written again") if chosen else N_("Choose what is written again")
        self.redo.setText(around.say(many, n=chosen))
        self.redo.setEnabled(bool(chosen))

    def _show_parts(self) -> None:
        kind, low = self._kind, self._low
        leaves = kind not in (ASIDE, EVERYWHERE)
        self.begin.setVisible(kind in (DEPOSITS, DISCARDS))
        self.redo.setVisible(kind is REDO)
        self.file.setVisible(kind.register is not None and not low)
        self.paper.setVisible(leaves and not low)
        self.export.setVisible(not low)
        self.more.setVisible(leaves and low)
        self._buttons.setVisible(not low or kind in (DEPOSITS, DISCARDS, REDO))
        self.hints.setVisible(not low)

    def _show_more(self) -> None:
        """Open the menu of what leaves."""
        menu = QMenu(self)
        menu.setAccessibleName(self.more.text())
        if self._kind.register is not None:
            menu.addAction(self.file.text(), self.file_wanted.emit)
        menu.addAction(self.paper.text(), self.paper_wanted.emit)
        menu.addAction(self.export.text(), self.export_wanted.emit)
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self.more.mapToGlobal(QPoint(0, self.more.height())))
