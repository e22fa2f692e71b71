"""What every entry of a form is and does, and the kinds there are."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Sequence
from enum import Enum
from typing import Any

from PySide6.QtWidgets import QLabel, QWidget

Call = Callable[..., None]
Choices = Sequence[tuple[Any, str]]


class FieldKind(Enum):
    """What a field takes, and what it gives."""

    TEXT = "text"
    LINES = "lines"
    WHOLE = "whole"
    METRES = "metres"
    """Millimetres."""
    SHARE = "share"
    """Per cent on screen, per mille as a value."""
    LETTERING = "lettering"
    """Millimetres on screen, tenths of one as a value."""
    GRAMS = "grams"
    """Grams on screen, tenths of one as a value."""
    CALLIPER = "calliper"
    """Millimetres with a decimal on screen, tenths of one as a value."""
    LENGTH = "length"
    """Whole millimetres."""
    MUNSELL = "munsell"
    """A Munsell notation, with the colour it has on a screen beside it."""
    YEAR = "year"
    DAY = "day"
    CHOICE = "choice"
    CHOICE_OR_NEW = "choice or new"
    """A text: one of the choices, or another one typed."""
    WORDS = "words"
    """A text of words that stand on a list, several with commas between them; the choices are the list."""
    YES = "yes"
    PIN = "pin"
    """A text of which nobody sees more than how long it is."""


class Unread(str):
    """What was typed and cannot be read as a value: kept, and shown again, as it was typed."""

    __slots__ = ()


class Entry:
    """A widget that takes one value."""

    widget: QWidget

    @abstractmethod
    def value(self) -> Any:
        """Return the value, or None where there is none or it cannot be read."""

    def as_typed(self) -> Any:
        """Return the value, or what was typed where that cannot be read; showing it brings all of it back."""
        return self.value()

    def in_words(self) -> str:
        """Return what stands there as a person reads it, '' where nothing does."""
        value = self.value()
        return "" if value is None else str(value)

    @abstractmethod
    def show(self, value: Any) -> None:
        """Show a value."""

    @abstractmethod
    def when_edited(self, call: Call) -> None:
        """Call when somebody changes what stands there."""

    def when_entered(self, call: Call) -> None:
        """Call when Enter is pressed in it."""

    def complaint(self) -> QLabel | None:
        """Return the label that says what is wrong, where there is one; a form sets it below the line."""
        return None

    def judge(self) -> bool:
        """Mark what cannot be read; return whether it is right."""
        return True

    def mark(self, wrong: bool) -> None:
        """Mark what stands there as refused, or take the mark away."""
        marked = self.widget.focusProxy() or self.widget
        marked.setProperty("wrong", wrong)
        marked.style().unpolish(marked)
        marked.style().polish(marked)

    def clear(self) -> None:
        """Show nothing."""
        self.show(None)

    def offer(self, choices: Choices) -> None:
        """Offer these choices."""
        raise TypeError(f"{type(self).__name__} offers no choices")

    def also_call(self, names: Choices) -> None:
        """Let choices be typed by these longer names too."""
        raise TypeError(f"{type(self).__name__} knows no other names")

    def narrow(self, width: int) -> None:
        """Take no more room than this."""
        self.widget.setMaximumWidth(width)
