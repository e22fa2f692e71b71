"""All tables of the store, those too that nobody has asked for yet (``store/models`` loads many of them later).

Nobody else looks into the metadata or the registry, which know only the tables that are loaded (test_house.py).
"""

from __future__ import annotations

from functools import cache
from importlib import import_module

from sqlalchemy import MetaData, Table

from findsdesk.store import models
from findsdesk.store.models import Base


@cache
def _load() -> None:
    for module in models.LATER:
        import_module(f"{models.__name__}.{module}")


def whole_metadata() -> MetaData:
    """Return what is known of all tables together, for migrations."""
    _load()
    return Base.metadata


def every_table() -> tuple[Table, ...]:
    """Return every table, each after those it points at."""
    return _sorted()


@cache
def _sorted() -> tuple[Table, ...]:
    return tuple(whole_metadata().sorted_tables)


def table_named(name: str) -> Table:
    """Return the table of a name; KeyError where there is none."""
    if name not in Base.metadata.tables:
        _load()
    return Base.metadata.tables[name]


def every_model() -> tuple[type[Base], ...]:
    """Return the model of every table, by the table's name."""
    return tuple(_models().values())


def model_of(name: str) -> type[Base]:
    """Return the model of the table of a name; KeyError where there is none."""
    return _models()[name]


@cache
def _models() -> dict[str, type[Base]]:
    _load()
    known = {str(one.local_table): one.class_ for one in Base.registry.mappers}
    return dict(sorted(known.items()))
