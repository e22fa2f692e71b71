"""A field filled from a list: what is meant stands behind the caret while it is typed, and Enter takes it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent, QWheelEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from findsdesk.domain.natural_order import folded
from findsdesk.ui.benches.sorting.choices import Choice, Choices
from findsdesk.ui.benches.sorting.row_lists import parted


class ChoiceField(QLineEdit):
    """Codes and words in any case; what is on no list stays as it was typed and stops nobody."""

    looked_at = Signal(object)
    """The field itself, when it has the keyboard or what is typed in it changes: its words are to be shown."""

    def __init__(self, name: str, choices: Choices | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.choices = choices or Choices()
        self._typed = ""
        self.setAccessibleName(name)
        self.textEdited.connect(self._complete)

    def typed(self) -> str:
        """Return what was typed, without what was only completed."""
        return self._typed

    def show_text(self, text: str) -> None:
        """Show a text as if it had been typed and taken."""
        self._typed = text
        self.setText(text)

    def pick(self, choice: Choice) -> None:
        """Take a word that was pointed at."""
        self.show_text(choice.word)
        self.looked_at.emit(self)

    def last(self) -> str:
        """Return what the words in the strip are about: all that was typed."""
        return self._typed

    def meant(self) -> Choice | None:
        """Return the word that is meant now."""
        return self.choices.meant(self._typed)

    def unknown(self) -> bool:
        """Return whether what was typed means no word of the list."""
        return bool(self._typed.strip()) and self.meant() is None

    def take(self) -> None:
        """Write out the word that is meant; leave what means none as it was typed."""
        choice = self.meant()
        self.show_text(choice.word if choice else self._typed)

    def _complete(self, text: str) -> None:
        longer = len(text) > len(self._typed)
        self._typed = text
        choice = self.meant() if longer and self.cursorPosition() == len(text) else None
        if choice is not None and self._begins(choice, text):
            whole = self._whole(choice, text)
            if len(whole) > len(text):
                self.setText(text + whole[len(text) :])
                self.setSelection(len(self.text()), len(text) - len(self.text()))
        self.looked_at.emit(self)

    def _begins(self, choice: Choice, text: str) -> bool:
        return folded(choice.word).startswith(folded(text))

    def _whole(self, choice: Choice, text: str) -> str:
        return choice.word

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.selectAll()
        self.looked_at.emit(self)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.take()

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class SeveralField(ChoiceField):
    """A field for several words, parted by a comma or a plus: the one behind the last of them is completed."""

    def meant(self) -> Choice | None:
        """Return the word that the last of the typing means."""
        return self.choices.meant(parted_at_last(self._typed)[1])

    def unknown(self) -> bool:
        """Return whether one of the words means none of the list."""
        return any(self.choices.meant(word) is None for word in parted(self._typed))

    def take(self) -> None:
        """Write out every word that is meant; leave what means none as it was typed."""
        words = parted(self._typed)
        meant = (self.choices.meant(word) for word in words)
        self.show_text(", ".join(choice.word if choice else word for choice, word in zip(meant, words, strict=True)))

    def pick(self, choice: Choice) -> None:
        """Take a word that was pointed at, for the last of the typing."""
        before = parted_at_last(self._typed)[0]
        self.show_text(f"{before}{choice.word}")
        self.looked_at.emit(self)

    def last(self) -> str:
        """Return the last of the words, which the strip is about."""
        return parted_at_last(self._typed)[1]

    def _begins(self, choice: Choice, text: str) -> bool:
        return folded(choice.word).startswith(folded(parted_at_last(text)[1]))

    def _whole(self, choice: Choice, text: str) -> str:
        return parted_at_last(text)[0] + choice.word


def parted_at_last(typed: str) -> tuple[str, str]:
    """Return what stands before the last word of several, its sign and blank included, and that word."""
    place = max(typed.rfind(sign) for sign in ",;+")
    word = typed[place + 1 :]
    return typed[: len(typed) - len(word.lstrip())], word.strip()


class OwnWordsField(ChoiceField):
    """A field with proposals, in which anything may be written.

    A word of the list is taken that stands there whole, by its number, or completed behind the caret; Delete takes the
    completion away, and what was typed is somebody's own.
    """

    own_words = True
    """Whether anything may be written; else it is a field like the others."""
    _completes = False
    """Whether what stands there was typed on just now: only then a word of the list stands behind the caret."""

    def show_text(self, text: str) -> None:
        """Show a text as if it had been typed and taken: what is in somebody's own words stays so."""
        self._completes = False
        super().show_text(text)

    def meant(self) -> Choice | None:
        """Return the proposal that was typed whole, by its number, or by its first letters."""
        choice = super().meant()
        if not self.own_words or choice is None:
            return choice
        typed = self._typed.strip()
        whole = folded(choice.word) == folded(typed) or typed.isdecimal()
        return choice if whole or (self._completes and self._begins(choice, typed)) else None

    def unknown(self) -> bool:
        """Return False where any reason may be given."""
        return not self.own_words and super().unknown()

    def _complete(self, text: str) -> None:
        self._completes = len(text) > len(self._typed)
        super()._complete(text)
