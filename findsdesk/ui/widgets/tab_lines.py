"""Many tabs in as many lines as they need: all of them are in sight, and the arrow keys go along them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractButton, QButtonGroup, QPushButton, QWidget

from findsdesk.ui.widgets.flow_layout import FlowLayout

_GAP = 4


class TabLines(QWidget):
    """Tabs known by a key, of which one is open."""

    chosen = Signal(str)
    """The key of the tab somebody chose."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        # Of buttons that exclude one another Qt lets the open one alone be reached by Tab, and the arrows choose.
        self._group = QButtonGroup(self)
        self._keys: dict[QAbstractButton, str] = {}
        self._line = FlowLayout(_GAP, _GAP)
        self.setLayout(self._line)
        self._group.buttonToggled.connect(self._toggled)

    def keys(self) -> list[str]:
        """Return the keys of the tabs in their order."""
        return list(self._keys.values())

    def show_tabs(self, tabs: Sequence[tuple[str, str]], shown: str) -> None:
        """Show (key, words) of each tab, and the one of that key as open, without telling anybody."""
        if [key for key, _words in tabs] != self.keys():
            self._build([key for key, _words in tabs])
        blocked = self._group.blockSignals(True)
        for (key, words), button in zip(tabs, self._keys, strict=True):
            button.setText(words.replace("&", "&&"))
            if key == shown:
                button.setChecked(True)
                self.setFocusProxy(button)
        self._group.blockSignals(blocked)
        self._line.invalidate()

    def _build(self, keys: Sequence[str]) -> None:
        for button in self._keys:
            self._group.removeButton(button)
            self._line.removeWidget(button)
            button.deleteLater()
        self._keys = {}
        for key in keys:
            button = QPushButton(self)
            button.setProperty("word", True)
            button.setCheckable(True)
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            self._group.addButton(button)
            self._line.addWidget(button)
            self._keys[button] = key

    def _toggled(self, button: QAbstractButton, checked: bool) -> None:
        if checked:
            self.setFocusProxy(button)
            self.chosen.emit(self._keys[button])
