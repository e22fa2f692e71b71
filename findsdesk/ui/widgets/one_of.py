"""Several pages in one place, one shown at a time; a stack of the toolkit asks for the room of its largest page."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget


class OneOf(QWidget):
    """Only the shown page takes room."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pages: list[QWidget] = []
        self._shown: QWidget | None = None
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)

    def add_page(self, page: QWidget) -> None:
        """Add a page; the first one is shown."""
        self._pages.append(page)
        self._layout.addWidget(page)
        if self._shown is None:
            self._shown = page
        page.setVisible(page is self._shown)

    def show_page(self, page: QWidget) -> None:
        """Show one of the pages instead of the other."""
        self._shown = page
        for one in self._pages:
            one.setVisible(one is page)

    def shown(self) -> QWidget | None:
        """Return the page that is shown."""
        return self._shown
