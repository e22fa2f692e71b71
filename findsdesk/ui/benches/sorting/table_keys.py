"""The keys of the sorting table: what each does in words, and what it calls."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from findsdesk.domain.sorting_columns import COLUMN_IN_WORDS
from findsdesk.words import N_, _, put


def table_keys(last: str) -> tuple[tuple[str, str], ...]:
    """Return (key, what it does), the most needed first; ``last`` is the column in which Enter writes the row."""
    return (
        (_("Enter"), put(N_("next, in {column} it writes"), None, {"column": put(COLUMN_IN_WORDS[last])})),
        ("↓", _("as above")),
        ("F2", _("rows in doubt")),
        ("F3", _("lift out")),
        ("F4", _("decision")),
        ("F6", _("not a sherd")),
        ("F8", _("not found")),
        ("F10", _("share")),
        (_("Esc Esc"), _("empty the row")),
        ("F11", _("reading")),
        ("F7", _("found more")),
        ("↑", _("rows")),
        (_("Delete"), _("remove a row")),
    )


def rarer_keys() -> tuple[tuple[str, str], ...]:
    """Return (key, what it does) of the keys that stand on the page of keys alone."""
    return (
        (_("Ctrl+Enter"), _("settle")),
        ("F5", _("count")),
        ("Ctrl+G", _("gather the row into a vessel, or take it out")),
        ("Ctrl+Z  Ctrl+Y", _("take back, do again")),
        (_("Shift+Enter"), _("back")),
        (_("Page down"), _("write the row from any cell")),
        (_("Ctrl+Delete"), _("remove the row being changed")),
        ("Ctrl+V", _("paste rows of a spreadsheet")),
        ("Ctrl+L", _("what waits")),
    )


def bind_keys(bench: QWidget, calls: Mapping[str, Callable[[], None]]) -> None:
    """Let each key call what it is for while the keyboard is on the bench."""
    for keys, call in calls.items():
        shortcut = QShortcut(QKeySequence(keys), bench)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(call)
