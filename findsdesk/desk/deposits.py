"""Deposits: opened in a square, closed, changed, and asked about when a day does not fit them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.deposit_facts import (
    DepositFacts,
    facts_of_deposit,
    former_number_doubt,
    kind_doubt,
    refuse_taken_number,
    season_doubt,
)
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask, refuse_if_moved
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.rehousing import take_along
from findsdesk.desk.setting_up import person_or_new
from findsdesk.desk.squares import square_named
from findsdesk.domain.deposits import KINDS, Security, check_days
from findsdesk.domain.elevations import Elevation, elevation_doubt
from findsdesk.domain.finds_density import soil_said
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.settings import SecondOpenDeposit
from findsdesk.store.models import Container, Deposit, Square
from findsdesk.words import N_


def open_deposit(
    desk: Desk,
    number: str,
    *,
    square: str,
    kind: str = KINDS[0],
    opened: date | None = None,
    supervisor: str = "",
    description: str = "",
    opening_mm: int | None = None,
    benchmark_mm: int | None = None,
    backsight_mm: int | None = None,
    foresight_mm: int | None = None,
    security: Security = Security.NOT_SAID,
    sure: bool = False,
) -> DepositFacts:
    """Open a deposit in a square; ``opened`` is today when nobody says otherwise.

    Its opening elevation is said in millimetres, or as benchmark, backsight and foresight. Refusals: ``empty``,
    ``number_taken``, ``unknown_square``, ``second_open``, ``day_in_future``, those of an elevation. Questions:
    ``number_was_used``, ``second_open``, ``outside_season``, ``unknown_kind``.
    """
    opening = Elevation(opening_mm, benchmark_mm, backsight_mm, foresight_mm)
    wanted = " ".join(number.split())
    if not wanted:
        raise Refusal("empty", N_("Write the {what} first."), what=N_("number"))
    with desk.deed("open_deposit") as deed:
        its_square = square_named(deed.session, square)
        day = opened or deed.today()
        check_days(wanted, day, None, deed.today())
        deed.said = f"{wanted} ({its_square.name})"
        refuse_taken_number(deed.session, wanted)
        ask(deed, former_number_doubt(deed.session, wanted), sure)
        _second_open(deed, wanted, its_square, day, sure)
        ask(deed, season_doubt(deed.session, day), sure)
        ask(deed, kind_doubt(deed.session, kind), sure)
        person = person_or_new(deed, supervisor)
        row = deed.add(
            Deposit(
                number=wanted,
                number_key=sort_key(wanted),
                number_folded=folded(wanted),
                square_id=its_square.id,
                kind=kind.strip(),
                opened=day,
                closed=None,
                supervisor_id=person.id if person else None,
                description=description.strip(),
                opening_mm=opening.mm,
                closing_mm=None,
                security=security,
            )
        )
        _say_reading(deed, opening)
        deed.session.flush()
        return facts_of_deposit(deed.session, row.id)


def close_deposit(
    desk: Desk,
    number: str,
    *,
    closed: date | None = None,
    closing_mm: int | None = None,
    benchmark_mm: int | None = None,
    backsight_mm: int | None = None,
    foresight_mm: int | None = None,
    soil: str = "",
    sure: bool = False,
) -> DepositFacts:
    """Close a deposit; ``closed`` is today when nobody says otherwise. Opposite: ``change_deposit``, reopened.

    ``soil`` is what was dug of it: litres ("480"), buckets and their litres ("40 x 12"), or a layer in metres
    ("2 x 1.5 x 0.3"). Refusals: ``unknown_deposit``, ``already_closed``, ``day_in_future``, ``closed_first``,
    ``no_soil``, ``no_volume``, those of an elevation.
    Questions: ``closes_higher``, ``later_finds`` (a container of it was collected after that day).
    """
    closing, dug = Elevation(closing_mm, benchmark_mm, backsight_mm, foresight_mm), soil_said(soil)
    with desk.deed("close_deposit") as deed:
        row = deposit_of(deed.session, number)
        if row.closed is not None:
            raise Refusal(
                "already_closed",
                N_("{Deposit} {number} closed on {closed} already. Change that day instead."),
                number=row.number,
                closed=row.closed,
            )
        day = closed or deed.today()
        check_days(row.number, row.opened, day, deed.today())
        deed.said = f"{row.number}: {day}"
        ask(deed, elevation_doubt(row.number, row.opening_mm, closing.mm), sure)
        ask(deed, _later_finds(deed.session, row, day), sure)
        row.closed, row.closing_mm, row.soil = day, closing.mm, dug or row.soil
        _say_reading(deed, closing)
        deed.session.flush()
        return facts_of_deposit(deed.session, row.id)


def change_deposit(
    desk: Desk,
    number: str,
    *,
    seen: int | None = None,
    square: str | None = None,
    kind: str | None = None,
    opened: date | None = None,
    closed: date | None = None,
    supervisor: str | None = None,
    description: str | None = None,
    opening_mm: int | None = None,
    closing_mm: int | None = None,
    security: Security | None = None,
    soil: str | None = None,
    reopened: bool = False,
    sure: bool = False,
) -> DepositFacts:
    """Change facts of a deposit that was seen in version ``seen``; what is not named stays. Opposite: the change back.

    ``reopened`` takes its closing back; its number changes by ``renumber_deposit`` alone. Into another square its
    containers go along, and what says the old one comes out as things to redo. Refusals: those of
    ``open_deposit``, ``closed_first``, ``no_soil`` and ``changed_meanwhile`` (with mine, theirs and before). Question:
    ``unknown_kind``.
    """
    with desk.deed("change_deposit") as deed:
        row = deposit_of(deed.session, number)
        said: dict[str, Any] = {
            "kind": kind,
            "opened": opened,
            "closed": closed,
            "description": description,
            "opening_mm": Elevation(opening_mm).mm,
            "closing_mm": Elevation(closing_mm).mm,
            "security": security,
            "soil": None if soil is None else soil_said(soil),
        }
        mine = {name: value for name, value in said.items() if value is not None}
        if square is not None:
            mine["square_id"] = square_named(deed.session, square).id
        if supervisor is not None:
            person = person_or_new(deed, supervisor)
            mine["supervisor_id"] = person.id if person else None
        if reopened:
            mine |= {"closed": None, "closing_mm": None}
        if seen is not None:
            refuse_if_moved(deed.session, row, seen, mine)
        was = row.square_id
        _change(deed, row, mine, sure)
        deed.session.flush()
        if row.square_id != was:
            take_along(deed, row, was, deed.said)
        return facts_of_deposit(deed.session, row.id)


def _change(deed: Deed, row: Deposit, mine: Mapping[str, Any], sure: bool) -> None:
    """Write the changed columns of a deposit and ask what they make doubtful."""
    was_open = row.closed is None
    new_kind = kind_doubt(deed.session, mine.get("kind"))
    moves = mine.get("square_id", row.square_id) != row.square_id
    for name, value in mine.items():
        setattr(row, name, value.strip() if isinstance(value, str) else value)
    deed.said = f"{row.number}: {', '.join(mine)}"
    ask(deed, new_kind, sure)
    check_days(row.number, row.opened, row.closed, deed.today())
    if row.closed is None and (moves or not was_open):
        _second_open(deed, row.number, deed.session.get_one(Square, row.square_id), row.opened, sure, but=row.id)
    ask(deed, elevation_doubt(row.number, row.opening_mm, row.closing_mm), sure)


def _second_open(deed: Deed, number: str, square: Square, opened: date, sure: bool, but: int | None = None) -> None:
    """Refuse, ask or let pass a second open deposit in a square, as the excavation chooses."""
    choice = deed.settings.second_open_deposit
    if choice is SecondOpenDeposit.ALLOW:
        return
    other = deed.session.execute(
        select(Deposit.number)
        .where(
            Deposit.square_id == square.id,
            Deposit.merged_into_id.is_(None),
            Deposit.id != (but or 0),
            or_(Deposit.closed.is_(None), Deposit.closed > opened),
        )
        .order_by(Deposit.opened.desc(), Deposit.id.desc())
        .limit(1)
    ).scalar()
    if other is None:
        return
    facts = {"other": other, "square": square.name, "number": number}
    if choice is SecondOpenDeposit.REFUSE:
        raise Refusal("second_open", N_("{Deposit} {other} is still open in {square}. Close it first."), **facts)
    ask(
        deed,
        Question("second_open", N_("{Deposit} {other} is still open in {square}. Open {number} beside it?"), **facts),
        sure,
    )


def _later_finds(session: Session, row: Deposit, day: date) -> Question | None:
    found = session.execute(
        select(Container.number, Container.collected_on)
        .where(Container.deposit_id == row.id, Container.collected_on > day)
        .order_by(Container.collected_on.desc())
        .limit(1)
    ).one_or_none()
    if found is None:
        return None
    return Question(
        "later_finds",
        N_("{Container} {container_number} of {deposit} {number} is of {later}. Close it on {day} all the same?"),
        container_number=found[0],
        number=row.number,
        later=found[1],
        day=day,
    )


def _say_reading(deed: Deed, elevation: Elevation) -> None:
    if elevation.reading is not None:
        deed.said = f"{deed.said} · {elevation.reading.in_words()}"
