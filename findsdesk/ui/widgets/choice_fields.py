"""Choice boxes, date and time fields that the mouse wheel cannot change: the page scrolls instead."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPointF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPaintEvent, QPalette, QPolygonF, QWheelEvent
from PySide6.QtWidgets import QComboBox, QDateEdit, QStyledItemDelegate, QStyleOptionComboBox, QTimeEdit

from findsdesk.ui.widgets.choice_typing import ChoiceTyping

_ARROW = 1.9
"""What the arrow and the margins of a box take of its width, in heights of its letters."""
_MOST_ROWS = 14
"""So many choices stand in a list at once; beyond, it scrolls."""

_LEADS_ON = (
    Qt.Key.Key_Up,
    Qt.Key.Key_Down,
    Qt.Key.Key_PageUp,
    Qt.Key.Key_PageDown,
    Qt.Key.Key_Home,
    Qt.Key.Key_End,
    Qt.Key.Key_Escape,
)
"""Keys after which something else is typed."""


class ChoiceBox(QComboBox):
    """A combo box that leaves the wheel to the page, and wears an arrow in the ink of the palette in use.

    The keyboard does not follow the wheel into it either: by default it would. Letters typed in it, closed or open,
    choose by code or by name: a blank is part of the name. What means no choice is shown as wrong and chooses none.
    """

    unread_changed = Signal(str)
    """What was typed and means no choice, or '' again."""
    keeps_unread = False
    """Whether what means no choice stays there when the keyboard leaves; else the choice is shown again."""

    def __init__(self) -> None:
        super().__init__()
        self._typing = ChoiceTyping()
        self._before = -1
        """The place of the choice that stood there before something was typed."""
        self._unread = ""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMaxVisibleItems(_MOST_ROWS)
        # The delegate of the toolkit's own list knows nothing of the height that the look gives its rows.
        self.setItemDelegate(QStyledItemDelegate(self))

    def unread(self) -> str:
        """Return what was typed and means no choice, '' where nothing is."""
        return self._unread

    def forget_typing(self) -> None:
        """Let what is typed next begin anew, and what meant no choice be gone."""
        self._typing.forget()
        self._show_unread("")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.isEditable() or not self._type(event):
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason and not (self.keeps_unread and self._unread):
            self.forget_typing()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Hear what is typed in the open list."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent) and watched is self.view():
            if event.key() in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
                self._take_from_list(forwards=event.key() == Qt.Key.Key_Tab)
                return True
            return not self.isEditable() and self._type(event)
        return super().eventFilter(watched, event)

    def _take_from_list(self, *, forwards: bool) -> None:
        """Choose what the cursor of the open list stands on, and go on."""
        place = self.view().currentIndex().row()
        self.hidePopup()
        if place >= 0 and place != self.currentIndex():
            self.setCurrentIndex(place)
            self.activated.emit(place)
        self.focusNextPrevChild(forwards)

    def _type(self, event: QKeyEvent) -> bool:
        """Take a key as a letter of a code or a name; return whether it was one."""
        words = [self.itemText(place) for place in range(self.count())]
        held = event.modifiers() & ~(Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier)
        letter = event.text() if held == Qt.KeyboardModifier.NoModifier and event.text().isprintable() else ""
        if not self._typing.typed:
            self._before = self.currentIndex()
        if letter and (letter.strip() or self._typing.typed):
            self._choose(self._typing.add(letter, words, self.currentIndex()))
        elif event.key() == Qt.Key.Key_Backspace and self._typing.typed:
            self._choose(self._typing.shorten(words))
        else:
            if event.key() in _LEADS_ON:
                self.forget_typing()
            return False
        return True

    def _choose(self, meant: int | None) -> None:
        """Choose what is meant; where nothing is, what stood before stands again and what is typed is wrong."""
        if self.view().isVisible():
            if meant is not None:
                self.view().setCurrentIndex(self.model().index(meant, self.modelColumn(), self.rootModelIndex()))
            return
        self._show_unread(self._typing.typed if meant is None else "")
        place = self._before if meant is None else meant
        if place != self.currentIndex():
            self.setCurrentIndex(place)
            self.activated.emit(place)

    def _show_unread(self, text: str) -> None:
        if text == self._unread:
            return
        self._unread = text
        if bool(self.property("wrong")) is not bool(text):
            self.setProperty("wrong", bool(text))
            self.style().unpolish(self)
            self.style().polish(self)
        self.update()
        self.unread_changed.emit(text)

    def showPopup(self) -> None:
        """Open the list as wide as its longest words."""
        self.forget_typing()
        view = self.view()
        view.removeEventFilter(self)
        view.installEventFilter(self)
        bar = view.verticalScrollBar().sizeHint().width() if self.count() > _MOST_ROWS else 0
        view.setMinimumWidth(view.sizeHintForColumn(0) + bar + 2 * view.frameWidth())
        super().showPopup()

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def initStyleOption(self, option: QStyleOptionComboBox) -> None:
        """Let words that have no room end in dots: the style of the toolkit cuts them off within a letter."""
        super().initStyleOption(option)
        room = self.width() - round(self.fontMetrics().height() * _ARROW)
        option.currentText = self.fontMetrics().elidedText(
            self._unread or option.currentText, Qt.TextElideMode.ElideRight, room
        )

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        size = max(4.0, self.fontMetrics().height() * 0.24)
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        x, y = size * 2.9 if turned else self.width() - size * 2.9, self.height() / 2
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.palette().color(QPalette.ColorRole.Text))
        tip, side = QPointF(x, y + size * 0.6), size * 0.9
        painter.drawPolygon(QPolygonF([QPointF(x - side, y - size * 0.5), QPointF(x + side, y - size * 0.5), tip]))


class DateField(QDateEdit):
    """A date field that leaves the wheel to the page and shows dates as ISO writes them."""

    def __init__(self) -> None:
        super().__init__()
        self.setDisplayFormat("yyyy-MM-dd")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCalendarPopup(True)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class TimeField(QTimeEdit):
    """A time field that leaves the wheel to the page."""

    def __init__(self) -> None:
        super().__init__()
        self.setDisplayFormat("HH:mm")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
