"""What may be open about a container that is here: which deposit it is from, and whose a find without a tag is."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.words import N_, _


class QuestionPart(QWidget):
    """The open question to the supervisor, with the two answers."""

    answered = Signal(str)

    def __init__(self, surroundings: Surroundings) -> None:
        super().__init__()
        self._surroundings = surroundings
        self._tag = self._list = ""
        self.text: QLabel = labels.plain()
        self.by_tag, self.by_list = QPushButton(), QPushButton()
        self.by_tag.clicked.connect(lambda: self.answered.emit(self._tag))
        self.by_list.clicked.connect(lambda: self.answered.emit(self._list))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.text)
        row = QHBoxLayout()
        row.addWidget(self.by_tag)
        row.addWidget(self.by_list)
        row.addStretch(1)
        layout.addLayout(row)

    def show_question(self, question: tuple[str, str] | None) -> None:
        """Show the question, or none."""
        self.setVisible(question is not None)
        if question is None:
            return
        self._tag, self._list = question
        say = self._surroundings.words
        self.text.setText(say(N_("Asked: the tag says {tag}, the list says {list}."), tag=self._tag, list=self._list))
        self.by_tag.setText(say(N_("It is {number}"), number=self._tag))
        self.by_list.setText(say(N_("It is {number}"), number=self._list))


class OwnerPart(QWidget):
    """Whose a find without a tag is, once somebody knows."""

    attributed = Signal(str)

    def __init__(self, surroundings: Surroundings) -> None:
        super().__init__()
        say = surroundings.words
        self.number = QLineEdit()
        self.number.setAccessibleName(say(N_("Number of the {container} it is")))
        self.button = QPushButton(_("It is this one"))
        self.number.returnPressed.connect(self._tell)
        self.button.clicked.connect(self._tell)
        label = labels.plain(say(N_("Known now? It is {container}:")))
        label.setBuddy(self.number)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(label)
        row = QHBoxLayout()
        row.addWidget(self.number, 1)
        row.addWidget(self.button)
        column.addLayout(row)

    def _tell(self) -> None:
        if self.number.text().strip():
            self.attributed.emit(self.number.text().strip())
