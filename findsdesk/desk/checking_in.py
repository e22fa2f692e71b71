"""Check-in: what stands on the pallet, before, with or without the field's list; and what is missing at day's end."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.correcting_material import correct_material
from findsdesk.desk.counting import deposit_number
from findsdesk.desk.deposit_facts import day_doubt
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.finding import container_of, deposit_of
from findsdesk.desk.redoing import Paper, Says, Written, ask_to_redo, papers_of
from findsdesk.desk.rehousing import to_deposit
from findsdesk.desk.shipped import route_of
from findsdesk.desk.steps import parts_of, stand, take_step, write_step
from findsdesk.desk.unaccounted import NOT_HERE
from findsdesk.domain.deposits import refuse_future
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.store.models import Container, Deposit, Note, Person, Square
from findsdesk.words import N_

OTHER_DEPOSIT = "other_deposit"
SAID_AT_CHECK_IN = "said at check-in"


@dataclass(frozen=True, slots=True)
class CheckedIn:
    """What arrived: large enough on screen to compare with the handwriting on the tag."""

    container_id: int
    code: str
    number: str
    deposit: str
    square: str
    collected_on: date | None
    supervisor: str
    material: str
    description: str
    on_list: bool
    was_missing: bool
    more_of_it: bool
    question: str | None
    cautions: tuple[str, ...]
    crate: str


def check_in(
    desk: Desk,
    tag: str,
    *,
    deposit: str | None = None,
    material: str | None = None,
    collected_on: date | None = None,
    sure: bool = False,
) -> CheckedIn:
    """Write that a container arrived, before, with or without its list.

    ``deposit`` is what the tag says. Where the list says another one, the container is checked in all the same and
    the difference waits as a question to the supervisor. A container already here is a Question: with ``sure``, more
    of it came. Other Questions: a day outside the deposit's open days, ``leaves_the_tub``. Refusals: of finding, of the
    route, ``day_in_future``, ``sorted_already`` (another material than what lies sorted).
    """
    with desk.deed("check_in") as deed:
        container = container_of(deed.session, desk, tag)
        was = Standing(container.standing)
        deed.said = f"{container.number}{': ' + deposit if deposit else ''}"
        more = _arrive(deed, container, sure)
        correct_material(deed, container, material, SAID_AT_CHECK_IN, sure)
        question = _compare_deposit(deed, container, deposit)
        _fill_from_tag(deed, container, collected_on, sure)
        _to_its_place(deed, container)
        return _checked_in(deed, container, was, more, question)


def _arrive(deed: Deed, container: Container, sure: bool) -> bool:
    try:
        take_step(deed, container, StepKind.ARRIVED)
    except Question:
        if not sure:
            raise
        write_step(deed, container, StepKind.ARRIVED)
        return True
    return False


def _fill_from_tag(deed: Deed, container: Container, collected_on: date | None, sure: bool) -> None:
    container.arrived_at = container.arrived_at or deed.happened_at
    if collected_on is not None:
        refuse_future(collected_on, deed.today())
        if container.deposit_id is not None:
            ask(deed, day_doubt(deed.session.get_one(Deposit, container.deposit_id), collected_on), sure)
        container.collected_on = collected_on
    elif container.collected_on is None:
        container.collected_on = deed.today()


def _compare_deposit(deed: Deed, container: Container, said: str | None) -> str | None:
    if said is None or not said.strip():
        return None
    seen = deposit_of(deed.session, said)
    if container.deposit_id is None:
        to_deposit(deed, container, seen)
        return None
    if container.deposit_id == seen.id:
        return None
    listed = deposit_number(deed.session, container)
    facts: dict[str, Any] = {"tag": seen.number, "list": listed}
    deed.add(
        Note(container_id=container.id, kind=OTHER_DEPOSIT, facts=facts, happened_at=deed.happened_at, answered_at=None)
    )
    return seen.number


def _to_its_place(deed: Deed, container: Container) -> None:
    crate = route_of(container.material).crate
    for part in parts_of(deed, container):
        if part.place_kind in ("yard", "gone"):
            stand(deed, part, "crate" if crate else "yard", crate)


def _checked_in(deed: Deed, container: Container, was: Standing, more: bool, question: str | None) -> CheckedIn:
    route = route_of(container.material)
    session = deed.session
    return CheckedIn(
        container_id=container.id,
        code=container.code,
        number=container.number,
        deposit=deposit_number(session, container),
        square=session.get_one(Square, container.square_id).name if container.square_id else "",
        collected_on=container.collected_on,
        supervisor=session.get_one(Person, container.supervisor_id).name if container.supervisor_id else "",
        material=container.material,
        description=container.description,
        on_list=container.on_list,
        was_missing=was is Standing.MISSING,
        more_of_it=more,
        question=question,
        cautions=route.cautions,
        crate=route.crate,
    )


@dataclass(frozen=True, slots=True)
class PalletRow:
    """One container of a delivery."""

    container_id: int
    code: str
    number: str
    deposit: str
    square: str
    supervisor: str
    material: str
    standing: Standing
    held_for: str | None
    on_list: bool
    provisional: bool
    arrived_at: datetime | None
    question: str | None


@dataclass(frozen=True, slots=True)
class Delivery:
    """A day's delivery: what arrived, what is expected or missing, what was on no list, what differs."""

    day: date
    arrived: tuple[PalletRow, ...]
    not_here: tuple[PalletRow, ...]
    not_on_list: tuple[PalletRow, ...]
    differing: tuple[PalletRow, ...]


NOBODY_EXPECTS = (Standing.ISSUED, Standing.VOID, Standing.UNUSED)
"""Standings of a tag that is neither expected on the pallet nor here."""


def delivery(desk: Desk, day: date) -> Delivery:
    """Return what was collected on a day, and what of earlier days is still not here."""
    with desk.reading() as reading:
        rows = tuple(row for row in _pallet_rows(reading.session, day) if row.standing not in NOBODY_EXPECTS)
    arrived = tuple(row for row in rows if row.standing not in NOT_HERE)
    return Delivery(
        day=day,
        arrived=arrived,
        not_here=tuple(row for row in rows if row.standing in NOT_HERE),
        not_on_list=tuple(row for row in arrived if not row.on_list),
        differing=tuple(row for row in arrived if row.question is not None),
    )


def delivery_day(desk: Desk) -> date:
    """Return the newest day, up to today, of which something was listed or came; today where there is none yet."""
    with desk.reading() as reading:
        today = reading.now.astimezone(desk.facts.zone).date()
        newest = reading.session.execute(
            select(func.max(Container.collected_on)).where(Container.collected_on <= today)
        ).scalar()
    return newest or today


def _pallet_rows(session: Session, day: date) -> list[PalletRow]:
    open_question = (
        select(Note.facts)
        .where(Note.container_id == Container.id, Note.kind == OTHER_DEPOSIT, Note.answered_at.is_(None))
        .limit(1)
        .scalar_subquery()
    )
    rows = session.execute(
        select(Container, Deposit.number, Square.name, Person.name, open_question)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Person, Container.supervisor_id == Person.id)
        .where((Container.collected_on == day) | (Container.standing.in_(NOT_HERE) & (Container.collected_on < day)))
        .order_by(Container.number_key)
    ).all()
    return [
        PalletRow(
            container_id=row.id,
            code=row.code,
            number=row.number,
            deposit=deposit or "",
            square=square or "",
            supervisor=supervisor or "",
            material=row.material,
            standing=Standing(row.standing),
            held_for=row.held_for,
            on_list=row.on_list,
            provisional=row.provisional,
            arrived_at=row.arrived_at,
            question=None if question is None else str(question["tag"]),
        )
        for row, deposit, square, supervisor, question in rows
    ]


def close_delivery(desk: Desk, day: date) -> tuple[str, ...]:
    """End the day at the pallet: what was listed for it or before and did not arrive is reported missing, in one act.

    Returns the numbers of the containers now missing.
    """
    with desk.deed("close_delivery") as deed:
        rows = deed.session.execute(
            select(Container)
            .where(Container.standing == Standing.LISTED, Container.collected_on <= day)
            .order_by(Container.number_key)
        ).scalars()
        missing = []
        for container in rows.all():
            take_step(deed, container, StepKind.MISSING)
            missing.append(container.number)
        deed.said = ", ".join(missing)
    return tuple(missing)


def answer_difference(desk: Desk, tag: str, *, deposit: str, answer: str = "") -> CheckedIn:
    """Write what the supervisor answered: the deposit the container truly comes from; the question is closed.

    Labels and marks that say another deposit come out as things to redo, and the tag where it was the one that erred.
    Refusals: ``no_question``, ``unknown_deposit``.
    """
    with desk.deed("answer_difference") as deed:
        container = container_of(deed.session, desk, tag)
        questions = (
            deed.session.execute(
                select(Note).where(
                    Note.container_id == container.id, Note.kind == OTHER_DEPOSIT, Note.answered_at.is_(None)
                )
            )
            .scalars()
            .all()
        )
        if not questions:
            raise Refusal("no_question", N_("No question is open for {container} {number}."), number=container.number)
        true_deposit = deposit_of(deed.session, deposit)
        before = _as_the_tag_says(deed, container, deposit_of(deed.session, str(questions[-1].facts["tag"])))
        to_deposit(deed, container, true_deposit)
        for note in questions:
            note.answered_at, note.answer = deed.happened_at, answer or deposit
        write_step(deed, container, StepKind.CORRECTED, note=f"{true_deposit.number} {answer}".strip())
        deed.said = f"{container.number}: {true_deposit.number}"
        deed.session.flush()
        ask_to_redo(deed, before, f"→ {true_deposit.number}{': ' + answer if answer else ''}")
        return _checked_in(deed, container, Standing(container.standing), False, None)


def _as_the_tag_says(deed: Deed, container: Container, on_tag: Deposit) -> dict[Paper, Says]:
    """Return what is written of a container, its tag with the deposit (and its square) that was read off it."""
    square = deed.session.get_one(Square, on_tag.square_id).name
    return {
        paper: Says((on_tag.number, says.parts[1], square, *says.parts[3:])) if paper[0] is Written.TAG else says
        for paper, says in papers_of(deed.session, deed.desk.facts, [container.id]).items()
    }
