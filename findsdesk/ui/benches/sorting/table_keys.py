"""The keys of the sorting table: what each does in words, and what it calls."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from findsdesk.words import _


def table_keys() -> tuple[tuple[str, str], ...]:
    """Return (key, what it does) of the table."""
    return (
        ("↓", _("as above")),
        ("↑", _("rows")),
        ("F3", _("lift out")),
        ("F4", _("decision")),
        ("F6", _("not a sherd")),
        ("F7", _("found more")),
        ("F8", _("not found")),
        ("F11", _("reading")),
    )


def rarer_keys() -> tuple[tuple[str, str], ...]:
    """Return (key, what it does) of the keys that stand on the page of keys alone."""
    return (
        (_("Enter"), _("next")),
        (_("Ctrl+Enter"), _("settle")),
        ("F2", _("to a row that waits")),
        ("F5", _("count")),
        ("F10", _("draw a share")),
        ("Ctrl+Z  Ctrl+Y", _("take back, do again")),
        (_("Shift+Enter"), _("back")),
        (_("Page down"), _("write the row from any cell")),
        ("Ctrl+V", _("paste rows of a spreadsheet")),
        ("Ctrl+L", _("what waits")),
    )


def bind_keys(bench: QWidget, calls: Mapping[str, Callable[[], None]]) -> None:
    """Let each key call what it is for while the keyboard is on the bench."""
    for keys, call in calls.items():
        shortcut = QShortcut(QKeySequence(keys), bench)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(call)
