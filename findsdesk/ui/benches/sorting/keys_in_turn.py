"""A key that needs something first: the row it is about written, or something read. The keys after it wait for it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from findsdesk.domain.refusals import Refusal
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.sorting.lines import Saved, TableLine

T = TypeVar("T")


class KeysInTurn:
    """What a key asks of the store it asks on the deed lane, behind what was written before it."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._under_way = 0

    @property
    def wait(self) -> bool:
        """Return whether a key has not done yet what it does."""
        return self._under_way > 0

    def when_written(self, line: TableLine | None, call: Callable[[], None]) -> None:
        """Call at once, or when a row that is being written is: it reaches that row and no other."""
        if line is None or line.saved is not Saved.PENDING:
            call()
        else:
            self.look_up(lambda: None, lambda _nothing: call())

    def look_up(self, work: Callable[[], T], then: Callable[[T], None]) -> None:
        """Look something up and go on with it; a refusal shows on the bench."""
        around = self._bench.surroundings
        self._under_way += 1

        def found(value: T) -> None:
            self._under_way -= 1
            then(value)

        def refused(refusal: Refusal) -> None:
            self._under_way -= 1
            self._bench.refuse(refusal)

        def failed(fault: BaseException) -> None:
            self._under_way -= 1
            around.notices.failed(fault)

        around.lanes.deed(work, then=found, refused=refused, failed=failed)
