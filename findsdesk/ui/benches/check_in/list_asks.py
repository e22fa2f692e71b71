"""What is asked of a whole field list: how its dates are written, and what it leaves out in every row."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.day_field import DayField
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.slips import RefusalSlip
from findsdesk.words import _


class ListQuestion(QWidget):
    """One question about the whole list, with its answers as buttons."""

    answered = Signal(str, str)
    """The code of the question and the choice."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.slip = RefusalSlip(theme)
        self.buttons: list[QPushButton] = []
        holder = QWidget()
        self._flow = FlowLayout(theme.px(8), theme.px(6))
        holder.setLayout(self._flow)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.slip)
        column.addWidget(holder)
        self.hide()

    def show_question(self, question: str, choices: Sequence[tuple[str, str, str]]) -> None:
        """Show a question with (code, choice, words) as its answers, or none."""
        for button in self.buttons:
            self._flow.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.buttons = []
        self.setVisible(bool(question))
        if not question:
            self.slip.clear()
            return
        self.slip.refuse(question)
        for code, choice, words in choices:
            button = QPushButton(words)
            button.clicked.connect(lambda _checked=False, code=code, choice=choice: self.answered.emit(code, choice))
            self._flow.addWidget(button)
            button.show()
            self.buttons.append(button)


class GivenFields(QWidget):
    """What is the same for all rows of a list that has no column for it."""

    given = Signal(str, str)
    """A column and its value."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.material = ChoiceBox()
        self.material.setAccessibleName(_("The same material for all rows"))
        self.day = DayField(_("The same date for all rows"))
        self.day.setMaximumWidth(theme.px(160))
        theme.changed.connect(lambda: self.day.setMaximumWidth(theme.px(160)))
        self.material.activated.connect(self._tell_material)
        self.day.returnPressed.connect(self._tell_day)
        self._material_label = labels.plain(_("All rows are"), wrap=False)
        self._day_label = labels.plain(_("All rows are of"), wrap=False)
        flow = FlowLayout(theme.px(8), theme.px(6))
        self.setLayout(flow)
        for part in (self._material_label, self.material, self._day_label, self.day):
            flow.addWidget(part)
        self.hide()

    def show_missing(self, columns: Sequence[str], materials: Sequence[tuple[str, str]]) -> None:
        """Ask for these columns."""
        self.setVisible(bool(columns))
        if "material" in columns and not self.material.count():
            self.material.addItem(_("choose"), "")
            for key, name in materials:
                self.material.addItem(name, key)
        for part in (self._material_label, self.material):
            part.setVisible("material" in columns)
        for field in (self._day_label, self.day):
            field.setVisible("collected_on" in columns)

    def forget(self) -> None:
        """Begin anew with another list."""
        self.material.setCurrentIndex(0)
        self.day.clear()

    def _tell_material(self) -> None:
        if self.material.currentData():
            self.given.emit("material", str(self.material.currentData()))

    def _tell_day(self) -> None:
        day = self.day.day()
        if day is not None:
            self.given.emit("collected_on", day.isoformat())
