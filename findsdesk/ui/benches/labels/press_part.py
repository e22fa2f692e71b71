"""Print, keep, read back; then the question whether they came out well; then which did not, and why."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.ui.bench import act_button
from findsdesk.ui.benches.labels import label_words
from findsdesk.ui.benches.labels.state import LabelsState, Phase
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.words import _


class PressPart(QWidget):
    """Only what can be done now is shown."""

    reason_given = Signal(str)
    """Why labels are printed again, as the key of one of the three reasons."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.print_button, self.save = act_button(_("Print")), QPushButton(_("Save PDF"))
        self.view = QPushButton(_("Open as PDF"))
        self.no_printer = labels.muted(_("No printer is set up here: the PDF is printed from your viewer."), small=True)
        self.read_back, self.leave = QPushButton(_("Read back")), QPushButton(_("Leave the reprint"))
        self.read_line, self.batch_line = labels.plain(), labels.muted()
        self.asked, self.all_well = labels.bold(wrap=True), act_button("")
        self.some_spoiled, self.not_printed = QPushButton(_("Some are spoiled")), QPushButton(_("Back"))
        self.spoiled_line, self.back = labels.bold(wrap=True), QPushButton(_("None is spoiled"))
        self.reasons: dict[str, QPushButton] = {}
        self._pages = OneOf()
        self._flows: list[FlowLayout] = []
        self._looking, self._question, self._spoiled = QWidget(), QWidget(), QWidget()
        self._fill_looking()
        self._fill_question()
        self._fill_spoiled()
        for page in (self._looking, self._question, self._spoiled):
            self._pages.add_page(page)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._pages)

    def _fill_looking(self) -> None:
        layout = _column(self._looking)
        layout.addWidget(self.batch_line)
        layout.addWidget(self._flowing(self.print_button, self.view, self.save, self.read_back, self.leave))
        layout.addWidget(self.read_line)

    def _fill_question(self) -> None:
        layout = _column(self._question)
        layout.addWidget(self.asked)
        layout.addWidget(labels.muted(_("Print at actual size (100 %), never “fit to page”."), small=True))
        layout.addWidget(self.no_printer)
        layout.addWidget(self._flowing(self.all_well, self.some_spoiled, self.not_printed))

    def _fill_spoiled(self) -> None:
        layout = _column(self._spoiled)
        layout.addWidget(self.spoiled_line)
        layout.addWidget(labels.muted(_("Click each spoiled label or scan it, then say why:"), small=True))
        for place, (key, words) in enumerate(label_words.reasons(), start=1):
            button = QPushButton(f"{place}  {words}")
            button.setProperty("quiet", True)
            button.clicked.connect(lambda _checked=False, key=key: self.reason_given.emit(key))
            self.reasons[key] = button
        layout.addWidget(self._flowing(*self.reasons.values(), self.back))

    def show_state(self, state: LabelsState) -> None:
        """Show what can be done with the labels on screen."""
        page = {Phase.LOOKING: self._looking, Phase.OUT: self._question, Phase.SPOILED: self._spoiled}[state.phase]
        self._pages.show_page(page)
        there = state.sheets is not None
        self.print_button.setText(label_words.print_button(state))
        for button in (self.print_button, self.save, self.read_back):
            button.setEnabled(there)
        self.view.setVisible(bool(state.machine_printers))
        self.view.setEnabled(there)
        self.no_printer.setVisible(state.machine_printers == ())
        self.batch_line.setText(label_words.batch_line(state))
        self.batch_line.setVisible(there)
        self.leave.setVisible(state.reprint is not None)
        self._show_read_back(state)
        self.asked.setText(label_words.question(state))
        self.all_well.setText(label_words.all_well_button(state))
        self.spoiled_line.setText(label_words.spoiled_line(state))
        for button in self.reasons.values():
            button.setEnabled(bool(state.spoiled))

    def _show_read_back(self, state: LabelsState) -> None:
        read = state.read_back
        self.read_line.setText(label_words.read_back_line(read) if read else "")
        labels.restyle(self.read_line, agreed=bool(read and read.all_well), wrong=bool(read and not read.all_well))

    def act(self, state: LabelsState) -> QPushButton:
        """Return the button that is the next act."""
        return self.all_well if state.phase is Phase.OUT else self.print_button

    def space(self, gap: int) -> None:
        """Set the gap between the lines, in pixels."""
        for page in (self._looking, self._question, self._spoiled):
            layout = page.layout()
            if layout is not None:
                layout.setSpacing(gap)
        for flow in self._flows:
            flow.set_gaps(gap, gap)
        # Its room is kept: an answer below the fold is not seen, and a sheet that jumps is clicked wrongly.
        self.read_line.setMinimumHeight(self.read_line.fontMetrics().lineSpacing())

    def _flowing(self, *buttons: QPushButton) -> QWidget:
        """Return buttons side by side, or below one another where there is no room."""
        holder, flow = QWidget(), FlowLayout()
        holder.setLayout(flow)
        holder.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        for button in buttons:
            flow.addWidget(button)
        self._flows.append(flow)
        return holder


def _column(page: QWidget) -> QVBoxLayout:
    layout = QVBoxLayout(page)
    layout.setContentsMargins(0, 0, 0, 0)
    return layout
