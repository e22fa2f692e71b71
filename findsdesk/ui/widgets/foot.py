"""The foot of the window: who, which station, when last written, how old the backup is, which tags are missing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.painting import DrawnButton, draw_text, fill, focus_frame, painter_of, pen, text_width
from findsdesk.words import _

if TYPE_CHECKING:
    from findsdesk.ui.widgets.foot_facts import FootFacts

HEIGHT = 34


class WhoButton(DrawnButton):
    """Who sits here and at which station; pressing it lets somebody else sit down."""

    def show_who(self, text: str) -> None:
        """Write who sits here."""
        self.setText(text)
        self.setAccessibleName(_("Who sits here: {who}. Press to change.").format(who=text))
        self.setToolTip(_("Who sits here? Press to change."))
        self._new_look()

    def sizeHint(self) -> QSize:
        width = text_width(self.theme.font(Type.SMALL), self.text()) + self.theme.px(12)
        return QSize(round(width), self.theme.px(HEIGHT - 6))

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = self.theme, painter_of(self)
        area = QRectF(self.rect()).adjusted(theme.px(6), 0, -theme.px(6), 0)
        lead = Qt.AlignmentFlag.AlignLeading | Qt.AlignmentFlag.AlignVCenter
        draw_text(painter, area, self.text(), theme.font(Type.SMALL), theme.colour("ink"), lead)
        painter.setPen(pen(theme.colour("edge"), theme.border(), Qt.PenStyle.DotLine))
        y = area.center().y() + theme.px(10)
        painter.drawLine(round(area.left()), round(y), round(area.right()), round(y))
        if self.hasFocus():
            focus_frame(painter, QRectF(self.rect()), theme.colour("ink"))


class Foot(QFrame):
    """One quiet line."""

    who_pressed = Signal()
    """Somebody else wants to sit down."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.who = WhoButton(theme)
        self.who.clicked.connect(self.who_pressed)
        self._labels = {name: labels.plain(wrap=False) for name in ("written", "backup", "tags")}
        for label in self._labels.values():
            label.setProperty("kind", "small")
        self._parts: dict[str, QWidget] = {"who": self.who, **self._labels}
        self._layout = QHBoxLayout(self)
        for name in ("who", "written", "backup"):
            self._layout.addWidget(self._parts[name])
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._layout.addStretch(1)
        self._layout.addWidget(self._labels["tags"])
        self._space()
        theme.changed.connect(self._space)

    def show_facts(self, facts: FootFacts) -> None:
        """Show these texts."""
        self.who.show_who("  ·  ".join(part for part in (facts.who, facts.station) if part))
        for name, text in {"written": facts.written, "backup": facts.backup, "tags": facts.tags}.items():
            self._labels[name].setText(text)
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
        for name in ("who", "tags", "written", "backup"):
            part = self._parts[name]
            said = self.who.text() if name == "who" else self._labels[name].text()
            room -= part.sizeHint().width() + gap if said else 0
            part.setVisible(bool(said) and room > -gap)

    def _space(self) -> None:
        px = self.theme.px
        self.setFixedHeight(px(HEIGHT))
        self._layout.setContentsMargins(px(18), 0, px(18), 0)
        self._layout.setSpacing(px(26))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        fill(painter, self.rect(), self.theme.colour("band"))
        fill(painter, QRect(0, 0, self.width(), max(1, round(self.theme.border()))), self.theme.colour("line"))
