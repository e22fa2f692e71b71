"""A row of tabs above what they open; the arrow keys go along it, the mouse wheel leaves it as it is."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QTabBar, QWidget


class TabRow(QTabBar):
    """Tabs known by a key."""

    chosen = Signal(str)
    """The key of the tab somebody chose."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setExpanding(False)
        self.setDrawBase(False)
        self.setUsesScrollButtons(True)
        self.setElideMode(Qt.TextElideMode.ElideNone)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.currentChanged.connect(lambda place: self.chosen.emit(self.tabData(place)))

    def show_tabs(self, tabs: Sequence[tuple[str, str]], shown: str) -> None:
        """Show (key, words) of each tab, and the one of that key as open, without telling anybody."""
        blocked = self.blockSignals(True)
        for place, (key, words) in enumerate(tabs):
            if place >= self.count():
                self.addTab(words.replace("&", "&&"))
            self.setTabText(place, words.replace("&", "&&"))
            self.setTabData(place, key)
        while self.count() > len(tabs):
            self.removeTab(self.count() - 1)
        self.setCurrentIndex(next(place for place, (key, _words) in enumerate(tabs) if key == shown))
        self.blockSignals(blocked)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
