"""The big paper tag on which a count is written: the container, the number, the keypad, the button that writes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QKeyEvent, QKeySequence, QPaintEvent
from PySide6.QtWidgets import QBoxLayout, QGridLayout, QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.painting import (
    Drawn,
    DrawnButton,
    draw_text,
    fitted,
    focus_frame,
    margins,
    painter_of,
    pen,
)
from findsdesk.ui.widgets.paper_tag import draw_paper_tag
from findsdesk.ui.widgets.typed_number import is_typed, with_character, with_one_more
from findsdesk.words import _, grouped

_TALLEST_KEY = 1.9
_KEYS = ("1", "2", "3", "4", "5", "6", "7", "8", "9", "⌫", "0", "+1")


@dataclass(frozen=True, slots=True)
class CountFacts:
    """What stands on the tag. ``others`` are further buttons: (key, words)."""

    name: str
    aside: str = ""
    unit: str = ""
    others: tuple[tuple[str, str], ...] = ()


class KeypadKey(DrawnButton):
    """One key of the keypad: 15 mm or more; it leaves the keyboard's focus where it is."""

    def __init__(self, theme: Theme, text: str, name: str, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.setText(text)
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._tallest = _TALLEST_KEY
        self.bound(_TALLEST_KEY)

    def bound(self, targets: float) -> None:
        """Let the key grow on a large screen to so many times the least size, but not out of a thumb's reach."""
        self._tallest = targets
        self.setMaximumHeight(round(self.theme.target() * targets))

    def _new_look(self) -> None:
        self.bound(self._tallest)
        super()._new_look()

    def sizeHint(self) -> QSize:
        side = self.theme.target()
        return QSize(max(side, self.theme.px(70)), side)

    def minimumSizeHint(self) -> QSize:
        side = self.theme.target()
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = self.theme, painter_of(self)
        half = theme.border() / 2
        area = QRectF(self.rect()).adjusted(half, half, -half, -half)
        radius = min(area.height() / 2, theme.px(27))
        painter.setBrush(QBrush(theme.colour("band" if self.isDown() else "card")))
        painter.setPen(pen(theme.colour("edge"), theme.border()))
        painter.drawRoundedRect(area, radius, radius)
        ink = theme.colour("ink" if self.isEnabled() else "muted")
        draw_text(painter, area, self.text(), theme.font(Type.KEY), ink, Qt.AlignmentFlag.AlignCenter)


class _NumberStrip(Drawn):
    """The number being counted, large, on its dotted line."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.typed = ""
        self.offered = False
        """Whether the number was brought back: the next digit begins another."""
        self.marked = False
        """Whether it is marked as a whole: the next digit begins another, and one key takes all of it off."""
        self.unit = ""
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(220), self.theme.px(80))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = self.theme, painter_of(self)
        area = QRectF(self.rect())
        painter.fillRect(area, theme.colour("caution_fill" if self.offered or self.marked else "count_fill"))
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        unit_room = area.width() * 0.4
        unit_area = QRectF(area.right() - unit_room if turned else area.left(), area.top(), unit_room, area.height())
        unit_area.adjust(theme.px(4) if theme.is_sun else 0, 0, 0, -theme.px(12))
        begin = Qt.AlignmentFlag.AlignRight if turned else Qt.AlignmentFlag.AlignLeft
        unit_font = fitted(theme.font(Type.BASE), self.unit, unit_room)
        low = Qt.AlignmentFlag.AlignBottom
        draw_text(painter, unit_area, self.unit, unit_font, theme.colour("muted"), begin | low)
        said = self.typed or "–"
        font = fitted(theme.font(Type.NUMBER), said, area.width() * (0.62 if self.unit else 0.95))
        end = Qt.AlignmentFlag.AlignLeft if turned else Qt.AlignmentFlag.AlignRight
        ink = theme.colour("ink" if self.typed else "muted")
        draw_text(painter, area.adjusted(4, 0, -2, -theme.px(4)), said, font, ink, end | Qt.AlignmentFlag.AlignVCenter)
        painter.setPen(pen(theme.colour("ink"), theme.px(3), Qt.PenStyle.DotLine))
        y = area.bottom() - theme.px(2)
        painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))


class CountTag(Drawn):
    """Takes a count by number keys, keypad or ``+1``; Enter or the clay button writes it.

    What is typed stays as typed; whoever hears ``written`` judges it, and says what cannot be meant.
    """

    written = Signal(str)
    other = Signal(str)
    """The key of another button that was pressed."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.facts = CountFacts("")
        self._low = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._name, self._aside = labels.bold(), labels.muted(wrap=False)
        self._name.setSizePolicy(QSizePolicy.Policy.Minimum, QSizePolicy.Policy.Fixed)
        self._strip = _NumberStrip(theme)
        self.write_button = QPushButton()
        self.write_button.setProperty("act", True)
        self.write_button.setProperty("yard", "large")
        self.write_button.clicked.connect(self._write)
        self._others = QHBoxLayout()
        self._other_buttons: list[QPushButton] = []
        self._keys = [KeypadKey(theme, text, self._key_name(text)) for text in _KEYS]
        self._lay_out()
        self._space()
        self.show_facts(None)

    def show_facts(self, facts: CountFacts | None) -> None:
        """Show the thing to be counted with an empty number, or an empty tag."""
        self.facts = facts or CountFacts("")
        self._name.setText(self.facts.name or _("Nothing in hand"))
        self._aside.setText(self.facts.aside)
        self._strip.unit = self.facts.unit
        self._show_others(self.facts.others)
        self.set_typed("")
        self.setEnabled(facts is not None)

    def typed(self) -> str:
        """Return what was typed so far, as it was typed."""
        return self._strip.typed

    def set_typed(self, typed: str) -> None:
        """Put a number on the tag as if it had been typed, or take it off."""
        self._put(typed)

    def offer(self, typed: str) -> None:
        """Bring a number back: Enter writes it, the next digit begins another."""
        self._put(typed, offered=True)

    def offered(self) -> bool:
        """Return whether the number on the tag was brought back and not touched since."""
        return self._strip.offered

    def lie_down(self, low: bool) -> None:
        """Put the keypad beside the number where the window is low, instead of below it."""
        way = QBoxLayout.Direction.LeftToRight if low else QBoxLayout.Direction.TopToBottom
        if self._halves.direction() != way:
            self._halves.setDirection(way)
            self._halves.setStretch(0, 100 if low else 1)
            self._put_acts(low)
            for key in self._keys:
                key.bound(1.0 if low else _TALLEST_KEY)
            self._low = low
            tall = QSizePolicy.Policy.Fixed if low else QSizePolicy.Policy.Preferred
            self.setSizePolicy(QSizePolicy.Policy.Preferred, tall)
            self._space()
            self.updateGeometry()

    def _put_acts(self, low: bool) -> None:
        """Keep the button that writes in sight: below the number where the keypad stands beside it."""
        if low:
            self._side.addStretch(1)
            self._side.addWidget(self._acts)
        else:
            self._side.takeAt(1)
            self._whole.insertWidget(1, self._acts)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        text = event.text()
        if is_typed(text):
            self.add(text)
        elif event.matches(QKeySequence.StandardKey.SelectAll):
            self._put(self._strip.typed, marked=True)
        elif event.key() == Qt.Key.Key_Backspace:
            self._put("" if self._strip.marked else self._strip.typed[:-1])
        elif event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Escape) and self._strip.typed:
            self._put("")
        elif text == "+":
            self._put(with_one_more(self._strip.typed))
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._write()
        else:
            super().keyPressEvent(event)

    def add(self, character: str) -> None:
        """Add one character to what was typed."""
        anew = self._strip.offered or self._strip.marked
        self._put(with_character("" if anew else self._strip.typed, character))

    def _press(self, key: str) -> None:
        if key == "⌫":
            self._put(self._strip.typed[:-1])
        elif key == "+1":
            self._put(with_one_more(self._strip.typed))
        else:
            self.add(key)

    def _put(self, typed: str, offered: bool = False, marked: bool = False) -> None:
        self._strip.typed, self._strip.offered = typed, offered and bool(typed)
        self._strip.marked = marked and bool(typed)
        self._strip.update()
        if typed:
            number = grouped(int(typed)) if typed.isdecimal() else typed
            self.write_button.setText(_("Write {number}").format(number=number))
        else:
            self.write_button.setText(_("Type the count"))
        self.write_button.setEnabled(bool(typed and self.facts.name))
        said = f"{self.facts.name}, {self.facts.unit}: {typed or '–'}"
        self.setAccessibleName(_("Count of {thing}").format(thing=said))

    def _write(self) -> None:
        if self.write_button.isEnabled():
            self.written.emit(self._strip.typed)

    def _show_others(self, others: Sequence[tuple[str, str]]) -> None:
        for button in self._other_buttons:
            self._others.removeWidget(button)
            button.hide()
            button.deleteLater()
        self._other_buttons = []
        for key, words in others:
            button = QPushButton(words)
            button.setProperty("yard", "plain")
            button.clicked.connect(lambda _checked=False, key=key: self.other.emit(key))
            self._others.addWidget(button, 1)
            self._other_buttons.append(button)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self._name)
        head.addStretch(1)
        head.addWidget(self._aside, alignment=Qt.AlignmentFlag.AlignBottom)
        written = QVBoxLayout()
        written.addLayout(head)
        written.addWidget(self._strip)
        keys = QWidget()
        keys.setLayoutDirection(Qt.LayoutDirection.LeftToRight)
        self._pad = QGridLayout(keys)
        self._pad.setContentsMargins(0, 0, 0, 0)
        for place, (text, key) in enumerate(zip(_KEYS, self._keys, strict=True)):
            key.clicked.connect(lambda _checked=False, text=text: self._press(text))
            self._pad.addWidget(key, place // 3, place % 3)
        self._acts = QWidget()
        act = QVBoxLayout(self._acts)
        act.setContentsMargins(0, 0, 0, 0)
        act.addWidget(self.write_button)
        act.addLayout(self._others)
        top = QWidget()
        top.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._left = QVBoxLayout(top)
        self._left.setContentsMargins(0, 0, 0, 0)
        self._left.addLayout(written)
        self._halves = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._side = QVBoxLayout()
        self._side.addWidget(top, alignment=Qt.AlignmentFlag.AlignTop)
        self._halves.addLayout(self._side, 1)
        self._halves.addWidget(keys, 100)
        self._whole = QVBoxLayout(self)
        self._whole.addLayout(self._halves, 100)
        self._whole.addWidget(self._acts)
        self._whole.addStretch(1)
        self._act = act

    def _space(self) -> None:
        px = self.theme.px
        self._name.setFont(self.theme.font(Type.TAG))
        end = 12 if self._low else 20
        self._whole.setContentsMargins(margins(self, px(36), px(16), px(end), px(15)))
        self._whole.setSpacing(px(11))
        self._halves.setSpacing(px(14))
        self._left.setSpacing(px(4))
        self._pad.setSpacing(px(5 if self._low else 9))
        self._others.setSpacing(px(10))
        self._act.setSpacing(px(10))

    def _new_look(self) -> None:
        self._space()
        super()._new_look()

    @staticmethod
    def _key_name(text: str) -> str:
        return {"⌫": _("Take the last digit off"), "+1": _("One more")}.get(text, text)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = self.theme, painter_of(self)
        draw_paper_tag(painter, theme, self)
        if self.hasFocus():
            strip = self._strip.mapTo(self, QPoint(0, 0))
            frame = QRectF(strip, self._strip.size()).adjusted(-6, -3, 6, 6)
            focus_frame(painter, frame, theme.colour("ink"))
