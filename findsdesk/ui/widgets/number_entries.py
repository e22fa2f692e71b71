"""The entries of a form that take a number, each with its measure."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QLabel

from findsdesk.domain.refusals import Refusal
from findsdesk.ui.widgets.form_entry import Call, Choices, Entry, Unread
from findsdesk.ui.widgets.number_field import (
    Measure,
    NumberField,
    calliper,
    grams,
    lengths,
    metres,
    millimetres,
    share,
    whole,
    years,
)
from findsdesk.words import Terms


class NumberEntry(Entry):
    """A number in the one number field."""

    measure: Callable[[str], Measure] = staticmethod(whole)

    def __init__(self, name: str, _choices: Choices, unit: str, terms: Terms | None) -> None:
        self.field = self.widget = NumberField(type(self).measure(unit), name, terms)

    def value(self) -> int | None:
        try:
            return self.field.value()
        except Refusal:
            return None

    def as_typed(self) -> Any:
        """Return the number, or what was typed where it is none."""
        try:
            return self.field.value()
        except Refusal:
            return Unread(self.field.line.text())

    def in_words(self) -> str:
        """Return the number with its unit."""
        return self.field.in_words()

    def show(self, value: Any) -> None:
        if isinstance(value, Unread):
            self.field.line.setText(value)
            self.field.judge()
        else:
            self.field.set_value(value)

    def when_edited(self, call: Call) -> None:
        """Call when somebody types or chooses."""
        self.field.line.textEdited.connect(call)

    def when_entered(self, call: Call) -> None:
        """Call at Enter."""
        self.field.entered.connect(lambda _value: call())

    def complaint(self) -> QLabel:
        """Return the label that says what is wrong."""
        return self.field.said()

    def judge(self) -> bool:
        return self.field.judge()

    def narrow(self, width: int) -> None:
        self.field.setMaximumWidth(16_777_215)
        self.field.line.setMinimumWidth(width)
        self.field.line.setMaximumWidth(width)


class MetresEntry(NumberEntry):
    """An elevation in metres, kept in millimetres."""

    measure = staticmethod(lambda _unit: metres())


class ShareEntry(NumberEntry):
    """A share in per cent, kept in per mille."""

    measure = staticmethod(lambda _unit: share())


class LetteringEntry(NumberEntry):
    """A small length in millimetres, kept in tenths."""

    measure = staticmethod(lambda _unit: millimetres())


class GramsEntry(NumberEntry):
    """A weight in grams, kept in tenths."""

    measure = staticmethod(lambda _unit: grams())


class CalliperEntry(NumberEntry):
    """A length read off a calliper, kept in tenths of a millimetre."""

    measure = staticmethod(lambda _unit: calliper())


class LengthEntry(NumberEntry):
    """A length in whole millimetres."""

    measure = staticmethod(lambda _unit: lengths())


class YearEntry(NumberEntry):
    """A year, 180 or 50 BCE."""

    measure = staticmethod(lambda _unit: years())
