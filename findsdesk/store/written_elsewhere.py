"""When stations that write in stores of their own wrote last, as far as is known here."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.store.models import Act, Station


def last_written_elsewhere(session: Session) -> datetime | None:
    """Return when the stations that write in stores of their own wrote last, by their clocks, as far as is known."""
    elsewhere = select(Station.id).where(Station.elsewhere)
    if session.execute(elsewhere.limit(1)).first() is None:
        return None
    return session.execute(select(func.max(Act.written_at)).where(Act.station_id.in_(elsewhere))).scalar()
