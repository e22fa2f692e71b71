"""On what the labels are printed: the stock in words, and where the begun sheet begins."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.laying_out import MOST_COPIES
from findsdesk.desk.printing import StockFacts
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.set_up_numbers import read_whole
from findsdesk.ui.benches.labels.state import LabelsState
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.number_field import Measure, NumberField
from findsdesk.words import N_, _, put


class StockPart(QWidget):
    """Choosing another stock lays the labels out anew."""

    stock_chosen = Signal(str)
    begin_at = Signal(int)
    copies_wanted = Signal(int)
    """How often each label is printed."""
    printer_chosen = Signal(str)
    """The name of a printer that was met, or empty: as it is."""
    meet_wanted = Signal()
    measure_wanted = Signal()
    layout_wanted = Signal()

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.stock = ChoiceBox()
        self.stock.setAccessibleName(_("Label stock"))
        self.stock.setSizeAdjustPolicy(ChoiceBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self._shown_stocks: tuple[StockFacts, ...] = ()
        self.layout_button = QPushButton(_("What stands on it …"))
        self.layout_button.setProperty("quiet", True)
        self.printer = ChoiceBox()
        self.printer.setAccessibleName(_("Printer"))
        self.printer.setSizeAdjustPolicy(ChoiceBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self._place = 0
        self._is_low = False
        self._shown_printers: list[tuple[str, str | None]] = []
        self._places = 1
        self.first = NumberField(Measure(self._read_place, "", 1), _("Sheet 1 begins at label"), surroundings.terms)
        self.theme = surroundings.theme
        self.copies = NumberField(Measure(_read_copies, "", 1), _("Copies of each label"), surroundings.terms)
        self._begin = QWidget()
        row = QHBoxLayout(self._begin)
        row.setContentsMargins(0, 0, 0, 0)
        self._before = labels.plain(_("Begins at label"), wrap=False)
        for part in (self._before, self.first, labels.plain(_("Copies"), wrap=False), self.copies):
            row.addWidget(part)
        row.addStretch(1)
        self.hint = labels.muted(_("Or click the label where it begins."), small=True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        head = QHBoxLayout()
        head.addWidget(labels.group(_("On")), 1)
        head.addWidget(self.layout_button)
        layout.addLayout(head)
        layout.addWidget(self.stock)
        layout.addWidget(self.printer)
        layout.addWidget(self._begin)
        layout.addWidget(self.first.said())
        layout.addWidget(self.copies.said())
        layout.addWidget(self.hint)
        self._layout = layout
        self.stock.activated.connect(self._stock_chosen)
        self.layout_button.clicked.connect(self.layout_wanted)
        self.printer.activated.connect(self._printer_chosen)
        self.first.settled.connect(self._told)
        self.copies.settled.connect(self._told_copies)

    def show_state(self, state: LabelsState) -> None:
        """Show the stock and where its first sheet begins; what is being typed stays."""
        stock = state.stock()
        self._show_stocks(state.stocks)
        self.stock.setCurrentIndex(self.stock.findData(stock.name))
        self.stock.setToolTip(stock.title)
        self._show_printers(state)
        self._places = len(stock.places)
        sheet = stock.kind != "roll"
        for part in (self._before, self.first):
            part.setVisible(sheet)
        self.hint.setVisible(sheet and not self._is_low)
        begins = state.first_free()
        typing = self.first.line.hasFocus() and self.first.line.isModified()
        # Written anew it would lose what is marked in it to be typed over.
        if not typing and self.first.line.text() != str(begins):
            self.first.set_value(begins)
        typing = self.copies.line.hasFocus() and self.copies.line.isModified()
        if not typing and self.copies.line.text() != str(state.copies):
            self.copies.set_value(state.copies)

    def _show_stocks(self, stocks: tuple[StockFacts, ...]) -> None:
        if stocks == self._shown_stocks:
            return
        self._shown_stocks = stocks
        self.stock.clear()
        for one in stocks:
            self.stock.addItem(one.title, one.name)
            self.stock.setItemData(self.stock.count() - 1, one.title, Qt.ItemDataRole.ToolTipRole)
        self.stock.addItem(_("Measure a stock …"), None)

    def _stock_chosen(self, place: int) -> None:
        name = self.stock.itemData(place)
        if name is not None:
            self.stock_chosen.emit(str(name))
            return
        self.measure_wanted.emit()

    def _show_printers(self, state: LabelsState) -> None:
        lines: list[tuple[str, str | None]] = [(_("Printer: as it is"), "")]
        for one in state.printers:
            text = N_("Printer: {name}") if one.measured else N_("Printer: {name}, not measured")
            lines.append((put(text, None, {"name": one.name}), one.name))
        lines.append((_("Meet a printer …"), None))
        if lines != self._shown_printers:
            self._shown_printers = lines
            self.printer.clear()
            for words, name in lines:
                self.printer.addItem(words, name)
        self._place = [name for _words, name in lines].index(state.printer)
        self.printer.setCurrentIndex(self._place)

    def _printer_chosen(self, place: int) -> None:
        name = self._shown_printers[place][1]
        if name is not None:
            self.printer_chosen.emit(name)
            return
        self.printer.setCurrentIndex(self._place)
        self.meet_wanted.emit()

    def _read_place(self, text: str) -> int:
        """Read the number of a label on the sheet; refuses ``no_such_label`` beside what ``read_whole`` does."""
        place = read_whole(text)
        if not 1 <= place <= self._places:
            raise Refusal("no_such_label", N_("The sheet has labels 1 to {n}. Type one of them."), n=self._places)
        return place

    def make_low(self, low: bool) -> None:
        """Leave the hint out where there is no height for it; the keys beside the sheet say the same."""
        self._is_low = low
        self.hint.setVisible(not low and not self.first.isHidden())

    def space(self, gap: int) -> None:
        """Set the gap between the lines, in pixels."""
        self._layout.setSpacing(gap)
        self.first.line.setFixedWidth(self.theme.px(56))
        self.copies.line.setFixedWidth(self.theme.px(48))

    def _told(self, value: int | None) -> None:
        self.first.line.setModified(False)
        if value is not None:
            self.begin_at.emit(value)

    def _told_copies(self, value: int | None) -> None:
        self.copies.line.setModified(False)
        self.copies_wanted.emit(value or 1)


def _read_copies(text: str) -> int:
    """Read how often each label is printed; refuses ``no_such_copies`` beside what ``read_whole`` does."""
    copies = read_whole(text)
    if not 1 <= copies <= MOST_COPIES:
        raise Refusal(
            "no_such_copies", N_("Each label is printed 1 to {most} times. Type one of them."), most=MOST_COPIES
        )
    return copies
