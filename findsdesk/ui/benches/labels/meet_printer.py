"""Meeting a printer: its name, its test page, and the four lengths somebody measured on it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.desk.printers import RESOLUTIONS, Printer, lengths_to_measure
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.bench import act_button
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.number_field import NumberField, calliper
from findsdesk.words import N_, _, put

_FAR_MM = 10
"""Millimetres off its line, beyond which a length is more likely misread than the printer's fault."""


class MeetPrinter(QWidget):
    """What is typed stays until the printer is kept or the page is left."""

    page_wanted = Signal(bool)
    """The test page is to be written, and (True) opened to be printed."""
    keep_wanted = Signal()
    forget_wanted = Signal(str)
    """The name of a printer that was met, to be forgotten."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = surroundings.theme
        self._known: tuple[Printer, ...] = ()
        self._paper = ""
        self.name, self.dpi = _name_box(), ChoiceBox()
        self.dpi.setAccessibleName(_("Dots an inch of the printer"))
        for dpi in RESOLUTIONS:
            self.dpi.addItem(put(N_("{dpi} dpi"), None, {"dpi": dpi}), dpi)
        self.print_page, self.save_page = QPushButton(_("Print the test page")), QPushButton(_("Save PDF"))
        self.keep, self.leave = act_button(_("Keep the printer")), QPushButton(_("Back"))
        self.forget = QPushButton(_("Forget it"))
        from_left, from_top = _("{line}, from the left edge"), _("{line}, from the top edge")
        names = [text.format(line=line) for line, text in zip("ABCD", (from_left,) * 2 + (from_top,) * 2, strict=True)]
        self.lengths = [NumberField(calliper(), name, surroundings.terms) for name in names]
        self.expected = labels.muted(small=True)
        self._flows: list[FlowLayout] = []
        self._grid = QGridLayout()
        self._fill()
        self.name.editTextChanged.connect(self._named)
        self.print_page.clicked.connect(lambda: self.page_wanted.emit(True))
        self.save_page.clicked.connect(lambda: self.page_wanted.emit(False))
        self.keep.clicked.connect(self.keep_wanted)
        self.forget.clicked.connect(lambda: self.forget_wanted.emit(self.said_name()))
        self.lengths[-1].entered.connect(lambda _value: self.keep_wanted.emit())

    def _fill(self) -> None:
        card = Card(self.theme, _("Meet a printer"))
        measure = _(
            "3. Measure with a steel rule: from the paper's left edge to A and B, from its top edge to C and D."
        )
        body = card.body
        body.addWidget(labels.plain(_("1. Say what the printer is called here, and how many dots an inch it has.")))
        body.addWidget(self._line(self.name, self.dpi))
        body.addWidget(labels.plain(_("2. Print its test page on the paper that is chosen for the labels.")))
        body.addWidget(labels.bold(_("Print at actual size (100 %), never “fit to page”."), wrap=True))
        body.addWidget(self._line(self.print_page, self.save_page))
        body.addWidget(labels.plain(measure))
        body.addWidget(self.expected)
        for place, (line, field) in enumerate(zip("ABCD", self.lengths, strict=True)):
            column, row = divmod(place, 2)
            self._grid.addWidget(labels.bold(line), 2 * row, 2 * column)
            self._grid.addWidget(field, 2 * row, 2 * column + 1)
            self._grid.addWidget(field.said(), 2 * row + 1, 2 * column, 1, 2)
        for column in (1, 3):
            self._grid.setColumnStretch(column, 1)
        body.addLayout(self._grid)
        body.addWidget(self._line(self.keep, self.forget, self.leave))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(card)
        layout.addStretch(1)

    def begin(self, known: tuple[Printer, ...], name: str, paper: str) -> None:
        """Begin with the printer that is chosen, or with none; the lengths are typed anew."""
        for field in self.lengths:
            field.set_value(None)
        self._known, self._paper = known, paper
        self.name.clear()
        self.name.addItems([one.name for one in known])
        self.name.setCurrentIndex(self.name.findText(name))
        self.name.setEditText(name)
        self._named(name)

    def show_known(self, known: tuple[Printer, ...]) -> None:
        """Take note of printers whose test page was kept meanwhile; what is typed stays."""
        self._known = known
        self._say_expected()

    def _named(self, _text: str) -> None:
        printer = self._printer()
        self.forget.setEnabled(printer is not None)
        if printer is not None:
            self.dpi.setCurrentIndex(self.dpi.findData(printer.dpi))
        self._say_expected()

    def _printer(self) -> Printer | None:
        said = folded(self.name.currentText())
        return next((one for one in self._known if folded(one.name) == said), None)

    def _lines(self) -> tuple[float, ...]:
        """Return where the lines A to D of the printer's test page were drawn, in millimetres."""
        printer = self._printer()
        return tuple(lengths_to_measure(printer.test_page.paper if printer and printer.test_page else self._paper))

    def _say_expected(self) -> None:
        lines = {name: f"{length:g}" for name, length in zip("abcd", self._lines(), strict=True)}
        self.expected.setText(put(N_("From a true printer: A {a}, B {b}, C {c}, D {d} mm."), None, lines))

    def said_name(self) -> str:
        """Return the name that stands in the field."""
        return self.name.currentText().strip()

    def said_dpi(self) -> int:
        """Return the dots an inch that are chosen."""
        return int(self.dpi.currentData())

    def measured(self) -> tuple[int, int, int, int] | None:
        """Return the four lengths in tenths of a millimetre, or None where none was typed.

        Refusals: ``lengths_missing`` where some are there and some not, those of the field that is wrong.
        """
        for line, field in zip("ABCD", self.lengths, strict=True):
            if not field.judge():
                raise Refusal("length_wrong", N_("{line}: {why}"), line=line, why=field.wrong())
        a, b, c, d = (field.value() for field in self.lengths)
        if a is None and b is None and c is None and d is None:
            return None
        if a is None or b is None or c is None or d is None:
            missing = [line for line, field in zip("ABCD", self.lengths, strict=True) if field.value() is None]
            text = N_("{lines} is missing. Enter all four lengths, A to D, or none of them.")
            raise Refusal("lengths_missing", text, lines=", ".join(missing))
        return a, b, c, d

    def mark(self, refusal: Refusal) -> None:
        """Mark the lengths a refusal is about: those that are missing, or those far from where their line was drawn."""
        expected = self._lines()
        for field, length in zip(self.lengths, expected, strict=True):
            try:
                value = field.value()
            except Refusal:
                continue
            if refusal.code == "lengths_missing" and value is None:
                field.refuse(put(N_("Measure it, or empty the other three.")))
            if refusal.code == "not_a_calibration" and value is not None and abs(value / 10 - length) > _FAR_MM:
                field.refuse(put(N_("A true printer has {mm} mm here."), None, {"mm": f"{length:g}"}))
        wrong = next((field for field in self.lengths if field.wrong()), None)
        if wrong is not None:
            wrong.line.setFocus(Qt.FocusReason.OtherFocusReason)
            wrong.line.selectAll()

    def space(self, gap: int) -> None:
        """Set the gap between the parts, in pixels."""
        for flow in self._flows:
            flow.set_gaps(gap, gap)
        self._grid.setHorizontalSpacing(gap)
        self._grid.setVerticalSpacing(gap)
        self.name.setMinimumWidth(self.theme.px(160))
        for field in self.lengths:
            field.line.setFixedWidth(self.theme.px(80))

    def _line(self, *parts: QWidget) -> QWidget:
        holder, flow = QWidget(), FlowLayout()
        holder.setLayout(flow)
        holder.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        for part in parts:
            flow.addWidget(part)
        self._flows.append(flow)
        return holder


def _name_box() -> ChoiceBox:
    box = ChoiceBox()
    box.setEditable(True)
    box.setInsertPolicy(ChoiceBox.InsertPolicy.NoInsert)
    box.setAccessibleName(_("What the printer is called here"))
    typed = box.lineEdit()
    if typed is not None:
        typed.setAccessibleName(_("What the printer is called here"))
    return box
