"""Which of the other labels: slips inside bags, pieces, boxes, places, loans."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from findsdesk.desk.printing import KIND_IN_WORDS, PrintKind
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.words import _, put

OTHERS = (PrintKind.SLIP, PrintKind.PIECE, PrintKind.BOX, PrintKind.PLACE, PrintKind.LOAN)


class OtherKind(QWidget):
    """A choice over the sheet."""

    kind_chosen = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.kind = ChoiceBox()
        self.kind.setAccessibleName(_("Kind of label"))
        for kind in OTHERS:
            self.kind.addItem(put(KIND_IN_WORDS[kind]), str(kind))
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(theme.px(8))
        layout.addWidget(labels.plain(_("Kind of label"), wrap=False))
        layout.addWidget(self.kind)
        layout.addStretch(1)
        self.kind.activated.connect(lambda place: self.kind_chosen.emit(str(self.kind.itemData(place))))

    def show_kind(self, kind: PrintKind) -> None:
        """Show which kind is printed."""
        self.kind.setCurrentIndex(self.kind.findData(str(kind)))
