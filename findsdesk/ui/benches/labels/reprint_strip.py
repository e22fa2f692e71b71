"""The offer to print a tag or label of what is in hand once more: scan the damaged one, one key for why, print."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QKeyEvent, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.benches.labels import label_words
from findsdesk.ui.benches.labels.state import LabelsState
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.painting import painter_of
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _


class _Papers(ChoiceBox):
    """The papers of what is in hand; a digit is a reason and passes by."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.text().isdigit():
            event.ignore()
            return
        super().keyPressEvent(event)


class ReprintStrip(QFrame):
    """Hidden while nothing is in hand that was printed."""

    reason_given = Signal(str)
    paper_chosen = Signal(int)
    dismissed = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.said = labels.headed()
        self.papers = _Papers()
        self.papers.setAccessibleName(_("Which paper"))
        self.papers.setSizeAdjustPolicy(ChoiceBox.SizeAdjustPolicy.AdjustToContents)
        self.reasons: dict[str, QPushButton] = {}
        self._flow = FlowLayout()
        answers = QWidget()
        answers.setLayout(self._flow)
        for place, (key, words) in enumerate(label_words.reasons(), start=1):
            button = QPushButton(f"{place}  {words}")
            button.setProperty("quiet", True)
            button.clicked.connect(lambda _checked=False, key=key: self.reason_given.emit(key))
            self._flow.addWidget(button)
            self.reasons[key] = button
        self.leave = QPushButton(_("Not now"))
        self.leave.setProperty("quiet", True)
        self._flow.addWidget(self.leave)
        self._layout = QVBoxLayout(self)
        self._head = QHBoxLayout()
        self._head.addWidget(self.papers)
        self._head.addWidget(self.said, 1)
        self._layout.addLayout(self._head)
        self._layout.addWidget(answers)
        self.papers.activated.connect(self.paper_chosen)
        self.leave.clicked.connect(self.dismissed)
        self.space()
        self.hide()

    def show_state(self, state: LabelsState, around: WordsAround) -> None:
        """Offer what is in hand, or nothing."""
        paper = state.offered()
        self.setVisible(paper is not None)
        if paper is None or state.dossier is None:
            return
        papers = [label_words.paper_in_words(one, state, around) for one in state.papers()]
        several = len(papers) > 1 and not state.dossier.scanned_bag
        self.papers.setVisible(several)
        if [self.papers.itemText(place) for place in range(self.papers.count())] != papers:
            self.papers.clear()
            self.papers.addItems(papers)
        self.papers.setCurrentIndex(state.paper)
        ask = around.say(N_("again, as the next copy? Say why:"))
        self.said.setText(labels.rich("" if several else papers[state.paper], f" {ask}"))

    def space(self) -> None:
        """Set the gaps for the zoom in use."""
        px = self.theme.px
        self._layout.setContentsMargins(px(15), px(8), px(12), px(8))
        self._layout.setSpacing(px(6))
        self._flow.set_gaps(px(8), px(6))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        painter.fillRect(QRectF(self.rect()), self.theme.colour("card"))
        thin = self.theme.border()
        painter.setPen(self.theme.colour("edge"))
        painter.drawRect(QRectF(self.rect()).adjusted(thin / 2, thin / 2, -thin / 2, -thin / 2))
