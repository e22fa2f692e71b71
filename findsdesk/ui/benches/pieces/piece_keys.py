"""The keys of the bench of pieces: what they are called, and how they are heard."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _

WRITE = ("Ctrl+Return", "Ctrl+Enter")
"""The keys that write the piece; forms hear them of their own."""
NOT_BY_KEY = Refusal(
    "not_by_key",
    N_(
        "Nothing is taken back by a key here. Write the earlier value, part the join, leave the vessel, or lay the "
        "piece back."
    ),
)
"""Said where somebody presses the keys that take back at the sorting table."""


def keys_in_words() -> tuple[tuple[str, str], ...]:
    """Return (key, what it does) for the page of keys."""
    return (
        (_("F3"), _("to the search")),
        (_("F6"), _("between list and fields")),
        (_("Ctrl+PgDn  Ctrl+PgUp"), _("to the next tab of the piece, to the one before")),
        (_("Ctrl+Enter"), _("write what was changed")),
        (_("Ctrl+D"), _("as the piece before")),
        (_("Ctrl+M"), _("take the rim over")),
        (_("+  −  0"), _("on a photograph with points: nearer, farther, all of it")),
    )


def hear(widget: QWidget, calls: Mapping[str, Callable[[], object]]) -> None:
    """Let keys call while the keyboard is in a widget or inside it."""
    for keys, call in calls.items():
        shortcut = QShortcut(QKeySequence(keys), widget)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(call)


def hear_on_bench(bench: QWidget, calls: Mapping[str, Callable[[], object]]) -> None:
    """Let keys call while a bench is open, wherever in the window the keyboard is: in the scan line too."""
    for keys, call in calls.items():
        QShortcut(QKeySequence(keys), bench).activated.connect(call)


def hear_writing(parts: Iterable[QWidget], write: Callable[[], object]) -> None:
    """Let Ctrl+Enter write from parts without a form; where two hear one key at once, both stay silent."""
    for part in parts:
        hear(part, dict.fromkeys(WRITE, write))
