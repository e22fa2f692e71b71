"""Finds seen in the trench and left there: never collected, so in no balance; another thing than a discard."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, or_, select
from sqlalchemy.orm import Session, aliased

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.setting_up import need_text
from findsdesk.desk.shipped import material_named, route_of
from findsdesk.domain.numbers import MOST_PIECES, MOST_TENTHS
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Deposit, LeftInTrench, Person, Square
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class LeftFacts:
    """What stayed in the trench; ``pieces`` None: seen and not counted. ``answered``: a later entry says otherwise."""

    id: int
    deposit: str
    square: str
    material: str
    what: str
    pieces: int | None
    tenths: int | None
    why: str
    happened_at: datetime
    person: str
    answers_id: int | None
    answered: bool


def left_in_trench(
    desk: Desk,
    deposit: str,
    *,
    what: str,
    material: str = "pottery",
    pieces: int | None = None,
    tenths: int | None = None,
    why: str = "",
) -> LeftFacts:
    """Write what of a deposit was seen and left in the trench. Opposite: ``answer_left``.

    Refusals: ``empty``, ``unknown_deposit``, ``unknown_material``, ``left_pieces``, ``group_grams``.
    """
    seen = need_text(what, N_("what was left")) or ""
    key = route_of(material_named(material) or material).key
    if pieces is not None and not 1 <= pieces <= MOST_PIECES:
        raise Refusal(
            "left_pieces",
            N_("{pieces} pieces cannot be left. Write 1 to {most}, or nothing where nobody counted."),
            pieces=pieces,
            most=MOST_PIECES,
        )
    if tenths is not None and not 0 <= tenths <= MOST_TENTHS:
        raise Refusal("group_grams", N_("{grams} g is no weight. Weigh it again, or leave it out."), grams=tenths / 10)
    with desk.deed("left_in_trench") as deed:
        row = deposit_of(deed.session, deposit)
        row_id = deed.write(
            LeftInTrench,
            deposit_id=row.id,
            material=key,
            what=seen,
            pieces=pieces,
            tenths=tenths,
            why=why.strip(),
            happened_at=deed.happened_at,
            person_id=deed.person_id,
        )
        deed.said = f"{row.number}: {seen}" + (f" {pieces}" if pieces is not None else "")
        return _entries(deed.session, LeftInTrench.id == row_id)[0]


def answer_left(desk: Desk, entry_id: int, *, why: str) -> LeftFacts:
    """Answer an entry of what was left by its opposite; both stay readable. Opposite: ``left_in_trench``.

    Refusals: ``unknown_entry``, ``already_answered``, ``reason_needed``.
    """
    if not why.strip():
        raise Refusal("reason_needed", N_("Write why the entry is answered."))
    with desk.deed("answer_left") as deed:
        row = deed.session.get(LeftInTrench, entry_id)
        if row is None:
            raise Refusal("unknown_entry", N_("There is no such entry. Look at the list again."))
        answered = select(LeftInTrench.id).where(LeftInTrench.answers_id == row.id)
        if row.answers_id is not None or deed.session.execute(answered).first() is not None:
            raise Refusal("already_answered", N_("That entry was answered already. Write a new one instead."))
        row_id = deed.write(
            LeftInTrench,
            deposit_id=row.deposit_id,
            material=row.material,
            what=row.what,
            pieces=None if row.pieces is None else -row.pieces,
            tenths=None if row.tenths is None else -row.tenths,
            why=why.strip(),
            answers_id=row.id,
            happened_at=deed.happened_at,
            person_id=deed.person_id,
        )
        facts = _entries(deed.session, LeftInTrench.id == row_id)[0]
        deed.said = f"{facts.deposit}: {row.what}, {why.strip()}"
        return facts


def answer_newest_left(desk: Desk, deposit: str, *, why: str) -> LeftFacts:
    """Answer the newest open entry of a deposit. Refusals: ``unknown_entry``, and those of ``answer_left``."""
    still = [one for one in left_of(desk, deposit) if not one.answered and one.answers_id is None]
    if not still:
        raise Refusal("unknown_entry", N_("There is no such entry. Look at the list again."))
    return answer_left(desk, still[-1].id, why=why)


def left_of(desk: Desk, deposit: str) -> tuple[LeftFacts, ...]:
    """Return what was left of a deposit and of those merged into it, as it happened. Refusal: ``unknown_deposit``."""
    with desk.reading() as reading:
        row = deposit_of(reading.session, deposit)
        return _entries(reading.session, or_(Deposit.id == row.id, Deposit.merged_into_id == row.id))


def entries_left(session: Session, ids: Sequence[int]) -> tuple[LeftFacts, ...]:
    """Return entries by their ids."""
    return _entries(session, LeftInTrench.id.in_(ids))


def _entries(session: Session, those: ColumnElement[bool]) -> tuple[LeftFacts, ...]:
    answer = aliased(LeftInTrench)
    rows = session.execute(
        select(LeftInTrench, Deposit.number, Square.name, Person.name, answer.id)
        .join(Deposit, LeftInTrench.deposit_id == Deposit.id)
        .join(Square, Deposit.square_id == Square.id)
        .outerjoin(Person, LeftInTrench.person_id == Person.id)
        .outerjoin(answer, answer.answers_id == LeftInTrench.id)
        .where(those)
        .order_by(LeftInTrench.happened_at, LeftInTrench.id)
    )
    return tuple(
        LeftFacts(
            id=row.id,
            deposit=deposit,
            square=square,
            material=row.material,
            what=row.what,
            pieces=row.pieces,
            tenths=row.tenths,
            why=row.why,
            happened_at=row.happened_at,
            person=person or "",
            answers_id=row.answers_id,
            answered=answer_id is not None,
        )
        for row, deposit, square, person, answer_id in rows
    )
