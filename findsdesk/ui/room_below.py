"""Room for a message that is higher than the head of a bench: the body begins below it, so that it covers no field."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPoint

if TYPE_CHECKING:
    from findsdesk.ui.bench import Bench

_GAP = 6
"""Pixels, at 100 per cent, between the message and what is below it."""
_MOVES = frozenset({
    QEvent.Type.Move, QEvent.Type.Resize, QEvent.Type.ShowToParent, QEvent.Type.HideToParent,
})  # fmt: skip


class RoomBelow(QObject):
    """Follows the messages of a bench, and lets its body begin below them.

    Nothing moves from under the mouse: while it is over the body, room is made, and given back, when it leaves. A bench
    in which only rows become lower that nobody presses makes room ``at_once``.
    """

    def __init__(self, bench: Bench, *, at_once: bool) -> None:
        super().__init__(bench)
        self._bench, self._inner, self._at_once = bench, bench.body.parentWidget(), at_once
        bench.refusals.installEventFilter(self)
        if self._inner is not None and not at_once:
            self._inner.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in _MOVES if watched is self._bench.refusals else event.type() == QEvent.Type.Leave:
            self._make_room()
        return False

    def _make_room(self) -> None:
        bench, slip, inner = self._bench, self._bench.refusals, self._inner
        if inner is None or (inner.underMouse() and not self._at_once):
            return
        covered = 0
        if not slip.isHidden() and slip.parentWidget() is bench:
            begins = inner.mapTo(bench, QPoint()).y()
            covered = max(0, slip.geometry().bottom() + 1 + bench.theme.px(_GAP) - begins)
        # Less than the gap that is there anyway covers nothing.
        covered = covered if covered > bench.theme.px(_GAP) else 0
        if bench.body.contentsMargins().top() != covered:
            bench.body.setContentsMargins(0, covered, 0, 0)
