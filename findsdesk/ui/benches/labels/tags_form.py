"""Tags for tomorrow: how many are issued, for whom and where; and which of those not yet printed lie on the sheet."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.desk.labels_waiting import TagsToPrint
from findsdesk.ui.benches.labels import label_words
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.number_field import NumberField, whole
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, grouped


class TagsForm(QWidget):
    """What is typed stays until the tags are issued."""

    issue_wanted = Signal()
    group_chosen = Signal(str)
    """The key of a block, or empty for all that go to the trench."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        theme, say = surroundings.theme, surroundings.words
        self.theme = theme
        self.how_many = NumberField(whole(), _("How many tags"), surroundings.terms)
        self.who = ChoiceBox()
        self.who.setEditable(True)
        self.who.setInsertPolicy(ChoiceBox.InsertPolicy.NoInsert)
        self.who.setAccessibleName(_("For whom"))
        typed = self.who.lineEdit()
        if typed is not None:
            typed.setAccessibleName(_("For whom"))
        self.square = ChoiceBox()
        self.square.setAccessibleName(say(N_("{Square}")))
        self._no_square = say(N_("any {square}"))
        self.issue = QPushButton(_("Issue"))
        self.groups = ChoiceBox()
        self.groups.setAccessibleName(_("Which tags are printed"))
        self._words = [labels.plain(_("New tags"), wrap=False), labels.plain(_("for"), wrap=False)]
        self._words.append(labels.plain(_("Print"), wrap=False))
        self._flows: list[FlowLayout] = []
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        issue = (self._words[0], self.how_many, self._words[1], self.who, self.square, self.issue)
        layout.addWidget(self._line(*issue))
        self._choice = self._line(self._words[2], self.groups)
        layout.addWidget(self._choice)
        for box in (self.who, self.square, self.groups):
            box.setSizeAdjustPolicy(ChoiceBox.SizeAdjustPolicy.AdjustToContents)
        self._shown: tuple[tuple[str, ...], tuple[str, ...]] | None = None
        self.issue.clicked.connect(self.issue_wanted)
        self.how_many.entered.connect(lambda _value: self.issue_wanted.emit())
        self.groups.activated.connect(lambda place: self.group_chosen.emit(str(self.groups.itemData(place))))
        self.space()

    def show_choices(self, people: Sequence[str], squares: Sequence[str]) -> None:
        """Offer the team and the squares; what is chosen stays."""
        if self._shown == (tuple(people), tuple(squares)):
            return
        self._shown = (tuple(people), tuple(squares))
        said, square = self.who.currentText(), self.square.currentText()
        self.who.clear()
        self.who.addItems(list(people))
        self.who.setCurrentText(said)
        self.square.clear()
        self.square.addItems([self._no_square, *squares])
        self.square.setCurrentIndex(max(0, self.square.findText(square)))

    def show_groups(self, groups: Sequence[TagsToPrint], chosen: str, around: WordsAround) -> None:
        """Offer which of the tags not yet printed lie on the sheet; shown where there is a choice."""
        trench = sum(len(one.codes) for one in groups if one.for_the_trench)
        self._choice.setVisible(len(groups) > 1)
        lines = [(around.say(N_("All for the trench: {n}"), n=grouped(trench)), "")]
        lines += [(label_words.tags_in_words(one, around), one.key) for one in groups]
        if [self.groups.itemText(place) for place in range(self.groups.count())] != [text for text, _key in lines]:
            self.groups.clear()
            for text, key in lines:
                self.groups.addItem(text, key)
        self.groups.setCurrentIndex(max(0, self.groups.findData(chosen)))

    def wanted(self) -> tuple[int, str, str | None] | None:
        """Return how many tags, for whom, and the square or None; None where the number is not right."""
        if not self.how_many.judge():
            return None
        number = self.how_many.value()
        square = self.square.currentText() if self.square.currentIndex() > 0 else None
        return (number or 0, self.who.currentText().strip(), square)

    def clear_number(self) -> None:
        """Empty the number once the tags are issued."""
        self.how_many.set_value(None)

    def space(self) -> None:
        """Set the gaps for the zoom in use; words and fields stand as high as the button, on one line with it."""
        for flow in self._flows:
            flow.set_gaps(self.theme.px(6), self.theme.px(6))
        self.how_many.line.setFixedWidth(self.theme.px(84))
        height = self.issue.sizeHint().height()
        for part in (*self._words, self.how_many.line, self.who, self.square, self.groups):
            part.setMinimumHeight(height)

    def _line(self, *parts: QWidget) -> QWidget:
        holder, flow = QWidget(), FlowLayout()
        holder.setLayout(flow)
        holder.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        for part in parts:
            flow.addWidget(part)
        self._flows.append(flow)
        return holder
