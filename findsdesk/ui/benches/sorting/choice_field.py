"""A field filled from a list: what is meant stands behind the caret while it is typed, and Enter takes it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent, QWheelEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from findsdesk.domain.natural_order import folded
from findsdesk.ui.benches.sorting.choices import Choice, Choices


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
        choice = self.choices.meant(text) if longer and self.cursorPosition() == len(text) else None
        if choice is not None and folded(choice.word).startswith(folded(text)) and len(choice.word) > len(text):
            self.setText(text + choice.word[len(text) :])
            self.setSelection(len(self.text()), len(text) - len(self.text()))
        self.looked_at.emit(self)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.selectAll()
        self.looked_at.emit(self)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.take()

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class OwnWordsField(ChoiceField):
    """A field with proposals, in which anything may be written: only a whole word or its number is taken."""

    def meant(self) -> Choice | None:
        """Return the proposal that was typed whole or by its number."""
        choice = super().meant()
        number = self._typed.strip()
        whole = choice is not None and (folded(choice.word) == folded(number) or number.isdecimal())
        return choice if whole else None

    def unknown(self) -> bool:
        """Return False: any reason may be given."""
        return False
