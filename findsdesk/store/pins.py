"""The PINs people sign with: argon2id hashes and the tries that failed. Nothing of it goes into the journal.

The journal is handed on to others; a hash in it could be tried at leisure by whoever has the file.
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.domain.pins import wait_after
from findsdesk.store.models import PersonPin

if TYPE_CHECKING:
    from argon2 import PasswordHasher


def pin_of(session: Session, person_id: int, *, to_write: bool = False) -> PersonPin | None:
    """Return what is kept of somebody's PIN, or None where none was set; ``to_write`` keeps it to one station."""
    wanted = select(PersonPin).where(PersonPin.person_id == person_id)
    return session.execute(wanted.with_for_update() if to_write else wanted).scalar_one_or_none()


def put_pin(session: Session, person_id: int, pin_hash: str) -> None:
    """Keep a new hash for somebody and forget the tries that failed."""
    row = pin_of(session, person_id)
    if row is None:
        session.add(PersonPin(person_id=person_id, pin_hash=pin_hash, failures=0, waits_until=None))
        return
    row.pin_hash, row.failures, row.waits_until = pin_hash, 0, None


def count_try(row: PersonPin, now: datetime) -> None:
    """Count a try as failed before it is looked at, so that tries at several stations at once gain nothing."""
    row.failures += 1
    wait = wait_after(row.failures)
    row.waits_until = now + wait if wait else None


def forget_tries(session: Session, person_id: int) -> None:
    """Forget the tries that failed, after the right PIN."""
    row = pin_of(session, person_id)
    if row is not None:
        row.failures, row.waits_until = 0, None


def hash_of_pin(pin: str) -> str:
    """Return the argon2id hash of a PIN, with a salt of its own."""
    return _hasher().hash(pin)


def is_pin(pin: str, pin_hash: str) -> bool:
    """Tell whether a PIN is the one that was hashed."""
    from argon2.exceptions import VerificationError

    try:
        return _hasher().verify(pin_hash, pin)
    except VerificationError:
        return False


def _hasher() -> PasswordHasher:
    """Return the hasher: 19 MiB, two passes, one lane, the least of the OWASP cheat sheet on keeping passwords."""
    from argon2 import PasswordHasher

    return PasswordHasher(time_cost=2, memory_cost=19 * 1024, parallelism=1)
