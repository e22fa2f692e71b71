"""The fields of a piece on three pages, read and shown as one."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from findsdesk.desk.piece_rows import PieceRow
from findsdesk.ui.benches.pieces.fields import clay_fields, measure_fields, what_fields
from findsdesk.ui.benches.pieces.state import CLAY, MEASURES, WHAT, values_of
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.field_form import FieldForm
from findsdesk.ui.words_around import WordsAround


class PieceForms(QObject):
    """Each page is a form of its own; Enter in its last field, or Ctrl+Enter anywhere, writes all of them."""

    edited = Signal()
    entered = Signal()

    def __init__(self, theme: Theme, around: WordsAround) -> None:
        super().__init__()
        fields = {WHAT: what_fields, MEASURES: measure_fields, CLAY: clay_fields}
        self.pages = {key: FieldForm(theme, made(around), around.terms) for key, made in fields.items()}
        for page in self.pages.values():
            page.edited.connect(self.edited)
            page.entered.connect(self.entered)

    def read(self, show_page: Callable[[str], None]) -> dict[str, Any] | None:
        """Return all values; where a field is wrong its page is opened and nothing is returned."""
        values: dict[str, Any] = {}
        for key, page in self.pages.items():
            said = page.read()
            if said is None:
                show_page(key)
                page.read()
                return None
            values |= said
        return values

    def has(self, field: QWidget) -> bool:
        """Return whether a field is one of them."""
        return any(page.isAncestorOf(field) for page in self.pages.values())

    def peek(self) -> dict[str, Any]:
        """Return the values as far as they can be read while somebody types."""
        return {key: value for page in self.pages.values() for key, value in page.peek().items()}

    def as_typed(self) -> dict[str, Any]:
        """Return the values, and what was typed where it cannot be read."""
        return {key: value for page in self.pages.values() for key, value in page.as_typed().items()}

    def field_in_words(self, key: str) -> str:
        """Return the label of a field and what stands in it."""
        return next(page for page in self.pages.values() if key in page.entries).in_words(key)

    def show_values(self, values: Mapping[str, Any], typed: Mapping[str, Any]) -> None:
        """Show what a piece says, and over it what was typed and is not written yet; nothing clears the fields."""
        for page in self.pages.values():
            if not values:
                page.clear()
            page.show_values({**values, **typed})

    def take(self, values: Mapping[str, Any]) -> None:
        """Put values into fields as if they had been typed."""
        for page in self.pages.values():
            page.show_values(values)
        self.edited.emit()

    def in_words(self, piece: PieceRow, names: Sequence[str], around: WordsAround) -> dict[str, Any]:
        """Return what some fields show of a piece."""
        shown = values_of(piece, around)
        return {name: shown[name] for name in names}

    def offer_types(self, key: str, types: Sequence[tuple[str, str]]) -> None:
        """Offer wares or forms in a field: by their codes, and typed by their names too."""
        page = next(page for page in self.pages.values() if key in page.entries)
        page.offer(key, [("", "–"), *((code, code) for code, _name in types)])
        page.also_call(key, types)

    def refuse_field(self, key: str, show_page: Callable[[str], None]) -> None:
        """Open the page of a field whose value was refused, mark the field and give it the keyboard."""
        for name, page in self.pages.items():
            if key in page.entries:
                show_page(name)
                page.refuse_field(key)

    def focus(self, key: str) -> None:
        """Give the keyboard to the first field of a page."""
        self.pages[key].focus_first()

    def setEnabled(self, enabled: bool) -> None:
        """Let the fields be typed in, or not."""
        for page in self.pages.values():
            page.setEnabled(enabled)
