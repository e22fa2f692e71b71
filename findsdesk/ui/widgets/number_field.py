"""The one number field: pieces, grams or metres, read as people type them.

Toolkit spin boxes turn 1.5 into 15 in some locales and change when the wheel passes over them; this field does neither.
What is typed is judged on leaving the field or on Enter, and the mark goes as soon as it becomes right.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QLocale, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QSizePolicy, QWidget

from findsdesk.domain.numbers import (
    read_grams,
    read_hundredths_of_millimetres,
    read_metres,
    read_millimetres,
    read_percent,
    read_pieces,
    read_tenths_of_millimetres,
)
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.set_up_numbers import read_per_mille, read_tenths_of_mm, read_whole, read_year, year_in_words
from findsdesk.ui.announcing import announce
from findsdesk.ui.widgets import labels
from findsdesk.words import Terms, _


@dataclass(frozen=True, slots=True)
class Measure:
    """What a number field reads: how, in which unit it is shown, and how many small units make one shown unit."""

    read: Callable[[str], int]
    unit: str
    small_units: int
    """1 for pieces, 10 tenths of a gram, 1000 millimetres."""
    show: Callable[[int], str] | None = None
    """How a value stands in the field, where digits alone do not say it (50 BCE)."""


def pieces(unit: str = "") -> Measure:
    """Return the measure of whole pieces; the unit is the word beside the field, e.g. "sherds"."""
    return Measure(read_pieces, unit, 1)


def grams() -> Measure:
    """Return the measure of grams, kept as tenths of a gram."""
    return Measure(read_grams, _("g"), 10)


def metres() -> Measure:
    """Return the measure of metres, kept as millimetres."""
    return Measure(read_metres, _("m"), 1000)


def whole(unit: str = "") -> Measure:
    """Return the measure of whole numbers that are no pieces, e.g. hours; the unit is the word beside the field."""
    return Measure(read_whole, unit, 1)


def share() -> Measure:
    """Return the measure of a share in per cent, kept as per mille."""
    return Measure(read_per_mille, "%", 10)


def percent() -> Measure:
    """Return the measure of what is seen of a circle in per cent, kept as per mille; several may pass 100."""
    return Measure(read_percent, "%", 10)


def millimetres() -> Measure:
    """Return the measure of small lengths in millimetres, kept as tenths of one."""
    return Measure(read_tenths_of_mm, _("mm"), 10)


def calliper() -> Measure:
    """Return the measure of a length read off a calliper in millimetres, kept as tenths of one."""
    return Measure(read_tenths_of_millimetres, _("mm"), 10)


def steel_rule() -> Measure:
    """Return the measure of a length of paper in millimetres, kept as hundredths of one."""
    return Measure(read_hundredths_of_millimetres, _("mm"), 100)


def lengths() -> Measure:
    """Return the measure of a length in whole millimetres."""
    return Measure(read_millimetres, _("mm"), 1)


def years() -> Measure:
    """Return the measure of years, typed and shown as 180 or 50 BCE, kept as astronomers count them."""
    return Measure(read_year, "", 1, year_in_words)


def shown_number(value: int, measure: Measure, locale: QLocale | None = None) -> str:
    """Return a value as it stands in the field: the locale's decimal sign, no group separators."""
    if measure.show:
        return measure.show(value)
    units, rest = divmod(abs(value), measure.small_units)
    sign = "-" if value < 0 else ""
    if measure.small_units == 1:
        return f"{sign}{units}"
    places = len(str(measure.small_units)) - 1
    decimals = f"{rest:0{places}d}".rstrip("0") or "0"
    point = (locale or QLocale()).decimalPoint()
    return f"{sign}{units}{point}{decimals}"


class NumberField(QWidget):
    """A line to type in, its unit, and beside it what is wrong or how it was understood."""

    settled = Signal(object)
    """The value (small units) after Enter or on leaving, or None for an empty field; not while it is wrong."""
    entered = Signal(object)
    """The same after Enter alone."""
    complained = Signal(str)
    """What is wrong with what stands here, or '' as soon as nothing is."""

    def __init__(
        self,
        measure: Measure,
        name: str,
        terms: Terms | None = None,
        parent: QWidget | None = None,
        *,
        says: bool = True,
    ) -> None:
        """Without ``says`` the field shows a mark alone: whoever hears ``complained`` says what is wrong."""
        super().__init__(parent)
        self._measure, self._says = measure, says
        self._terms = terms
        self._wrong = ""
        self.line = _NumberLine(self)
        self.line.setProperty("number", True)
        self.line.setAccessibleName(f"{name} ({measure.unit})" if measure.unit else name)
        self.line.setInputMethodHints(Qt.InputMethodHint.ImhFormattedNumbersOnly)
        self.line.setAlignment(Qt.AlignmentFlag.AlignTrailing | Qt.AlignmentFlag.AlignVCenter)
        self._unit = labels.muted(measure.unit, wrap=False)
        self._said = labels.plain()
        self._said.setProperty("kind", "small")
        labels.restyle(self._said, wrong=True)
        self._said.hide()
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.line)
        layout.addWidget(self._unit)
        layout.addWidget(self._said, 1)
        # Only now: shown before it has a parent it would be a window of its own for a moment and take the keyboard.
        self._unit.setVisible(bool(measure.unit))
        self.setFocusProxy(self.line)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.line.textEdited.connect(self._soften)
        self.line.returnPressed.connect(self._enter)
        self.line.left.connect(self._leave)

    def value(self) -> int | None:
        """Return the number in small units, or None for an empty field; refuses what is not a number."""
        text = self.line.text().strip()
        return self._measure.read(text) if text else None

    def set_value(self, value: int | None) -> None:
        """Show a number given in small units, or nothing."""
        self.line.setText("" if value is None else shown_number(value, self._measure, self.locale()))
        self._show_wrong("")

    def set_unit(self, unit: str) -> None:
        """Show another unit word beside the field."""
        self._unit.setText(unit)
        self._unit.setVisible(bool(unit))

    def in_words(self) -> str:
        """Return what stands in the field with its unit, '' where nothing does."""
        text = self.line.text().strip()
        return f"{text} {self._measure.unit}".strip() if text else ""

    def wrong(self) -> str:
        """Return the sentence that stands beside the field, or nothing."""
        return self._wrong

    def judge(self) -> bool:
        """Judge what stands in the field now, as on leaving it; return whether it is right."""
        return self._judge()[0]

    def refuse(self, text: str) -> None:
        """Say what is wrong with what stands here, as judged elsewhere; it goes with what is typed next."""
        self._show_wrong(text)

    def said(self) -> QLabel:
        """Return the label with what is wrong, to be placed elsewhere where there is no room beside the field."""
        return self._said

    def _judge(self) -> tuple[bool, int | None]:
        try:
            value = self.value()
        except Refusal as refusal:
            self._show_wrong(refusal.in_words(self._terms))
            return False, None
        self._show_wrong("")
        return True, value

    def _soften(self) -> None:
        """Take the mark away as soon as what is typed becomes right; never put one while somebody types."""
        if self._wrong:
            try:
                self.value()
            except Refusal:
                return
            self._show_wrong("")

    def _enter(self) -> None:
        right, value = self._judge()
        if right:
            self.entered.emit(value)
            self.settled.emit(value)
        else:
            self.line.selectAll()

    def _leave(self) -> None:
        right, value = self._judge()
        if right:
            self.settled.emit(value)

    def _show_wrong(self, text: str) -> None:
        if text == self._wrong:
            return
        self._wrong = text
        self._said.setText(text if self._says else "")
        self._said.setVisible(bool(text) and self._says)
        self.line.setProperty("wrong", bool(text))
        self.line.style().unpolish(self.line)
        self.line.style().polish(self.line)
        announce(self.line, text)
        self.complained.emit(text)


class _NumberLine(QLineEdit):
    """The line itself: the wheel passes by, and the two Enter keys are one."""

    left = Signal()

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        super().keyPressEvent(event)
        # An Enter taken here must not reach a default button of a dialog around the field.
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.accept()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() not in (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason):
            self.left.emit()
