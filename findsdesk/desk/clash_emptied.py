"""A container counted as empty in one store and sorted in the other: a person says which holds."""

from __future__ import annotations

from findsdesk.desk.desk import Deed
from findsdesk.desk.ledgers import enter, ledger_of, need_nothing_sorted, there_now, write_count
from findsdesk.desk.steps import parts_of, stand, take_step
from findsdesk.domain.balance import Entry
from findsdesk.domain.standings import Standing, StepKind
from findsdesk.store.models import Clash, Container


def keep_emptied(deed: Deed, row: Clash, first: bool) -> None:
    """Let the container be empty, as within one store only where no sherd is sorted, or let what is sorted stand.

    Refusals: those of the route and of ``need_nothing_sorted``.
    """
    container = deed.session.get_one(Container, row.row_id)
    kept = row.one if first else row.other
    if "none" not in kept["values"] or container.standing == Standing.EMPTY:
        return
    ledger = ledger_of(deed.session, container.id, container.material)
    need_nothing_sorted(deed, container, ledger)
    take_step(deed, container, StepKind.COUNTED, pieces=0)
    write_count(deed, container, 0, "again")
    enter(deed, container, Entry.RECOUNTED, -there_now(ledger))
    for part in parts_of(deed, container):
        stand(deed, part, "gone", "")
