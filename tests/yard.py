"""A small yard of the invented excavation, as plain functions: a real store on disk, a clock that tests move on."""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile
import uuid
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import Select, event, func, select
from sqlalchemy.orm import InstrumentedAttribute, Session

from findsdesk.desk.changing_excavation import change_excavation
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Acting, Desk
from findsdesk.desk.marking import write_marks
from findsdesk.desk.opening import NewExcavation, find_person, new_store, open_store
from findsdesk.desk.photo_folders import name_photo_folder
from findsdesk.desk.setting_up import add_period, add_person, add_ware, open_season
from findsdesk.desk.sorting import add_group, begin_sorting, settle
from findsdesk.desk.squares import add_squares
from findsdesk.desk.washing import mark_dry
from findsdesk.domain.balance import Decision
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.settings import NumberScope, Role, Settings
from findsdesk.domain.standings import Standing, StepKind, StepTaken, fold
from findsdesk.store.models import Act, Bag, Container, Deposit, Line, Part, Season, Square, Step
from findsdesk.store.numbers import raise_series, take_numbers
from findsdesk.words import Terms

ZONE = ZoneInfo("Etc/GMT-2")
MORNING = datetime(2026, 7, 14, 6, 50, tzinfo=ZONE)
TERMS = Terms("context", "contexts", "bucket", "buckets", "square", "squares")
SQUARES = tuple(f"{letter}{number}" for letter in "ABC" for number in (1, 2, 3, 4))
TEAM = (
    ("Bryn Hallo", Role.SUPERVISOR),
    ("Tessa Quill", Role.WASH_LEAD),
    ("Oren Vade", Role.CERAMICIST),
    ("Mika Sool", Role.REGISTRAR),
    ("Lio", Role.VOLUNTEER),
)
WARES = (
    ("QRS", "Quay Red Slip", 180, 320),
    ("MBU", "Marl Buff", 50, 400),
    ("TGY", "Tannery Grey", 250, 600),
    ("CSJ", "Comb-scored Jar", 330, 700),
    ("GGL", "Green Glaze", 900, 1250),
)
REASON = "no diagnostic value"
DEPOSITS = (("2003", "B2"), ("2017", "A1"), ("2019", "A2"))


class Clock:
    """A clock that stands still until a test moves it on."""

    def __init__(self, start: datetime) -> None:
        self.moment = start

    def __call__(self) -> datetime:
        return self.moment


def new_yard(
    tmp_path: Path,
    *,
    by: str | None = None,
    station: str = "first",
    settings: Settings | None = None,
    at: datetime = MORNING,
    name: str = "tannery",
) -> Desk:
    """Open a fresh copy of the yard at a station for a person of the team (nobody named: the director).

    Where FINDSDESK_TEST_SERVER names a PostgreSQL database, the yard stands in a schema of its own there.
    """
    where: str | Path = tmp_path / f"{name}.findsdesk"
    tmp_path.mkdir(parents=True, exist_ok=True)
    if server := os.environ.get("FINDSDESK_TEST_SERVER"):
        where = f"{server}{'&' if '?' in server else '?'}schema=yard_{uuid.uuid4().hex}"
        _furnish(where)
    else:
        shutil.copyfile(_template(), where)
    desk = open_store(where, by=by, station=station, clock=Clock(at))
    if desk.store.path is None:
        photos = tmp_path / f"{name}.photos"
        photos.mkdir()
        name_photo_folder(desk, photos)
    if settings is not None:
        change_excavation(desk, settings=settings)
    return desk


def second_station(desk: Desk, *, by: str, station: str = "second") -> Desk:
    """Open the store of a desk at a second station: on a server it writes too, on a file it reads along."""
    where: str | Path | None = desk.store.path
    if where is None:
        url = desk.store.engine.url.set(drivername="postgresql").update_query_dict({"schema": desk.store.schema})
        where = url.render_as_string(hide_password=False)
    return open_store(where, by=by, station=station, read_only=desk.store.path is not None, clock=desk.clock)


@cache
def _template() -> Path:
    """Make the yard once a run; every test gets a copy of the file."""
    folder = Path(tempfile.mkdtemp(prefix="findsdesk-yard-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    _furnish(folder / "template")
    return folder / "template.findsdesk"


def _furnish(where: str | Path) -> None:
    """Make a store with the season, the squares, the team, the wares and a few deposits of the yard."""
    excavation = NewExcavation("Tannery Quay", "TQ", "Ilo Marr", ZONE.key, TERMS, Settings(), example=True)
    desk = new_store(where, excavation, clock=Clock(datetime(2026, 7, 5, 18, 0, tzinfo=ZONE)))
    try:
        open_season(desk, name="2026", permit="VE-26-014", starts=date(2026, 7, 6), ends=date(2026, 8, 16))
        add_squares(desk, SQUARES)
        for person, role in TEAM:
            add_person(desk, name=person, role=role)
        for code, ware, earliest, latest in WARES:
            add_ware(desk, code=code, name=ware, earliest=earliest, latest=latest)
        add_period(desk, code="II", name="Harbour II", earliest=180, latest=420)
        add_period(desk, code="III", name="Harbour III", earliest=420, latest=700)
        for number, square in DEPOSITS:
            put_deposit(desk, number, square=square)
    finally:
        desk.store.close()
        if desk.shared.lock is not None:
            desk.shared.lock.release()


def advance(desk: Desk, **span: float) -> datetime:
    """Move the yard's clock on, e.g. ``advance(desk, hours=16)``; returns the new moment."""
    assert isinstance(desk.clock, Clock)
    desk.clock.moment += timedelta(**span)
    return desk.clock.moment


def person(desk: Desk, name: str) -> Acting:
    """Return somebody of the team by the beginning of the name."""
    with desk.reading() as reading:
        return find_person(reading.session, name)


def sitting(desk: Desk, name: str) -> Desk:
    """Return the desk with somebody else of the team at it."""
    return desk.by(person(desk, name))


def earlier_season(desk: Desk, *, scope: NumberScope = NumberScope.SEASON) -> None:
    """Add the season of 2024, whose numbers began at 1 as well."""
    open_season(
        desk,
        name="2024",
        permit="VE-24-009",
        starts=date(2024, 7, 1),
        ends=date(2024, 8, 11),
        number_scope=scope,
    )


def put_deposit(
    desk: Desk,
    number: str,
    *,
    square: str = "A1",
    opened: date = date(2026, 7, 6),
    closed: date | None = None,
) -> int:
    """Put a deposit into the store without asking anybody; returns its id."""
    with desk.deed("put_deposit") as deed:
        row = deed.add(
            Deposit(
                number=number,
                number_key=sort_key(number),
                number_folded=folded(number),
                square_id=_square_id(deed.session, square),
                kind="layer",
                opened=opened,
                closed=closed,
                description="",
                security="sealed",
            )
        )
    return row.id


def _square_id(session: Session, name: str) -> int:
    return session.execute(select(Square.id).where(Square.name == name)).scalar_one()


ARRIVED = (StepKind.ISSUED, StepKind.ARRIVED)
LOOKED_AT = (*ARRIVED, StepKind.LOOKED_AT)
DRY = (*ARRIVED, StepKind.LOOKED_AT, StepKind.SOAKING, StepKind.WASHED, StepKind.DRY)
SORTING = (*DRY, StepKind.SORTING)
SETTLED = (*SORTING, StepKind.SETTLED)


def put_containers(
    desk: Desk,
    numbers: Iterable[str | int],
    *,
    deposit: str | None = "2017",
    material: str = "pottery",
    steps: Iterable[StepKind] = ARRIVED,
    collected_on: date | None = date(2026, 7, 13),
    season: str = "2026",
    supervisor: str = "Bryn Hallo",
) -> tuple[str, ...]:
    """Put containers with these numbers into the store, each with its steps; returns their codes.

    The quick way to a yard in a given state: no route is asked. Tests of the ways there call the use cases.
    """
    taken = tuple(steps)
    supervisor_id = person(desk, supervisor).id
    codes = []
    with desk.deed("put_containers") as deed:
        its_season = deed.session.execute(select(Season).where(Season.name == season)).scalar_one()
        found = deed.session.execute(select(Deposit).where(Deposit.number == deposit)).scalar_one_or_none()
        scope = f"season {its_season.id}"
        for number in map(str, numbers):
            serial = take_numbers(deed.session, "serial:T", 1, station_id=desk.station_id)[0]
            if number.isdigit():
                raise_series(deed.session, f"container:{scope}", int(number))
            row = deed.add(
                Container(
                    code=make_code(desk.facts.code, Kind.TAG, serial),
                    season_id=its_season.id,
                    scope=scope,
                    number=number,
                    number_key=sort_key(number),
                    number_folded=folded(number),
                    provisional=False,
                    deposit_id=found.id if found else None,
                    square_id=found.square_id if found else None,
                    collected_on=collected_on,
                    supervisor_id=supervisor_id,
                    material=material,
                    description="",
                    standing=fold(StepTaken(kind) for kind in taken),
                    on_list=False,
                    arrived_at=deed.happened_at if StepKind.ARRIVED in taken else None,
                    tag_copy=1,
                )
            )
            deed.session.flush()
            deed.add(Part(container_id=row.id, ordinal=1, place_kind="yard", place="", since=deed.happened_at))
            for kind in taken:
                deed.add(
                    Step(
                        container_id=row.id,
                        kind=kind,
                        happened_at=deed.happened_at,
                        entered_at=deed.written_at,
                        person_id=deed.person_id,
                        entered_by_id=deed.person_id,
                        place="",
                        note="",
                    )
                )
            codes.append(row.code)
    return tuple(codes)


def put_container(desk: Desk, number: str | int, *, steps: Iterable[StepKind] = ARRIVED, **facts: object) -> str:
    """Put one container into the store; returns its code."""
    return put_containers(desk, (number,), steps=steps, **facts)[0]  # type: ignore[arg-type]


def put_settled(
    desk: Desk,
    number: str | int,
    *,
    deposit: str = "2017",
    kept: int = 22,
    discarded: int = 10,
    tenths: int | None = None,
    discarded_tenths: int | None = None,
    ware: str = "QRS",
    marked: bool = False,
) -> str:
    """Take a container by the use cases from the wash to settled: counted, dried, sorted into two groups.

    ``marked`` lets each kept sherd bear its mark, too.
    """
    code = put_container(desk, number, deposit=deposit, steps=LOOKED_AT)
    log_count(desk, code, pieces=kept + discarded)
    mark_dry(desk, [code])
    begin_sorting(desk, code, sure=True)
    if kept:
        add_group(desk, code, ware=ware, part="rim", pieces=kept, tenths=tenths)
    if discarded:
        # The ceramicist decides, so that the director may be the second person.
        oren = sitting(desk, "Oren")
        why = {"decision": Decision.DISCARD, "reason": REASON}
        add_group(oren, code, ware="MBU", part="body", pieces=discarded, tenths=discarded_tenths, **why)
    settle(desk, code)
    if marked:
        write_marks(desk, code)
    return code


def put_bag(desk: Desk, code: str, *, pieces: int = 22, labelled: bool = True) -> str:
    """Put a bag of a container into the store, labelled or not; returns its code."""
    with desk.deed("put_bag") as deed:
        serial = take_numbers(deed.session, "serial:B", 1, station_id=desk.station_id)[0]
        container_id = deed.session.execute(select(Container.id).where(Container.code == code)).scalar_one()
        row = deed.add(
            Bag(
                code=make_code(desk.facts.code, Kind.BAG, serial),
                container_id=container_id,
                what="diagnostic",
                pieces=pieces,
                tenths=None,
                packed_at=deed.happened_at,
                label_copy=int(labelled),
                labelled_at=deed.happened_at if labelled else None,
            )
        )
    return row.code


def standing_of(desk: Desk, code: str) -> Standing:
    """Return where a container stands by the store."""
    with desk.reading() as reading:
        return Standing(reading.session.execute(select(Container.standing).where(Container.code == code)).scalar_one())


def acts(desk: Desk) -> int:
    """Return how many acts the journal holds."""
    with desk.reading() as reading:
        return reading.session.execute(select(func.count()).select_from(Act)).scalar_one()


def last_said(desk: Desk) -> str:
    """Return what the newest act of the desk's station says."""
    with desk.reading() as reading:
        return str(reading.session.execute(_newest(desk, Act.said)).scalar_one())


def act_lines_of(desk: Desk) -> list[Line]:
    """Return the lines of the newest act of the desk's station, in their order."""
    with desk.reading() as reading:
        newest = reading.session.execute(_newest(desk, Act.id)).scalar_one()
        lines = select(Line).where(Line.act_id == newest).order_by(Line.ordinal)
        return list(reading.session.execute(lines).scalars())


def _newest(desk: Desk, what: InstrumentedAttribute[str]) -> Select[Any]:
    return select(what).where(Act.station_id == desk.station_id).order_by(Act.running.desc()).limit(1)


def with_settings(desk: Desk, **changes: object) -> None:
    """Change settings of the excavation, e.g. ``with_settings(desk, count_at_wash=False)``."""
    change_excavation(desk, settings=replace(desk.facts.settings, **changes))  # type: ignore[arg-type]


@contextmanager
def statements_of(desk: Desk, *, reading: bool = False) -> Iterator[list[str]]:
    """Gather the statements of the desk's writing (or reading) connection, those that begin and commit apart."""
    heard: list[str] = []

    def hear(_connection: object, _cursor: object, statement: str, *_rest: object) -> None:
        if not statement.startswith(("BEGIN", "COMMIT", "ROLLBACK")):
            heard.append(statement)

    engine = desk.store._reader if reading else desk.store.engine
    event.listen(engine, "before_cursor_execute", hear)
    try:
        yield heard
    finally:
        event.remove(engine, "before_cursor_execute", hear)
