"""What was scanned for an act, with where it belongs; Delete takes one off again."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding_shelves import is_a
from findsdesk.desk.not_met import not_met_in_words
from findsdesk.desk.register_columns import wording
from findsdesk.desk.shelves import places_tree, where_it_is
from findsdesk.domain.codes import Kind
from findsdesk.ui.benches.shelves.rows import scanned_columns, thing_in_words
from findsdesk.ui.benches.shelves.shelf_page import RowTable, ShelfPage
from findsdesk.ui.models.cells import TableRow, plain_cells
from findsdesk.words import N_, _


def described(desk: Desk, code: str) -> TableRow:
    """Return a scanned thing as a row: what it is, and where it belongs. Refusals: of finding it."""
    if is_a(desk, code, Kind.PLACE):
        place = next((one for one in places_tree(desk) if one.code == code), None)
        name, path = (place.name, place.path) if place is not None else (code, "")
        return TableRow(code, plain_cells(name, code, path))
    found, say = where_it_is(desk, code), wording(desk)
    box = "" if found.box is None else say(N_("in box {number}"), number=found.box)
    away = say(N_("away: {to}"), to=found.away_to) if found.away_to else ""
    where = ", ".join(part for part in (box, found.place, away, not_met_in_words(found.not_met, say)) if part)
    return TableRow(code, plain_cells(thing_in_words(found.number, code, say), code, where))


def now_at(row: TableRow) -> str:
    """Return where a described thing is now, in words."""
    return row.cells[2].text or _("at no place yet")


class ScannedTable(RowTable):
    """What was scanned for an act; Delete takes the chosen one off."""

    def __init__(self, page: ShelfPage, name: str, drop: Callable[[object], None]) -> None:
        super().__init__(page.theme, name, scanned_columns(page.say))
        self._drop = drop
        self.may_leave_out((1,))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and self.row_id() is not None:
            self._drop(self.row_id())
            return
        super().keyPressEvent(event)
