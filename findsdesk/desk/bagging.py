"""Bagging: what stays of a container goes into bags, each with a code of its own for ever."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.bags import BagFacts, SettledContainer, bags_of, bags_to_label, facts_of_bags, settled_to_bag
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding import container_of
from findsdesk.desk.ledgers import ledger_of, there_now
from findsdesk.desk.packed_bags import repack
from findsdesk.desk.shipped import route_of
from findsdesk.desk.steps import parts_of, stand, take_step
from findsdesk.domain.bags import BagOf, BagProposal, Kept, propose
from findsdesk.domain.balance import Decision
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.store.models import Bag, BalanceTotal, Container
from findsdesk.store.numbers import take_numbers
from findsdesk.store.sorted_sherds import sorted_sherds
from findsdesk.words import N_, CountOf

__all__ = [
    "BagFacts",
    "BagOf",
    "BagProposal",
    "SettledContainer",
    "bag",
    "bag_settled",
    "bag_unsorted",
    "bags_of",
    "bags_to_label",
    "propose_bags",
    "settled_to_bag",
]

SERIALS = "serial:B"
APART = "pottery"
"""The material of which diagnostic pieces are bagged apart."""


def propose_bags(desk: Desk, tag: str) -> tuple[BagProposal, ...]:
    """Return the bags a container would make as it stands now: none where nothing is kept."""
    with desk.reading() as reading:
        return _proposal(reading.session, container_of(reading.session, desk, tag))


def bag(desk: Desk, tag: str, *, bags: Sequence[BagProposal] | None = None) -> tuple[BagFacts, ...]:
    """Bag a settled container, or one that is not sorted here when its route is done; each bag gets its code.

    ``bags`` are packed otherwise than proposed; together they hold what is kept. After a reopening the same bags keep
    their codes; where a labelled one now holds something else its label is to redo. Opposite: ``reopen``.
    Refusals: ``already_bagged``, ``nothing_to_bag``, ``bags_do_not_add_up``, ``not_counted_yet``, of the route.
    """
    with desk.deed("bag") as deed:
        return _bagged(deed, container_of(deed.session, desk, tag), bags)


def bag_settled(desk: Desk, tags: Sequence[str] | None = None) -> tuple[BagFacts, ...]:
    """Bag several settled containers as proposed, in one act; None means all of which something stays.

    One that cannot be bagged refuses all, by its number, and nothing is written. Opposite: ``reopen``, one by one.
    Refusals: ``nothing_settled`` and those of ``bag``.
    """
    wanted = [one.code for one in settled_to_bag(desk)] if tags is None else list(dict.fromkeys(tags))
    with desk.deed("bag") as deed:
        if not wanted:
            raise Refusal("nothing_settled", N_("No settled {container} waits to be packed. Settle one first."))
        packed: list[BagFacts] = []
        for tag in wanted:
            packed.extend(_bagged(deed, container_of(deed.session, desk, tag), None))
        deed.said = f"{len(wanted)}: {', '.join(one.code for one in packed)}"
    return tuple(packed)


def bag_unsorted(desk: Desk, tag: str) -> tuple[BagFacts, ...]:
    """Bag a container that is not sorted at our table (bone come back, metal dry, a closed sample) as one bag.

    Refusals: ``sorted_here`` and those of ``bag``.
    """
    with desk.deed("bag") as deed:
        container = container_of(deed.session, desk, tag)
        if route_of(container.material).sorted_here:
            raise Refusal(
                "sorted_here",
                N_("{Container} {number} is sorted first. Sort and settle it at the Sorting table."),
                number=container.number,
            )
        return _bagged(deed, container, None)


def _bagged(deed: Deed, container: Container, wanted: Sequence[BagProposal] | None) -> tuple[BagFacts, ...]:
    if Standing(container.standing) is Standing.BAGGED:
        raise Refusal(
            "already_bagged",
            N_("{Container} {number} is in its bags already. To pack it anew, reopen it first."),
            number=container.number,
        )
    take_step(deed, container, StepKind.BAGGED)
    proposed = _proposal(deed.session, container)
    bags = proposed if wanted is None else tuple(wanted)
    _check(container, bags, proposed)
    before = set(deed.session.execute(select(Bag.id).where(Bag.container_id == container.id)).scalars())
    rows = _pack(deed, container, bags)
    for part in parts_of(deed, container):
        stand(deed, part, "gone", "")
    deed.said = f"{container.number}: {', '.join(row.code for row in rows)}"
    deed.session.flush()
    facts = facts_of_bags(deed.session, [row.id for row in rows])
    return tuple(replace(one, is_new=one.id not in before) for one in facts)


def _proposal(session: Session, container: Container) -> tuple[BagProposal, ...]:
    route = route_of(container.material)
    if not route.sorted_here:
        return _one_bag(session, container, counted=route.counted)
    sherds = sorted_sherds("id", "container_id", "diagnostic", "pieces", "tenths", "decision").c
    rows = session.execute(
        select(sherds.diagnostic, sherds.pieces, sherds.tenths, sherds.decision)
        .where(sherds.container_id == container.id)
        .order_by(sherds.kind, sherds.id)
    ).all()
    kept = [Kept(bool(row.diagnostic), row.pieces, row.tenths, Decision(row.decision)) for row in rows]
    return propose(kept, apart=container.material == APART)


def _one_bag(session: Session, container: Container, *, counted: bool) -> tuple[BagProposal, ...]:
    """Return the bag of what is not sorted here: what the ledger says lies in it; a closed sample is one."""
    if not counted:
        return (BagProposal(BagOf.ALL, 1, None),)
    total = session.get(BalanceTotal, (container.id, container.material))
    if total is None:
        raise Refusal(
            "not_counted_yet",
            N_("{Container} {number} was not counted yet. Write its first count."),
            number=container.number,
        )
    pieces = there_now(ledger_of(session, container.id, container.material))
    tenths = total.counted_tenths - total.accounted_tenths
    return (BagProposal(BagOf.ALL, pieces, tenths or None),) if pieces else ()


def _check(container: Container, bags: Sequence[BagProposal], proposed: Sequence[BagProposal]) -> None:
    kept = sum(one.pieces for one in proposed)
    if not kept:
        raise Refusal(
            "nothing_to_bag",
            N_("Nothing of {container} {number} is kept, so there is no bag to pack."),
            number=container.number,
        )
    packed = sum(one.pieces for one in bags)
    if packed != kept or any(one.pieces < 1 for one in bags):
        raise Refusal(
            "bags_do_not_add_up",
            N_("{kept} of {container} {number} kept, {packed} in the bags. Put every piece into a bag."),
            number=container.number,
            kept=CountOf("{n} piece", "{n} pieces", kept),
            packed=packed,
        )


def _pack(deed: Deed, container: Container, bags: Sequence[BagProposal]) -> list[Bag]:
    """Give each bag its row: one packed before keeps its code, one no longer needed is left empty."""
    before = list(
        deed.session.execute(select(Bag).where(Bag.container_id == container.id).order_by(Bag.id)).scalars().all()
    )
    rows = []
    for wanted in bags:
        same = next((row for row in before if row.what == wanted.what), None)
        if same is None:
            rows.append(_new_bag(deed, container, wanted))
            continue
        before.remove(same)
        repack(deed, same, wanted.pieces, wanted.tenths)
        rows.append(same)
    for row in before:
        repack(deed, row, 0, None)
    return rows


def _new_bag(deed: Deed, container: Container, wanted: BagProposal) -> Bag:
    serial = take_numbers(deed.session, SERIALS, 1, station_id=deed.desk.station_id)[0]
    return deed.add(
        Bag(
            code=make_code(deed.desk.facts.code, Kind.BAG, serial),
            container_id=container.id,
            what=wanted.what,
            pieces=wanted.pieces,
            tenths=wanted.tenths,
            packed_at=deed.happened_at,
            label_copy=0,
        )
    )
