"""The keys of the window: shortcuts from every bench, and what the page of keys says of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence, QShortcut

from findsdesk.words import N_

if TYPE_CHECKING:
    from findsdesk.ui.window import Window

KEYS = (
    ("Ctrl+F", N_("to the scan line")),
    ("Ctrl+1 … 9, Ctrl+0", N_("to a bench; 0 is the tenth")),
    ("Ctrl++  Ctrl+-  Shift+F9", N_("larger, smaller, plain size")),
    ("F9", N_("sun or shade")),
    ("F1", N_("this page")),
)
"""(key, what it does); the words are marked."""


def add_shortcuts(window: Window, benches: Sequence[str]) -> None:
    """Add the shortcuts; ``benches`` are the keys of the benches in the order of the rail."""
    theme, standard = window.theme, QKeySequence.StandardKey
    for keys, call in (
        (QKeySequence(standard.Find), lambda: window.scan_line.field.setFocus()),
        (QKeySequence(standard.ZoomIn), lambda: theme.zoom_by(1)),
        (QKeySequence("Ctrl+="), lambda: theme.zoom_by(1)),
        (QKeySequence(standard.ZoomOut), lambda: theme.zoom_by(-1)),
        (QKeySequence("Shift+F9"), lambda: theme.zoom_to(100)),
        (QKeySequence("F9"), lambda: theme.use("shade" if theme.is_sun else "sun")),
        (QKeySequence("F1"), window.show_keys),
    ):
        QShortcut(keys, window).activated.connect(call)
    for number, key in enumerate(benches[:10], start=1):
        QShortcut(QKeySequence(f"Ctrl+{number % 10}"), window).activated.connect(
            lambda key=key: window.open_bench(key, anew=True)
        )
