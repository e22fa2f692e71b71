"""What a form's fields are made of: one small class a kind, all used alike."""

from __future__ import annotations

import re
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCheckBox, QLabel, QLineEdit, QPlainTextEdit

from findsdesk.ui.widgets.choice_entries import ChoiceEntry, ChoiceOrNewEntry
from findsdesk.ui.widgets.choice_typing import meant_by
from findsdesk.ui.widgets.day_field import DayField
from findsdesk.ui.widgets.form_entry import Call, Choices, Entry, FieldKind
from findsdesk.ui.widgets.munsell_field import MunsellField
from findsdesk.ui.widgets.number_entries import (
    CalliperEntry,
    GramsEntry,
    LengthEntry,
    LetteringEntry,
    MetresEntry,
    NumberEntry,
    ShareEntry,
    YearEntry,
)
from findsdesk.words import Terms, _

_BETWEEN = re.compile(r"[,;+]")
"""What stands between words of which several are said."""


class TextEntry(Entry):
    """One line of text."""

    def __init__(self, name: str, _choices: Choices, _unit: str, _terms: Terms | None) -> None:
        self.line = self.widget = QLineEdit()
        self.line.setAccessibleName(name)
        self.line.setProperty("free_text", True)

    def value(self) -> str:
        return self.line.text().strip()

    def show(self, value: Any) -> None:
        self.line.setText(value or "")

    def when_edited(self, call: Call) -> None:
        """Call when somebody types or chooses."""
        self.line.textEdited.connect(call)

    def when_entered(self, call: Call) -> None:
        """Call at Enter."""
        self.line.returnPressed.connect(call)


class WordsEntry(TextEntry):
    """Words of a list with commas between them: what begins one is written out, what is on no list stays."""

    def __init__(self, name: str, choices: Choices, unit: str, terms: Terms | None) -> None:
        super().__init__(name, choices, unit, terms)
        self._words = [words for _value, words in choices]
        self.line.editingFinished.connect(self.judge)

    def value(self) -> str:
        return ", ".join(self._whole(part.strip()) for part in _BETWEEN.split(self.line.text()) if part.strip())

    def as_typed(self) -> str:
        """Return what stands there: nobody finds a word written out under his hands."""
        return self.line.text().strip()

    def judge(self) -> bool:
        """Write out what begins a word; return True, for the desk knows the list best."""
        whole = self.value()
        if whole != self.line.text().strip():
            self.line.setText(whole)
            self.line.textEdited.emit(whole)
        return True

    def _whole(self, part: str) -> str:
        place = meant_by(part, self._words)
        return part if place is None else self._words[place]


class PinEntry(TextEntry):
    """A PIN: masked, and never offered again by the keyboard of a tablet."""

    def __init__(self, name: str, choices: Choices, unit: str, terms: Terms | None) -> None:
        super().__init__(name, choices, unit, terms)
        self.line.setEchoMode(QLineEdit.EchoMode.Password)
        hints = Qt.InputMethodHint
        self.line.setInputMethodHints(hints.ImhDigitsOnly | hints.ImhSensitiveData | hints.ImhNoPredictiveText)


class _Lines(QPlainTextEdit):
    """Some lines of text; Tab leaves them, Enter begins a new one."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setTabChangesFocus(True)
        self.setMinimumHeight(3 * self.fontMetrics().lineSpacing() + 14)
        self.setMaximumHeight(4 * self.fontMetrics().lineSpacing() + 14)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier and event.key() in (
            Qt.Key.Key_Return,
            Qt.Key.Key_Enter,
        ):
            event.ignore()
            return
        super().keyPressEvent(event)


class LinesEntry(Entry):
    """Several lines of text."""

    def __init__(self, name: str, _choices: Choices, _unit: str, _terms: Terms | None) -> None:
        self.lines = self.widget = _Lines(name)

    def value(self) -> str:
        return self.lines.toPlainText().strip()

    def show(self, value: Any) -> None:
        self.lines.setPlainText(value or "")

    def when_edited(self, call: Call) -> None:
        """Call when somebody types or chooses."""
        self.lines.textChanged.connect(call)


class MunsellEntry(Entry):
    """A Munsell notation."""

    def __init__(self, name: str, _choices: Choices, _unit: str, _terms: Terms | None) -> None:
        self.field = self.widget = MunsellField(name)

    def value(self) -> str:
        return self.field.line.text().strip()

    def show(self, value: Any) -> None:
        self.field.show_notation(value or "")

    def when_edited(self, call: Call) -> None:
        """Call when somebody types or chooses."""
        self.field.line.textEdited.connect(call)

    def when_entered(self, call: Call) -> None:
        """Call at Enter."""
        self.field.line.returnPressed.connect(call)

    def complaint(self) -> QLabel:
        """Return the label that says what is wrong."""
        return self.field.wrong

    def judge(self) -> bool:
        return self.field.judge()

    def narrow(self, width: int) -> None:
        self.field.line.setMinimumWidth(width)
        self.field.line.setMaximumWidth(width)


class DayEntry(Entry):
    """A day as people write it."""

    def __init__(self, name: str, _choices: Choices, _unit: str, _terms: Terms | None) -> None:
        self.field = self.widget = DayField(name)

    def value(self) -> Any:
        return self.field.day()

    def show(self, value: Any) -> None:
        self.field.show_day(value)

    def when_edited(self, call: Call) -> None:
        """Call when somebody types or chooses."""
        self.field.textEdited.connect(call)

    def when_entered(self, call: Call) -> None:
        """Call at Enter."""
        self.field.returnPressed.connect(call)

    def judge(self) -> bool:
        self.field.judge()
        return not self.field.unreadable()


class YesEntry(Entry):
    """A yes or a no."""

    def __init__(self, name: str, _choices: Choices, _unit: str, _terms: Terms | None) -> None:
        self.check = self.widget = QCheckBox()
        self.check.setAccessibleName(name)

    def value(self) -> bool:
        return self.check.isChecked()

    def in_words(self) -> str:
        """Return yes or no in words."""
        return _("yes") if self.check.isChecked() else _("no")

    def show(self, value: Any) -> None:
        self.check.setChecked(bool(value))

    def when_edited(self, call: Call) -> None:
        """Call when somebody types or chooses."""
        self.check.clicked.connect(call)


ENTRIES: dict[FieldKind, type[Any]] = {
    FieldKind.TEXT: TextEntry,
    FieldKind.LINES: LinesEntry,
    FieldKind.WHOLE: NumberEntry,
    FieldKind.METRES: MetresEntry,
    FieldKind.SHARE: ShareEntry,
    FieldKind.LETTERING: LetteringEntry,
    FieldKind.GRAMS: GramsEntry,
    FieldKind.CALLIPER: CalliperEntry,
    FieldKind.LENGTH: LengthEntry,
    FieldKind.MUNSELL: MunsellEntry,
    FieldKind.YEAR: YearEntry,
    FieldKind.DAY: DayEntry,
    FieldKind.CHOICE: ChoiceEntry,
    FieldKind.CHOICE_OR_NEW: ChoiceOrNewEntry,
    FieldKind.WORDS: WordsEntry,
    FieldKind.YES: YesEntry,
    FieldKind.PIN: PinEntry,
}
