"""Which of the other labels: slips inside bags, pieces, boxes, places, loans."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.desk.printing import KIND_IN_WORDS, PrintKind
from findsdesk.ui.benches.labels import label_words
from findsdesk.ui.benches.labels.state import LabelsState
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import _, put

OTHERS = (PrintKind.SLIP, PrintKind.PIECE, PrintKind.BOX, PrintKind.PLACE, PrintKind.LOAN)


class OtherKind(QWidget):
    """Two choices over the sheet: the kind, and which of it."""

    chosen = Signal(str, str)
    """(the kind, which of it; empty: those of today, or else all that wait)."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.kind, self.which = ChoiceBox(), ChoiceBox()
        self.kind.setAccessibleName(_("Kind of label"))
        self.which.setAccessibleName(_("Which labels"))
        for kind in OTHERS:
            self.kind.addItem(put(KIND_IN_WORDS[kind]), str(kind))
        self._flow = FlowLayout()
        self.setLayout(self._flow)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        for box in (self.kind, self.which):
            box.setSizeAdjustPolicy(ChoiceBox.SizeAdjustPolicy.AdjustToContents)
            self._flow.addWidget(box)
        self.kind.activated.connect(lambda place: self.chosen.emit(str(self.kind.itemData(place)), ""))
        self.which.activated.connect(self._which_chosen)
        self.space()

    def _which_chosen(self, place: int) -> None:
        self.chosen.emit(str(self.kind.currentData()), str(self.which.itemData(place)))

    def show_state(self, state: LabelsState, around: WordsAround) -> None:
        """Show which kind is printed, and which of it."""
        self.kind.setCurrentIndex(self.kind.findData(str(state.other)))
        lines = label_words.which_in_words(state, around)
        if [self.which.itemText(place) for place in range(self.which.count())] != [words for _key, words in lines]:
            self.which.clear()
            for key, words in lines:
                self.which.addItem(words, str(key))
        read = state.read.other if state.read else None
        meant = state.which or (read.which if read else None)
        self.which.setCurrentIndex(max(0, self.which.findData(str(meant)) if meant else 0))

    def space(self) -> None:
        """Set the gaps for the zoom in use."""
        self._flow.set_gaps(self.theme.px(8), self.theme.px(6))
