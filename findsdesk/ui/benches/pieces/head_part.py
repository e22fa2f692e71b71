"""The head of a piece: its name large, what it is, what is doubtful about it, the caution its condition asks for."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.shipped import cautions
from findsdesk.ui.benches.pieces.state import PiecesState
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.slips import CautionSlip
from findsdesk.ui.words_around import WordsAround

CAUTION_OF = {"desalting": "salts", "joining": "solvents", "cleaning": "soft_brush", "consolidation": "soft_brush"}
"""The caution that stands beside a piece which waits for a conservator."""


class HeadPart(QWidget):
    """Stands above the pages of the piece."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.name, self.what, self.doubts = labels.title(), labels.muted(), labels.muted()
        self.unwritten = labels.bold(wrap=True)
        self.caution = CautionSlip(theme)
        line = QHBoxLayout()
        line.addWidget(self.name, alignment=Qt.AlignmentFlag.AlignBaseline)
        line.addWidget(self.what, 1, alignment=Qt.AlignmentFlag.AlignBaseline)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(line)
        layout.addWidget(self.unwritten)
        layout.addWidget(self.doubts)
        layout.addWidget(self.caution)

    def show_state(self, state: PiecesState, around: WordsAround) -> None:
        """Show the piece in hand, or that none is chosen."""
        name, what = state.heading(around)
        self.name.setText(name)
        self.what.setText(what)
        self.doubts.setText(state.doubts(around))
        self.doubts.setVisible(bool(self.doubts.text()))
        self._show_caution(state.piece, around)

    def show_unwritten(self, line: str) -> None:
        """Say what is typed and not written yet; '' where nothing is."""
        self.unwritten.setText(line)
        self.unwritten.setVisible(bool(line))

    def _show_caution(self, piece: PieceRow | None, around: WordsAround) -> None:
        key = CAUTION_OF.get(piece.conservation) if piece else None
        one = cautions()[key] if key else None
        self.caution.show_caution(Caution(around.say(one.lead), around.say(one.text)) if one else None)
