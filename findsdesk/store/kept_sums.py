"""What was summed over a whole store, kept as long as nobody wrote anything."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Any, TypeVar
from weakref import WeakKeyDictionary

from sqlalchemy.orm import Session

from findsdesk.store.journal import store_head

_REMEMBERED = 6
"""How many things' sums are kept of a store at a time."""
T = TypeVar("T")


def as_it_stands(session: Session, what: Hashable, work: Callable[[], T]) -> T:
    """Return what ``work`` sums, or what it summed last of that thing where nothing was written to the store since.

    For reading sessions: what a deed has changed and not yet written down has no head of its own.
    """
    kept, head = _KEPT.of(session), store_head(session)
    found = kept.get(what, head)
    if found is None:
        found = (work(),)
        kept.put(what, head, found)
    sums: T = found[0]
    return sums


class _Kept:
    """The sums of a store that were made last, each with the head at which it stood."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._sums: OrderedDict[Hashable, tuple[str, tuple[Any]]] = OrderedDict()

    def get(self, what: Hashable, head: str) -> tuple[Any] | None:
        """Return sums that still stand."""
        with self._lock:
            was, sums = self._sums.get(what, ("", (None,)))
            return sums if was == head else None

    def put(self, what: Hashable, head: str, sums: tuple[Any]) -> None:
        """Keep sums; those made longest ago go."""
        with self._lock:
            self._sums[what] = (head, sums)
            self._sums.move_to_end(what)
            while len(self._sums) > _REMEMBERED:
                self._sums.popitem(last=False)


class _KeptByStore:
    """What is kept of each open store; it goes with the store's engine."""

    def __init__(self) -> None:
        self._stores: WeakKeyDictionary[Any, _Kept] = WeakKeyDictionary()

    def of(self, session: Session) -> _Kept:
        """Return what is kept of the store of a session."""
        return self._stores.setdefault(session.get_bind().engine, _Kept())


_KEPT = _KeptByStore()
