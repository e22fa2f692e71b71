"""Photographs of a piece: small pictures in a row, taken in from files, taken off again."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.photos import PhotoFacts, add_photo, take_off_photo
from findsdesk.desk.piece_pages import PiecePage
from findsdesk.ui.bench import Bench
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.words import _

_SIDE = 150
"""Pixels of a small picture at 100 per cent."""


class PhotosPart(QWidget):
    """Files are copied in; those on the camera's card stay as they are."""

    done = Signal()
    """Something was written: the piece is to be read again."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.page: PiecePage | None = None
        self.list = QListWidget()
        self.list.setAccessibleName(_("Photographs"))
        self.list.setViewMode(QListWidget.ViewMode.IconMode)
        self.list.setMovement(QListWidget.Movement.Static)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.list.setWordWrap(True)
        self.add = QPushButton(_("Take photographs in …"))
        self.off = QPushButton(_("Take this one off"))
        self.none = labels.muted(_("No photograph yet. JPEG, PNG and TIFF are taken in, up to 100 megapixels."))
        card = Card(bench.theme, _("Photographs"))
        buttons = QHBoxLayout()
        for widget in (self.add, self.off):
            buttons.addWidget(widget)
        buttons.addStretch(1)
        card.body.addWidget(self.none)
        card.body.addWidget(self.list, 1)
        card.body.addLayout(buttons)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(card, 1)
        self.add.clicked.connect(self.choose)
        self.off.clicked.connect(self.write_taking_off)

    def show_piece(self, page: PiecePage | None) -> None:
        """Show the photographs of a piece; one whose file is gone says so."""
        self.page = page
        side = self.bench.theme.px(_SIDE)
        self.list.setIconSize(QSize(side, side))
        self.list.clear()
        for photo, small in page.photos if page else ():
            self.list.addItem(self._item(photo, small))
        found = self.list.count() > 0
        self.list.setVisible(found)
        self.off.setVisible(found)
        self.none.setVisible(not found)
        if found:
            self.list.setCurrentRow(0)

    def _item(self, photo: PhotoFacts, small: bytes) -> QListWidgetItem:
        gone = "" if small else f" · {_('its file is gone')}"
        item = QListWidgetItem(f"{photo.file_name}{gone}")
        pixmap = QPixmap()
        if small and pixmap.loadFromData(small):
            item.setIcon(QIcon(pixmap))
        item.setToolTip("\n".join(part for part in (photo.note, f"{photo.width} × {photo.height}") if part))
        item.setData(Qt.ItemDataRole.UserRole, photo.id)
        return item

    def choose(self) -> None:
        """Choose files and take them in."""
        if self.page is None:
            return
        kinds = _("Photographs (*.jpg *.jpeg *.png *.tif *.tiff)")
        chosen = self.bench.surroundings.notices.files_to_open(
            _("Photographs of {name}").format(name=self.page.piece.name), kinds
        )
        if chosen:
            self.take_in([Path(file) for file in chosen])

    def take_in(self, files: list[Path]) -> None:
        """Take files in, each an act of its own; the first that is refused stops those after it."""
        if self.page is None:
            return
        desk, piece_id = self.bench.surroundings.desk, self.page.piece.id

        def work() -> int:
            for file in files:
                add_photo(desk, file, of=("piece", piece_id))
            return len(files)

        self.bench.deed(work, then=lambda _n: self.done.emit(), button=self.add, lost=self.done.emit)

    def write_taking_off(self) -> None:
        """Take the chosen photograph off the piece; its file stays."""
        item = self.list.currentItem()
        if self.page is None or item is None:
            return
        chosen = item.data(Qt.ItemDataRole.UserRole)
        photo = next(photo for photo, _small in self.page.photos if photo.id == chosen)
        desk = self.bench.surroundings.desk
        self.bench.deed(
            lambda: take_off_photo(desk, photo.id, seen=photo.version),
            then=lambda _p: self.done.emit(),
            button=self.off,
        )
