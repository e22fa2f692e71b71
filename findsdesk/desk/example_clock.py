"""The clock of an example: time in an invented excavation stands where its last act left it, and runs on from there.

A real excavation has the real clock and nothing else: when something was written down is part of the record.
"""

from __future__ import annotations

import time
from datetime import datetime, timedelta

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.store.models import Act


class ExampleClock:
    """A clock that begins at a moment, runs on as the machine's does, and can be told that it is later already."""

    def __init__(self, begins: datetime) -> None:
        self._since, self._started = begins, time.monotonic()

    def __call__(self) -> datetime:
        """Return the moment it is in the example."""
        return self._since + timedelta(seconds=time.monotonic() - self._started)

    def it_is(self, moment: datetime) -> None:
        """Say that something happens at a moment; the clock never goes back."""
        self._since, self._started = max(self(), moment), time.monotonic()


def moment_of_last_act(session: Session) -> datetime | None:
    """Return when the newest act was written, or None in a store without any."""
    return session.execute(select(func.max(Act.written_at))).scalar()
