"""What a courier file says, asked before and while it is taken in: of what excavation, whole, in order, readable."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from sqlalchemy.exc import IntegrityError

from findsdesk.desk.desk import Desk
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.courier_files import ArrivedCourier, newer
from findsdesk.store.courier_chains import ActTold, ChainWrong, StationTold, begun
from findsdesk.store.courier_rows import ReferenceLost
from findsdesk.store.every_table import every_model
from findsdesk.store.models import NumberBlock
from findsdesk.store.models.base import Journaled
from findsdesk.store.schema import KNOWN
from findsdesk.store.told_changes import ValueUnreadable
from findsdesk.words import N_

_JOURNALED = frozenset(model.__tablename__ for model in every_model() if issubclass(model, Journaled))
_BLOCK = frozenset(NumberBlock.__table__.columns.keys())


def sender_of(arrived: ArrivedCourier) -> str:
    """Return the station whose store wrote a file."""
    return str(arrived.said["station"]["name"])


def stations_of(desk: Desk, arrived: ArrivedCourier) -> tuple[StationTold, ...]:
    """Return the stations a file tells of, after asking whether it is of this excavation and this version."""
    said = arrived.said
    if said.get("schema") not in KNOWN:
        raise newer(arrived.path)
    with desk.reading() as reading:
        if said.get("begun") != begun(reading.session):
            text = N_("{file} is of {other}, another excavation. Open its own store to take it in.")
            other = said.get("excavation")
            name = other.get("name") if isinstance(other, dict) else "?"
            raise Refusal("other_excavation", text, file=arrived.path.name, other=name)
    try:
        if not all(isinstance(after, int) for after in said["series"].values()):
            raise _unreadable("series")
        if any(set(block) != _BLOCK for block in said["blocks"]) or not isinstance(said["station"]["id"], int):
            raise _unreadable("blocks")
        return tuple(
            StationTold(int(one["id"]), str(one["name"]), int(one["running"]), str(one["head"]), int(one["next_row"]))
            for one in said["stations"]
        )
    except (AttributeError, KeyError, TypeError, ValueError) as error:
        raise _unreadable("stations") from error


def _unreadable(what: str) -> Refusal:
    text = N_("The courier file holds in {what} what cannot be there. Nothing was taken in; ask for it again.")
    return Refusal("courier_value", text, what=what)


def refuse_forked(here: str | None, told: StationTold) -> None:
    """Refuse a station whose act of that running number is another here: ``courier_forked``."""
    if told.running and here != told.head:
        raise _forked(told.name)


def _forked(station: str) -> Refusal:
    text = N_(
        "{station} wrote in both stores, so its acts cannot follow one another. "
        "Make a store for each station with: findsdesk courier STORE --make-for."
    )
    return Refusal("courier_forked", text, station=station)


class InWords:
    """Turn what is wrong with a file's acts and rows into refusals."""

    def __init__(self, stations: dict[int, str]) -> None:
        self._names = stations

    def __enter__(self) -> None:
        return None

    def __exit__(self, _kind: object, error: BaseException | None, _trace: object) -> None:
        if isinstance(error, ChainWrong):
            raise self._of_the_chain(error) from error
        if isinstance(error, ReferenceLost):
            text = N_("The courier file points at {row}, which no store has. Nothing was taken in; ask for it again.")
            raise Refusal("courier_broken_reference", text, row=str(error)) from error
        if isinstance(error, ValueUnreadable):
            raise _unreadable(str(error)) from error
        if isinstance(error, IntegrityError):
            text = N_(
                "What both stores wrote cannot stand together ({what}). Take it back in one of them, and try again."
            )
            raise Refusal("cannot_stand_together", text, what=str(error.orig)[:80]) from error

    def _of_the_chain(self, error: ChainWrong) -> Refusal:
        station = self._names.get(error.station_id, str(error.station_id))
        facts = {"station": station, "running": error.running}
        if error.why == "forked":
            return _forked(station)
        if error.why == "gap":
            text = N_("Act {running} of {station} is neither here nor in the file. Ask for a file with all acts.")
            return Refusal("courier_gap", text, **facts)
        text = N_("Act {running} of {station} was changed on the way. Nothing was taken in; write the file again.")
        return Refusal("courier_changed", text, **facts)


def acts_of(arrived: ArrivedCourier) -> Iterator[ActTold]:
    """Yield the acts of a file. Refusals: ``courier_value``, ``courier_newer`` (rows of a kind there is not)."""
    for values in arrived.acts():
        try:
            *facts, lines = values
            told = tuple((str(kind), int(row_id), version, was, now) for kind, row_id, version, was, now in lines)
            if not all(isinstance(json.loads(one), dict) for line in told for one in line[3:] if one is not None):
                raise _unreadable("acts")
            told_act: tuple[Any, ...] = (*facts, told)
            act = ActTold(*told_act)
        except (TypeError, ValueError) as error:
            raise _unreadable("acts") from error
        for kind, *_rest in told:
            if kind not in _JOURNALED:
                raise newer(arrived.path)
        yield act
