"""The register of people: who works here, as what, and who has a PIN to sign with."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import select

from findsdesk.desk.desk import Reading
from findsdesk.desk.register_fields import RegisterField, Say
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.domain.settings import Role
from findsdesk.store.models import Person, PersonPin
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class PersonInRegister:
    """Somebody of the team; ``active`` is whether they can be chosen, ``has_pin`` whether they can sign."""

    id: int
    version: int
    name: str
    role: Role
    active: bool
    has_pin: bool


def _holds_word(word: str) -> Condition:
    return Person.name.ilike(word, escape="/")


def _of_roles(_reading: Reading, values: Sequence[str]) -> Condition:
    return Person.role.in_(values)


def _active(_reading: Reading, values: Sequence[str]) -> Condition:
    return Person.active.is_("yes" in values)


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, PersonInRegister]:
    found = reading.session.execute(
        select(Person, PersonPin.person_id)
        .outerjoin(PersonPin, PersonPin.person_id == Person.id)
        .where(Person.id.in_(keys))
    )
    return {
        row.id: PersonInRegister(row.id, row.version, row.name, Role(row.role), row.active, pin is not None)
        for row, pin in found
    }


PEOPLE = Source(
    key=Person.id,
    sorts={"name": (Person.name,)},
    filters={"role": _of_roles, "active": _active},
    holds_word=_holds_word,
    rows=_rows,
)


def _stands(row: PersonInRegister, say: Say) -> str:
    return say(N_("works here")) if row.active else say(N_("no longer here"))


FIELDS = (
    RegisterField("name", N_("Name"), lambda row, say: row.name, "name"),
    RegisterField("role", N_("Role"), lambda row, say: say(row.role.value)),
    RegisterField("active", N_("Stands"), _stands),
    RegisterField("pin", N_("PIN"), lambda row, say: say(N_("set")) if row.has_pin else ""),
)
