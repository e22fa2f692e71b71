"""Pieces and tags that change places: taken out into a container of their own, put together, swapped tags put right."""

from __future__ import annotations

from dataclasses import dataclass

from findsdesk.desk.counting import check_pieces
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding import container_of
from findsdesk.desk.group_rows import has_rows
from findsdesk.desk.ledgers import (
    NOT_COUNTED,
    count_that_stands,
    enter,
    ledger_of,
    tenths_there,
    there_now,
    write_count,
)
from findsdesk.desk.marks_again import hand_marks_on
from findsdesk.desk.new_containers import IssuedTag, as_tag, free_numbers, new_container
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.packed_bags import empty_bags
from findsdesk.desk.rehousing import need_reason
from findsdesk.desk.shipped import route_of
from findsdesk.desk.steps import parts_of, stand, take_step, write_step
from findsdesk.desk.untagged import new_provisional
from findsdesk.desk.washing import ask_the_route, hold
from findsdesk.domain.balance import Entry
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Hold, Standing, StepKind
from findsdesk.store.models import Container, Season
from findsdesk.words import N_, CountOf


@dataclass(frozen=True, slots=True)
class TakenOut:
    """Pieces taken out of a container into one of their own."""

    tag: IssuedTag
    source: IssuedTag
    left: int


def take_out(desk: Desk, tag: str, *, pieces: int, material: str, why: str = "", tenths: int | None = None) -> TakenOut:
    """Take pieces of another material (or some of the same) out into a new container with its own tag.

    The pieces (and their dry ``tenths`` of a gram, where they were weighed) leave the ledger of the one and arrive in
    the ledger of the other. Refusals: ``nothing_taken_out``, ``more_than_there``, ``unknown_material``, and those of
    the route for a container of which nothing can be taken (settled, void, not here).
    """
    check_pieces(pieces)
    if not pieces:
        raise Refusal("nothing_taken_out", N_("Take out at least one piece."))
    with desk.deed("take_out") as deed:
        source = container_of(deed.session, desk, tag)
        only_here(deed, source)
        take_step(deed, source, StepKind.SPLIT, pieces=pieces)
        ledger = ledger_of(deed.session, source.id, source.material)
        left = there_now(ledger)
        counted = ledger.expected > 0
        if counted and pieces > left:
            raise Refusal(
                "more_than_there",
                N_("{Container} {number} holds {pieces}. Take out {left} or fewer."),
                number=source.number,
                pieces=CountOf("{n} piece", "{n} pieces", left),
                left=left,
            )
        row = arrived_from(deed, source, material)
        if counted:
            enter(deed, source, Entry.MOVED_OUT, pieces, tenths=tenths or 0, why=why, other=row)
            enter(deed, row, Entry.ARRIVED, pieces, tenths=tenths or 0, why=why, other=source)
        deed.said = f"{source.number} → {row.number}: {pieces}"
    return TakenOut(as_tag(row), as_tag(source), left - pieces if counted else 0)


def arrived_from(deed: Deed, source: Container, material: str) -> Container:
    """Make the container for what was met in another and let it arrive; the ledgers are the caller's."""
    row = _made_from(deed, source, material)
    row.deposit_id, row.square_id, row.supervisor_id = source.deposit_id, source.square_id, source.supervisor_id
    row.collected_on, row.from_container_id, row.arrived_at = source.collected_on, source.id, deed.happened_at
    deed.session.flush()
    write_step(deed, row, StepKind.ISSUED)
    take_step(deed, row, StepKind.ARRIVED, note=source.number)
    parts_of(deed, row)
    return row


def _made_from(deed: Deed, source: Container, material: str) -> Container:
    """Make the container for what is taken out of another: numbered as that one is, or provisional as that one is."""
    route_of(material)
    season = deed.session.get_one(Season, source.season_id)
    if source.provisional:
        return new_provisional(deed, season, material=material)
    number = free_numbers(deed, source.scope, 1)[0]
    return new_container(deed, season, number, material=material, scope=source.scope)


def put_together(desk: Desk, tag: str, *, into: str, reason: str) -> IssuedTag:
    """Empty one container into another of the same deposit and material; what was counted moves in the ledgers.

    What holds the one back holds the other back then; marks go with the sherds, and bags packed before are empty.
    Opposite: ``take_out``. Refusals: ``reason_needed``, ``same_container``, ``not_alike``, ``rows_on_the_table``, and
    those of the route for either of them.
    """
    need_reason(reason)
    with desk.deed("put_together") as deed:
        source = container_of(deed.session, desk, tag)
        target = container_of(deed.session, desk, into)
        if source.id == target.id:
            raise Refusal("same_container", N_("That is the same {container} twice. Scan the other tag."))
        only_here(deed, source, target)
        if (source.material, source.deposit_id) != (target.material, target.deposit_id):
            raise Refusal(
                "not_alike",
                N_("{Container} {one} and {other} differ in {deposit} or material. They stay apart."),
                one=source.number,
                other=target.number,
            )
        ask_the_route(target, StepKind.JOINED)
        _refuse_rows(deed, source)
        take_step(deed, source, StepKind.JOINED, note=f"{target.number}: {reason}")
        source.into_container_id = target.id
        _move_all(deed, source, target, reason)
        _hand_hold_on(deed, source, target, reason)
        hand_marks_on(deed, source, target, reason)
        empty_bags(deed, source)
        for part in parts_of(deed, source):
            stand(deed, part, "gone", "")
        write_step(deed, target, StepKind.CORRECTED, note=f"{source.number}: {reason}")
        deed.said = f"{source.number} → {target.number}"
    return as_tag(target)


def _hand_hold_on(deed: Deed, source: Container, target: Container, reason: str) -> None:
    """Let what holds the one back hold the other back from now on."""
    if source.held_for is None:
        return
    if target.held_for is None:
        hold(deed, target, Hold(source.held_for), f"{source.number}: {reason}")
    write_step(deed, source, StepKind.RELEASED, note=target.number)
    source.held_for = None


def _refuse_rows(deed: Deed, source: Container) -> None:
    if has_rows(deed, source):
        raise Refusal(
            "rows_on_the_table",
            N_("{Container} {number} has rows at the Sorting table. Remove them first, then empty it."),
            number=source.number,
        )


def _move_all(deed: Deed, source: Container, target: Container, reason: str) -> None:
    pieces = there_now(ledger_of(deed.session, source.id, source.material))
    tenths = tenths_there(deed.session, source.id)
    if pieces or tenths:
        enter(deed, source, Entry.MOVED_OUT, pieces, tenths=tenths, why=reason, other=target)
        enter(deed, target, Entry.ARRIVED, pieces, tenths=tenths, why=reason, other=source)


SWAP_STANDINGS = frozenset({Standing.ARRIVED, Standing.SOAKING, Standing.WASHED, Standing.DRYING, Standing.DRY})


def swap_tags(desk: Desk, one: str, other: str, *, reason: str) -> tuple[IssuedTag, IssuedTag]:
    """Put right that two tags lay with each other's finds: counts and places change sides, both histories say so.

    Nothing is erased: the counts written under the wrong tag stay readable and are answered in both ledgers. What
    holds finds back goes with the finds. Refusals: ``reason_needed``, ``same_container``, ``swap_too_late``.
    """
    need_reason(reason)
    with desk.deed("swap_tags") as deed:
        left, right = container_of(deed.session, desk, one), container_of(deed.session, desk, other)
        if left.id == right.id:
            raise Refusal("same_container", N_("That is the same {container} twice. Scan the other tag."))
        only_here(deed, left, right)
        for row in (left, right):
            if Standing(row.standing) not in SWAP_STANDINGS or has_rows(deed, row):
                raise Refusal(
                    "swap_too_late",
                    N_("{Container} {number} is at the sorting table already. Take its rows back first."),
                    number=row.number,
                )
        _exchange_places(deed, left, right)
        _exchange_holds(deed, left, right)
        _exchange_counts(deed, left, right, reason)
        for row, from_other in ((left, right), (right, left)):
            write_step(deed, row, StepKind.SWAPPED, note=f"{from_other.number}: {reason}")
        deed.said = f"{left.number} ↔ {right.number}: {reason}"
    return as_tag(left), as_tag(right)


def _exchange_places(deed: Deed, left: Container, right: Container) -> None:
    if left.standing != right.standing:
        for row, goes_to in ((left, Standing(right.standing)), (right, Standing(left.standing))):
            write_step(deed, row, StepKind.TAKEN_BACK, back_to=goes_to)
        left.standing, right.standing = right.standing, left.standing
    mine, theirs = parts_of(deed, left), parts_of(deed, right)
    for part in mine:
        part.container_id, part.ordinal = right.id, part.ordinal + 100
    for part in theirs:
        part.container_id, part.ordinal = left.id, part.ordinal + 100
    deed.session.flush()
    for part in (*mine, *theirs):
        part.ordinal -= 100


def _exchange_holds(deed: Deed, left: Container, right: Container) -> None:
    left.held_for, right.held_for = right.held_for, left.held_for
    for row, had in ((left, right.held_for), (right, left.held_for)):
        if row.held_for and row.held_for != had:
            write_step(deed, row, StepKind.HELD, note=row.held_for)
        elif had and not row.held_for:
            write_step(deed, row, StepKind.RELEASED, note=had)


def _exchange_counts(deed: Deed, left: Container, right: Container, reason: str) -> None:
    there = {row.id: there_now(ledger_of(deed.session, row.id, row.material)) for row in (left, right)}
    grams = {row.id: tenths_there(deed.session, row.id) for row in (left, right)}
    counted = {row.id: count_that_stands(deed.session, row.id) is not None for row in (left, right)}
    for row, other in ((left, right), (right, left)):
        difference, heavier = there[other.id] - there[row.id], grams[other.id] - grams[row.id]
        if difference or heavier:
            enter(deed, row, Entry.RECOUNTED, difference, tenths=heavier, why=reason, other=other)
        if counted[other.id]:
            write_count(deed, row, there[other.id], "swapped")
        elif counted[row.id]:
            write_count(deed, row, 0, NOT_COUNTED)
