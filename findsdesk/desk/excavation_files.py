"""An excavation set up from a file: site, words, settings, squares, team, seasons, periods, type series, deposits.

The whole file is read and checked before a store is made; a store that could not be filled is taken away again.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields
from datetime import date, datetime, time
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from findsdesk.desk.changing_words import add_word, change_word
from findsdesk.desk.deposits import close_deposit, open_deposit
from findsdesk.desk.desk import Desk, real_clock
from findsdesk.desk.example_clock import ExampleClock
from findsdesk.desk.opening import Clock, NewExcavation, new_store
from findsdesk.desk.set_up_values import SetUpTable
from findsdesk.desk.setting_up import DEFAULT_MARK, add_period, add_person, add_ware, open_season
from findsdesk.desk.squares import add_squares
from findsdesk.desk.type_files import take_in_types
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.counts_as import CountsAs
from findsdesk.domain.deposits import Security
from findsdesk.domain.natural_order import folded
from findsdesk.domain.settings import NumberScope, Role, SecondOpenDeposit, Settings
from findsdesk.domain.square_grid import GridPlace
from findsdesk.domain.vocabularies import checked_address
from findsdesk.exchange.set_up_files import read_set_up
from findsdesk.store.photo_folder import SUFFIX as PHOTOS
from findsdesk.store.session import is_url, store_path
from findsdesk.words import Terms

_DAY_BEGINS, _DAY_ENDS = time(7), time(16)
"""When deposits of a set-up file are written as opened and closed (common practice, no source)."""

Deed = Callable[[Desk], object]


@dataclass(frozen=True, slots=True)
class SetUp:
    """A set-up, checked: the excavation, when an example begins, and what is done to fill its store, in order."""

    excavation: NewExcavation
    begun: datetime | None
    deeds: tuple[Deed, ...]


def new_from_file(where: str | Path, path: Path, *, station: str = "first", clock: Clock = real_clock) -> Desk:
    """Make a store from a set-up file and return a desk at which the director sits.

    Refusals: those of reading the file (``set_up_unreadable``, ``set_up_missing``, ``set_up_value``,
    ``set_up_unknown_key``), of ``new_store``, and of the deeds that fill it. Nothing is left behind.
    """
    return new_filled(where, read_excavation_file(path), station=station, clock=clock)


def new_filled(where: str | Path, set_up: SetUp, *, station: str = "first", clock: Clock = real_clock) -> Desk:
    """Make a store, fill it, and return a desk at which the director sits; where that fails, nothing is left behind.

    Refusals: those of ``new_store`` and of the deeds that fill it.
    """
    if set_up.begun is not None:
        clock = ExampleClock(set_up.begun)
    pictured = not is_url(str(where)) and store_path(where).with_suffix(PHOTOS).exists()
    desk = new_store(where, set_up.excavation, station=station, clock=clock)
    try:
        for deed in set_up.deeds:
            deed(desk)
    except BaseException:
        desk.let_go()
        _take_away(where, with_pictures=not pictured)
        raise
    return desk


def _take_away(where: str | Path, *, with_pictures: bool) -> None:
    """Remove the file of a store that this very call has made; on a server its schema stays for who looks after it."""
    if not is_url(str(where)):
        path = store_path(where)
        for file in (path, *(path.with_name(path.name + end) for end in ("-wal", "-shm")), path.with_suffix(".lock")):
            file.unlink(missing_ok=True)
        if with_pictures:
            shutil.rmtree(path.with_suffix(PHOTOS), ignore_errors=True)


def read_excavation_file(path: Path) -> SetUp:
    """Read and check a set-up file; nothing is made yet."""
    whole = SetUpTable(path.name, "the file", read_set_up(path))
    whole.refuse_unknown(
        "excavation",
        "terms",
        "settings",
        "grid",
        "people",
        "seasons",
        "periods",
        "wares",
        "type_series",
        "words",
        "deposits",
    )
    excavation, begun = _excavation(whole)
    deeds = (
        *_squares(whole),
        *_people(whole, excavation.director),
        *_seasons(whole),
        *_periods(whole),
        *_wares(whole),
        *_type_series(whole, path.parent),
        *_words(whole),
        *_deposits(whole, ZoneInfo(excavation.time_zone)),
    )
    return SetUp(excavation, begun, deeds)


def _excavation(whole: SetUpTable) -> tuple[NewExcavation, datetime | None]:
    table = whole.table("excavation")
    table.refuse_unknown("name", "code", "director", "time_zone", "example", "begun")
    excavation = NewExcavation(
        name=table.text("name"),
        code=table.text("code").strip().upper(),
        director=table.text("director", ""),
        time_zone=table.zone("time_zone"),
        terms=_terms(whole.table("terms")),
        settings=_settings(whole.table("settings"), _grid(whole.table("grid"))),
        example=table.flag("example", False),
    )
    begun = table.moment_or_none("begun") if excavation.example else None
    if begun is not None and begun.tzinfo is None:
        begun = begun.replace(tzinfo=ZoneInfo(excavation.time_zone))
    return excavation, begun


def _terms(table: SetUpTable) -> Terms:
    table.refuse_unknown(*Terms._fields)
    own = Terms()
    return Terms(**{word: table.text(word, getattr(own, word)) for word in Terms._fields})


def _grid(table: SetUpTable) -> GridPlace:
    """Return where the grid lies: the side of a square and the corner of A1 in metres, its turn in degrees."""
    table.refuse_unknown("squares", "square_m", "east", "north", "turned", "epsg")
    plain = GridPlace()
    numbers = {key: table.number(key, getattr(plain, key)) for key in ("square_m", "east", "north", "turned")}
    grid = GridPlace(**numbers, epsg=table.whole_or_none("epsg"))
    grid.check()
    return grid


def _settings(table: SetUpTable, grid: GridPlace) -> Settings:
    plain = Settings()
    table.refuse_unknown(*(field.name for field in fields(Settings) if field.name != "grid"))
    values: dict[str, Any] = {}
    for key in table.values:
        usual = getattr(plain, key)
        if isinstance(usual, SecondOpenDeposit):
            values[key] = table.one_of(key, SecondOpenDeposit)
        elif isinstance(usual, bool):
            values[key] = table.flag(key, usual)
        elif isinstance(usual, int):
            values[key] = table.whole(key)
        else:
            values[key] = table.text(key)
    settings = Settings(**values, grid=grid)
    settings.check()
    return settings


def _doing(deed: Callable[..., object], **said: Any) -> Deed:
    """Return a deed with its arguments, to be done at a desk later."""
    return lambda desk: deed(desk, **said)


def _squares(whole: SetUpTable) -> Iterator[Deed]:
    table = whole.table("grid")
    names = table.texts("squares")
    if names:
        yield lambda desk: add_squares(desk, names)


def _people(whole: SetUpTable, director: str) -> Iterator[Deed]:
    for table in whole.tables("people"):
        table.refuse_unknown("name", "role")
        name, role = table.text("name"), table.one_of("role", Role)
        if folded(name) != folded(director):
            yield _doing(add_person, name=name, role=role)


def _seasons(whole: SetUpTable) -> Iterator[Deed]:
    for table in whole.tables("seasons"):
        table.refuse_unknown("name", "permit", "starts", "ends", "number_scope", "mark_pattern")
        said: dict[str, Any] = {
            "name": table.text("name"),
            "permit": table.text("permit", ""),
            "starts": table.day("starts"),
            "ends": table.day("ends"),
            "number_scope": table.one_of("number_scope", NumberScope, NumberScope.SEASON),
            "mark_pattern": table.text("mark_pattern", DEFAULT_MARK),
        }
        yield _doing(open_season, **said)


def _periods(whole: SetUpTable) -> Iterator[Deed]:
    for table in whole.tables("periods"):
        table.refuse_unknown("code", "name", "earliest", "latest")
        said: dict[str, Any] = {"code": table.text("code"), "name": table.text("name")}
        said |= {"earliest": table.whole("earliest"), "latest": table.whole("latest")}
        yield _doing(add_period, **said)


def _wares(whole: SetUpTable) -> Iterator[Deed]:
    for table in whole.tables("wares"):
        table.refuse_unknown("code", "name", "earliest", "latest")
        said: dict[str, Any] = {"code": table.text("code"), "name": table.text("name")}
        said |= {"earliest": table.whole_or_none("earliest"), "latest": table.whole_or_none("latest")}
        yield _doing(add_ware, **said)


def _type_series(whole: SetUpTable, folder: Path) -> Iterator[Deed]:
    """Yield the taking in of a file with wares, forms and their pictures, which lies beside the set-up file."""
    table = whole.table("type_series")
    table.refuse_unknown("file")
    if table.values:
        file = folder / table.text("file")
        yield lambda desk: take_in_types(desk, file, sure=True)


def _words(whole: SetUpTable) -> Iterator[Deed]:
    """Yield words of lists: one that ships is changed, any other is added to the end of its list."""
    for table in whole.tables("words"):
        table.refuse_unknown("list", "name", "to", "diagnostic", "in_use", "address", "counts_as")
        said: dict[str, Any] = {"address": checked_address(table.text("address", ""))}
        for key in ("diagnostic", "in_use"):
            if key in table.values:
                said[key] = table.flag(key, True)
        if table.text("to", ""):
            said["to"] = table.text("to")
        if "counts_as" in table.values:
            said["counts_as"] = table.one_of("counts_as", CountsAs)
        yield _word(table.text("list"), table.text("name"), said)


def _word(list_name: str, name: str, said: dict[str, Any]) -> Deed:
    def deed(desk: Desk) -> object:
        known = words_of(desk).get(list_name)
        if known is not None and any(folded(name) in (folded(term.key), folded(term.name)) for term in known.every):
            return change_word(desk, list_name, name, **said)
        told = {key: value for key, value in said.items() if key in ("diagnostic", "address", "counts_as")}
        return add_word(desk, list_name, name=name, **told)

    return deed


def _deposits(whole: SetUpTable, zone: ZoneInfo) -> Iterator[Deed]:
    """Yield the openings and closings of deposits in the order of their days, a closing before an opening."""
    deeds: list[tuple[date, int, Deed]] = []
    for table in whole.tables("deposits"):
        table.refuse_unknown(
            "number", "season", "square", "kind", "opened", "closed", "supervisor", "description", "opening_mm",
            "closing_mm", "security",
        )  # fmt: skip
        table.text("season", "")
        number, opened, closed = table.text("number"), table.day("opened"), table.day_or_none("closed")
        said: dict[str, Any] = {
            "square": table.text("square"),
            "kind": table.text("kind", ""),
            "supervisor": table.text("supervisor", ""),
            "description": table.text("description", ""),
            "opening_mm": table.whole_or_none("opening_mm"),
            "security": table.one_of("security", Security, Security.NOT_SAID),
        }
        deeds.append((opened, 1, _opening(number, opened, said, zone)))
        if closed is not None:
            closing = table.whole_or_none("closing_mm")
            deeds.append((closed, 2 if closed == opened else 0, _closing(number, closed, closing, zone)))
    yield from (deed for _day, _order, deed in sorted(deeds, key=lambda one: one[:2]))


def _opening(number: str, day: date, said: dict[str, Any], zone: ZoneInfo) -> Deed:
    moment = datetime.combine(day, _DAY_BEGINS, zone)
    return lambda desk: open_deposit(desk.at(moment), number, opened=day, sure=True, **said)


def _closing(number: str, day: date, closing: int | None, zone: ZoneInfo) -> Deed:
    moment = datetime.combine(day, _DAY_ENDS, zone)
    return lambda desk: close_deposit(desk.at(moment), number, closed=day, closing_mm=closing, sure=True)
