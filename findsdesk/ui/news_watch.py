"""News of other stations: asked for once a second on the reading lane, where others can write the same store."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer

from findsdesk.ui.background import Lanes
from findsdesk.ui.changes import Changes

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.news import News

EVERY_MS = 1000


class NewsWatch(QObject):
    """Tells what other stations wrote as this station's own deeds are told."""

    def __init__(self, lanes: Lanes, changes: Changes, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._lanes, self._changes = lanes, changes
        self._news: News | None = None
        self._asking = False
        self._then: Callable[[], None] | None = None
        self._clock = QTimer(self)
        self._clock.setInterval(EVERY_MS)

    def begin(self, desk: Desk) -> None:
        """Look from now on, where there can be news."""
        from findsdesk.desk.news import others_write

        if others_write(desk):
            self._clock.timeout.connect(lambda: self._ask(desk))
            self._clock.start()
            self._ask(desk)

    def stop(self, then: Callable[[], None]) -> None:
        """Ask no more; ``then`` is called when no look is under way: its connection must not outlive the store."""
        self._clock.stop()
        self._then = then
        if not self._asking:
            then()

    def _ask(self, desk: Desk) -> None:
        """Look once; a look that is still under way is waited for, and one that fails is made again next second."""
        from findsdesk.desk.news import news_since

        if self._asking:
            return
        self._asking = True
        seen = None if self._news is None else self._news.seen
        self._lanes.read(lambda: news_since(desk, seen), then=self._heard, refused=self._failed, failed=self._failed)

    def _heard(self, news: News) -> None:
        self._news = news
        self._changes.add(news.touched)
        self._looked()

    def _failed(self, _fault: BaseException) -> None:
        self._looked()

    def _looked(self) -> None:
        self._asking = False
        if self._then is not None:
            self._then()
