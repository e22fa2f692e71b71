"""The register of containers: every tag ever issued, with what became of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import ColumnElement, and_, false, or_, select
from sqlalchemy.orm import InstrumentedAttribute

from findsdesk.desk.carried_over import Carried, carried_ids, carried_of
from findsdesk.desk.desk import Reading
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.desk.setting_up import person_named, season_of
from findsdesk.desk.shipped import material_named
from findsdesk.desk.squares import square_named
from findsdesk.domain.deposits import HowNumbered
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Hold, Standing
from findsdesk.domain.season_end import StaysAs
from findsdesk.store.models import BalanceTotal, Container, Deposit, FormerNumber, Person, Season, Square
from findsdesk.words import N_

_SHORTEST_SERIAL = 5
"""Digits from which a number alone can be meant as the serial of a code."""


@dataclass(frozen=True, slots=True)
class ContainerInRegister:
    """One container; ``pieces`` are those its ledger expects (None: not counted)."""

    id: int
    version: int
    code: str
    number: str
    provisional: bool
    deposit: str
    square: str
    season: str
    collected_on: date | None
    supervisor: str
    material: str
    description: str
    standing: Standing
    held_for: Hold | None
    on_list: bool
    arrived_at: datetime | None
    pieces: int | None
    carried: StaysAs | None = None
    """How it was carried over at the end of a season, where it stands so still."""


def deposits_numbered(word: str) -> ColumnElement[Any]:
    """Return the ids of deposits that have or once had a number like a pattern, as a subquery."""
    now = select(Deposit.id).where(Deposit.number_folded.like(word, escape="/"))
    once = select(FormerNumber.deposit_id).where(
        FormerNumber.number_folded.like(word, escape="/"), FormerNumber.how != HowNumbered.SPLIT
    )
    return now.union(once).scalar_subquery()


def of_container(word: str) -> ColumnElement[bool]:
    """Return the condition that a container's words, or a number of its deposit, are like a pattern."""
    return or_(container_says(word), Container.deposit_id.in_(deposits_numbered(word)))


def container_says(word: str) -> ColumnElement[bool]:
    """Return the condition that a container's words are like a pattern (``says``)."""
    return says(Container.search_text, word)


def says(searched: InstrumentedAttribute[str], word: str) -> ColumnElement[bool]:
    """Return the condition that the words of a row are like a pattern; a bare number begins one of them.

    Within a word it would be found in the middle of a code, where nobody sees why.
    """
    if is_bare_number(word):
        said = word.strip("%")
        return or_(searched.like(f"{said}%"), searched.like(f"% {said}%"))
    return searched.like(word, escape="/")


def coded(code: InstrumentedAttribute[str], word: str) -> ColumnElement[bool]:
    """Return the condition that a code is like a pattern; never of a bare number, which codes hold anywhere."""
    return false() if is_bare_number(word) else code.like(word.upper(), escape="/")


def is_bare_number(word: str) -> bool:
    """Return whether a pattern is of a number alone, too short to be the serial of a code."""
    said = word.strip("%")
    return said.isdecimal() and len(said) < _SHORTEST_SERIAL


def read_day(text: str) -> date:
    """Read a filter's day; raises ``not_a_day``."""
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise Refusal("not_a_day", N_("{said} is no day. Write it as 2026-07-14."), said=text.strip()) from None


def _of_deposits(reading: Reading, values: Sequence[str]) -> Condition:
    return Container.deposit_id.in_([deposit_of(reading.session, value).id for value in values])


def _of_squares(reading: Reading, values: Sequence[str]) -> Condition:
    return Container.square_id.in_([square_named(reading.session, value).id for value in values])


def _of_seasons(reading: Reading, values: Sequence[str]) -> Condition:
    return Container.season_id.in_([season_of(reading.session, date.max, value).id for value in values])


def _of_supervisors(reading: Reading, values: Sequence[str]) -> Condition:
    people = [person_named(reading.session, value) for value in values]
    return Container.supervisor_id.in_([person.id for person in people if person is not None])


def _of_materials(_reading: Reading, values: Sequence[str]) -> Condition:
    return Container.material.in_([material_named(value) or value for value in values])


def _standing(_reading: Reading, values: Sequence[str]) -> Condition:
    carried = [StaysAs(value) for value in values if value in set(StaysAs)]
    return or_(Container.standing.in_(values), *(Container.id.in_(carried_ids(one)) for one in carried))


def _held(_reading: Reading, values: Sequence[str]) -> Condition:
    return Container.held_for.is_not(None) if "yes" in values else Container.held_for.in_(values)


def _on_days(_reading: Reading, values: Sequence[str]) -> Condition:
    return Container.collected_on.in_([read_day(value) for value in values])


def _from_day(_reading: Reading, values: Sequence[str]) -> Condition:
    return and_(*(Container.collected_on >= read_day(value) for value in values))


def _until_day(_reading: Reading, values: Sequence[str]) -> Condition:
    return and_(*(Container.collected_on <= read_day(value) for value in values))


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, ContainerInRegister]:
    found = reading.session.execute(
        select(Container, Deposit.number, Square.name, Season.name, Person.name, BalanceTotal)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Person, Container.supervisor_id == Person.id)
        .outerjoin(
            BalanceTotal, and_(BalanceTotal.container_id == Container.id, BalanceTotal.material == Container.material)
        )
        .where(Container.id.in_(keys))
    ).all()
    carried = carried_of(reading.session, keys)
    return {row[0].id: _row(tuple(row), carried.get(row[0].id)) for row in found}


def _row(found: tuple[Any, ...], carried: Carried | None) -> ContainerInRegister:
    row, deposit, square, season, supervisor, total = found
    return ContainerInRegister(
        id=row.id,
        version=row.version,
        code=row.code,
        number=row.number,
        provisional=row.provisional,
        deposit=deposit or "",
        square=square or "",
        season=season,
        collected_on=row.collected_on,
        supervisor=supervisor or "",
        material=row.material,
        description=row.description,
        standing=Standing(row.standing),
        held_for=Hold(row.held_for) if row.held_for else None,
        on_list=row.on_list,
        arrived_at=row.arrived_at,
        pieces=total.counted + total.found_more + total.arrived if total is not None else None,
        carried=carried.stays_as if carried else None,
    )


CONTAINERS = Source(
    key=Container.id,
    sorts={
        "number": (Container.number_key,),
        "code": (Container.code,),
        "day": (Container.collected_on, Container.number_key),
        "standing": (Container.standing, Container.number_key),
        "material": (Container.material, Container.number_key),
        "arrived": (Container.arrived_at,),
    },
    filters={
        "deposit": _of_deposits,
        "square": _of_squares,
        "season": _of_seasons,
        "supervisor": _of_supervisors,
        "material": _of_materials,
        "standing": _standing,
        "held": _held,
        "day": _on_days,
        "from": _from_day,
        "until": _until_day,
    },
    holds_word=of_container,
    rows=_rows,
)
