"""A form built from a table of its fields: label, kind, width, help. Enter goes to the next field, in the last it ends.

What is typed is judged when the form is read; the first field that is wrong takes the caret and nothing is lost.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import takewhile
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.form_entries import ENTRIES
from findsdesk.ui.widgets.form_entry import Entry, FieldKind
from findsdesk.ui.widgets.form_rows import FormRows
from findsdesk.words import Terms

__all__ = ["Field", "FieldForm", "FieldKind"]

_NARROW = 380
"""Pixels of width, at 100 per cent, under which labels stand above their fields."""
Values = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Field:
    """One field: the key of its value, its label in words, what it takes, and how wide it is.

    ``width`` is in pixels at 100 per cent, 0 for all the room there is. ``choices`` are (value, words). ``help`` stands
    below in small type; ``unit`` is the word beside a whole number. A field that stands ``beside`` the one before it
    shares its line as far as there is room. ``name`` is what is read aloud where the label is one word of a sentence.
    """

    key: str
    label: str
    kind: FieldKind = FieldKind.TEXT
    width: int = 0
    help: str = ""
    choices: tuple[tuple[Any, str], ...] = ()
    unit: str = ""
    beside: bool = False
    name: str = ""


class _SideBySide(QWidget):
    """Fields of one line, in as many rows as its width asks for."""

    def __init__(self) -> None:
        super().__init__()
        self.flow = FlowLayout()
        self.setLayout(self.flow)


class FieldForm(QWidget):
    """Shows fields, gives their values as they are kept (small units, days, choices), and tells when they change."""

    edited = Signal()
    """Somebody typed or chose."""
    entered = Signal()
    """Enter in the last field, or Ctrl+Enter in any."""

    def __init__(
        self, theme: Theme, fields: Sequence[Field], terms: Terms | None = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.theme = theme
        self.fields = tuple(fields)
        self.entries: dict[str, Entry] = {
            field.key: ENTRIES[field.kind](field.name or field.label, field.choices, field.unit, terms)
            for field in fields
        }
        self._below: dict[str, QLabel] = {}
        self._refused: set[str] = set()
        self._rows = FormRows(self)
        self._lines: list[FlowLayout] = []
        self._holders: dict[str, tuple[QWidget, QWidget]] = {}
        for place, field in enumerate(self.fields):
            if not field.beside:
                together = takewhile(lambda one: one.beside, self.fields[place + 1 :])
                self._add_line((field, *together))
        for place, field in enumerate(self.fields):
            self._wire(field, last=place == len(self.fields) - 1)
        for keys in ("Ctrl+Return", "Ctrl+Enter"):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(self.entered)
        self._space()
        theme.changed.connect(self._space)

    def read(self) -> Values | None:
        """Return all values by their keys; where something is wrong the caret goes there and nothing is returned."""
        for field in self.fields:
            entry = self.entries[field.key]
            if not entry.judge():
                self._go_to(field.key)
                return None
        return {key: entry.value() for key, entry in self.entries.items()}

    def peek(self) -> Values:
        """Return the values as far as they can be read while somebody types; what is wrong is None."""
        return {key: entry.value() for key, entry in self.entries.items()}

    def as_typed(self) -> Values:
        """Return the values, and what was typed where it cannot be read; ``show_values`` brings all of it back."""
        return {key: entry.as_typed() for key, entry in self.entries.items()}

    def in_words(self, key: str) -> str:
        """Return the label of a field and what stands in it, as a person reads it."""
        label = next(field.label for field in self.fields if field.key == key)
        return f"{label} {self.entries[key].in_words() or '–'}"

    def show_values(self, values: Mapping[str, Any]) -> None:
        """Show these values; fields that are not named stay."""
        for key, value in values.items():
            if key in self.entries:
                self._accept(key)
                self.entries[key].show(value)

    def clear(self) -> None:
        """Empty all fields; choices go back to their first."""
        for entry in self.entries.values():
            entry.clear()

    def offer(self, key: str, choices: Sequence[tuple[Any, str]]) -> None:
        """Offer other choices in a field; what was chosen stays if it is among them."""
        self.entries[key].offer(choices)

    def also_call(self, key: str, names: Sequence[tuple[Any, str]]) -> None:
        """Let the choices of a field be typed by longer names too: (value, name)."""
        self.entries[key].also_call(names)

    def say_below(self, key: str, text: str) -> None:
        """Write below a field, e.g. what follows from what is typed there."""
        label = self._below[key]
        label.setText(text)
        label.setVisible(bool(text))

    def show_field(self, key: str, shown: bool) -> None:
        """Show or hide the line that begins with a field; its value is read all the same."""
        for part in self._holders[key]:
            part.setVisible(shown)

    def refuse_field(self, key: str) -> None:
        """Mark a field whose value was refused, and give it the keyboard; the mark goes when it is changed."""
        self._refused.add(key)
        self.entries[key].mark(True)
        self._go_to(key)

    def focus_first(self) -> None:
        """Give the keyboard to the first field."""
        if self.fields:
            self._go_to(self.fields[0].key)

    def focus_field(self, key: str) -> None:
        """Give the keyboard to a field."""
        self._go_to(key)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Set labels above their fields where there is little room beside them."""
        super().resizeEvent(event)
        self._rows.set_above(self.width() < self.theme.px(_NARROW))

    def _add_line(self, fields: Sequence[Field]) -> None:
        """Add a line of the form: one field, or several side by side; what is said of them stands below."""
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        entry = self.entries[fields[0].key]
        if len(fields) == 1:
            side = Qt.AlignmentFlag.AlignLeading if fields[0].width else Qt.AlignmentFlag(0)
            column.addWidget(entry.widget, alignment=side)
        else:
            column.addWidget(self._side_by_side(fields))
        # What is wrong stands below the whole line: beside a field it is cut, and moves the fields after it away.
        for field in fields:
            if complaint := self.entries[field.key].complaint():
                column.addWidget(complaint)
        for field in fields:
            below = labels.muted(field.help, small=True)
            self._below[field.key] = below
            column.addWidget(below)
            below.setVisible(bool(field.help))
        label = labels.plain(fields[0].label)
        label.setBuddy(entry.widget)
        self._holders[fields[0].key] = label, holder
        self._rows.add_row(label, holder)

    def _side_by_side(self, fields: Sequence[Field]) -> QWidget:
        line = _SideBySide()
        flow = line.flow
        self._lines.append(flow)
        flow.addWidget(self.entries[fields[0].key].widget)
        for field in fields[1:]:
            pair = QWidget()
            row = QHBoxLayout(pair)
            row.setContentsMargins(0, 0, 0, 0)
            label = labels.plain(field.label, wrap=False)
            label.setBuddy(self.entries[field.key].widget)
            row.addWidget(label)
            row.addWidget(self.entries[field.key].widget)
            flow.addWidget(pair)
        return line

    def _wire(self, field: Field, *, last: bool) -> None:
        entry = self.entries[field.key]
        entry.when_edited(lambda *_what: self._edit(field.key))
        entry.when_entered(self.entered.emit if last else lambda: self._go_on(field.key))

    def _edit(self, key: str) -> None:
        self._accept(key)
        self.edited.emit()

    def _accept(self, key: str) -> None:
        if key in self._refused:
            self._refused.discard(key)
            self.entries[key].mark(False)

    def _go_on(self, key: str) -> None:
        place = next(place for place, field in enumerate(self.fields) if field.key == key)
        self._go_to(self.fields[place + 1].key)

    def _go_to(self, key: str) -> None:
        """Give the keyboard to a field, and bring it into sight where the page scrolls."""
        widget = self.entries[key].widget
        widget.setFocus(Qt.FocusReason.TabFocusReason)
        above = self.parentWidget()
        while above is not None and not isinstance(above, QScrollArea):
            above = above.parentWidget()
        if above is not None:
            above.ensureWidgetVisible(widget)

    def _space(self) -> None:
        px = self.theme.px
        self._rows.set_gaps(px(14), px(8))
        for flow in self._lines:
            flow.set_gaps(px(14), px(6))
        for field in self.fields:
            if field.width:
                self.entries[field.key].widget.setMinimumWidth(px(field.width))
                self.entries[field.key].narrow(px(field.width))
