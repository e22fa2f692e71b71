"""The sorting table: a container comes onto it, its sherds are written in groups, it is settled when it balances."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy.orm import Session

from findsdesk.desk.counting import check_pieces, deposit_number
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.explaining import EXPLANATIONS, Explained, answer_entry, explain
from findsdesk.desk.finding import container_of
from findsdesk.desk.group_rows import GroupFacts, GroupRow
from findsdesk.desk.ledgers import (
    count_that_stands,
    enter,
    ledger_of,
    need_nothing_sorted,
    there_now,
    write_count,
)
from findsdesk.desk.listed_discards import need_no_open_list
from findsdesk.desk.lying import refuse_bags_lent
from findsdesk.desk.marking import need_marks_kept
from findsdesk.desk.on_the_table import begin, need_on_table
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.packed_bags import empty_bags
from findsdesk.desk.pasted_groups import NewGroup, add_groups
from findsdesk.desk.shares import waiting_shares
from findsdesk.desk.sherd_groups import Stays, add_group, change_group, remove_group
from findsdesk.desk.shipped import route_of
from findsdesk.desk.sorting_table import SortingTable, WaitingContainer, dry_grams_of, left_to_sort, table_of
from findsdesk.desk.steps import parts_of, stand, take_step
from findsdesk.desk.taking_back import TakenBack, do_again, take_back_last
from findsdesk.domain.balance import Entry, Ledger, grams_doubt, may_settle
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing, StepKind, Treatment
from findsdesk.store.models import Container
from findsdesk.words import N_

__all__ = [
    "EXPLANATIONS",
    "AtTable",
    "Explained",
    "GroupFacts",
    "GroupRow",
    "NewGroup",
    "SortingTable",
    "Stays",
    "TakenBack",
    "WaitingContainer",
    "add_group",
    "add_groups",
    "answer_entry",
    "begin_sorting",
    "change_group",
    "count_at_sorting",
    "do_again",
    "explain",
    "left_to_sort",
    "remove_group",
    "reopen",
    "settle",
    "table_of",
    "take_back_last",
]


@dataclass(frozen=True, slots=True)
class AtTable:
    """A container at the sorting table: where it stands and what its ledger says."""

    container_id: int
    code: str
    number: str
    deposit: str
    material: str
    standing: Standing
    ledger: Ledger


def begin_sorting(desk: Desk, tag: str, *, sure: bool = False) -> AtTable:
    """Put a container onto the table; its trays are free. Opposite: a step back to dry.

    Question: ``not_dry_yet``. Refusals: ``already_sorting`` and those of the route.
    """
    with desk.deed("begin_sorting") as deed:
        container = container_of(deed.session, desk, tag)
        if Standing(container.standing) is Standing.SORTING:
            raise Refusal(
                "already_sorting",
                N_("{Container} {number} lies on the table already. Go on with it."),
                number=container.number,
            )
        deed.said = container.number
        begin(deed, container, sure=sure)
        ledger = ledger_of(deed.session, container.id, container.material)
        return _at_table(deed.session, container, ledger)


def count_at_sorting(desk: Desk, tag: str, *, pieces: int, tenths: int | None = None, sure: bool = False) -> AtTable:
    """Write the first count of a container at the table, where the excavation counts only there.

    ``tenths`` are dry tenths of a gram. Refusals: ``already_counted``, ``pieces_out_of_range``, those of the route, for
    0 those of ``need_nothing_sorted``.
    Answered by ``count_again``.
    """
    check_pieces(pieces)
    with desk.deed("count_at_sorting") as deed:
        container = container_of(deed.session, desk, tag)
        only_here(deed, container)
        before = count_that_stands(deed.session, container.id)
        if before is not None:
            raise Refusal(
                "already_counted",
                N_("{Container} {number} was counted already: {pieces}. Use 'Count again' for a second count."),
                number=container.number,
                pieces=before,
            )
        deed.said = f"{container.number}: {pieces}"
        need_on_table(deed, container, sure=sure)
        ledger = ledger_of(deed.session, container.id, container.material)
        if not pieces:
            need_nothing_sorted(deed, container, ledger)
        counted = pieces - there_now(ledger)
        _write_count(deed, container, pieces, counted, tenths)
        return _at_table(deed.session, container, ledger.plus(Entry.COUNTED, counted))


def settle(desk: Desk, tag: str, *, sure: bool = False) -> AtTable:
    """Settle a container whose ledger balances. Opposite: ``reopen``.

    Where the excavation counts only at sorting and nobody counted, the sum of what was sorted becomes the count, and
    the count says so. Question: ``grams_disagree``, where dry weights differ by more than the set tolerance. Refusals:
    ``left_unsorted``, ``over``, ``share_waits``, ``marked_not_kept``, ``nothing_sorted``, ``not_counted_yet``, of the
    route.
    """
    with desk.deed("settle") as deed:
        container = container_of(deed.session, desk, tag)
        only_here(deed, container)
        ledger = ledger_of(deed.session, container.id, container.material)
        if Standing(container.standing) is Standing.SORTING and count_that_stands(deed.session, container.id) is None:
            ledger = _count_from_groups(deed, container, ledger)
        take_step(deed, container, StepKind.SETTLED)
        may_settle(ledger, {"number": container.number})
        _need_shares_drawn(deed, container)
        need_marks_kept(deed, container, ledger.kept)
        if not ledger.kept + ledger.on_hold:
            empty_bags(deed, container)
        deed.said = f"{container.number}: {ledger.expected}"
        grams = dry_grams_of(deed.session, container, deed.settings.grams_tolerance_permille)
        if grams.agree is False:
            told = {"number": container.number}
            ask(deed, grams_doubt(grams.counted, grams.accounted, grams.tolerance_permille, told), sure)
        return _at_table(deed.session, container, ledger)


def reopen(desk: Desk, tag: str, *, reason: str) -> AtTable:
    """Put a settled container back onto the table, with a reason; its bags stay and are asked about when bagging again.

    What is not sorted here goes back to where its bags were packed from: dry, or a closed sample.

    Opposite: ``settle``. Refusals: ``reason_needed``, ``not_settled``, ``container_on_list``, ``on_loan``
    (a bag of it).
    """
    if not reason.strip():
        raise Refusal("reason_needed", N_("Write why it is opened again."))
    with desk.deed("reopen") as deed:
        container = container_of(deed.session, desk, tag)
        only_here(deed, container)
        need_no_open_list(deed.session, [container.id])
        refuse_bags_lent(deed.session, container.id)
        take_step(deed, container, StepKind.REOPENED, note=reason.strip())
        route = route_of(container.material)
        if not route.sorted_here:
            # Its bags were packed straight from the tray, or as a shut sample: that is where it goes back to.
            shut = route.treatment in (Treatment.CLOSED, Treatment.STOP)
            back_to = Standing.CLOSED if shut else Standing.DRY
            take_step(deed, container, StepKind.TAKEN_BACK, back_to=back_to, note=reason.strip())
        kind, place = ("table", "") if route.sorted_here else ("crate", route.crate) if route.crate else ("yard", "")
        for part in parts_of(deed, container):
            stand(deed, part, kind, place)
        deed.said = f"{container.number}: {reason.strip()}"
        ledger = ledger_of(deed.session, container.id, container.material)
        return _at_table(deed.session, container, ledger)


def _need_shares_drawn(deed: Deed, container: Container) -> None:
    waiting = waiting_shares(deed, container)
    if waiting:
        raise Refusal(
            "share_waits",
            N_("{Container} {number}: “{rule}” keeps some of {what}. Draw that share first (F10 at the table)."),
            number=container.number,
            rule=waiting[0].rule,
            what=waiting[0].what,
        )


def _count_from_groups(deed: Deed, container: Container, ledger: Ledger) -> Ledger:
    """Let the sum of what was sorted and explained be the count of a container nobody counted."""
    if deed.settings.count_at_wash and not ledger.arrived:
        raise Refusal(
            "not_counted_yet",
            N_("{Container} {number} was not counted yet. Write its first count."),
            number=container.number,
        )
    if not ledger.accounted:
        raise Refusal(
            "nothing_sorted",
            N_("Nothing of {container} {number} is sorted yet. Sort it, or count it as 0."),
            number=container.number,
        )
    pieces = ledger.accounted - ledger.found_more
    if deed.settings.count_at_wash or pieces < ledger.arrived:
        return ledger
    counted = pieces - ledger.arrived
    _write_count(deed, container, pieces, counted, None, purpose="sum of the groups")
    return ledger.plus(Entry.COUNTED, counted)


def _write_count(
    deed: Deed, container: Container, pieces: int, counted: int, tenths: int | None, purpose: str = "sorting"
) -> None:
    """Write a count of what lies on the table; ``counted`` of it are new to the ledger."""
    take_step(deed, container, StepKind.COUNTED, pieces=pieces)
    if Standing(container.standing) is Standing.EMPTY:
        for part in parts_of(deed, container):
            stand(deed, part, "gone", "")
    write_count(deed, container, pieces, purpose, tenths=tenths)
    enter(deed, container, Entry.COUNTED, counted, tenths=tenths or 0)


def _at_table(session: Session, container: Container, ledger: Ledger) -> AtTable:
    return AtTable(
        container_id=container.id,
        code=container.code,
        number=container.number,
        deposit=deposit_number(session, container),
        material=container.material,
        standing=Standing(container.standing),
        ledger=ledger,
    )
