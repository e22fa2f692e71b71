"""A shelf as a picture: boxes side by side, each filled as far as it is full; free room dotted, what is away empty."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import Drawn, draw_text, fill, fitted, hatch, painter_of, pen
from findsdesk.words import _, plural

_BOX, _TALL, _GAP, _BOARD = 46, 50, 6, 5
"""Pixels, at 100 per cent: a box's width and height, the gap between two, the board below them."""
_MOST_FREE = 40
"""Free places drawn; a shelf for more is too long for a picture."""


@dataclass(frozen=True, slots=True)
class BoxOnShelf:
    """A box of the picture: its number, how full it is in per mille, whether it is away or nearly full."""

    number: str
    full_permille: int
    away: bool = False
    nearly_full: bool = False
    unmet: bool = False
    """Nobody met it there: dashed and empty as one that is away, with its number."""


class ShelfPicture(Drawn):
    """Drawn beside a table that says the same in words, so that the keyboard passes it by."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.boxes: tuple[BoxOnShelf, ...] = ()
        self.free = 0
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.show_boxes((), None)

    def show_boxes(self, boxes: Sequence[BoxOnShelf], holds: int | None) -> None:
        """Show these boxes and, where somebody said how many the place holds, the room that is left."""
        self.boxes = tuple(boxes)
        self.free = min(_MOST_FREE, max(0, (holds or 0) - len(self.boxes)))
        said = plural("{n} box", "{n} boxes", len(self.boxes))
        room = plural("room for {n} more", "room for {n} more", self.free) if holds is not None else ""
        self.setAccessibleName(_("Picture of the shelf: {what}").format(what=", ".join(p for p in (said, room) if p)))
        self.updateGeometry()
        self.update()

    def places(self) -> list[QRectF]:
        """Return where each box and each free place stands, in rows from the beginning of the line."""
        px = self.theme.px
        step, tall = px(_BOX + _GAP), px(_TALL + _BOARD + _GAP)
        across = self._across(self.width())
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        found = []
        for place in range(len(self.boxes) + self.free):
            x = (place % across) * step
            left = self.width() - x - px(_BOX) - 1 if turned else x
            found.append(QRectF(left + 0.5, (place // across) * tall + 0.5, px(_BOX), px(_TALL)))
        return found

    def _across(self, width: int) -> int:
        return max(1, (width + self.theme.px(_GAP)) // self.theme.px(_BOX + _GAP))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        shown = max(1, len(self.boxes) + self.free)
        rows = -(-shown // self._across(width))
        return rows * self.theme.px(_TALL + _BOARD + _GAP)

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(300), self.heightForWidth(self.theme.px(300)))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(_BOX * 3), self.theme.px(_TALL + _BOARD))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = painter_of(self), self.theme
        places = self.places()
        for y in sorted({area.bottom() for area in places} or {float(theme.px(_TALL))}):
            fill(painter, QRectF(0, y, self.width(), theme.px(_BOARD)), theme.colour("edge"))
        for area, box in zip(places, self.boxes, strict=False):
            self._draw(painter, area, box)
        painter.setBrush(QBrush(Qt.BrushStyle.NoBrush))
        painter.setPen(pen(theme.colour("edge"), theme.border(), Qt.PenStyle.DotLine))
        for area in places[len(self.boxes) :]:
            painter.drawRect(area.adjusted(2, theme.px(8), -2, 0))

    def _draw(self, painter: QPainter, area: QRectF, box: BoxOnShelf) -> None:
        theme = self.theme
        lid = theme.px(7)
        body = area.adjusted(2, lid, -2, 0)
        fill(painter, body, theme.colour("card"))
        if not (box.away or box.unmet):
            high = body.height() * min(1000, box.full_permille) / 1000
            level = QRectF(body.left(), body.bottom() - high, body.width(), high)
            fill(painter, level, theme.colour("quiet_fill"))
            if box.nearly_full:
                hatch(painter, level, theme.colour("hatch"), theme.px(10), theme.px(2))
        painter.setBrush(QBrush(Qt.BrushStyle.NoBrush))
        style = Qt.PenStyle.DashLine if box.away or box.unmet else Qt.PenStyle.SolidLine
        painter.setPen(pen(theme.colour("ink"), theme.border(), style))
        painter.drawRect(body)
        painter.drawRect(QRectF(area.left(), area.top(), area.width(), lid))
        plate = QRectF(body.left() + 4, body.center().y() - theme.px(9), body.width() - 8, theme.px(18))
        fill(painter, plate, theme.colour("card"))
        words = _("away") if box.away else box.number
        kind = Type.SMALL if box.away else Type.SMALL_BOLD
        font = fitted(theme.font(kind), words, plate.width() - 2)
        draw_text(painter, plate, words, font, theme.colour("ink"), Qt.AlignmentFlag.AlignCenter)
