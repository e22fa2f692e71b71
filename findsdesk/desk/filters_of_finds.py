"""Filters that registers of finds have in common: out of which container and deposit they came, and of what type."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import Any

from sqlalchemy import or_, select

from findsdesk.desk.desk import Reading
from findsdesk.desk.finding import container_of, deposit_of
from findsdesk.desk.group_checks import form_named, part_named, ware_named
from findsdesk.desk.register_windows import Condition
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.squares import square_named
from findsdesk.desk.word_lists import words_of
from findsdesk.store.models import Container, Form, Ware

Filter = Callable[[Reading, Sequence[str]], Condition]
"""Makes the condition of being of any of some values; refuses a value that names nothing."""


def out_of(container_id: Any, condition: Condition) -> Condition:
    """Return the condition that the container of a row, by the column that names it, meets a condition."""
    found: Condition = container_id.in_(select(Container.id).where(condition))
    return found


def of_type_called(type_id: Any, kind: type[Ware] | type[Form], word: str) -> Condition:
    """Return the condition that the ware or form of a row, by the column that names it, is called like a pattern."""
    called = or_(kind.code.ilike(word, escape="/"), kind.name.ilike(word, escape="/"))
    found: Condition = type_id.in_(select(kind.id).where(called))
    return found


def by_origin(container_id: Any) -> dict[str, Filter]:
    """Return the filters by deposit, square and season of rows whose container a column names."""

    def of_deposits(reading: Reading, values: Sequence[str]) -> Condition:
        ids = [deposit_of(reading.session, value).id for value in values]
        return out_of(container_id, Container.deposit_id.in_(ids))

    def of_squares(reading: Reading, values: Sequence[str]) -> Condition:
        ids = [square_named(reading.session, value).id for value in values]
        return out_of(container_id, Container.square_id.in_(ids))

    def of_seasons(reading: Reading, values: Sequence[str]) -> Condition:
        ids = [season_of(reading.session, date.max, value).id for value in values]
        return out_of(container_id, Container.season_id.in_(ids))

    return {"deposit": of_deposits, "square": of_squares, "season": of_seasons}


def by_container(container_id: Any) -> dict[str, Filter]:
    """Return the filter by container."""

    def of_containers(reading: Reading, values: Sequence[str]) -> Condition:
        found: Condition = container_id.in_([container_of(reading.session, reading.desk, one).id for one in values])
        return found

    return {"container": of_containers}


def by_type(ware_id: Any, form_id: Any, part: Any) -> dict[str, Filter]:
    """Return the filters by ware, form and part of the vessel, by the columns that name them."""

    def of_wares(reading: Reading, values: Sequence[str]) -> Condition:
        rows = [ware_named(reading.session, value) for value in values]
        found: Condition = ware_id.in_([row.id for row in rows if row is not None])
        return found

    def of_forms(reading: Reading, values: Sequence[str]) -> Condition:
        rows = [form_named(reading.session, value) for value in values]
        found: Condition = form_id.in_([row.id for row in rows if row is not None])
        return found

    def of_parts(reading: Reading, values: Sequence[str]) -> Condition:
        found: Condition = part.in_([part_named(value, words_of(reading.desk)) for value in values])
        return found

    return {"ware": of_wares, "form": of_forms, "part": of_parts}
