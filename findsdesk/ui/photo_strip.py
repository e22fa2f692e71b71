"""Photographs of one thing: small pictures, taken in from files, taken off again."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.photos import PhotoFacts, Subject, add_photo, take_off_photo
from findsdesk.ui.bench import Bench
from findsdesk.words import _

Pictures = tuple[tuple[PhotoFacts, bytes], ...]
"""Photographs with a small picture each."""


class PhotoStrip(QWidget):
    """Files are copied in; those on the camera's card stay as they are."""

    done = Signal()
    """Something was written: the thing is to be read again."""

    def __init__(self, bench: Bench, side: int, *, in_a_row: bool = False) -> None:
        """``side`` is of a small picture, in pixels at 100 per cent; ``in_a_row``: as high as one row of them."""
        super().__init__()
        self.bench, self._side, self._in_a_row = bench, side, in_a_row
        self.of: Subject | None = None
        self.name = ""
        self.pictures: Pictures = ()
        self.list = QListWidget()
        self.list.setAccessibleName(_("Photographs"))
        self.list.setViewMode(QListWidget.ViewMode.IconMode)
        self.list.setMovement(QListWidget.Movement.Static)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.list.setWordWrap(not in_a_row)
        self.add = QPushButton(_("Take photographs in …"))
        self.off = QPushButton(_("Take this one off"))
        self.buttons = QHBoxLayout()
        for widget in (self.add, self.off):
            self.buttons.addWidget(widget)
        self.buttons.addStretch(1)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.addWidget(self.list, 1)
        self.column.addLayout(self.buttons)
        self.add.clicked.connect(self.choose)
        self.off.clicked.connect(self.write_taking_off)
        self.show_pictures(None, "", ())

    def show_pictures(self, of: Subject | None, name: str, pictures: Pictures) -> None:
        """Show the photographs of a thing, or of nothing; one whose file is gone says so."""
        self.of, self.name, self.pictures = of, name, pictures
        side = self.bench.theme.px(self._side)
        self.list.setIconSize(QSize(side, side))
        if self._in_a_row:
            self.list.setFixedHeight(side + self.bench.theme.line_height() + self.bench.theme.px(20))
        self.list.clear()
        for photo, small in pictures:
            self.list.addItem(self._item(photo, small))
        self.add.setEnabled(of is not None)
        self.list.setVisible(bool(pictures))
        self.off.setVisible(bool(pictures))
        if pictures:
            self.list.setCurrentRow(0)

    def _item(self, photo: PhotoFacts, small: bytes) -> QListWidgetItem:
        gone = "" if small else f" · {_('its file is gone')}"
        item = QListWidgetItem(f"{photo.file_name}{gone}")
        pixmap = QPixmap()
        if small and pixmap.loadFromData(small):
            item.setIcon(QIcon(pixmap))
        item.setToolTip("\n".join(part for part in (photo.note, f"{photo.width} × {photo.height}") if part))
        return item

    def choose(self) -> None:
        """Choose files and take them in."""
        if self.of is None:
            return
        kinds = _("Photographs (*.jpg *.jpeg *.png *.tif *.tiff)")
        chosen = self.bench.surroundings.notices.files_to_open(_("Photographs of {name}").format(name=self.name), kinds)
        if chosen:
            self.take_in([Path(file) for file in chosen])

    def take_in(self, files: list[Path]) -> None:
        """Take files in, each an act of its own; the first that is refused stops those after it."""
        desk, of = self.bench.surroundings.desk, self.of
        if of is None:
            return

        def work() -> int:
            for file in files:
                add_photo(desk, file, of=of)
            return len(files)

        self.bench.deed(work, then=lambda _n: self.done.emit(), button=self.add, lost=self.done.emit)

    def write_taking_off(self) -> None:
        """Take the chosen photograph off the thing; its file stays."""
        row = self.list.currentRow()
        if row < 0:
            return
        photo, _small = self.pictures[row]
        desk = self.bench.surroundings.desk
        self.bench.deed(
            lambda: take_off_photo(desk, photo.id, seen=photo.version),
            then=lambda _p: self.done.emit(),
            button=self.off,
        )
