"""What layouts of our own share: keeping their items."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class ItemLayout(QLayout):
    """A layout that keeps its items in a list and asks for no more room than it needs."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def is_turned(self) -> bool:
        """Tell whether lines run from the right."""
        owner = self.parentWidget()
        return owner is not None and owner.layoutDirection() == Qt.LayoutDirection.RightToLeft
