"""Drying trays in a row: shaded while drying, underlined when dry, thick where the next container goes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QKeyEvent, QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.painting import Drawn, DrawnButton, draw_text, fitted, focus_frame, painter_of, pen
from findsdesk.words import N_, _, put

_SIDE, _LARGE_SIDE = 30, 44
_ARROWS = (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down)


class TrayState(Enum):
    """How a tray stands."""

    FREE = "free"
    DRYING = "drying"
    DRY = "dry"
    NEXT = "next"


_SAID = {
    TrayState.FREE: N_("free"),
    TrayState.DRYING: N_("drying"),
    TrayState.DRY: N_("dry"),
    TrayState.NEXT: N_("next free"),
}


@dataclass(frozen=True, slots=True)
class Tray:
    """One tray: its key, its name on the picture, how it stands, and what is in it, in words."""

    key: str
    name: str
    state: TrayState = TrayState.FREE
    holds: str = ""


class _TrayButton(DrawnButton):
    def __init__(self, theme: Theme, tray: Tray, side: int) -> None:
        super().__init__(theme)
        self.tray = tray
        self.side = side
        said = put(_SAID[tray.state])
        self.setAccessibleName(
            _("Tray {name}, {state}").format(name=tray.name, state=said) + (f", {tray.holds}" if tray.holds else "")
        )
        self.setToolTip(tray.holds or said)

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(self.side), self.theme.px(self.side))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in _ARROWS:
            event.ignore()
            return
        super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, state = self.theme, painter_of(self), self.tray.state
        weight = theme.border(3 if state is TrayState.NEXT else 1)
        area = QRectF(self.rect()).adjusted(weight / 2, weight / 2, -weight / 2, -weight / 2)
        drying = state is TrayState.DRYING
        painter.setBrush(QBrush(theme.colour("quiet_fill" if drying else "card")))
        painter.setPen(pen(theme.colour("ink" if state is TrayState.NEXT else "edge"), weight))
        painter.drawRoundedRect(area, theme.px(2), theme.px(2))
        words = QRectF(self.rect())
        if state is TrayState.DRY:
            foot = theme.px(6)
            painter.fillRect(QRectF(area.left(), area.bottom() - foot, area.width(), foot), theme.colour("green"))
            words.setBottom(words.bottom() - foot)
        strong = state in (TrayState.DRY, TrayState.NEXT)
        font = fitted(theme.font(Type.BOLD if strong else Type.BASE), self.tray.name, self.width() - 6)
        ink = theme.colour("quiet_ink" if drying else "ink")
        draw_text(painter, words, self.tray.name, font, ink, Qt.AlignmentFlag.AlignCenter)
        if self.hasFocus():
            focus_frame(painter, QRectF(self.rect()), theme.colour("ink"))


class Trays(Drawn):
    """All trays; one of them is in the tab chain, the arrow keys walk over the rest."""

    chosen = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._buttons: list[_TrayButton] = []
        self._side = _SIDE
        self._holder = QWidget()
        self._flow = FlowLayout()
        self._holder.setLayout(self._flow)
        self._legend = labels.muted(small=True)
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.addWidget(self._holder)
        self._layout.addWidget(self._legend)
        self.setAccessibleName(_("Trays"))
        self._new_look()

    def show_trays(self, trays: Sequence[Tray]) -> None:
        """Show these trays instead of those before."""
        for button in self._buttons:
            self._flow.removeWidget(button)
            button.hide()
            button.deleteLater()
        self._buttons = []
        for place, tray in enumerate(trays):
            button = _TrayButton(self.theme, tray, self._side)
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus if place == 0 else Qt.FocusPolicy.ClickFocus)
            button.clicked.connect(lambda _checked=False, key=tray.key: self.chosen.emit(key))
            self._flow.addWidget(button)
            self._buttons.append(button)
        self._legend.setText(_("shaded: drying   underlined: dry, for the sorting table   thick: next free"))
        self._legend.setVisible(bool(trays))

    def make_large(self, large: bool) -> None:
        """Draw the trays larger where the window is high."""
        side = _LARGE_SIDE if large else _SIDE
        if side != self._side:
            self._side = side
            for button in self._buttons:
                button.side = side
                button.updateGeometry()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        back, on = (Qt.Key.Key_Right, Qt.Key.Key_Left) if turned else (Qt.Key.Key_Left, Qt.Key.Key_Right)
        steps = {back: -1, on: 1, Qt.Key.Key_Up: -self._in_a_row(), Qt.Key.Key_Down: self._in_a_row()}
        here = next((place for place, button in enumerate(self._buttons) if button.hasFocus()), None)
        step = steps.get(Qt.Key(event.key()))
        if here is None or step is None:
            super().keyPressEvent(event)
            return
        there = here + step
        if 0 <= there < len(self._buttons):
            self._buttons[here].setFocusPolicy(Qt.FocusPolicy.ClickFocus)
            self._buttons[there].setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            self._buttons[there].setFocus(Qt.FocusReason.TabFocusReason)

    def _in_a_row(self) -> int:
        top = self._buttons[0].y() if self._buttons else 0
        return max(1, sum(1 for button in self._buttons if button.y() == top))

    def _new_look(self) -> None:
        self._flow.set_gaps(self.theme.px(6), self.theme.px(6))
        self._layout.setSpacing(self.theme.px(4))
        super()._new_look()
