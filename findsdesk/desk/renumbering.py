"""Deposits that change after the fact: renumbered, merged, split by container, declared mixed.

Old numbers stay searchable, a concordance lists them, the kept totals follow, and what is written with the old number
comes out as a list of things to redo.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.deposit_facts import DepositFacts, facts_of_deposit, former_number_doubt, refuse_taken_number
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.finding import container_of, deposit_of
from findsdesk.desk.redoing import Asked, ask_to_redo, papers_of
from findsdesk.desk.rehousing import need_reason, rehouse
from findsdesk.domain.deposits import HowNumbered, Security
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.store.models import Container, Deposit, FormerNumber, Person, Square
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class Renumbered:
    """A deposit after a change of its number or its containers, and how much is to be written again."""

    deposit: DepositFacts
    moved: int
    asked: Asked


def renumber_deposit(desk: Desk, number: str, *, to: str, reason: str, sure: bool = False) -> Renumbered:
    """Give a deposit another number; the old one stays searchable. Opposite: the renumbering back.

    Refusals: ``reason_needed``, ``empty``, ``unknown_deposit``, ``same_number``, ``number_taken`` (merge instead).
    Questions: ``number_was_used``.
    """
    wanted = _new_number(to)
    need_reason(reason)
    with desk.deed("renumber_deposit") as deed:
        row = deposit_of(deed.session, number)
        if row.number == wanted:
            raise Refusal("same_number", N_("{Deposit} {number} has that number already."), number=wanted)
        refuse_taken_number(deed.session, wanted, but=row.id)
        deed.said = f"{row.number} → {wanted}: {reason}"
        ask(deed, former_number_doubt(deed.session, wanted, but=row.id), sure)
        before = papers_of(deed.session, desk.facts, _containers_of(deed.session, row.id))
        old = row.number
        row.number, row.number_key, row.number_folded = wanted, sort_key(wanted), folded(wanted)
        _note_number(deed, row, old, HowNumbered.RENUMBERED, reason)
        deed.session.flush()
        asked = ask_to_redo(deed, before, f"{old} → {wanted}")
        return Renumbered(facts_of_deposit(deed.session, row.id), 0, asked)


def merge_deposits(desk: Desk, one: str, *, into: str, reason: str, sure: bool = False) -> Renumbered:
    """Merge a deposit into another: its containers, its numbers and its open days go over to it.

    Refusals: ``reason_needed``, ``unknown_deposit``, ``same_number``. Questions: ``other_square``. Opposite: none; its
    containers can be split off again.
    """
    need_reason(reason)
    with desk.deed("merge_deposits") as deed:
        source, target = deposit_of(deed.session, one), deposit_of(deed.session, into)
        if source.id == target.id:
            raise Refusal("same_number", N_("Both are {deposit} {number}. Name another one."), number=target.number)
        deed.said = f"{source.number} → {target.number}: {reason}"
        ask(deed, _square_doubt(deed.session, source, target), sure)
        containers = _rows(deed.session, _containers_of(deed.session, source.id))
        target.opened = min(source.opened, target.opened)
        target.closed = max(source.closed, target.closed) if source.closed and target.closed else None
        source.merged_into_id = target.id
        _lead_merged_on(deed.session, source, target)
        _lead_numbers_on(deed.session, source, target)
        _note_number(deed, target, source.number, HowNumbered.MERGED, reason)
        asked = rehouse(deed, containers, target, reason)
        return Renumbered(facts_of_deposit(deed.session, target.id), len(containers), asked)


def split_deposit(
    desk: Desk, number: str, *, containers: Iterable[str], to: str, reason: str, sure: bool = False
) -> Renumbered:
    """Split containers off a deposit into a new one with its own number; the rest stays, its soil to be said anew.

    Refusals: ``reason_needed``, ``empty``, ``no_containers``, ``not_of_deposit``, ``all_containers``,
    ``number_taken``. Questions: ``number_was_used``.
    """
    wanted = _new_number(to)
    need_reason(reason)
    with desk.deed("split_deposit") as deed:
        source = deposit_of(deed.session, number)
        refuse_taken_number(deed.session, wanted)
        rows = {row.id: row for row in (container_of(deed.session, desk, tag) for tag in containers)}
        _refuse_split(deed.session, source, tuple(rows.values()))
        deed.said = f"{source.number} → {wanted} ({', '.join(row.number for row in rows.values())}): {reason}"
        ask(deed, former_number_doubt(deed.session, wanted), sure)
        target = deed.add(
            Deposit(
                number=wanted,
                number_key=sort_key(wanted),
                number_folded=folded(wanted),
                square_id=source.square_id,
                kind=source.kind,
                opened=source.opened,
                closed=source.closed,
                supervisor_id=source.supervisor_id,
                description="",
                opening_mm=None,
                closing_mm=None,
                security=source.security,
            )
        )
        # What was dug was dug of both: how much of which nobody has said yet.
        source.soil = ""
        deed.session.flush()
        _note_number(deed, target, source.number, HowNumbered.SPLIT, reason)
        asked = rehouse(deed, tuple(rows.values()), target, reason)
        return Renumbered(facts_of_deposit(deed.session, target.id), len(rows), asked)


def declare_mixed(desk: Desk, number: str, *, reason: str) -> DepositFacts:
    """Say that the finds of a deposit are mixed: no date and no join rests on them. Opposite: ``change_deposit``."""
    need_reason(reason)
    with desk.deed("declare_mixed") as deed:
        row = deposit_of(deed.session, number)
        if row.security == Security.MIXED:
            raise Refusal("already_mixed", N_("{Deposit} {number} is declared mixed already."), number=row.number)
        row.security = Security.MIXED
        deed.said = f"{row.number}: {reason}"
        deed.session.flush()
        return facts_of_deposit(deed.session, row.id)


@dataclass(frozen=True, slots=True)
class Concordance:
    """One line of the concordance: an old number, what it is now, how it came about, who said so, and why."""

    number: str
    now: str
    how: HowNumbered
    reason: str
    who: str
    when: datetime


def concordance(desk: Desk) -> tuple[Concordance, ...]:
    """Return every number that changed, in natural order; ``now`` is the deposit's number of today."""
    with desk.reading() as reading:
        rows = reading.session.execute(
            select(FormerNumber, Person.name, Deposit.number)
            .join(Person, FormerNumber.person_id == Person.id)
            .join(Deposit, FormerNumber.deposit_id == Deposit.id)
            .order_by(FormerNumber.happened_at, FormerNumber.id)
        ).all()
        lines = [
            Concordance(
                number=row.number,
                now=now,
                how=HowNumbered(row.how),
                reason=row.reason,
                who=who,
                when=row.happened_at,
            )
            for row, who, now in rows
        ]
    return tuple(sorted(lines, key=lambda line: sort_key(line.number)))


def _lead_merged_on(session: Session, source: Deposit, target: Deposit) -> None:
    """Let what was merged into a merged deposit lead to the one that holds its finds now, with all that was said."""
    for row in session.execute(select(Deposit).where(Deposit.merged_into_id == source.id)).scalars().all():
        row.merged_into_id = target.id


def _lead_numbers_on(session: Session, source: Deposit, target: Deposit) -> None:
    """Let the former numbers of a merged deposit lead to the one it went into."""
    rows = session.execute(select(FormerNumber).where(FormerNumber.deposit_id == source.id)).scalars()
    for row in rows.all():
        row.deposit_id = target.id


def _note_number(deed: Deed, row: Deposit, old: str, how: HowNumbered, reason: str) -> None:
    deed.add(
        FormerNumber(
            deposit_id=row.id,
            number=old,
            number_folded=folded(old),
            now=row.number,
            how=how,
            reason=reason,
            person_id=deed.person_id,
            happened_at=deed.happened_at,
        )
    )


def _new_number(text: str) -> str:
    wanted = " ".join(text.split())
    if not wanted:
        raise Refusal("empty", N_("Write the {what} first."), what=N_("number"))
    return wanted


def _containers_of(session: Session, deposit_id: int) -> list[int]:
    rows = session.execute(
        select(Container.id).where(Container.deposit_id == deposit_id).order_by(Container.number_key, Container.id)
    )
    return list(rows.scalars())


def _rows(session: Session, ids: Sequence[int]) -> list[Container]:
    return list(
        session.execute(
            select(Container).where(Container.id.in_(ids)).order_by(Container.number_key, Container.id)
        ).scalars()
    )


def _square_doubt(session: Session, source: Deposit, target: Deposit) -> Question | None:
    if source.square_id == target.square_id:
        return None
    return Question(
        "other_square",
        N_("{Deposit} {one} lies in {its}, {other} in {theirs}. Merge them all the same?"),
        one=source.number,
        its=session.get_one(Square, source.square_id).name,
        other=target.number,
        theirs=session.get_one(Square, target.square_id).name,
    )


def _refuse_split(session: Session, source: Deposit, rows: Sequence[Container]) -> None:
    if not rows:
        raise Refusal("no_containers", N_("Choose the {containers} that are to be split off."))
    for row in rows:
        if row.deposit_id != source.id:
            raise Refusal(
                "not_of_deposit",
                N_("{Container} {container_number} is not of {deposit} {number}. Leave it out, or check its tag."),
                container_number=row.number,
                number=source.number,
            )
    if len(rows) == len(_containers_of(session, source.id)):
        raise Refusal(
            "all_containers",
            N_("Those are all {containers} of {deposit} {number}. Renumber it instead."),
            number=source.number,
        )
