"""Windows on a register of any length: the keys of a page from an index, then its rows by key.

Sorting and filtering are the store's. Every order ends in the key, so that it never changes between two pages; a page
nearer to the end is read from there, in reversed order.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from sqlalchemy import ColumnElement, Select, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk, Reading
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

FEW = 5_000
"""Up to so many found rows are gathered at once, without counting them first."""

AT_ONCE = 2_000
"""So many rows are read together where all are wanted."""

Row = TypeVar("Row")
Key = Any
"""A row's id: a number, or an act's text."""
Condition = ColumnElement[bool]


@dataclass(frozen=True, slots=True)
class RegisterQuery:
    """What of a register is wanted, in which order.

    ``text`` is looked for word by word in all that the register searches, old numbers too. ``filters`` are pairs of a
    filter's name and a value; several values of one name mean any of them. ``sort`` names an offered column; empty is
    the register's own order.
    """

    text: str = ""
    filters: tuple[tuple[str, str], ...] = ()
    sort: str = ""
    descending: bool = False


@dataclass(frozen=True, slots=True)
class Source(Generic[Row]):
    """One register: its key, the offered orders, what can be filtered and searched, and how rows are read by key."""

    key: Any
    sorts: Mapping[str, tuple[Any, ...]]
    filters: Mapping[str, Callable[[Reading, Sequence[str]], Condition]]
    holds_word: Callable[[str], Condition]
    """The condition that a row holds a folded word (as a pattern of LIKE, with ``/`` as its escape)."""
    rows: Callable[[Reading, Sequence[Key]], Mapping[Any, Row]]
    tie: tuple[Any, ...] = ()
    """What decides between rows that are alike in an order; the key where nothing is said."""
    newest_first: bool = False
    only: Condition | None = None
    """What every row of the register meets: where not all rows of its table stand in it, or an order is another's."""

    def order(self, query: RegisterQuery) -> Order:
        """Return the order that a query asks for; raises ``unknown_sort``."""
        name = query.sort or next(iter(self.sorts))
        if name not in self.sorts:
            raise Refusal(
                "unknown_sort",
                N_("This register is not sorted by {name}. It is sorted by {known}."),
                name=name,
                known=", ".join(self.sorts),
            )
        falls = query.descending if query.sort else query.descending is not self.newest_first
        return Order((*self.sorts[name], *(self.tie or (self.key,))), falls)

    def keys(self, conditions: Sequence[Condition]) -> Select[Any]:
        """Return the selection of the keys of rows that meet conditions."""
        return select(self.key).where(*self._all(conditions))

    def counting(self, conditions: Sequence[Condition]) -> Select[Any]:
        """Return the selection of how many rows meet conditions."""
        return select(func.count()).select_from(self.key.class_.__table__).where(*self._all(conditions))

    def _all(self, conditions: Sequence[Condition]) -> Sequence[Condition]:
        return conditions if self.only is None else [self.only, *conditions]

    def conditions(self, reading: Reading, query: RegisterQuery) -> list[Condition]:
        """Return what a row must meet; raises ``unknown_filter`` and what a filter's own values bring."""
        wanted: dict[str, list[str]] = {}
        for name, value in query.filters:
            wanted.setdefault(name, []).append(value)
        for name in wanted:
            if name not in self.filters:
                raise Refusal(
                    "unknown_filter",
                    N_("This register has no filter {name}. It has {known}."),
                    name=name,
                    known=", ".join(self.filters),
                )
        filtered = [self.filters[name](reading, values) for name, values in wanted.items()]
        return filtered + [self.holds_word(_pattern(word)) for word in folded(query.text).split()]


@dataclass(frozen=True, slots=True)
class Order:
    """By which columns rows are sorted, and whether they fall."""

    columns: tuple[Any, ...]
    falls: bool

    def reversed(self) -> Order:
        """Return the same order from the other end."""
        return Order(self.columns, not self.falls)

    def cut(self, keys: Select[Any], offset: int, how_many: int) -> Select[Any]:
        """Sort a selection and cut a page out of it."""
        columns = (column.desc() if self.falls else column.asc() for column in self.columns)
        return keys.order_by(*columns).offset(offset).limit(how_many)


def _pattern(word: str) -> str:
    """Return a word as a pattern of LIKE that finds it anywhere."""
    for sign in "/%_":
        word = word.replace(sign, f"/{sign}")
    return f"%{word}%"


def counted(desk: Desk, source: Source[Row], query: RegisterQuery) -> int:
    """Return how many rows of a register meet a query."""
    with desk.reading() as reading:
        return _counted(reading.session, source, source.conditions(reading, query))


def _counted(session: Session, source: Source[Row], conditions: Sequence[Condition]) -> int:
    return int(session.execute(source.counting(conditions)).scalar_one())


def window(
    desk: Desk, source: Source[Row], query: RegisterQuery, first: int, how_many: int, total: int | None = None
) -> tuple[Row, ...]:
    """Return rows of a register from the row ``first`` on; ``total`` is how many meet the query, where it is known."""
    with desk.reading() as reading:
        order = source.order(query)
        conditions = source.conditions(reading, query)
        keys = _keys(reading.session, source, order, conditions, Page(first, how_many, total))
        rows = source.rows(reading, keys) if keys else {}
        return tuple(rows[key] for key in keys if key in rows)


def every_row(reading: Reading, source: Source[Row], query: RegisterQuery) -> Iterator[Row]:
    """Yield all rows that meet a query, in its order, as they stand at one moment; a few are held at a time."""
    order, conditions = source.order(query), source.conditions(reading, query)
    columns = (column.desc() if order.falls else column.asc() for column in order.columns)
    keys = reading.session.execute(source.keys(conditions).order_by(*columns)).scalars().all()
    for first in range(0, len(keys), AT_ONCE):
        some = keys[first : first + AT_ONCE]
        rows = source.rows(reading, some)
        yield from (rows[key] for key in some if key in rows)


@dataclass(frozen=True, slots=True)
class Page:
    """Which rows are wanted, and of how many (None: not known yet)."""

    first: int
    how_many: int
    total: int | None


def _keys(
    session: Session, source: Source[Row], order: Order, conditions: Sequence[Condition], page: Page
) -> list[Key]:
    found = source.keys(conditions)
    if conditions and (page.total is None or page.total <= FEW):
        gathered = session.execute(found.limit(FEW + 1)).scalars().all()
        if len(gathered) <= FEW:
            few = source.keys([source.key.in_(gathered)])
            return list(session.execute(order.cut(few, page.first, page.how_many)).scalars())
    total = page.total
    if total is None and page.first:
        total = _counted(session, source, conditions)
    offset, how_many = page.first, page.how_many
    from_the_end = total is not None and offset > total // 2
    if from_the_end and total is not None:
        end = min(offset + how_many, total)
        offset, how_many, order = total - end, max(end - offset, 0), order.reversed()
    if conditions and total is not None and _better_gathered(session, source, offset + how_many, total):
        kept = found.cte("found").prefix_with("MATERIALIZED")
        found = source.keys([source.key.in_(select(kept.c[source.key.key]))])
    keys = list(session.execute(order.cut(found, offset, how_many)).scalars())
    return keys[::-1] if from_the_end else keys


def _better_gathered(session: Session, source: Source[Row], passed: int, total: int) -> bool:
    """Tell whether gathering all that is found costs less than walking along the order until the page is full.

    A walk looks at all rows that lie between those that are found and passed; gathering looks at each found row.
    """
    return passed * _counted(session, source, ()) > total * total
