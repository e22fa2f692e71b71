"""The dossier of what is in hand: its life so far and ahead, its counts and balance, its cautions, its bags."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any

from sqlalchemy import bindparam, exists, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import bag_of, container_of, deposit_of, named_apart
from findsdesk.desk.finding_pieces import looks_like_a_piece, piece_of
from findsdesk.desk.ledgers import NOT_COUNTED, ledger_of
from findsdesk.desk.shipped import route_of
from findsdesk.domain.balance import Ledger
from findsdesk.domain.codes import Kind, could_be_code, read_code
from findsdesk.domain.life import steps_ahead
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Hold, Route, Standing, StepKind
from findsdesk.store.models import (
    Bag,
    Container,
    Count,
    Deposit,
    DiscardLine,
    HandOverLine,
    MarkEntry,
    Note,
    Part,
    Person,
    Piece,
    PotteryReading,
    Season,
    Square,
    Step,
)

# What the table says of finds is loaded with the first container that has any of it: a scan in the yard has none.
if TYPE_CHECKING:
    from findsdesk.desk.carried_over import Carried
    from findsdesk.desk.discard_lists import OnList
    from findsdesk.desk.dossier_pieces import PieceInHand
    from findsdesk.desk.joins import JoinRow
    from findsdesk.desk.lying import BagLies
    from findsdesk.desk.mark_sums import TextBorne
    from findsdesk.desk.reading_rows import ReadingFacts

LATER = timedelta(minutes=1)
"""From here on what was written down counts as entered later, from paper or from memory."""


@dataclass(frozen=True, slots=True)
class LifeStep:
    """One dated step of a container."""

    kind: StepKind
    happened_at: datetime
    who: str
    place: str
    pieces: int | None
    note: str
    entered_later: bool


@dataclass(frozen=True, slots=True)
class StandsAt:
    """Where one part of a container stands."""

    ordinal: int
    of: int
    kind: str
    place: str
    since: datetime


@dataclass(frozen=True, slots=True)
class CountMade:
    """One count; the newest stands."""

    pieces: int
    tenths: int | None
    wet: bool
    purpose: str
    happened_at: datetime
    who: str


@dataclass(frozen=True, slots=True)
class BagInDossier:
    """One bag packed from a container."""

    code: str
    what: str
    pieces: int
    labelled: bool
    lies: BagLies | None = None
    """Where it lies, in which box; None where it was laid nowhere yet."""


@dataclass(frozen=True, slots=True)
class Dossier:
    """All that is known of one container."""

    container_id: int
    code: str
    number: str
    provisional: bool
    deposit_id: int | None
    deposit: str
    security: str
    square: str
    season: str
    permit: str
    collected_on: date | None
    supervisor: str
    material: str
    route: Route
    description: str
    standing: Standing
    held_for: Hold | None
    tag_copy: int
    life: tuple[LifeStep, ...]
    ahead: tuple[StepKind, ...]
    stands_at: tuple[StandsAt, ...]
    counts: tuple[CountMade, ...]
    ledger: Ledger
    bags: tuple[BagInDossier, ...]
    questions: tuple[dict[str, Any], ...]
    cautions: tuple[str, ...]
    readings: tuple[ReadingFacts, ...] = ()
    joins: tuple[JoinRow, ...] = ()
    """Joins of its pieces with pieces of other containers."""
    discards: tuple[OnList, ...] = ()
    marks: tuple[TextBorne, ...] = ()
    """What is inked on its sherds or lies with them on slips, text by text, as it was written."""
    scanned_bag: str = ""
    """The code of the bag by whose label this was found, or nothing."""
    piece: PieceInHand | None = None
    """The piece by whose code or name this was found, or None."""
    carried: Carried | None = None
    """That it was carried over at the end of a season, boxed unwashed or boxed unread, and stands so still."""

    @property
    def counted(self) -> CountMade | None:
        """Return the count that stands."""
        return self.counts[-1] if self.counts else None


@dataclass(frozen=True, slots=True)
class DepositDossier:
    """A deposit in hand, with its containers."""

    deposit_id: int
    number: str
    asked_for: str
    square: str
    kind: str
    security: str
    opened: date
    closed: date | None
    supervisor: str
    description: str
    containers: tuple[tuple[str, str, Standing], ...]
    """Number, material and standing of each."""
    readings: tuple[ReadingFacts, ...] = ()
    """Those of the deposit as a whole; a container has its own."""
    joins: tuple[JoinRow, ...] = ()
    """Joins of its pieces with pieces of other deposits."""
    named: str = ""
    """What finds it alone, where two stores gave one number twice."""


InHand = Dossier | DepositDossier


def find(desk: Desk, scanned: str) -> InHand:
    """Find what was scanned or typed: a tag, a bag, a piece, a container's number, else a deposit's, old ones too.

    Refusals say which of the three is wrong with a code, or that nothing has the number.
    """
    with desk.reading() as reading:
        session = reading.session
        if could_be_code(scanned):
            code = read_code(scanned, desk.facts.code)
            if code.kind is Kind.BAG:
                bag = bag_of(session, desk, scanned)
                return replace(_dossier(session, session.get_one(Container, bag.container_id)), scanned_bag=bag.code)
            if code.kind is Kind.PIECE:
                return _of_a_piece(session, desk, scanned)
            return _dossier(session, container_of(session, desk, scanned))
        try:
            return _dossier(session, container_of(session, desk, scanned))
        except Refusal as refusal:
            if refusal.code != "unknown_number":
                raise
            try:
                return _deposit_dossier(session, deposit_of(session, scanned), scanned)
            except Refusal:
                if looks_like_a_piece(scanned):
                    return _of_a_piece(session, desk, scanned)
                raise refusal from None


def _of_a_piece(session: Session, desk: Desk, which: str) -> Dossier:
    piece = piece_of(session, desk, which)
    from findsdesk.desk.dossier_pieces import piece_in_hand

    found = _dossier(session, session.get_one(Container, piece.container_id))
    return replace(found, piece=piece_in_hand(session, desk, piece))


def dossier_of(desk: Desk, container_id: int) -> Dossier:
    """Return the dossier of a container by its id."""
    with desk.reading() as reading:
        return _dossier(reading.session, reading.session.get_one(Container, container_id))


def deposit_dossier(desk: Desk, number: str) -> DepositDossier:
    """Return a deposit's dossier by a number it has or once had."""
    with desk.reading() as reading:
        return _deposit_dossier(reading.session, deposit_of(reading.session, number), number)


def deposit_dossier_of(desk: Desk, deposit_id: int) -> DepositDossier:
    """Return a deposit's dossier by its id."""
    with desk.reading() as reading:
        deposit = reading.session.get_one(Deposit, deposit_id)
        return _deposit_dossier(reading.session, deposit, deposit.number)


def _dossier(session: Session, container: Container) -> Dossier:
    number, security, square, season, permit, supervisor = session.execute(
        select(Deposit.number, Deposit.security, Square.name, Season.name, Season.permit, Person.name)
        .select_from(Container)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Person, Container.supervisor_id == Person.id)
        .where(Container.id == container.id)
    ).one()
    route = route_of(container.material)
    life = _life(session, container.id)
    looked_at = any(step.kind is StepKind.LOOKED_AT for step in life)
    standing = Standing(container.standing)
    dossier = Dossier(
        container_id=container.id,
        code=container.code,
        number=container.number,
        provisional=container.provisional,
        deposit_id=container.deposit_id,
        deposit=number or "",
        security=security or "",
        square=square or "",
        season=season,
        permit=permit,
        collected_on=container.collected_on,
        supervisor=supervisor or "",
        material=container.material,
        route=route,
        description=container.description,
        standing=standing,
        held_for=Hold(container.held_for) if container.held_for else None,
        tag_copy=container.tag_copy,
        life=life,
        ahead=steps_ahead(route, standing, looked_at=looked_at),
        stands_at=_stands_at(session, container.id),
        counts=_counts(session, container.id),
        ledger=ledger_of(session, container.id, container.material),
        bags=_bags(session, container.id),
        questions=_questions(session, container.id),
        cautions=route.cautions,
    )
    return _with_the_table(session, dossier)


_OF_THE_TABLE = select(
    exists().where(PotteryReading.container_id == bindparam("container")),
    exists().where(DiscardLine.container_id == bindparam("container")),
    exists().where(Piece.container_id == bindparam("container")),
    exists().where(MarkEntry.container_id == bindparam("container")),
    exists().where(HandOverLine.container_id == bindparam("container")),
)


def _with_the_table(session: Session, dossier: Dossier) -> Dossier:
    """Return a dossier with what was read of the container, its discard lists, joins of its pieces and its marks."""
    which = dossier.container_id
    was_read, discarded, has_pieces, marked, signed = session.execute(_OF_THE_TABLE, {"container": which}).one()
    if signed:
        from findsdesk.desk.carried_over import carried_of

        dossier = replace(dossier, carried=carried_of(session, [which]).get(which))
    if was_read:
        from findsdesk.desk.reading_rows import readings_on

        dossier = replace(dossier, readings=readings_on(session, container_id=which))
    if discarded:
        from findsdesk.desk.discard_lists import lists_of_container

        dossier = replace(dossier, discards=lists_of_container(session, which))
    if has_pieces:
        from findsdesk.desk.dossier_pieces import joins_out_of_container

        dossier = replace(dossier, joins=joins_out_of_container(session, which))
    if marked:
        from findsdesk.desk.mark_sums import texts_borne

        dossier = replace(dossier, marks=texts_borne(session, [which]))
    return dossier


def _life(session: Session, container_id: int) -> tuple[LifeStep, ...]:
    rows = session.execute(
        select(Step, Person.name)
        .outerjoin(Person, Step.person_id == Person.id)
        .where(Step.container_id == container_id)
        .order_by(Step.happened_at, Step.id)
    ).all()
    return tuple(
        LifeStep(
            kind=StepKind(step.kind),
            happened_at=step.happened_at,
            who=who or "",
            place=step.place,
            pieces=step.pieces,
            note=step.note,
            entered_later=step.entered_at - step.happened_at >= LATER,
        )
        for step, who in rows
    )


def _stands_at(session: Session, container_id: int) -> tuple[StandsAt, ...]:
    rows = session.execute(select(Part).where(Part.container_id == container_id).order_by(Part.ordinal)).scalars().all()
    return tuple(StandsAt(row.ordinal, len(rows), row.place_kind, row.place, row.since) for row in rows)


def _counts(session: Session, container_id: int) -> tuple[CountMade, ...]:
    rows = session.execute(
        select(Count, Person.name)
        .outerjoin(Person, Count.person_id == Person.id)
        .where(Count.container_id == container_id)
        .order_by(Count.happened_at, Count.id)
    ).all()
    counts: list[CountMade] = []
    for row, who in rows:
        if row.purpose == NOT_COUNTED:
            # Those before were of the finds that lie under the other tag now; its steps go on telling them.
            counts.clear()
        else:
            counts.append(CountMade(row.pieces, row.tenths, row.wet, row.purpose, row.happened_at, who or ""))
    return tuple(counts)


def _bags(session: Session, container_id: int) -> tuple[BagInDossier, ...]:
    rows = session.execute(select(Bag).where(Bag.container_id == container_id).order_by(Bag.code)).scalars().all()
    if not rows:
        return ()
    from findsdesk.desk.lying import where_bags_lie

    lying = where_bags_lie(session, rows)
    return tuple(
        BagInDossier(row.code, row.what, row.pieces, row.labelled_at is not None, lying.get(row.id)) for row in rows
    )


def _questions(session: Session, container_id: int) -> tuple[dict[str, Any], ...]:
    rows = session.execute(
        select(Note).where(Note.container_id == container_id, Note.answered_at.is_(None)).order_by(Note.id)
    ).scalars()
    return tuple({"kind": row.kind, **row.facts} for row in rows)


def _deposit_dossier(session: Session, deposit: Deposit, asked_for: str) -> DepositDossier:
    from findsdesk.desk.dossier_pieces import joins_out_of_deposit
    from findsdesk.desk.reading_rows import readings_on

    containers = session.execute(
        select(Container.number, Container.material, Container.standing)
        .where(Container.deposit_id == deposit.id)
        .order_by(Container.number_key)
    ).all()
    return DepositDossier(
        deposit_id=deposit.id,
        number=deposit.number,
        asked_for=asked_for.strip(),
        square=session.get_one(Square, deposit.square_id).name,
        kind=deposit.kind,
        security=deposit.security,
        opened=deposit.opened,
        closed=deposit.closed,
        supervisor=session.get_one(Person, deposit.supervisor_id).name if deposit.supervisor_id else "",
        description=deposit.description,
        containers=tuple((number, material, Standing(standing)) for number, material, standing in containers),
        readings=readings_on(session, deposit_id=deposit.id),
        joins=joins_out_of_deposit(session, deposit.id),
        named=named_apart(session, deposit),
    )
