"""The tables: those loaded at once, those loaded when they are asked for, and all of them."""

from __future__ import annotations

import subprocess
import sys
from types import ModuleType
from typing import Any

import pytest

from findsdesk.store import models
from findsdesk.store.every_table import every_model, every_table, model_of, table_named
from findsdesk.store.models import Base

PLACE = f"{models.__name__}."


def said_by(program: str) -> str:
    """Return what a program says in a process of its own, where nothing is loaded yet."""
    return subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout.strip()


def with_it(model: type[Base]) -> set[str]:
    """Return the modules that are loaded with a model's: its own, and those that it imports."""
    module = sys.modules[model.__module__]
    return {module.__name__} | {one.__name__ for one in vars(module).values() if isinstance(one, ModuleType)}


def test_each_table_that_is_asked_for_later_is_where_it_is_looked_for() -> None:
    for module, names in models.LATER.items():
        found = sorted(one.__name__ for one in every_model() if one.__module__ == f"{PLACE}{module}")
        assert found == list(names), module
    assert {one.__name__ for one in every_model()} <= set(models.__all__)
    assert all(getattr(models, name) for name in models.__all__)
    with pytest.raises(AttributeError, match="Wheelbarrow"):
        getattr(models, "Wheelbarrow")  # noqa: B009


def test_a_table_points_only_at_tables_that_are_there_before_it() -> None:
    """Else a row could not be written, nor its keys be read, until somebody asks for the other table."""
    later = {f"{PLACE}{module}" for module in models.LATER}
    wrong = [
        f"{model.__tablename__} → {at.__tablename__}"
        for model in every_model()
        for key in model.__table__.foreign_keys
        if (at := model_of(key.column.table.name)).__module__ in later - with_it(model)
    ]
    assert wrong == []


def test_every_table_is_known_whoever_was_asked_for_before() -> None:
    program = (
        "from findsdesk.store.every_table import every_table, table_named; from findsdesk.store.models import Base; "
        "before = len(Base.metadata.tables); table_named('container'); assert before == len(Base.metadata.tables); "
        "loan = table_named('loan'); print(before, loan.name, len(every_table()))"
    )
    before, loan, every = said_by(program).split()
    assert (loan, int(every)) == ("loan", len(every_table()))
    assert int(before) < len(every_table()) * 0.6
    names = [table.name for table in every_table()]
    assert names.index("container") < names.index("sherd_group")
    assert [model.__tablename__ for model in every_model()] == sorted(names)
    with pytest.raises(KeyError):
        table_named("wheelbarrow")


def test_tables_are_asked_for_from_several_threads_at_once() -> None:
    """A bench asks on the window's thread while the reading lane does."""
    program = (
        "from concurrent.futures import ThreadPoolExecutor; from findsdesk.store import models; "
        "from sqlalchemy import select; names = [name for later in models.LATER.values() for name in later]; "
        "asked = list(ThreadPoolExecutor(4).map(lambda name: str(select(getattr(models, name))), names * 2)); "
        "print(len(asked), all(one.startswith('SELECT') for one in asked))"
    )
    later: list[Any] = [name for names in models.LATER.values() for name in names]
    assert said_by(program) == f"{2 * len(later)} True"
