"""Courier files between stations without a network: a store for another station, and what it is brought as a file."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import and_, or_, select, update
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk, Reading
from findsdesk.desk.new_containers import number_series, scope_of
from findsdesk.desk.opening import station_named
from findsdesk.desk.package_export import write_package
from findsdesk.desk.package_import import take_in_package
from findsdesk.desk.photos import SUFFIX_OF
from findsdesk.desk.restoring import restore
from findsdesk.domain.codes import Kind
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import FIRST_PLACE
from findsdesk.exchange.courier_files import SUFFIX, CarriedFile, write_courier_file
from findsdesk.exchange.outgoing_folders import in_words, make_room
from findsdesk.store.batches import batches
from findsdesk.store.courier_chains import acts_after, begun, blocks_told, lines_between, series_told, stations_told
from findsdesk.store.models import CourierPassed, LoanFile, NumberSeries, Photo, Season, Station
from findsdesk.store.numbers import set_block_aside
from findsdesk.store.photo_folder import RESULT_SUFFIX, PhotoState, known_photo_folder, path_of, state_of
from findsdesk.store.schema import NEWEST
from findsdesk.store.session import Store, is_url, store_path
from findsdesk.words import N_

MADE, TAKEN, CALLED_BACK = "made", "taken", "called back"
CODES_ASIDE = 5_000
"""So many serials of each kind of code go along (ours): more than a season of one station needs."""
MOST_NUMBERS = 10_000
_NUMBERS = ("box", "loan", "transport", "stock_take", "vessel", "sample", "proxy_slip")


@dataclass(frozen=True, slots=True)
class StationStore:
    """A store made for another station: its file, the station, the container numbers that are its own."""

    store: Path
    station: str
    first_number: int
    last_number: int


@dataclass(frozen=True, slots=True)
class WrittenCourier:
    """A courier file that was written: its acts and photographs, and the names of those whose file is gone."""

    file: Path
    acts: int
    files: int
    missing: tuple[str, ...]


def make_station_store(desk: Desk, *, station: str, into: str | Path, how_many: int = 500) -> StationStore:
    """Make a store for a station that will write without a network: all of this one, and numbers of its own.

    Here the station may not write any more until it is called back; there the others may not. ``how_many`` container
    numbers of today's season go along, and codes. Opposite: ``call_station_back``, which is done at once where the new
    store cannot be written.

    Refusals: ``numbers_at_once``, ``store_not_empty``, ``own_station``, ``station_elsewhere``, ``needs_a_file``, and
    those of finding today's season.
    """
    if not 1 <= how_many <= MOST_NUMBERS:
        raise Refusal("numbers_at_once", N_("Set aside between 1 and {most} numbers."), most=MOST_NUMBERS)
    target = _free_target(into)
    if station == desk.station_name:
        text = N_("{station} is the station you sit at. Name the one that will write in the new store.")
        raise Refusal("own_station", text, station=station)
    station_id = station_named(desk.store, station)
    with desk.deed("make_station_store") as deed:
        first, last = _set_aside(deed, station_id, how_many)
        pass_on(deed, MADE, station_id)
        _let_write(deed.session, elsewhere=(station_id,))
        deed.said = f"{station}: {first}–{last}"
    try:
        _copy_for(desk, target, station_id)
    except BaseException:
        # Without its store the station would write nowhere.
        call_station_back(desk, station=station)
        raise
    return StationStore(target, station, first, last)


def _free_target(into: str | Path) -> Path:
    if is_url(str(into)):
        raise Refusal("needs_a_file", N_("A station without a network needs a store in a file. Name a file for it."))
    target = store_path(into)
    if target.exists():
        text = N_("There is already something at {path}. Choose another name for the new store.")
        raise Refusal("store_not_empty", text, path=str(target))
    make_room(target)
    return target


def _set_aside(deed: Deed, station_id: int, how_many: int) -> tuple[int, int]:
    session = deed.session
    seasons = session.execute(select(Season).order_by(Season.starts.desc())).scalars().all()
    if not seasons:
        raise Refusal("no_season", N_("Open a season first: numbers go along by season."))
    season = seasons[0]
    numbers = [f"provisional:{season.id}", f"object:{season.id}", f"discards:{season.id}", *_NUMBERS]
    scopes = [row for row in _container_series(session, season) if row not in numbers]
    blocks = {}
    for series, many in (
        *((f"serial:{kind.value}", CODES_ASIDE) for kind in Kind if kind not in (Kind.COMMAND, Kind.PERSON)),
        *((name, how_many) for name in (*scopes, *numbers)),
    ):
        start = FIRST_PLACE if series == f"serial:{Kind.PLACE.value}" else 1
        blocks[series] = set_block_aside(
            session, series, many, station_id=station_id, row_id=deed.new_id(), start=start
        )
    own = blocks[scopes[0]]
    return own.first, own.last


def _container_series(session: Session, season: Season) -> list[str]:
    """Return the series of container numbers of a season: its own, or one for each square that has begun one."""
    try:
        return [number_series(scope_of(season, None))]
    except Refusal:
        names = select(NumberSeries.name).where(NumberSeries.name.startswith(f"container:season {season.id} "))
        return sorted(session.execute(names).scalars()) or [number_series(f"season {season.id}")]


def pass_on(
    deed: Deed,
    what: str,
    station_id: int,
    *,
    heads: Mapping[int, int] | None = None,
    digest: str = "",
    acts: int = 0,
) -> None:
    """Write what passed between this store and that of a station; ``heads``: how far each chain is known there."""
    if heads is None:
        heads = {one.id: one.running for one in stations_told(deed.session)}
    deed.write(
        CourierPassed,
        what=what,
        station_id=station_id,
        heads={str(one): running for one, running in heads.items()},
        digest=digest,
        acts=acts,
        happened_at=deed.happened_at,
        person_id=deed.person_id,
    )


def _let_write(session: Session, *, elsewhere: tuple[int, ...] = (), here: tuple[int, ...] = ()) -> None:
    session.execute(update(Station).where(Station.id.in_(elsewhere)).values(elsewhere=True))
    session.execute(update(Station).where(Station.id.in_(here)).values(elsewhere=False))


def _copy_for(desk: Desk, target: Path, station_id: int) -> None:
    """Write the store as it stands now for the station that takes it away: there it writes, and no other."""
    made = desk.copy()
    if made is not None:
        restore(made.path, target)
    else:
        _package_for(desk, target)
    store = Store(target)
    try:
        with store.writing() as session:
            others = session.execute(select(Station.id).where(Station.id != station_id)).scalars().all()
            _let_write(session, elsewhere=tuple(others), here=(station_id,))
    finally:
        store.close()


def _package_for(desk: Desk, target: Path) -> None:
    """Bring a store on a server into a file, with its photographs."""
    with in_words(target), tempfile.TemporaryDirectory(dir=target.parent, prefix=f".{target.name}.") as folder:
        package = Path(folder) / "package"
        package.mkdir()
        with desk.at_one_moment() as moment:
            write_package(moment, package)
        take_in_package(package, target)
        kept = known_photo_folder(desk.store)
        if kept is not None and kept.is_dir():
            shutil.copytree(kept, target.with_suffix(".photos"), dirs_exist_ok=True)


def call_station_back(desk: Desk, *, station: str) -> None:
    """Let a station write here again whose own store is given up; take its last courier file in first.

    Opposite: ``make_station_store``. Refusals: ``unknown_station``, ``station_is_here``.
    """
    with desk.deed("call_station_back") as deed:
        row = deed.session.execute(select(Station).where(Station.name == station)).scalar_one_or_none()
        if row is None:
            raise unknown_station(deed.session, station)
        if not row.elsewhere:
            raise Refusal("station_is_here", N_("{station} writes here already."), station=station)
        row.elsewhere = False
        pass_on(deed, CALLED_BACK, row.id)
        deed.said = station


def unknown_station(session: Session, station: str) -> Refusal:
    """Return the refusal of a station that nobody wrote at."""
    known = ", ".join(session.execute(select(Station.name).order_by(Station.id)).scalars())
    return Refusal(
        "unknown_station", N_("No station is called {station}. Known: {known}."), station=station, known=known
    )


def write_courier(desk: Desk, file: Path, *, to: str | None = None) -> WrittenCourier:
    """Write a courier file: the acts of every station as they are, with the photographs that came with them.

    ``to`` leaves out what the store of that station was known to have, when it was made or its last file was taken in;
    else all is in it. Changes nothing. Refusals: ``unknown_station``, ``cannot_write``.
    """
    path = file if file.suffix == SUFFIX else file.with_name(file.name + SUFFIX)
    with desk.at_one_moment() as moment, moment.reading() as reading:
        known = _known_there(reading, to) if to else {}
        carried, missing = _files(reading, known)
        said = {
            "schema": NEWEST,
            "begun": begun(reading.session),
            "excavation": {"name": desk.facts.name, "code": desk.facts.code},
            "written_at": reading.now.isoformat(),
            "station": _speaks_for(reading.session),
            "stations": [
                {"id": one.id, "name": one.name, "running": one.running, "head": one.head, "next_row": one.next_row}
                for one in stations_told(reading.session)
            ],
            "series": series_told(reading.session),
            "blocks": blocks_told(reading.session),
        }
        acts = (
            [getattr(act, name) for name in act.__slots__ if name != "lines"] + [act.lines]
            for act in acts_after(reading.session, known)
        )
        written, files = write_courier_file(path, said, acts, carried)
    return WrittenCourier(path, written, files, missing)


def _speaks_for(session: Session) -> dict[str, Any]:
    """Return the station by which a store is known to others: the first of those that write in it."""
    here = select(Station.id, Station.name).where(~Station.elsewhere).order_by(Station.id).limit(1)
    row = session.execute(here).one()
    return {"id": row.id, "name": row.name}


def _known_there(reading: Reading, to: str) -> dict[int, int]:
    """Return how far each chain was known at the store of a station when it was met last."""
    session = reading.session
    station = session.execute(select(Station.id).where(Station.name == to)).scalar_one_or_none()
    if station is None:
        raise unknown_station(session, to)
    mine = _speaks_for(session)["id"]
    made = set(session.execute(select(CourierPassed.station_id).where(CourierPassed.what == MADE)).scalars())
    # A store that was made from that one begins with all that one had.
    begins = and_(CourierPassed.what == MADE, CourierPassed.station_id.in_([mine] if station not in made else []))
    of_it = and_(CourierPassed.station_id == station, CourierPassed.what.in_((MADE, TAKEN)))
    met = session.execute(select(CourierPassed.heads).where(or_(begins, of_it))).scalars()
    known: dict[int, int] = {}
    for heads in met:
        for one, running in heads.items():
            known[int(one)] = max(running, known.get(int(one), 0))
    return known


def _files(reading: Reading, known: dict[int, int]) -> tuple[tuple[CarriedFile, ...], tuple[str, ...]]:
    """Return the files that came with the acts that go along, and the names of those that are not as they were."""
    session = reading.session
    upto = {one.id: one.running for one in stations_told(session)}
    ids = {
        kind: {line.row_id for line in lines_between(session, known, upto, kinds=(kind,))}
        for kind in (Photo.__tablename__, LoanFile.__tablename__)
    }
    photos = _rows(session, Photo, (Photo.sha256, Photo.kind, Photo.file_name), ids["photo"])
    results = _rows(session, LoanFile, (LoanFile.sha256, LoanFile.file_name), ids["loan_file"])
    rows = [(sha256, SUFFIX_OF[kind], name) for sha256, kind, name in photos]
    rows += [(sha256, RESULT_SUFFIX, name) for sha256, name in results]
    folder = known_photo_folder(reading.desk.store)
    carried, missing = [], []
    for sha256, suffix, name in rows:
        if folder is not None and state_of(folder, sha256, suffix) is PhotoState.SOUND:
            carried.append(CarriedFile(sha256, suffix, path_of(folder, sha256, suffix)))
        else:
            missing.append(name)
    return tuple(carried), tuple(missing)


def _rows(session: Session, kind: Any, columns: Sequence[Any], ids: set[int]) -> Iterator[Any]:
    for some in batches(sorted(ids)):
        wanted = select(*columns).where(kind.id.in_(some)).order_by(kind.id)
        yield from session.execute(wanted)
