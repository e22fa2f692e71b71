"""Facts of a container put right after the fact: its deposit, day, square, supervisor, description, material."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from findsdesk.desk.correcting_material import correct_material
from findsdesk.desk.counting import deposit_number
from findsdesk.desk.deposit_facts import day_doubt
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask, refuse_if_moved
from findsdesk.desk.finding import container_of, deposit_of
from findsdesk.desk.redoing import Asked, ask_to_redo, papers_of
from findsdesk.desk.rehousing import need_reason, rehouse, to_square
from findsdesk.desk.setting_up import person_named, person_or_new
from findsdesk.desk.shipped import route_of
from findsdesk.desk.squares import square_named
from findsdesk.desk.steps import write_step
from findsdesk.domain.deposits import refuse_future
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.store.models import Container, Deposit, Person, Square
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class Corrected:
    """A container after a correction: what it is now, the cautions of its route, how much is to be written again."""

    container_id: int
    version: int
    code: str
    number: str
    deposit: str
    square: str
    collected_on: date | None
    supervisor: str
    material: str
    standing: Standing
    cautions: tuple[str, ...]
    asked: Asked


def move_container(desk: Desk, tag: str, *, to: str, reason: str, sure: bool = False) -> Corrected:
    """Put a container under the deposit it truly comes from, and into its square. Opposite: the move back.

    Refusals: ``reason_needed``, ``unknown_deposit``, ``same_deposit``, ``number_taken`` (where numbers run within a
    square). Questions: its day lies outside that deposit's open days.
    """
    need_reason(reason)
    with desk.deed("move_container") as deed:
        row = container_of(deed.session, desk, tag)
        target = deposit_of(deed.session, to)
        if row.deposit_id == target.id:
            raise Refusal(
                "same_deposit",
                N_("{Container} {container_number} is of {deposit} {number} already."),
                container_number=row.number,
                number=target.number,
            )
        deed.said = f"{row.number}: {deposit_number(deed.session, row) or '–'} → {target.number}: {reason}"
        ask(deed, day_doubt(target, row.collected_on), sure)
        return _corrected(deed, row, rehouse(deed, [row], target, reason, with_square=True))


def correct_container(
    desk: Desk,
    tag: str,
    *,
    reason: str,
    seen: int | None = None,
    collected_on: date | None = None,
    square: str | None = None,
    supervisor: str | None = None,
    material: str | None = None,
    description: str | None = None,
    sure: bool = False,
) -> Corrected:
    """Correct facts of a container that was seen in version ``seen``; what is not named stays.

    Another material is another route (``correcting_material``). Opposite: the correction back. Refusals:
    ``reason_needed``, ``nothing_to_correct``, ``unknown_square``, ``number_taken``, ``day_in_future``,
    ``unknown_material``, ``sorted_already``, ``changed_meanwhile``. Questions: a day outside the deposit's open days,
    ``square_of_deposit``, ``leaves_the_tub``.
    """
    need_reason(reason)
    with desk.deed("correct_container") as deed:
        row = container_of(deed.session, desk, tag)
        if seen is not None:
            said = {"collected_on": collected_on, "material": material, "description": description}
            refuse_if_moved(deed.session, row, seen, _wanted(deed, said, square, supervisor))
        before = papers_of(deed.session, desk.facts, [row.id])
        deed.said = row.number
        changed = [
            *_correct_day(deed, row, collected_on, sure),
            *_correct_square(deed, row, square, sure),
            *_correct_supervisor(deed, row, supervisor),
            *correct_material(deed, row, material, reason, sure),
            *_correct_description(row, description),
        ]
        if not changed:
            raise Refusal("nothing_to_correct", N_("{Container} {number} says so already."), number=row.number)
        write_step(deed, row, StepKind.CORRECTED, note=f"{', '.join(changed)}: {reason}")
        deed.said = f"{row.number}: {', '.join(changed)}: {reason}{deed.said.removeprefix(row.number)}"
        deed.session.flush()
        return _corrected(deed, row, ask_to_redo(deed, before, reason))


def _wanted(deed: Deed, said: dict[str, Any], square: str | None, supervisor: str | None) -> dict[str, Any]:
    """Return the columns that a correction touches, with their new values."""
    wanted = {name: value for name, value in said.items() if value is not None}
    if square is not None:
        wanted["square_id"] = square_named(deed.session, square).id
    if supervisor is not None:
        person = person_named(deed.session, supervisor)
        wanted["supervisor_id"] = person.id if person else None
    return wanted


def _correct_day(deed: Deed, row: Container, day: date | None, sure: bool) -> list[str]:
    if day is None or day == row.collected_on:
        return []
    refuse_future(day, deed.today())
    if row.deposit_id is not None:
        ask(deed, day_doubt(deed.session.get_one(Deposit, row.deposit_id), day), sure)
    was, row.collected_on = row.collected_on, day
    return [f"{was or '–'} → {day}"]


def _correct_square(deed: Deed, row: Container, name: str | None, sure: bool) -> list[str]:
    if name is None:
        return []
    square = square_named(deed.session, name)
    if square.id == row.square_id:
        return []
    was = _square_name(deed, row)
    deposit = deed.session.get_one(Deposit, row.deposit_id) if row.deposit_id is not None else None
    if deposit is not None and deposit.square_id != square.id:
        ask(
            deed,
            Question(
                "square_of_deposit",
                N_("{Deposit} {number} lies in {its}, not in {square}. Is the {square_word} right?"),
                number=deposit.number,
                its=deed.session.get_one(Square, deposit.square_id).name,
                square=square.name,
                square_word=deed.desk.terms.square,
            ),
            sure,
        )
    to_square(deed, row, square)
    return [f"{was or '–'} → {square.name}"]


def _correct_supervisor(deed: Deed, row: Container, name: str | None) -> list[str]:
    if name is None:
        return []
    was = _supervisor_name(deed, row)
    person = person_or_new(deed, name)
    row.supervisor_id = person.id if person else None
    now = person.name if person else ""
    return [f"{was or '–'} → {now or '–'}"] if now != was else []


def _correct_description(row: Container, text: str | None) -> list[str]:
    if text is None or text.strip() == row.description:
        return []
    was, row.description = row.description, text.strip()
    return [f"{was or '–'} → {row.description or '–'}"]


def _square_name(deed: Deed, row: Container) -> str:
    return deed.session.get_one(Square, row.square_id).name if row.square_id is not None else ""


def _supervisor_name(deed: Deed, row: Container) -> str:
    return deed.session.get_one(Person, row.supervisor_id).name if row.supervisor_id is not None else ""


def _corrected(deed: Deed, row: Container, asked: Asked) -> Corrected:
    return Corrected(
        container_id=row.id,
        version=row.version,
        code=row.code,
        number=row.number,
        deposit=deposit_number(deed.session, row),
        square=_square_name(deed, row),
        collected_on=row.collected_on,
        supervisor=_supervisor_name(deed, row),
        material=row.material,
        standing=Standing(row.standing),
        cautions=route_of(row.material).cautions,
        asked=asked,
    )
