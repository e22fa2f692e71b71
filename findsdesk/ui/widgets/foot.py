"""The foot of the window: who, which station, when last written, how old the backup is, which tags are missing."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy, QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.painting import painter_of

HEIGHT = 34


@dataclass(frozen=True, slots=True)
class FootFacts:
    """The texts of the foot, in words; an empty one is left out."""

    who: str = ""
    """"Tessa Quill, wash lead"."""
    station: str = ""
    written: str = ""
    """"Written 08:12:03"."""
    backup: str = ""
    tags: str = ""
    """"All tags accounted for but 1"."""
    late: bool = False
    """Whether the tags or the backup want somebody's eye."""


class Foot(QFrame):
    """One quiet line."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._labels = {name: labels.plain(wrap=False) for name in ("who", "written", "backup", "tags")}
        for label in self._labels.values():
            label.setProperty("kind", "small")
        self._layout = QHBoxLayout(self)
        for name in ("who", "written", "backup"):
            self._layout.addWidget(self._labels[name])
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._layout.addStretch(1)
        self._layout.addWidget(self._labels["tags"])
        self._space()
        theme.changed.connect(self._space)

    def show_facts(self, facts: FootFacts) -> None:
        """Show these texts."""
        who = "  ·  ".join(part for part in (facts.who, facts.station) if part)
        for name, text in {"who": who, "written": facts.written, "backup": facts.backup, "tags": facts.tags}.items():
            self._labels[name].setText(text)
            self._labels[name].setVisible(bool(text))
        self._make_room()
        labels.restyle(self._labels["tags"], wrong=facts.late)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._make_room()
        super().resizeEvent(event)

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(300), self.theme.px(HEIGHT))

    def _make_room(self) -> None:
        """Leave out the least needed texts where the window is narrow."""
        room, gap = self.width() - 2 * self.theme.px(18), self.theme.px(26)
        shown = [name for name in ("who", "tags", "written", "backup") if self._labels[name].text()]
        for name in shown:
            room -= self._labels[name].sizeHint().width() + gap
            self._labels[name].setVisible(room > -gap)

    def _space(self) -> None:
        px = self.theme.px
        self.setFixedHeight(px(HEIGHT))
        self._layout.setContentsMargins(px(18), 0, px(18), 0)
        self._layout.setSpacing(px(26))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        painter.fillRect(self.rect(), self.theme.colour("band"))
        painter.fillRect(QRectF(0, 0, self.width(), max(1, round(self.theme.border()))), self.theme.colour("line"))
