"""What is asked of a whole list or table: a question, with its answers as buttons."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.slips import RefusalSlip


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
