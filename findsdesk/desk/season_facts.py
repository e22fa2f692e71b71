"""What a season's report counts: what came in and was washed week by week, sherds by deposit and ware, its deposits."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.deposit_facts import DepositFacts
from findsdesk.desk.desk import Desk
from findsdesk.desk.registers import Register, all_rows
from findsdesk.desk.setting_up import SeasonFacts
from findsdesk.desk.type_table import type_table
from findsdesk.domain.routes import StepKind
from findsdesk.store.models import Bag, Container, Count, FoundObject, LabSample, Photo, Piece, Step
from findsdesk.store.sherd_sums import Inside, Within, sherd_sums


@dataclass(frozen=True, slots=True)
class Week:
    """The containers that came in and were counted for the first time in the week that begins on a day."""

    begins: date
    came_in: int
    counted: int


@dataclass(frozen=True, slots=True)
class WareMatrix:
    """Sherds of a season by deposit and ware, deposits by id, wares by code ('': none said)."""

    wares: tuple[str, ...]
    pieces: Mapping[int | None, Mapping[str, int]]
    tenths: Mapping[int | None, int]
    containers: Mapping[int | None, int]
    """Containers of the season by deposit."""

    def of_deposit(self, deposit_id: int | None) -> int:
        """Return the sherds of a deposit."""
        return sum(self.pieces.get(deposit_id, {}).values())


@dataclass(frozen=True, slots=True)
class SeasonCounts:
    """How many of each thing a season has."""

    containers: int
    bags: int
    pieces: int
    objects: int
    samples: int
    photos: int


def season_counts(session: Session, season_id: int) -> SeasonCounts:
    """Return how many of each thing a season has; photographs are those of its pieces and objects."""
    inside = select(Container.id).where(Container.season_id == season_id)
    pieces = select(Piece.id).where(Piece.container_id.in_(inside))
    objects = select(FoundObject.id).where(FoundObject.season_id == season_id)

    def number(kind: object, *where: object) -> int:
        return int(session.execute(select(func.count()).select_from(kind).where(*where)).scalar_one())  # type: ignore[arg-type]

    return SeasonCounts(
        containers=number(Container, Container.season_id == season_id),
        bags=number(Bag, Bag.container_id.in_(inside), Bag.pieces > 0),
        pieces=number(Piece, Piece.container_id.in_(inside)),
        objects=number(FoundObject, FoundObject.season_id == season_id),
        samples=number(LabSample, LabSample.container_id.in_(inside)),
        photos=number(Photo, Photo.piece_id.in_(pieces) | Photo.object_id.in_(objects)),
    )


def weeks_of(desk: Desk, season: SeasonFacts) -> tuple[Week, ...]:
    """Return the weeks of a season, from its first day on, as far as something came in or was counted."""
    with desk.reading() as reading:
        came_in = _by_week(desk, season, _first_steps(reading.session, season))
        counted = _by_week(desk, season, _first_counts(reading.session, season))
    weeks = sorted({*came_in, *counted})
    if not weeks:
        return ()
    return tuple(
        Week(season.starts + timedelta(weeks=week), came_in[week], counted[week])
        for week in range(weeks[0], weeks[-1] + 1)
    )


def _first_steps(session: Session, season: SeasonFacts) -> Iterator[datetime]:
    return iter(
        session.execute(
            select(func.min(Step.happened_at))
            .join(Container, Step.container_id == Container.id)
            .where(Container.season_id == season.id, Step.kind == StepKind.ARRIVED)
            .group_by(Step.container_id)
        ).scalars()
    )


def _first_counts(session: Session, season: SeasonFacts) -> Iterator[datetime]:
    return iter(
        session.execute(
            select(func.min(Count.happened_at))
            .join(Container, Count.container_id == Container.id)
            .where(Container.season_id == season.id)
            .group_by(Count.container_id)
        ).scalars()
    )


def _by_week(desk: Desk, season: SeasonFacts, moments: Iterator[datetime]) -> Counter[int]:
    return Counter((moment.astimezone(desk.facts.zone).date() - season.starts).days // 7 for moment in moments)


def ware_matrix(session: Session, season_id: int) -> WareMatrix:
    """Return the sherds of a season by deposit and ware."""
    types = type_table(session)
    pieces: defaultdict[int | None, Counter[str]] = defaultdict(Counter)
    tenths: Counter[int | None] = Counter()
    for cell in sherd_sums(session, Within(Inside.SEASON, season_id)):
        if cell.mine:
            pieces[cell.deposit_id][types.ware(cell.ware_id).code] += cell.pieces
            tenths[cell.deposit_id] += cell.tenths
    wares = sorted({code for row in pieces.values() for code in row}, key=lambda code: (not code, code))
    rows = session.execute(
        select(Container.deposit_id, func.count())
        .where(Container.season_id == season_id)
        .group_by(Container.deposit_id)
    )
    return WareMatrix(tuple(wares), pieces, tenths, {row[0]: row[1] for row in rows})


def deposits_of(desk: Desk, season: SeasonFacts) -> tuple[DepositFacts, ...]:
    """Return the deposits that were opened in a season or of which containers came in in it, by number."""
    with desk.reading() as reading:
        ids = set(
            reading.session.execute(
                select(Container.deposit_id).where(Container.season_id == season.id).distinct()
            ).scalars()
        )
        return tuple(
            facts
            for facts in all_rows(reading, Register.DEPOSITS)
            if facts.id in ids or season.starts <= facts.opened <= season.ends
        )
