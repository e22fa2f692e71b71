"""Entries of a form that are chosen from a list, or typed: a code, a name, or what stands on no list yet."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCompleter, QLabel, QLineEdit

from findsdesk.domain.natural_order import folded
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.form_entry import Call, Choices, Entry
from findsdesk.words import Terms, _


class _EnterBox(ChoiceBox):
    """A choice box in which Enter goes on, as in every other field."""

    keeps_unread = True

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.entered: Call | None = None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if enter and not event.modifiers() & Qt.KeyboardModifier.ControlModifier and self.entered:
            self.entered()
            return
        super().keyPressEvent(event)


class ChoiceEntry(Entry):
    """One of a few."""

    def __init__(self, name: str, choices: Choices, _unit: str, _terms: Terms | None) -> None:
        self.box = self.widget = _EnterBox(name)
        self._none = labels.plain()
        self._none.setProperty("kind", "small")
        self._none.setProperty("wrong", True)
        self._none.hide()
        self.box.unread_changed.connect(self._say_none)
        self.offer(choices)

    def complaint(self) -> QLabel:
        """Return the label that says that what was typed is none of the choices."""
        return self._none

    def _say_none(self, typed: str) -> None:
        self._none.setText(_("“{typed}” is none of the choices.").format(typed=typed) if typed else "")
        # Without a parent it would be a window of its own.
        self._none.setVisible(bool(typed) and self._none.parent() is not None)

    def value(self) -> Any:
        return self.box.currentData()

    def in_words(self) -> str:
        """Return the words of what is chosen."""
        return self.box.currentText().strip()

    def show(self, value: Any) -> None:
        place = next((place for place in range(self.box.count()) if self.box.itemData(place) == value), 0)
        self.box.setCurrentIndex(place)
        self.box.forget_typing()

    def judge(self) -> bool:
        return not self.box.unread()

    def when_edited(self, call: Call) -> None:
        """Call when somebody types or chooses."""
        self.box.activated.connect(call)

    def when_entered(self, call: Call) -> None:
        """Call at Enter."""
        self.box.entered = call

    def offer(self, choices: Choices) -> None:
        if list(choices) == [(self.box.itemData(place), self.box.itemText(place)) for place in range(self.box.count())]:
            # What is being typed goes on where nothing else is offered.
            return
        before = self.value()
        self.box.clear()
        for value, words in choices:
            self.box.addItem(words, value)
        self.show(before)


class ChoiceOrNewEntry(ChoiceEntry):
    """One of a few, or another one typed; its value is the text, or what stands behind a known one."""

    def __init__(self, name: str, choices: Choices, unit: str, terms: Terms | None) -> None:
        self._by_name: dict[str, Any] = {}
        super().__init__(name, choices, unit, terms)
        self.line = QLineEdit()
        self.line.setAccessibleName(name)
        self.box.setEditable(True)
        self.box.setLineEdit(self.line)
        self.box.setInsertPolicy(ChoiceBox.InsertPolicy.NoInsert)
        self.line.editingFinished.connect(self._write_out)
        self.show(None)

    def value(self) -> Any:
        typed = self.box.currentText().strip()
        place = self.box.findText(typed, Qt.MatchFlag.MatchFixedString)
        return self.box.itemData(place) if place >= 0 else self._by_name.get(folded(typed), typed)

    def show(self, value: Any) -> None:
        place = next((place for place in range(self.box.count()) if self.box.itemData(place) == value), -1)
        self.box.setCurrentIndex(place)
        if place < 0:
            self.box.setEditText(value or "")

    def also_call(self, names: Choices) -> None:
        """Take these longer names for their choices, and complete them too."""
        self._by_name = {folded(name): value for value, name in names if name}
        codes = (self.box.itemText(place) for place in range(self.box.count()))
        offered = QCompleter([*codes, *(name for _value, name in names if name)], self.line)
        offered.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        offered.setCompletionMode(QCompleter.CompletionMode.InlineCompletion)
        self.line.setCompleter(offered)

    def _write_out(self) -> None:
        """Let the choice stand there where its longer name was typed."""
        if folded(self.box.currentText()) in self._by_name:
            self.show(self.value())

    def when_edited(self, call: Call) -> None:
        """Call when somebody types or chooses."""
        super().when_edited(call)
        self.line.textEdited.connect(call)
