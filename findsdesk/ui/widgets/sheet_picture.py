"""A sheet of labels as it will print: the page itself, its places, and those already used, to be clicked."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import Drawn, draw_text, focus_frame, hatch, painter_of, pen, text_width
from findsdesk.words import _

Place = tuple[float, float, float, float]
"""Left, top, width, height of one label on the page, in millimetres from the top left corner."""


@dataclass(frozen=True, slots=True)
class SheetFacts:
    """The page in millimetres, its places in the order they are filled, and those used (counted from 1)."""

    width: float
    height: float
    places: tuple[Place, ...]
    used: frozenset[int] = frozenset()
    columns: int = 1
    spoiled: frozenset[int] = frozenset()
    """Places whose label did not come out well."""
    says: tuple[str, ...] = ()
    """What is printed on each place, for screen readers; empty where nothing is."""


class SheetPicture(Drawn):
    """A click or Enter says that the sheet begins there; Space, or a click with Shift, chooses that one place."""

    place_chosen = Signal(int)
    """A place, counted from 1."""
    begin_here = Signal(int)
    """The first place that is free, counted from 1."""
    page_width_changed = Signal(int)
    """How wide the page stands here now, in pixels of the screen."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.facts: SheetFacts | None = None
        self._page: QImage | None = None
        self._at = 1
        self._told_width = 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.show_sheet(None)

    def show_sheet(self, facts: SheetFacts | None, page: QImage | None = None) -> None:
        """Show a sheet and, where there is one, the picture of the very page that will be printed."""
        self.facts = facts
        self._page = page
        self._at = min(self._at, len(facts.places)) if facts and facts.places else 1
        self._name()
        self.update()
        self._tell_width()

    def go_to(self, number: int) -> None:
        """Set the keyboard's place, counted from 1."""
        if self.facts is not None and 1 <= number <= len(self.facts.places):
            self._at = number
            self._name()
            self.update()

    def page_pixels(self) -> int:
        """Return how wide the page stands here, in pixels of the screen; 0 without a sheet."""
        return round(self.page_area().width() * self.devicePixelRatio())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._tell_width()

    def _tell_width(self) -> None:
        width = self.page_pixels()
        if width > 0 and width != self._told_width:
            self._told_width = width
            self.page_width_changed.emit(width)

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(420), self.theme.px(520))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(180), self.theme.px(240))

    def page_area(self) -> QRectF:
        """Return where the page stands in the widget, in pixels."""
        if self.facts is None:
            return QRectF()
        air = self.theme.px(10)
        room = QRectF(self.rect()).adjusted(air, air, -air, -air)
        scale = min(room.width() / self.facts.width, room.height() / self.facts.height)
        width, height = self.facts.width * scale, self.facts.height * scale
        return QRectF(room.center().x() - width / 2, room.center().y() - height / 2, width, height)

    def place_area(self, number: int) -> QRectF:
        """Return where a place (counted from 1) stands in the widget, in pixels."""
        if self.facts is None:
            return QRectF()
        page = self.page_area()
        scale = page.width() / self.facts.width
        left, top, width, height = self.facts.places[number - 1]
        return QRectF(page.left() + left * scale, page.top() + top * scale, width * scale, height * scale)

    def place_at(self, point: QPoint) -> int | None:
        """Return the place under a point, or None."""
        if self.facts is None:
            return None
        numbers = range(1, len(self.facts.places) + 1)
        return next((number for number in numbers if self.place_area(number).contains(point)), None)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        number = self.place_at(event.position().toPoint())
        if number is not None and event.button() == Qt.MouseButton.LeftButton:
            self._choose(number, not event.modifiers() & Qt.KeyboardModifier.ShiftModifier)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.facts is None or not self.facts.places:
            super().keyPressEvent(event)
            return
        across = -1 if self.layoutDirection() == Qt.LayoutDirection.RightToLeft else 1
        steps = {
            Qt.Key.Key_Right: across,
            Qt.Key.Key_Left: -across,
            Qt.Key.Key_Down: self.facts.columns,
            Qt.Key.Key_Up: -self.facts.columns,
        }
        key = Qt.Key(event.key())
        if key in steps:
            there = self._at + steps[key]
            if 1 <= there <= len(self.facts.places):
                self._at = there
                self._name()
                self.update()
        elif key in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._choose(self._at, key != Qt.Key.Key_Space)
        else:
            super().keyPressEvent(event)

    def _choose(self, number: int, begin: bool) -> None:
        self._at = number
        self._name()
        self.update()
        (self.begin_here if begin else self.place_chosen).emit(number)

    def _name(self) -> None:
        if self.facts is None:
            self.setAccessibleName(_("Label sheet"))
            return
        printed = self.facts.says[self._at - 1] if self._at <= len(self.facts.says) else ""
        said = _("used") if self._at in self.facts.used else printed or _("free")
        if self._at in self.facts.spoiled:
            said = _("{label}, spoiled").format(label=printed)
        name = _("Label sheet: place {number} of {count}, {state}")
        self.setAccessibleName(name.format(number=self._at, count=len(self.facts.places), state=said))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = painter_of(self), self.theme
        painter.fillRect(self.rect(), theme.colour("band"))
        if self.facts is None:
            return
        page = self.page_area()
        painter.fillRect(page, Qt.GlobalColor.white)
        if self._page is not None:
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(page, self._page)
        for number in range(1, len(self.facts.places) + 1):
            self._draw_place(painter, number)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pen(theme.colour("edge"), theme.border()))
        painter.drawRect(page)
        if self.hasFocus():
            focus_frame(painter, self.place_area(self._at), theme.colour("ink"))

    def _draw_place(self, painter: QPainter, number: int) -> None:
        assert self.facts is not None
        theme, area = self.theme, self.place_area(number)
        if number in self.facts.used:
            painter.fillRect(area, theme.colour("ground"))
            hatch(painter, area, theme.colour("hatch"), theme.px(9), theme.border(0.7))
            if self._has_room_for_a_word(area):
                self._draw_word(painter, area, _("used"), "ground", "ink")
        if number in self.facts.spoiled:
            self._draw_spoiled(painter, area)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pen(theme.colour("edge"), theme.border(0.8), Qt.PenStyle.DotLine))
        painter.drawRect(area)

    def _draw_spoiled(self, painter: QPainter, area: QRectF) -> None:
        """Strike a label through and say so."""
        theme = self.theme
        painter.setPen(pen(theme.colour("madder"), theme.px(3)))
        inside = area.adjusted(theme.px(3), theme.px(3), -theme.px(3), -theme.px(3))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(inside)
        painter.drawLine(inside.topLeft(), inside.bottomRight())
        painter.drawLine(inside.bottomLeft(), inside.topRight())
        if self._has_room_for_a_word(area):
            self._draw_word(painter, area, _("spoiled"), "card", "madder")

    def _has_room_for_a_word(self, area: QRectF) -> bool:
        """Return whether a word leaves enough of the hatching or the cross to be seen."""
        return area.width() > self.theme.px(90) and area.height() > self.theme.px(40)

    def _draw_word(self, painter: QPainter, area: QRectF, text: str, ground: str, ink: str) -> None:
        theme = self.theme
        font = theme.font(Type.SMALL)
        words = QRectF(0, 0, text_width(font, text) + theme.px(12), theme.px(20))
        words.moveCenter(area.center())
        painter.fillRect(words, theme.colour(ground))
        draw_text(painter, words, text, font, theme.colour(ink), Qt.AlignmentFlag.AlignCenter)
