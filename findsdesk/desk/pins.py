"""PINs of the team: set for oneself or by the director, and asked for when somebody signs.

A PIN names the person at a shared station; it does not keep a stolen file shut, which is the operating system's job.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sqlalchemy import select

from findsdesk.desk.desk import Acting, Desk
from findsdesk.desk.opening import find_person
from findsdesk.domain.pins import read_pin
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.settings import Role
from findsdesk.store.models import Person, PersonPin
from findsdesk.store.pins import count_try, forget_tries, hash_of_pin, is_pin, pin_of, put_pin
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class PinFacts:
    """Whether somebody of the team has a PIN."""

    person_id: int
    name: str
    role: Role
    has_pin: bool


def pins_of_the_team(desk: Desk) -> tuple[PinFacts, ...]:
    """Return who of the active team has a PIN, by name."""
    with desk.reading() as reading:
        rows = reading.session.execute(
            select(Person, PersonPin.person_id)
            .outerjoin(PersonPin, PersonPin.person_id == Person.id)
            .where(Person.active)
            .order_by(Person.name)
        )
        return tuple(PinFacts(row.id, row.name, Role(row.role), pin_id is not None) for row, pin_id in rows)


def set_pin(desk: Desk, person: str, *, pin: str, own_pin: str = "") -> None:
    """Set the PIN of oneself, or as the director that of anybody; whoever has one already says ``own_pin`` first.

    Opposite: another PIN. Refusals: ``unknown_person``, ``pin_not_yours``, ``pin_digits``, ``pin_not_set``, and those
    of ``check_pin``.
    """
    chosen = read_pin(pin)
    with desk.reading() as reading:
        whose = find_person(reading.session, person)
        mine = None if desk.person.id is None else pin_of(reading.session, desk.person.id)
    _need_right(desk, whose)
    if mine is not None:
        check_pin(desk, desk.person, own_pin)
    elif whose.id != desk.person.id:
        raise _not_set(desk.person)
    hashed = hash_of_pin(chosen)
    assert whose.id is not None
    with desk.deed("set_pin") as deed:
        put_pin(deed.session, whose.id, hashed)
        deed.said = whose.name


def _need_right(desk: Desk, whose: Acting) -> None:
    if whose.id != desk.person.id and desk.person.role is not Role.DIRECTOR:
        raise Refusal(
            "pin_not_yours",
            N_("{person} sets that PIN, or the director does. Sit down as one of them."),
            person=whose.name,
        )


def check_pin(desk: Desk, person: Acting, pin: str) -> None:
    """Check the PIN of a person; a wrong one is counted, and after five in a row it waits.

    Refusals: ``pin_not_set``, ``pin_waits``, ``pin_wrong``.
    """
    now = desk.clock()
    with desk.store.writing() as session:
        row = pin_of(session, person.id, to_write=True) if person.id is not None else None
        if row is None:
            raise _not_set(person)
        if row.waits_until is not None and row.waits_until > now:
            raise Refusal(
                "pin_waits",
                N_("Too many wrong PINs for {person}. Wait {seconds} s, then try again."),
                person=person.name,
                seconds=math.ceil((row.waits_until - now).total_seconds()),
            )
        count_try(row, now)
        kept, waits_until = row.pin_hash, row.waits_until
    if not is_pin(pin.strip(), kept):
        raise _wrong(person, 0 if waits_until is None else math.ceil((waits_until - now).total_seconds()))
    assert person.id is not None
    with desk.store.writing() as session:
        forget_tries(session, person.id)


def _wrong(person: Acting, wait_s: int) -> Refusal:
    if wait_s:
        return Refusal(
            "pin_wrong",
            N_("That is not the PIN of {person}, once too often. Wait {seconds} s, then try again."),
            person=person.name,
            seconds=wait_s,
        )
    return Refusal("pin_wrong", N_("That is not the PIN of {person}. Type it again."), person=person.name)


def _not_set(person: Acting) -> Refusal:
    return Refusal("pin_not_set", N_("{person} has no PIN yet. Set one in Set-up, under People."), person=person.name)
