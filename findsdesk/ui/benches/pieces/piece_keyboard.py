"""Where the keyboard goes at the bench of pieces: to the list, to the first field of the page that is open."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit

from findsdesk.ui.benches.pieces.pages import HasFirstField
from findsdesk.ui.benches.pieces.state import JOINS, MEASURES, PAGES, PHOTOS, TAKEN

if TYPE_CHECKING:
    from findsdesk.ui.benches.pieces.page import PiecesBench


class PieceKeyboard:
    """Gives the keyboard to parts of one bench."""

    def __init__(self, bench: PiecesBench) -> None:
        self._bench = bench
        self._for_piece = ""
        """The code of a piece whose fields are to have the keyboard once it is shown."""
        self._shown = ""

    def turn_page(self, step: int) -> None:
        """Open the next page of the piece, or the one before, with the cursor in its first field."""
        keys = list(PAGES)
        self._bench.show_page(keys[(keys.index(self._bench.shown_page()) + step) % len(keys)])
        self.to_fields()

    def other_side(self) -> None:
        """Go from the list to the fields and back; from outside the bench to the fields."""
        if self._is_outside() or self._is_in_list():
            self.to_fields()
        else:
            self.to_list()

    def to_list(self) -> None:
        """Give the keyboard to the list, from where the next piece is one key away."""
        self._bench.list.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def to_fields(self) -> None:
        """Give the keyboard to the first field of the page that is open; without a piece to where one is found."""
        bench, key = self._bench, self._bench.shown_page()
        parts: dict[str, HasFirstField] = {JOINS: bench.joins, PHOTOS: bench.photos, TAKEN: bench.taken}
        if bench.state.piece is None and key != TAKEN:
            (bench.first_focus() or bench.list.search).setFocus(Qt.FocusReason.OtherFocusReason)
        elif key in parts:
            parts[key].focus_first()
        elif key == MEASURES and bench.rim.is_pointing():
            bench.rim.focus_points()
        else:
            bench.forms.focus(key)

    def follow_scan(self, code: str) -> None:
        """Let a piece that was typed in the scan line have the keyboard in its fields; a hand at the bench stays."""
        self._for_piece = code if self._bench.isVisible() and self._is_outside() else ""

    def piece_shown(self, code: str) -> None:
        """Take note that a piece is shown, '' for none; of another one the field at hand is typed over, as by Tab."""
        before, self._shown = self._shown, code
        field = QApplication.focusWidget()
        if code != before and isinstance(field, QLineEdit) and self._bench.forms.has(field):
            field.selectAll()
        if code and code == self._for_piece:
            self._for_piece = ""
            if self._is_outside():
                self.to_fields()

    def _is_outside(self) -> bool:
        focus = QApplication.focusWidget()
        return focus is None or not self._bench.isAncestorOf(focus)

    def _is_in_list(self) -> bool:
        focus = QApplication.focusWidget()
        return focus is not None and self._bench.list.isAncestorOf(focus)
