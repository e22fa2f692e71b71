"""The tubs of the wash yard, drawn as tubs: water, a paper slip for each container, a dashed box for what is held."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QPainter, QPainterPath, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import (
    Drawn,
    DrawnButton,
    draw_text,
    fitted,
    focus_frame,
    painter_of,
    pen,
    text_width,
)
from findsdesk.words import _, plural

MOST_SLIPS = 6
_SLIP_HEIGHT, _BASE_HEIGHT, _RIM = 26, 31, 14
_LEAST_WIDTH = 132
_TALLEST = 420


@dataclass(frozen=True, slots=True)
class TubSlip:
    """One container in a tub: its key, its number, and how long or which part."""

    key: str
    name: str
    aside: str = ""
    late: bool = False


@dataclass(frozen=True, slots=True)
class Tub:
    """One tub, or with ``held`` the box of what waits for somebody and must not be started."""

    key: str
    name: str
    slips: tuple[TubSlip, ...] = ()
    held: bool = False


class _SlipButton(DrawnButton):
    def __init__(self, theme: Theme, slip: TubSlip) -> None:
        super().__init__(theme)
        self.slip = slip
        self.setAccessibleName(f"{slip.name} {slip.aside}".strip())
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        theme = self.theme
        words = text_width(theme.font(Type.BOLD), self.slip.name) + text_width(theme.font(), self.slip.aside)
        return QSize(round(words) + theme.px(28), theme.px(_SLIP_HEIGHT))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(60), self.theme.px(_SLIP_HEIGHT))

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, slip = self.theme, painter_of(self), self.slip
        weight = theme.border(2 if slip.late else 1)
        area = QRectF(self.rect()).adjusted(weight / 2, weight / 2, -weight / 2, -weight / 2)
        painter.setBrush(QBrush(theme.colour("late_fill" if slip.late else "card")))
        painter.setPen(pen(theme.colour("madder" if slip.late else "teal"), weight))
        painter.drawRoundedRect(area, theme.px(3), theme.px(3))
        ink = theme.colour("madder" if slip.late else "ink")
        inner = area.adjusted(theme.px(9), 0, -theme.px(9), 0)
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        begin, end = Qt.AlignmentFlag.AlignLeft, Qt.AlignmentFlag.AlignRight
        if turned:
            begin, end = end, begin
        middle = Qt.AlignmentFlag.AlignVCenter
        name_font = fitted(theme.font(Type.BOLD), slip.name, inner.width() * 0.6)
        draw_text(painter, inner, slip.name, name_font, ink, begin | middle)
        room = inner.width() - text_width(name_font, slip.name) - theme.px(6)
        kind = Type.BOLD if slip.late else Type.BASE
        draw_text(painter, inner, slip.aside, fitted(theme.font(kind), slip.aside, room), ink, end | middle)
        if self.hasFocus():
            focus_frame(painter, QRectF(self.rect()), theme.colour("ink"))


class TubPicture(DrawnButton):
    """One tub with its slips."""

    slip_chosen = Signal(str)

    def __init__(self, theme: Theme, tub: Tub, most: int = MOST_SLIPS, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.tub = tub
        self.setText(tub.name)
        self.setCheckable(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        count = len(tub.slips)
        self.setAccessibleName(f"{tub.name}, {plural('{n} inside', '{n} inside', count)}")
        self._layout = QVBoxLayout(self)
        shown = tub.slips if count <= most else tub.slips[: most - 1]
        for slip in shown:
            button = _SlipButton(theme, slip)
            button.clicked.connect(lambda _checked=False, key=slip.key: self.slip_chosen.emit(key))
            self._layout.addWidget(button)
        if len(shown) < count:
            more = _SlipButton(theme, TubSlip("", plural("{n} more", "{n} more", count - len(shown))))
            more.clicked.connect(self.click)
            self._layout.addWidget(more)
        self._layout.addStretch(1)
        self._space()

    def _space(self) -> None:
        px = self.theme.px
        top = px(_RIM + 6)
        self._layout.setContentsMargins(px(10), top, px(10), px(_BASE_HEIGHT + 4))
        self._layout.setSpacing(px(3))
        self.setMaximumHeight(max(px(_TALLEST), self._layout.totalMinimumSize().height()))

    def _new_look(self) -> None:
        self._space()
        super()._new_look()

    def sizeHint(self) -> QSize:
        return self._layout.totalSizeHint().expandedTo(QSize(self.theme.px(_LEAST_WIDTH), self.theme.px(172)))

    def minimumSizeHint(self) -> QSize:
        slips = self._layout.totalMinimumSize().height()
        return QSize(self.theme.px(96), max(slips, self.theme.px(110)))

    def hitButton(self, pos: QPoint) -> bool:
        return self.rect().contains(pos)

    def _outline(self, area: QRectF) -> QPainterPath:
        radius = self.theme.px(23)
        path = QPainterPath()
        path.moveTo(area.topLeft())
        path.lineTo(area.left(), area.bottom() - radius)
        path.quadTo(area.bottomLeft(), area.bottomLeft() + QPointF(radius, 0))
        path.lineTo(area.right() - radius, area.bottom())
        path.quadTo(area.bottomRight(), area.bottomRight() - QPointF(0, radius))
        path.lineTo(area.topRight())
        return path

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = self.theme, painter_of(self)
        weight = theme.border(2)
        area = QRectF(self.rect()).adjusted(weight / 2, weight / 2, -weight / 2, -weight / 2)
        base = QRectF(area.left(), area.bottom() - theme.px(_BASE_HEIGHT), area.width(), theme.px(_BASE_HEIGHT))
        ink = theme.colour("clay" if self.isChecked() and not theme.is_sun else "ink")
        if self.tub.held:
            painter.fillRect(area, theme.colour("card"))
            painter.setPen(pen(ink, weight, Qt.PenStyle.DashLine))
            painter.drawLine(area.topLeft(), area.bottomLeft())
            painter.drawLine(area.bottomLeft(), area.bottomRight())
            painter.drawLine(area.bottomRight(), area.topRight())
        else:
            self._draw_tub(painter, area, base, weight)
        painter.setPen(pen(theme.colour("line"), theme.border()))
        painter.drawLine(base.topLeft(), base.topRight())
        font = fitted(theme.font(Type.BOLD), self.text(), base.width() - theme.px(12))
        draw_text(painter, base, self.text(), font, theme.colour("ink"), Qt.AlignmentFlag.AlignCenter)
        if self.hasFocus():
            focus_frame(painter, QRectF(self.rect()), theme.colour("ink"))

    def _draw_tub(self, painter: QPainter, area: QRectF, base: QRectF, weight: float) -> None:
        theme, outline = self.theme, self._outline(area)
        ink = theme.colour("clay" if self.isChecked() and not theme.is_sun else "ink")
        painter.fillPath(outline, QBrush(theme.colour("card")))
        if self.tub.slips:
            water = QRectF(area.left(), area.top() + theme.px(_RIM), area.width(), 0)
            water.setBottom(base.top())
            painter.fillRect(water, theme.colour("water"))
        painter.setBrush(QBrush(Qt.BrushStyle.NoBrush))
        painter.setPen(pen(ink, weight * (1.6 if self.isChecked() else 1)))
        painter.drawPath(outline)


class Tubs(Drawn):
    """All tubs in rows of as many as the width allows."""

    tub_chosen = Signal(str)
    slip_chosen = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._pictures: list[TubPicture] = []
        self._columns = 0
        self._room = 0
        self._chosen = ""
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self.setAccessibleName(_("Tubs"))
        self._new_look()

    def show_tubs(self, tubs: Sequence[Tub]) -> None:
        """Show these tubs instead of those before; the chosen one stays chosen."""
        for picture in self._pictures:
            self._grid.removeWidget(picture)
            picture.hide()
            picture.deleteLater()
        self._pictures = [self._picture(tub) for tub in tubs]
        self._columns = 0
        self._arrange()

    def choose(self, key: str) -> None:
        """Mark the tub that the next container goes into; an empty key marks none."""
        self._chosen = key
        for picture in self._pictures:
            picture.setChecked(picture.tub.key == key)

    def _picture(self, tub: Tub) -> TubPicture:
        picture = TubPicture(self.theme, tub)
        picture.setChecked(tub.key == self._chosen)
        picture.clicked.connect(lambda _checked=False, key=tub.key: self._choose_and_tell(key))
        picture.slip_chosen.connect(self.slip_chosen)
        return picture

    def _choose_and_tell(self, key: str) -> None:
        self.choose(key)
        self.tub_chosen.emit(key)

    def _arrange(self) -> None:
        gap, many = self.theme.px(12), max(1, len(self._pictures))
        columns = self._columns_wanted(many, gap)
        rows = -(-many // columns)
        tallest = max((picture.maximumHeight() for picture in self._pictures), default=0)
        self.setMaximumHeight(rows * (tallest + gap))
        if columns == self._columns:
            return
        for column in range(max(columns, self._columns)):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)
        self._columns = columns
        for place, picture in enumerate(self._pictures):
            self._grid.addWidget(picture, place // columns, place % columns)
            self._grid.setRowStretch(place // columns, 100)
        for row in range(rows, self._grid.rowCount() + 1):
            self._grid.setRowStretch(row, 1 if row == rows else 0)

    def _columns_wanted(self, many: int, gap: int) -> int:
        """Return how many stand side by side: as many as fit, or fewer where the tubs become larger so."""
        width, room = self.width() + gap, self._room + gap
        most = min(many, max(1, width // (self.theme.px(_LEAST_WIDTH) + gap)))
        need = max((picture.minimumSizeHint().height() for picture in self._pictures), default=0) + gap
        fewest_rows = -(-many // most)
        chosen = max(
            range(fewest_rows, max(fewest_rows, min(many, room // need)) + 1),
            key=lambda rows: (min(width / -(-many // rows), room / rows), -rows),
        )
        return -(-many // chosen)

    def make_room(self, height: int) -> None:
        """Say how many pixels of height there are whatever is said below the tubs; 0 keeps them in few rows."""
        if height != self._room:
            self._room = height
            self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(_LEAST_WIDTH), super().minimumSizeHint().height())

    def _new_look(self) -> None:
        self._grid.setSpacing(self.theme.px(12))
        super()._new_look()
