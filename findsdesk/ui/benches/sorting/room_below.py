"""Room for a long refusal: the table begins below it, so that the balance stays in sight; the typing stays in place."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint

from findsdesk.ui.bench import Bench

_GAP = 6
"""Pixels, at 100 per cent, between the refusal and what is below it."""
_MOVES = frozenset({
    QEvent.Type.Move, QEvent.Type.Resize, QEvent.Type.ShowToParent, QEvent.Type.HideToParent,
})  # fmt: skip


class RoomBelow(QObject):
    """Follows the refusals of a bench whose rows have all the height that is left: only they become lower."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._bench, self._inner = bench, bench.body.parentWidget()
        bench.refusals.installEventFilter(self)

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        if event.type() in _MOVES:
            self._make_room()
        return False

    def _make_room(self) -> None:
        bench, slip, inner = self._bench, self._bench.refusals, self._inner
        covered = 0
        if inner is not None and not slip.isHidden() and slip.parentWidget() is bench:
            begins = inner.mapTo(bench, QPoint()).y()
            covered = max(0, slip.geometry().bottom() + 1 + bench.theme.px(_GAP) - begins)
        # Less than the gap that is there anyway covers nothing.
        covered = covered if covered > bench.theme.px(_GAP) else 0
        if bench.body.contentsMargins().top() != covered:
            bench.body.setContentsMargins(0, covered, 0, 0)
