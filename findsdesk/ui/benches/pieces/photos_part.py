"""Photographs of a piece: small pictures in a row, taken in from files, taken off again."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from findsdesk.desk.piece_pages import PiecePage
from findsdesk.ui.bench import Bench
from findsdesk.ui.photo_strip import PhotoStrip
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.words import _

_SIDE = 150
"""Pixels of a small picture at 100 per cent."""


class PhotosPart(QWidget):
    """The page of photographs."""

    done = Signal()
    """Something was written: the piece is to be read again."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.strip = PhotoStrip(bench, _SIDE)
        self.list, self.add, self.off = self.strip.list, self.strip.add, self.strip.off
        self.none = labels.muted(_("No photograph yet. JPEG, PNG and TIFF are taken in, up to 100 megapixels."))
        card = Card(bench.theme, _("Photographs"))
        card.body.addWidget(self.none)
        card.body.addWidget(self.strip, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(card, 1)
        self.strip.done.connect(self.done)

    def focus_first(self) -> None:
        """Give the keyboard to the photographs, or to what takes the first one in."""
        (self.list if self.strip.pictures else self.add).setFocus(Qt.FocusReason.OtherFocusReason)

    def show_piece(self, page: PiecePage | None) -> None:
        """Show the photographs of a piece."""
        of, name = (("piece", page.piece.id), page.piece.name) if page else (None, "")
        self.strip.show_pictures(of, name, page.photos if page else ())
        self.none.setVisible(not self.strip.pictures)
