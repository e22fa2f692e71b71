"""Sherds summed for figures: groups and pieces by deposit, type and the years said of a piece itself.

One statement; what it gives are few rows (``Cell``) however many groups there are. Where millions are summed it is
one statement for each of some spans of containers (``sums_in_spans``), so that somebody can wait for it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Any, NamedTuple

from sqlalchemy import (
    BigInteger,
    ColumnElement,
    and_,
    bindparam,
    case,
    func,
    literal,
    or_,
    select,
    union_all,
)
from sqlalchemy.orm import Session

from findsdesk.domain.date_ranges import YearsSaid, years_said
from findsdesk.domain.deposits import Security
from findsdesk.store.models import Container, Deposit, FoundObject, Piece, SherdGroup, SherdJoin
from findsdesk.store.sorted_sherds import GROUP, PIECE, own_years
from findsdesk.store.vessel_parts import is_base, is_rim, part_values

Condition = ColumnElement[bool]
POTTERY = "pottery"


class Cell(NamedTuple):
    """The sherds of one deposit that are of one type; weights in tenths of a gram, shares in per mille.

    ``mine`` is 1 for what belongs to the thing whose figures are wanted (else it is the rest of its deposit).
    ``linked`` is 1 for sherds that belong to a vessel or join another: their vessels are counted apart.
    ``weighed`` are the sherds whose weight was written; ``with_rim`` and so on are sherds that carry those elements,
    ``rims_read`` those of them whose share of the circle was read.
    """

    kind: str
    deposit_id: int | None
    mine: int
    ware_id: int | None
    form_id: int | None
    linked: int
    earliest: int | None
    latest: int | None
    rows: int
    pieces: int
    tenths: int
    weighed: int
    weighed_rows: int
    diagnostic: int
    rim: int
    base: int
    with_rim: int
    with_base: int
    with_both: int
    rims_read: int
    bases_read: int


class DatedObject(NamedTuple):
    """A coin or another object with the years it allows; ``latest`` is None where only the first is known."""

    id: int
    season_id: int
    number: int
    what: str
    deposit_id: int | None
    mine: int
    earliest: int
    latest: int | None

    @property
    def said(self) -> YearsSaid:
        """Return its years; the first alone where no other is known."""
        return years_said((self.earliest, self.latest))


class Inside(StrEnum):
    """Which containers are looked into."""

    CONTAINER = "container"
    CONTAINER_OF_DEPOSIT = "container of a deposit"
    """The whole deposit, and of it the container itself."""
    DEPOSIT = "deposit"
    SQUARE = "square"
    SEASON = "season"
    EXCAVATION = "excavation"
    BESIDE_SQUARE = "of a deposit what is from other squares"
    BESIDE_SEASON = "of a deposit what is from other seasons"


@dataclass(frozen=True, slots=True)
class Within:
    """Which containers are looked into, by the ids they are chosen by; statements are made once for each kind."""

    inside: Inside
    id: int | None = None
    deposit_id: int | None = None

    def values(self) -> dict[str, int | None]:
        """Return the values of the statement's parameters."""
        return {"id": self.id, "deposit_id": self.deposit_id}

    def is_wide(self) -> bool:
        """Return whether it may hold more deposits than are summed while somebody waits."""
        return self.inside in _WIDE

    def conditions(self, *, mine: bool = False) -> tuple[Condition, ...]:
        """Return what a container must be to be looked into, or to belong to the thing itself."""
        if mine and self.inside is Inside.CONTAINER_OF_DEPOSIT:
            return (Container.id == _ID,)
        return _CONDITIONS[self.inside]

    def flag(self) -> Any:
        """Return 1 where a row belongs to the thing itself."""
        if self.inside is Inside.CONTAINER_OF_DEPOSIT:
            return case((Container.id == _ID, 1), else_=0)
        return literal(0 if self.inside in _BESIDE.values() else 1)


_ID, _DEPOSIT_ID = bindparam("id", type_=BigInteger), bindparam("deposit_id", type_=BigInteger)
_AFTER, _UPTO = bindparam("after", type_=BigInteger), bindparam("upto", type_=BigInteger)
_WIDE = frozenset({Inside.SQUARE, Inside.SEASON, Inside.EXCAVATION})
_CONDITIONS: dict[Inside, tuple[Condition, ...]] = {
    Inside.CONTAINER: (Container.id == _ID,),
    Inside.CONTAINER_OF_DEPOSIT: (Container.deposit_id == _DEPOSIT_ID,),
    Inside.DEPOSIT: (Container.deposit_id == _ID,),
    Inside.SQUARE: (Container.square_id == _ID,),
    Inside.SEASON: (Container.season_id == _ID,),
    Inside.EXCAVATION: (),
    Inside.BESIDE_SQUARE: (Container.deposit_id == _DEPOSIT_ID, Container.square_id.is_distinct_from(_ID)),
    Inside.BESIDE_SEASON: (Container.deposit_id == _DEPOSIT_ID, Container.season_id != _ID),
}
_BESIDE = {Inside.SQUARE: Inside.BESIDE_SQUARE, Inside.SEASON: Inside.BESIDE_SEASON}


def beside(session: Session, within: Within) -> list[Within]:
    """Return, of a square or a season, the rest of each sealed deposit that lies in others too.

    What looks late in a sealed deposit is told by all of it.
    """
    rest = _BESIDE.get(within.inside)
    if rest is None:
        return []
    inside = func.sum(case((and_(*_CONDITIONS[within.inside]), 1), else_=0))
    parted = (
        select(Container.deposit_id)
        .join(Deposit, Container.deposit_id == Deposit.id)
        .where(Deposit.security == Security.SEALED)
        .group_by(Container.deposit_id)
        .having(inside > 0, inside < func.count())
        .order_by(Container.deposit_id)
    )
    return [Within(rest, within.id, found) for found in session.execute(parted, {"id": within.id}).scalars()]


class Span(NamedTuple):
    """Containers whose ids lie in (after, upto]."""

    after: int
    upto: int


def sherd_sums(session: Session, within: Within, span: Span | None = None) -> list[Cell]:
    """Return the sherds of pottery containers summed by deposit and type; with a span, of its containers alone."""
    values = within.values() | part_values(session) | ({} if span is None else span._asdict())
    return [Cell(*row) for row in session.execute(_sums_of(within.inside, span is not None), values)]


@cache
def _sums_of(inside: Inside, in_span: bool) -> Any:
    within = Within(inside)
    return union_all(*(_summed(kind, within, in_span) for kind in (SherdGroup, Piece)))


def _summed(kind: Any, within: Within, in_span: bool) -> Any:
    """Return the sums of one table; what is grouped by is named first, so that both databases know it again."""
    rows = _looked_at(kind, within, in_span)
    same = _same_in_all(kind, within)
    key = tuple(same[name] if name in same else rows[name] for name in _KEY)
    with_both = and_(rows.with_rim == 1, rows.with_base == 1)

    def where(condition: Any) -> Any:
        return func.sum(case((condition, rows.pieces), else_=0))

    sums = (
        func.count(),
        func.sum(rows.pieces),
        func.coalesce(func.sum(rows.tenths), 0),
        where(rows.tenths.is_not(None)),
        func.count(rows.tenths),
        where(rows.diagnostic.is_(True)),
        func.coalesce(func.sum(rows.rim_permille), 0),
        func.coalesce(func.sum(rows.base_permille), 0),
        where(rows.with_rim == 1),
        where(rows.with_base == 1),
        where(with_both),
        where(rows.rim_permille > 0),
        where(rows.base_permille > 0),
    )
    varying = (rows[name] for name in _KEY if name not in same)
    return select(literal(name_of(kind)).label("kind"), *key, *sums).group_by(*varying)


def _same_in_all(kind: Any, within: Within) -> dict[str, Any]:
    """Return what is the same in all rows: it is not sorted by, which among a million takes a quarter of the time."""
    same: dict[str, Any] = {}
    if within.inside is not Inside.CONTAINER_OF_DEPOSIT:
        same["mine"] = within.flag().label("mine")
    if kind is SherdGroup:
        same |= dict(zip(("earliest", "latest"), own_years(kind), strict=True))
    return same


_KEY = ("deposit_id", "mine", "ware_id", "form_id", "linked", "earliest", "latest")


def _looked_at(kind: Any, within: Within, in_span: bool) -> Any:
    """Return the columns of the rows of one table that are looked at, with what is told of each."""
    earliest, latest = own_years(kind)
    # Said of both tables: SQLite then keeps to the span in whichever it walks along.
    span = [one for column in (Container.id, kind.container_id) for one in (column > _AFTER, column <= _UPTO)]
    columns = (kind.ware_id, kind.form_id, kind.pieces, kind.tenths, kind.diagnostic)
    shares = (kind.rim_permille, kind.base_permille)
    return (
        select(
            Container.deposit_id,
            within.flag().label("mine"),
            linked(kind).label("linked"),
            earliest.label("earliest"),
            latest.label("latest"),
            case((is_rim(kind), 1), else_=0).label("with_rim"),
            case((is_base(kind), 1), else_=0).label("with_base"),
            *columns,
            *shares,
        )
        .join(Container, kind.container_id == Container.id)
        .where(Container.material == POTTERY, *there(kind), *within.conditions(), *(span if in_span else ()))
        .subquery(f"{name_of(kind)}_rows")
        .c
    )


def name_of(kind: Any) -> str:
    """Return what rows of a table are called beside those of the other."""
    return GROUP if kind is SherdGroup else PIECE


def there(kind: Any) -> tuple[Condition, ...]:
    """Return the condition that sherds of a row are there: a piece that analysis used up keeps its row and has none."""
    return (Piece.pieces > 0,) if kind is Piece else ()


def linked(kind: Any) -> Any:
    """Return 1 for sherds that belong to a vessel or join another piece, else 0."""
    if kind is SherdGroup:
        return case((SherdGroup.vessel_id.is_not(None), 1), else_=0)
    joined = select(SherdJoin.left_id).union_all(select(SherdJoin.right_id))
    return case((Piece.vessel_id.is_not(None), 1), (Piece.id.in_(joined), 1), else_=0)


def dated_objects(session: Session, within: Within) -> list[DatedObject]:
    """Return the objects with a first year in these containers, of any material; those taken out of one are its own."""
    return [
        DatedObject(*row)
        for some in (within, *beside(session, within))
        for row in session.execute(_objects_of(some.inside), some.values())
    ]


@cache
def _objects_of(inside: Inside) -> Any:
    within = Within(inside)
    conditions, flag = within.conditions(), within.flag()
    if inside in (Inside.CONTAINER, Inside.CONTAINER_OF_DEPOSIT):
        own = or_(Container.id == _ID, Container.from_container_id == _ID)
        conditions, flag = (or_(own, *conditions),), case((own, 1), else_=0)
    return (
        select(
            FoundObject.id,
            FoundObject.season_id,
            FoundObject.number,
            FoundObject.what,
            Container.deposit_id,
            flag,
            FoundObject.earliest,
            FoundObject.latest,
        )
        .join(Container, FoundObject.container_id == Container.id)
        .where(FoundObject.earliest.is_not(None), *conditions)
        .order_by(FoundObject.season_id, FoundObject.number)
    )
