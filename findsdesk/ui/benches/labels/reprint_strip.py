"""The offer to print a tag or label of what is in hand once more: scan the damaged one, one key for why, print."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QKeyEvent, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.printing import PrintKind
from findsdesk.ui.benches.labels import label_words
from findsdesk.ui.benches.labels.state import LabelsState
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.painting import painter_of
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import _

_LEAST_CHOICE = 150
"""Pixels of width, at 100 per cent, under which the answers begin a new line instead of narrowing the choice."""


class _Papers(ChoiceBox):
    """The papers of what is in hand; a digit is a reason and passes by."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.text().isdigit():
            event.ignore()
            return
        super().keyPressEvent(event)


class ReprintStrip(QFrame):
    """Keeps its room while nothing is in hand that was printed, so that nothing below it moves."""

    reason_given = Signal(str)
    paper_chosen = Signal(int)
    dismissed = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.hint = labels.muted(wrap=False)
        self.said = labels.headed(wrap=False)
        self.papers = _Papers()
        self.papers.setAccessibleName(_("Which paper"))
        self.papers.setSizeAdjustPolicy(ChoiceBox.SizeAdjustPolicy.AdjustToContents)
        self.reasons: dict[str, QPushButton] = {}
        for place, (key, words) in enumerate(label_words.reasons(), start=1):
            button = QPushButton(f"{place}  {label_words.reason_in_a_word(key)}")
            button.setToolTip(words)
            button.setAccessibleName(f"{place}  {words}")
            button.setProperty("quiet", True)
            button.clicked.connect(lambda _checked=False, key=key: self.reason_given.emit(key))
            self.reasons[key] = button
        self.leave = QPushButton(_("Not now"))
        self.leave.setProperty("quiet", True)
        self._keeps_room = True
        self._asking = (self.said, *self.reasons.values(), self.leave)
        self._flow = FlowLayout()
        for part in (self.hint, self.papers, *self._asking):
            self._flow.addWidget(part)
        self._layout = QVBoxLayout(self)
        self._layout.addLayout(self._flow)
        self.papers.activated.connect(self.paper_chosen)
        self.leave.clicked.connect(self.dismissed)
        self.space()

    def keep_room(self, keep: bool) -> None:
        """Stand there although nothing is offered (where there is height enough), or only while something is."""
        self._keeps_room = keep
        self.setVisible(keep or self.asks())

    def asks(self) -> bool:
        """Return whether a paper is offered to be printed again."""
        return not self.leave.isHidden()

    def show_state(self, state: LabelsState, around: WordsAround) -> None:
        """Offer what is in hand; where nothing is, say how to come by an offer."""
        paper = state.offered()
        asks = paper is not None
        offered = (paper,) if paper is not None and paper.all_codes else state.papers()
        papers = [label_words.paper_in_words(one, state, around) for one in offered] if asks else []
        scanned = state.dossier is not None and bool(state.dossier.scanned_bag)
        several = len(papers) > 1 and (not scanned or any(one.kind is PrintKind.SLIP for one in offered))
        for part in self._asking:
            part.setVisible(asks)
        self.papers.setVisible(several)
        self.hint.setText(label_words.instead_of_an_offer(state))
        self.hint.setVisible(not asks)
        self.setVisible(asks or self._keeps_room)
        if not asks:
            return
        if [self.papers.itemText(place) for place in range(self.papers.count())] != papers:
            self.papers.clear()
            self.papers.addItems(papers)
        chosen = min(state.paper, len(papers) - 1)
        self.papers.setCurrentIndex(chosen)
        self.papers.setToolTip(self.papers.currentText())
        self.said.setText(labels.rich("" if several else papers[chosen], _(" again? Why:")))
        self._bound_papers()

    def _bound_papers(self) -> None:
        """Let the choice of papers take what the answers leave of one line; its words are on its tip too."""
        margins, gap = self._layout.contentsMargins(), self.theme.px(8)
        answers = sum(part.sizeHint().width() + gap for part in self._asking)
        left = self.width() - margins.left() - margins.right() - answers
        self.papers.setMaximumWidth(max(self.theme.px(_LEAST_CHOICE), left))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._bound_papers()

    def space(self) -> None:
        """Set the gaps for the zoom in use, and the room that is kept."""
        px = self.theme.px
        self._layout.setContentsMargins(px(15), px(6), px(12), px(6))
        self._flow.set_gaps(px(8), px(6))
        row = self.leave.sizeHint().height()
        for part in (self.papers, self.said, self.hint):
            part.setMinimumHeight(row)
        self.setMinimumHeight(row + px(12))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        painter.fillRect(QRectF(self.rect()), self.theme.colour("card"))
        thin = self.theme.border()
        painter.setPen(self.theme.colour("edge"))
        painter.drawRect(QRectF(self.rect()).adjusted(thin / 2, thin / 2, -thin / 2, -thin / 2))
