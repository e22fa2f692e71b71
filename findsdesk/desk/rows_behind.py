"""What a figure was made from: the very groups, pieces and objects, in the order of their containers."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, literal, or_, select, tuple_, union_all
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_dates import ends_of_bulk
from findsdesk.desk.figure_scopes import Scope
from findsdesk.desk.group_checks import form_named, ware_named
from findsdesk.desk.sherd_figures import EVERY_FIGURE
from findsdesk.desk.type_table import TypeTable, type_table
from findsdesk.desk.whole_figures import OF_WARES
from findsdesk.domain.date_ranges import DateRange, YearsSaid
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, Deposit, FoundObject, Piece, SherdGroup
from findsdesk.store.sherd_sums import POTTERY, Cell, DatedObject, Within, dated_objects, name_of, there
from findsdesk.store.sorted_sherds import GROUP, PIECE, own_years
from findsdesk.store.sums_in_spans import sums_of
from findsdesk.store.vessel_parts import is_base, is_rim, part_values
from findsdesk.words import N_

NO_ID, NO_YEAR = -1, -9_999_999
"""Stand for an id and a year that are not there: no row and no find has them."""


@dataclass(frozen=True, slots=True)
class Behind:
    """Which rows are wanted: those of a figure by its key, of a ware or a form ("": none said), of a span of years.

    Keys beside those of figures are ``not_weighed``, ``undated``, ``late``, ``terminus``, ``mean`` and ``bar`` (what
    falls into the years [begin, until)).
    """

    figure: str = "sherds"
    ware: str | None = None
    form: str | None = None
    begin: int = 0
    until: int = 0


@dataclass(frozen=True, slots=True)
class RowBehind:
    """A group, a piece or an object behind a figure; ``place`` is its row or number in its container."""

    kind: str
    id: int
    container_id: int
    container: str
    deposit: str
    place: int
    ware: str
    form: str
    part: str
    pieces: int
    tenths: int | None
    rim_permille: int | None
    base_permille: int | None
    decision: str
    years: DateRange | None
    open_ended: bool = False
    """Only the first of its years is known."""


@dataclass(frozen=True, slots=True)
class RowsBehind:
    """Some of the rows behind a figure, how many there are, and the sherds of all of them together."""

    total: int
    pieces: int
    rows: tuple[RowBehind, ...]


_OF_ROW: dict[str, Callable[[Any], Any]] = {
    "grams": lambda kind: kind.tenths.is_not(None),
    "mean_weight": lambda kind: kind.tenths.is_not(None),
    "not_weighed": lambda kind: kind.tenths.is_(None),
    "diagnostic": lambda kind: kind.diagnostic.is_(True),
    "rim_eve": lambda kind: kind.rim_permille > 0,
    "base_eve": lambda kind: kind.base_permille > 0,
    "by_rims": is_rim,
    "fewest": lambda kind: or_(is_rim(kind), is_base(kind)),
} | dict.fromkeys(OF_WARES, lambda kind: kind.ware_id.is_not(None))
"""Which rows are counted in a figure; all of them where nothing is said here."""
_BY_YEARS = frozenset({"undated", "late", "terminus", "mean", "bar"})
_KNOWN = frozenset(EVERY_FIGURE) | _BY_YEARS | {"not_weighed"}


def behind_named(desk: Desk, figure: str, *, ware: str | None = None, form: str | None = None) -> Behind:
    """Return the rows of a figure that are wanted, of a ware or a form by its code or name ("": none said).

    Refusals: ``unknown_ware``, ``unknown_form``.
    """
    with desk.reading() as reading:
        of_ware = None if ware is None else ware_named(reading.session, ware)
        of_form = None if form is None else form_named(reading.session, form)
    return Behind(
        figure,
        None if ware is None else of_ware.code if of_ware else "",
        None if form is None else of_form.code if of_form else "",
    )


def rows_behind(
    desk: Desk, scope: Scope, behind: Behind = Behind(), first: int = 0, how_many: int = 200
) -> RowsBehind:  # fmt: skip
    """Return the rows a figure was made from, from the row ``first`` on. Refusal: ``unknown_figure``."""
    if behind.figure not in _KNOWN:
        raise Refusal("unknown_figure", N_("There is no figure {figure}."), figure=behind.figure)
    with desk.reading() as reading:
        session, within = reading.session, scope.within()
        types = type_table(session)
        conditions = _conditions(session, within, behind, types)
        found = _found(within, behind, conditions)
        objects = _objects(session, within, behind, types)
        counted = select(func.count(), func.coalesce(func.sum(found.c.pieces), 0)).select_from(found)
        values = within.values() | part_values(session)
        total, pieces = session.execute(counted, values).one()
        order = (found.c.number_key, found.c.container_id, found.c.kind, found.c.place)
        ordered = select(found).order_by(*order).offset(first).limit(how_many)
        page = session.execute(ordered, values).all()
        rows = [*(_row(row, types) for row in page), *objects[max(0, first - total) :]]
        return RowsBehind(total + len(objects), int(pieces) + len(objects), tuple(rows[:how_many]))


def _found(within: Within, behind: Behind, conditions: dict[str, Any]) -> Any:
    return union_all(*(_rows_of(kind, within, behind, conditions) for kind in (SherdGroup, Piece))).subquery("behind")


def _rows_of(kind: Any, within: Within, behind: Behind, conditions: dict[str, Any]) -> Any:
    name = name_of(kind)
    place = kind.ordinal if kind is SherdGroup else kind.number
    wanted = [*([_OF_ROW[behind.figure](kind)] if behind.figure in _OF_ROW else []), *conditions[name]]
    return (
        select(
            literal(name).label("kind"),
            kind.id.label("id"),
            kind.container_id.label("container_id"),
            Container.number.label("container"),
            Container.number_key.label("number_key"),
            func.coalesce(Deposit.number, "").label("deposit"),
            place.label("place"),
            kind.ware_id.label("ware_id"),
            kind.form_id.label("form_id"),
            kind.part.label("part"),
            kind.pieces.label("pieces"),
            kind.tenths.label("tenths"),
            kind.rim_permille.label("rim_permille"),
            kind.base_permille.label("base_permille"),
            kind.decision.label("decision"),
            own_years(kind)[0].label("earliest"),
            own_years(kind)[1].label("latest"),
        )
        .join(Container, kind.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .where(Container.material == POTTERY, *there(kind), *within.conditions(mine=True), *wanted)
    )


def _row(row: Any, types: TypeTable) -> RowBehind:
    said = types.said(row.ware_id, row.form_id, row.earliest, row.latest)
    return RowBehind(
        kind=row.kind,
        id=row.id,
        container_id=row.container_id,
        container=row.container,
        deposit=row.deposit,
        place=row.place,
        ware=types.ware(row.ware_id).code,
        form=types.form(row.form_id).code,
        part=row.part,
        pieces=row.pieces,
        tenths=row.tenths,
        rim_permille=row.rim_permille,
        base_permille=row.base_permille,
        decision=row.decision,
        years=said.years,
        open_ended=said.open_ended,
    )


def _conditions(session: Session, within: Within, behind: Behind, types: TypeTable) -> dict[str, list[Any]]:
    """Return, for groups and for pieces, which types of which deposits are wanted; none where all are."""
    if behind.ware is None and behind.form is None and behind.figure not in _BY_YEARS:
        return {GROUP: [], PIECE: []}
    cells = [cell for cell in sums_of(session, within) if cell.mine]
    take = _taking(session, within, behind, types)
    chosen = [cell for cell in cells if _of_type(cell, behind, types) and take(cell.deposit_id, types.said_of(cell))]
    return {name_of(kind): [_among(kind, chosen)] for kind in (SherdGroup, Piece)}


def _of_type(cell: Cell, behind: Behind, types: TypeTable) -> bool:
    ware, form = types.ware(cell.ware_id).code, types.form(cell.form_id).code
    return behind.ware in (None, ware) and behind.form in (None, form)


def _among(kind: Any, cells: Sequence[Cell]) -> Any:
    """Return the condition that a row is in one of these cells."""
    ids = (Container.deposit_id, kind.ware_id, kind.form_id)
    key = tuple_(
        *(func.coalesce(column, NO_ID) for column in ids), *(func.coalesce(year, NO_YEAR) for year in own_years(kind))
    )
    values = [
        (
            *(NO_ID if one is None else one for one in (cell.deposit_id, cell.ware_id, cell.form_id)),
            *(NO_YEAR if year is None else year for year in (cell.earliest, cell.latest)),
        )
        for cell in cells
        if cell.kind == name_of(kind)
    ]
    return key.in_(sorted(set(values)))


def _taking(
    session: Session, within: Within, behind: Behind, types: TypeTable
) -> Callable[[int | None, YearsSaid], bool]:
    """Return whether finds of a deposit and with these years are behind the figure."""
    if behind.figure not in _BY_YEARS:
        return lambda _deposit, _said: True
    if behind.figure == "undated":
        return lambda _deposit, said: said.range is None
    if behind.figure == "bar":
        return lambda _deposit, said: said.range is not None and said.range.overlap(behind.begin, behind.until) > 0
    cells, objects = sums_of(session, within), dated_objects(session, within)
    ends = ends_of_bulk(session, cells, objects, types)

    def late(deposit: int | None, said: YearsSaid) -> bool:
        return said.years is not None and deposit in ends and said.years.begin >= ends[deposit]

    if behind.figure == "late":
        return late
    if behind.figure == "mean":
        return lambda deposit, said: said.range is not None and not late(deposit, said)
    begins = [
        said.years.begin
        for deposit, said in (
            *((cell.deposit_id, types.said_of(cell)) for cell in cells if cell.mine and cell.pieces),
            *((one.deposit_id, one.said) for one in objects if one.mine),
        )
        if said.years is not None and not late(deposit, said)
    ]
    year = max(begins, default=None)
    return lambda deposit, said: said.years is not None and said.years.begin == year and not late(deposit, said)


def _objects(session: Session, within: Within, behind: Behind, types: TypeTable) -> list[RowBehind]:
    """Return the objects behind a date; they are in no other figure."""
    if behind.figure not in ("terminus", "late"):
        return []
    take = _taking(session, within, behind, types)
    return [
        _object(session, one) for one in dated_objects(session, within) if one.mine and take(one.deposit_id, one.said)
    ]


def _object(session: Session, found: DatedObject) -> RowBehind:
    row = session.get_one(FoundObject, found.id)
    container = session.get_one(Container, row.container_id)
    deposit = session.get_one(Deposit, container.deposit_id).number if container.deposit_id else ""
    return RowBehind(
        kind="object",
        id=row.id,
        container_id=container.id,
        container=container.number,
        deposit=deposit,
        place=row.number,
        ware="",
        form="",
        part=found.what,
        pieces=1,
        tenths=None,
        rim_permille=None,
        base_permille=None,
        decision="",
        years=found.said.years,
        open_ended=found.said.open_ended,
    )
