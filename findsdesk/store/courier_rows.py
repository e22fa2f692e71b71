"""Rows of two stores put together: what their lines say in the end, brought back where used, each key given once.

Which row stays of two that are the same, and which gives way of two that have one number, follows from their ids: both
stores find the same.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from sqlalchemy import Table, UniqueConstraint, delete, select
from sqlalchemy.orm import Session

from findsdesk.store.batches import batches
from findsdesk.store.journal import Changes
from findsdesk.store.models import Container, WareTotal
from findsdesk.store.references import pointing_at
from findsdesk.store.rows_told import ToldRow, told_of
from findsdesk.store.told_changes import (
    put_row,
    set_columns,
    table_of,
    tell_change,
    tell_gone,
)

Row = tuple[str, int]
"""A table's name and a row's id."""

SAME_BY_KEY = frozenset(
    {
        "square", "person", "period", "ware", "form", "word", "label_layout", "retention_rule", "column_match",
        "deadline", "sherd_join", "part",
    }
)  # fmt: skip
"""Tables of which two rows with one key are the same thing; of the others, two things that were given one number."""


class ReferenceLost(ValueError):
    """A row points at one that neither store ever had."""


@dataclass(frozen=True, slots=True)
class Twice:
    """Two rows of one key: the one that keeps it, the one that does not, the columns of the key."""

    kind: str
    keeps: int
    gives_way: int
    columns: tuple[str, ...]


@dataclass(slots=True)
class Meeting:
    """What the rows touched by the other store's acts are in the end, by both chains."""

    session: Session
    changes: Changes
    rows: dict[Row, ToldRow] = field(default_factory=dict)
    brought_back: set[Row] = field(default_factory=set)
    twice: list[Twice] = field(default_factory=list)
    waiting: dict[Row, int] = field(default_factory=dict)
    """Rows that wait under another key while theirs is written, numbered from 1."""

    def look(self, touched: Iterable[Row]) -> None:
        """Read what the lines say of the touched rows."""
        by_kind: dict[str, set[int]] = defaultdict(set)
        for kind, row_id in touched:
            by_kind[kind].add(row_id)
        for kind, ids in by_kind.items():
            for some in batches(sorted(ids)):
                for told in told_of(self.session, kind, some):
                    self.rows[kind, told.row_id] = told

    def bring_back_what_is_used(self) -> None:
        """Let no row go, or stay away, at which another points. Raises ``ReferenceLost``."""
        while missing := self._parents_gone() | self._gone_in_use():
            for kind, row_id in sorted(missing):
                told = next(told_of(self.session, kind, [row_id], never_gone=True), None)
                if told is None or told.values is None:
                    raise ReferenceLost(f"{kind} {row_id}")
                version = None if told.version is None else told.version + 1
                self.rows[kind, row_id] = replace(told, version=version)
                self.brought_back.add((kind, row_id))

    def _parents_gone(self) -> set[Row]:
        wanted: dict[str, set[int]] = defaultdict(set)
        for (kind, _row_id), told in self.rows.items():
            for column, parent in _points_at(kind) if told.values is not None else ():
                row_id = told.values.get(column) if told.values else None
                if row_id is not None:
                    wanted[parent].add(row_id)
        gone: set[Row] = set()
        for parent, ids in wanted.items():
            gone |= {
                (parent, one) for one in ids if (parent, one) in self.rows and self.rows[parent, one].values is None
            }
            unknown = sorted(one for one in ids if (parent, one) not in self.rows)
            gone |= {(parent, one) for one in set(unknown) - self._there(parent, unknown)}
        return gone

    def _there(self, kind: str, ids: Sequence[int]) -> set[int]:
        table = table_of(kind)
        found: set[int] = set()
        for some in batches(ids):
            found |= set(self.session.execute(select(table.c.id).where(table.c.id.in_(some))).scalars())
        return found

    def _gone_in_use(self) -> set[Row]:
        going: dict[str, list[int]] = defaultdict(list)
        for (kind, row_id), told in self.rows.items():
            if told.values is None:
                going[kind].append(row_id)
        used: set[Row] = set()
        for kind, ids in going.items():
            for table, column in pointing_at(kind):
                if "id" not in table.columns:
                    continue
                for some in batches(ids):
                    rows = self.session.execute(select(table.c.id, column).where(column.in_(some)))
                    used |= {(kind, of) for by, of in rows if (table.name, by) not in self.rows}
        return used

    def find_twice(self) -> None:
        """Find the rows that now have a key another row has too."""
        by_kind: dict[str, list[ToldRow]] = defaultdict(list)
        for (kind, _row_id), told in self.rows.items():
            if told.values is not None:
                by_kind[kind].append(told)
        for kind in sorted(by_kind):
            for columns in unique_keys(kind):
                self._find_twice(kind, columns, by_kind[kind])

    def _find_twice(self, kind: str, columns: tuple[str, ...], told: list[ToldRow]) -> None:
        keys: dict[tuple[Any, ...], set[int]] = defaultdict(set)
        for one in told:
            key = tuple((one.values or {}).get(name) for name in columns)
            if None not in key:
                keys[key].add(one.row_id)
        table = table_of(kind)
        own = _own_column(table, columns)
        wanted = sorted({key[columns.index(own)] for key in keys})
        for some in batches(wanted):
            found = select(table.c.id, *(table.c[name] for name in columns)).where(table.c[own].in_(some))
            for row_id, *values in self.session.execute(found):
                if (kind, row_id) not in self.rows and tuple(values) in keys:
                    keys[tuple(values)].add(row_id)
        for ids in keys.values():
            first, *others = sorted(ids)
            self.twice += [Twice(kind, first, other, columns) for other in others]

    def write(self) -> None:
        """Write the rows as they are in the end; those of a key that stands twice wait under another."""
        self._park()
        parked = {(one.kind, one.gives_way): one for one in self.twice}
        for (kind, row_id), told in self.rows.items():
            waits = parked.get((kind, row_id))
            aside = {} if waits is None else self._aside(kind, row_id, waits.columns)
            put_row(self.session, kind, row_id, told.version, told.values, instead=aside)
            if (kind, row_id) in self.brought_back:
                self.changes.tell(kind, row_id, told.version, None, told.values)

    def _park(self) -> None:
        for one in self.twice:
            set_columns(self.session, one.kind, one.gives_way, self._aside(one.kind, one.gives_way, one.columns))
        for kind, row_id in self.rows:
            for columns in unique_keys(kind):
                set_columns(self.session, kind, row_id, self._aside(kind, row_id, columns))

    def _aside(self, kind: str, row_id: int, columns: tuple[str, ...]) -> dict[str, Any]:
        """Return what a row bears in place of its key while another has it: no other row bears the same."""
        table = table_of(kind)
        own = _own_column(table, columns)
        place = self.waiting.setdefault((kind, row_id), len(self.waiting) + 1)
        return {own: f"~{row_id}" if table.columns[own].type.python_type is str else -place}

    def whole(self, kind: str, row_id: int) -> dict[str, Any]:
        """Return what the lines say of a row in the end."""
        told = self.rows.get((kind, row_id)) or next(told_of(self.session, kind, [row_id]))
        return dict(told.values or {})

    def as_meant(self, kind: str, values: Mapping[str, Any]) -> dict[str, Any]:
        """Return values with the row that stays wherever they point at one that is put together with it."""
        stays = {(one.kind, one.gives_way): one.keeps for one in self.twice if one.kind in SAME_BY_KEY}
        parents = dict(_points_at(kind))
        return {
            name: stays.get((parents[name], value), value) if name in parents else value
            for name, value in values.items()
        }

    def put_together(self, one: Twice) -> dict[str, Any]:
        """Let everything that points at the second of two same rows point at the first; returns what it had said."""
        whole = self.whole(one.kind, one.gives_way)
        for table, column in pointing_at(one.kind):
            if table is WareTotal.__table__:
                self.session.execute(delete(WareTotal).where(WareTotal.ware_id == one.gives_way))
            elif "id" in table.columns:
                rows = self.session.execute(select(table.c.id).where(column == one.gives_way)).scalars().all()
                for row_id in rows:
                    tell_change(self.session, self.changes, table.name, row_id, {column.name: one.keeps})
        if one.kind == "square":
            self._scopes_of_square(one)
        tell_gone(self.session, self.changes, one.kind, one.gives_way, whole)
        return whole

    def _scopes_of_square(self, one: Twice) -> None:
        ending = f" square {one.gives_way}"
        wanted = select(Container.id, Container.scope).where(Container.scope.endswith(ending, autoescape=True))
        for row_id, scope in self.session.execute(wanted).all():
            now = f"{scope.removesuffix(ending)} square {one.keeps}"
            tell_change(self.session, self.changes, "container", row_id, {"scope": now})


def unique_keys(kind: str) -> tuple[tuple[str, ...], ...]:
    """Return the columns of each key that a table has once, apart from its id."""
    table = table_of(kind)
    several = (one for one in table.constraints if isinstance(one, UniqueConstraint))
    keys = {tuple(column.name for column in one.columns) for one in several}
    return tuple(sorted(keys | {(column.name,) for column in table.columns if column.unique}))


def _own_column(table: Table, columns: tuple[str, ...]) -> str:
    """Return the column of a key that is a word or number of its own, else its last."""
    return next((name for name in reversed(columns) if not table.columns[name].foreign_keys), columns[-1])


def _points_at(kind: str) -> Iterator[tuple[str, str]]:
    for column in table_of(kind).columns:
        for key in column.foreign_keys:
            yield column.name, key.column.table.name
