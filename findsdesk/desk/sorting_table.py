"""What lies on the sorting table: a container's groups, ledger, entries, wares, grams; and what waits for it."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import ColumnElement, ScalarSelect, and_, case, func, or_, select
from sqlalchemy.orm import Session, aliased

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import container_of
from findsdesk.desk.group_rows import GroupOf, GroupRow, as_row, vessel_numbers
from findsdesk.desk.ledgers import count_that_stands, ledger_from
from findsdesk.desk.shipped import routes
from findsdesk.desk.taking_back import NOTHING_IN_TURN, InTurn, in_turn
from findsdesk.domain.balance import Entry, Ledger, grams_agree
from findsdesk.domain.routes import Hold, Standing, StepKind
from findsdesk.store.models import (
    BalanceTotal,
    Container,
    Deposit,
    Form,
    LedgerEntry,
    Part,
    Person,
    Piece,
    SherdGroup,
    Square,
    Step,
    Ware,
)
from findsdesk.store.sorted_sherds import sorted_sherds


@dataclass(frozen=True, slots=True)
class EntryRow:
    """An entry of the ledger; ``other`` is the number of the container pieces went to or came from.

    ``found`` is the number of the object that this container holds, where it went as one.
    """

    id: int
    kind: Entry
    pieces: int
    tenths: int
    why: str
    other: str
    found: int | None
    happened_at: datetime
    person: str
    answers_id: int | None
    answered: bool


@dataclass(frozen=True, slots=True)
class WareShare:
    """How much of what is sorted is of one ware ('' where the ware was left open); ``permille`` of the pieces."""

    ware: str
    name: str
    earliest: int | None
    latest: int | None
    pieces: int
    tenths: int
    permille: int


@dataclass(frozen=True, slots=True)
class DryGrams:
    """Dry weights in tenths of a gram; ``agree`` is None while pieces are unsorted or not weighed."""

    counted: int
    accounted: int
    tolerance_permille: int
    agree: bool | None


@dataclass(frozen=True, slots=True)
class SortingTable:
    """A container on the table, all of it: one reading."""

    container_id: int
    code: str
    number: str
    deposit: str
    square: str
    material: str
    standing: Standing
    held_for: Hold | None
    counted: bool
    """False while nobody counted; where ``counts_at_wash`` is False the sum of the groups becomes the count."""
    counts_at_wash: bool
    groups: tuple[GroupRow, ...]
    ledger: Ledger
    entries: tuple[EntryRow, ...]
    wares: tuple[WareShare, ...]
    grams: DryGrams
    lifted: int
    """Sherds that were lifted out of the groups as pieces; the shares of wares count them too."""
    security: str = ""
    """How far the finds of its deposit belong together."""
    turn: InTurn = NOTHING_IN_TURN
    """What the person's next taking back and doing again are about."""
    only: frozenset[int] | None = None
    """The groups that were asked for, where not all were: the others are not in ``groups``."""

    @property
    def last(self) -> GroupRow | None:
        """Return the group written last, or None."""
        return max(self.groups, key=lambda row: row.id, default=None)


def table_of(desk: Desk, tag: str, *, only: frozenset[int] | None = None) -> SortingTable:
    """Return a container's table; ``only`` reads some of its groups, by their ids. Refusals: those of finding it."""
    with desk.reading() as reading:
        session = reading.session
        container = container_of(session, desk, tag)
        deposit, security, square = session.execute(
            select(Deposit.number, Deposit.security, Square.name)
            .select_from(Container)
            .outerjoin(Deposit, Container.deposit_id == Deposit.id)
            .outerjoin(Square, Container.square_id == Square.id)
            .where(Container.id == container.id)
        ).one()
        lifted = select(func.coalesce(func.sum(Piece.pieces), 0)).where(Piece.container_id == container.id)
        total = session.get(BalanceTotal, (container.id, container.material))
        return SortingTable(
            container_id=container.id,
            code=container.code,
            number=container.number,
            deposit=deposit or "",
            square=square or "",
            material=container.material,
            standing=Standing(container.standing),
            held_for=Hold(container.held_for) if container.held_for else None,
            counted=count_that_stands(session, container.id) is not None,
            counts_at_wash=desk.facts.settings.count_at_wash,
            groups=_groups(session, container.id, only),
            ledger=ledger_from(total),
            entries=_entries(session, container.id),
            wares=_shares(session, container.id),
            lifted=session.execute(lifted).scalar_one(),
            grams=dry_grams_of(session, container, desk.facts.settings.grams_tolerance_permille),
            security=security or "",
            turn=in_turn(session, container, desk.person.id),
            only=only,
        )


def _groups(session: Session, container_id: int, only: frozenset[int] | None) -> tuple[GroupRow, ...]:
    wanted = (
        select(SherdGroup, Ware, Form)
        .outerjoin(Ware, SherdGroup.ware_id == Ware.id)
        .outerjoin(Form, SherdGroup.form_id == Form.id)
        .where(SherdGroup.container_id == container_id)
        .order_by(SherdGroup.ordinal, SherdGroup.id)
    )
    if only is not None:
        wanted = wanted.where(SherdGroup.id.in_(only))
    found = session.execute(wanted).all()
    vessels = vessel_numbers(session, (group for group, _ware, _form in found))
    return tuple(as_row(group, GroupOf(ware, form), vessels) for group, ware, form in found)


def _entries(session: Session, container_id: int) -> tuple[EntryRow, ...]:
    other = aliased(Container)
    rows = session.execute(
        select(LedgerEntry, other.number, Person.name)
        .outerjoin(other, LedgerEntry.other_container_id == other.id)
        .outerjoin(Person, LedgerEntry.person_id == Person.id)
        .where(LedgerEntry.container_id == container_id)
        .order_by(LedgerEntry.happened_at, LedgerEntry.id)
    ).all()
    answered = {row.answers_id for row, _other, _person in rows}
    objects = _objects(session, {row.other_container_id for row, _other, _person in rows if row.kind != Entry.ARRIVED})
    return tuple(
        EntryRow(
            id=row.id,
            kind=Entry(row.kind),
            pieces=row.pieces,
            tenths=row.tenths,
            why=row.why,
            other=number or "",
            found=objects.get(row.other_container_id),
            happened_at=row.happened_at,
            person=person or "",
            answers_id=row.answers_id,
            answered=row.id in answered,
        )
        for row, number, person in rows
    )


def _objects(session: Session, container_ids: Set[int | None]) -> dict[int | None, int]:
    """Return the numbers of the objects that lie in containers of their own; asked only where something went."""
    ids = container_ids - {None}
    if not ids:
        return {}
    from findsdesk.store.models import FoundObject

    found = select(FoundObject.container_id, FoundObject.number).where(FoundObject.container_id.in_(ids))
    return {row.container_id: row.number for row in session.execute(found)}


def _shares(session: Session, container_id: int) -> tuple[WareShare, ...]:
    """Return the wares of a container's groups and pieces by how many sherds they have."""
    sherds = sorted_sherds("container_id", "ware_id", "pieces", "tenths").c
    sums = session.execute(
        select(Ware, func.sum(sherds.pieces), func.coalesce(func.sum(sherds.tenths), 0))
        .select_from(sherds.pieces.table)
        .outerjoin(Ware, sherds.ware_id == Ware.id)
        .where(sherds.container_id == container_id)
        .group_by(Ware.id)
    ).all()
    every = sum(pieces for _ware, pieces, _tenths in sums) or 1
    shares = (
        WareShare(
            ware=ware.code if ware else "",
            name=ware.name if ware else "",
            earliest=ware.earliest if ware else None,
            latest=ware.latest if ware else None,
            pieces=pieces,
            tenths=tenths,
            permille=round(pieces * 1000 / every),
        )
        for ware, pieces, tenths in sums
    )
    return tuple(sorted(shares, key=lambda share: (-share.pieces, share.ware)))


def dry_grams_of(session: Session, container: Container, tolerance_permille: int) -> DryGrams:
    """Return the dry grams of a container by the kept totals, as they stood when this deed began."""
    sherds = sorted_sherds("id", "container_id", "tenths").c
    unweighed = select(sherds.id).where(sherds.container_id == container.id, sherds.tenths.is_(None))
    total = session.get(BalanceTotal, (container.id, container.material))
    return _dry_grams(total, tolerance_permille, session.execute(unweighed.limit(1)).first() is None)


def _dry_grams(total: BalanceTotal | None, tolerance_permille: int, weighed: bool) -> DryGrams:
    counted = total.counted_tenths if total else 0
    accounted = total.accounted_tenths if total else 0
    comparable = weighed and counted > 0 and ledger_from(total).balances
    agree = grams_agree(counted, accounted, tolerance_permille) if comparable else None
    return DryGrams(counted, accounted, tolerance_permille, agree)


@dataclass(frozen=True, slots=True)
class WaitingContainer:
    """A container that is dry, has lain long enough to be, or lies on the table.

    ``pieces`` came in, ``unsorted`` are left of them.
    """

    container_id: int
    code: str
    number: str
    deposit: str
    square: str
    material: str
    standing: Standing
    held_for: Hold | None
    since: datetime | None
    pieces: int
    unsorted: int


def left_to_sort(desk: Desk) -> tuple[WaitingContainer, ...]:
    """Return what is on the table, then what is dry and waits for it, of materials sorted here; the longest first."""
    since = _stands_since()
    wanted = (
        select(Container, Deposit.number, Square.name, BalanceTotal, since.label("since"))
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(
            BalanceTotal,
            (BalanceTotal.container_id == Container.id) & (BalanceTotal.material == Container.material),
        )
        .where(or_(Container.standing == Standing.SORTING, _is_dry(desk)), _sorted_here())
        .order_by(Container.standing != Standing.SORTING, since, Container.number_key)
    )
    with desk.reading() as reading:
        return tuple(
            _waiting(row, deposit or "", square or "", ledger_from(total), begun)
            for row, deposit, square, total, begun in reading.session.execute(wanted)
        )


def dry_and_waiting(desk: Desk) -> int:
    """Return how many containers of materials sorted here are dry and wait for the table."""
    with desk.reading() as reading:
        return how_many_dry(reading.session, desk)


def how_many_dry(session: Session, desk: Desk) -> int:
    """Return how many containers are dry and wait for the table, as one look at the store sees them."""
    wanted = select(func.count()).select_from(Container).where(_is_dry(desk), _sorted_here())
    return session.execute(wanted).scalar_one()


def _lies_since() -> ScalarSelect[datetime]:
    return select(func.min(Part.since)).where(Part.container_id == Container.id).scalar_subquery()


_BEGINS = {
    Standing.DRY: (StepKind.DRY, StepKind.CAME_BACK),
    Standing.SORTING: (StepKind.SORTING, StepKind.REOPENED),
}
"""The steps that bring a container where it stands, where it was not laid out anew for that."""


def _stands_since() -> ColumnElement[datetime]:
    """Since when it is dry or on the table, as its life says; else since when it lies to dry."""
    began = [(Container.standing == standing, _last_step(kinds)) for standing, kinds in _BEGINS.items()]
    return func.coalesce(case(*began, else_=None), _lies_since(), type_=Part.since.type)


def _last_step(kinds: tuple[StepKind, ...]) -> ScalarSelect[datetime]:
    return (
        select(func.max(Step.happened_at))
        .where(Step.container_id == Container.id, Step.kind.in_(kinds))
        .scalar_subquery()
    )


def _sorted_here() -> ColumnElement[bool]:
    return Container.material.in_([route.key for route in routes().values() if route.sorted_here])


def _is_dry(desk: Desk) -> ColumnElement[bool]:
    """Said to be dry, or laid out for the excavation's hours; what still waits for its count is not meant."""
    settings = desk.facts.settings
    lying = [Standing.DRYING] if settings.count_at_wash else [Standing.DRYING, Standing.WASHED]
    long_enough = _lies_since() <= desk.now() - timedelta(hours=settings.dry_h)
    return or_(Container.standing == Standing.DRY, and_(Container.standing.in_(lying), long_enough))


def _waiting(row: Container, deposit: str, square: str, ledger: Ledger, since: datetime | None) -> WaitingContainer:
    return WaitingContainer(
        container_id=row.id,
        code=row.code,
        number=row.number,
        deposit=deposit,
        square=square,
        material=row.material,
        standing=Standing(row.standing),
        held_for=Hold(row.held_for) if row.held_for else None,
        since=since,
        pieces=ledger.expected,
        unsorted=ledger.unsorted,
    )
