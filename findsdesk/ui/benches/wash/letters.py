"""The keys of the wash yard: letters while the keyboard is on the bench, and the page that tells them all."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt

from findsdesk.domain.routes import StepKind
from findsdesk.ui.benches.wash.tag_work import TagWork
from findsdesk.words import N_

KEYS = (
    ("0 … 9  Enter", N_("write the count, choose by number, or the next for a tub")),
    ("+", N_("one more")),
    ("Esc", N_("back; end filling a tub")),
    ("T 1 … 9", N_("fill a tub")),
    ("1 … 6  Enter", N_("seen at dip and look, as the buttons say")),
    ("D  Y", N_("it is dry; which are dry?")),
    ("A", N_("count again")),
    ("U  W", N_("left unwashed; washed without a count")),
    ("M  *", N_("more")),
)
"""(key, what it does), marked."""


def letters(
    work: TagWork, ask_which_tub: Callable[[], None], ask_which_are_dry: Callable[[], None]
) -> dict[Qt.Key, Callable[[], None]]:
    """Return what each letter does; single letters act only while the keyboard is on the bench and in no field."""
    return {
        Qt.Key.Key_T: ask_which_tub,
        Qt.Key.Key_D: lambda: work.do(work.state.dry()),
        Qt.Key.Key_Y: ask_which_are_dry,
        Qt.Key.Key_A: lambda: work.quiet.choose("again"),
        Qt.Key.Key_U: lambda: work.do(work.state.treat(StepKind.LEFT_UNWASHED)),
        Qt.Key.Key_W: lambda: work.do(work.state.treat(StepKind.WASHED)),
        Qt.Key.Key_M: work.quiet.show_list,
        Qt.Key.Key_Asterisk: work.quiet.show_list,
        Qt.Key.Key_Escape: work.leave,
    }
