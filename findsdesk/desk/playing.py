"""Playing a file of acts through the use cases: as written, once each, however often the file is played."""

from __future__ import annotations

import uuid
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import select

from findsdesk.desk.deeds_by_name import DEEDS
from findsdesk.desk.desk import Acting, Desk
from findsdesk.desk.example_clock import ExampleClock
from findsdesk.desk.opening import at_station, find_person
from findsdesk.desk.spoken_arguments import SECRET, read_arguments
from findsdesk.domain.near_codes import near
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.acts import ActLine, read_acts
from findsdesk.store.models import Act
from findsdesk.words import N_

AT_ONCE = 5000
"""So many acts are asked for in one statement."""
_ACTS = uuid.UUID("7f0c2a52-6a0e-5b0f-9c55-0b6f3d1c9a11")


@dataclass(frozen=True, slots=True)
class RefusedAct:
    """An act of a file that was refused: its line, its deed, and why."""

    line_number: int
    deed: str
    refusal: Refusal


@dataclass(frozen=True, slots=True)
class Played:
    """What playing a file did: acts done, acts that were here already, and what was refused; the rest went on."""

    done: int
    already: int
    refused: tuple[RefusedAct, ...]


def play_file(
    desk: Desk, path: Path, *, stop_at_refusal: bool = False, progress: Callable[[int, int], None] | None = None
) -> Played:
    """Play a file of acts; names of files in it are relative to its folder. Refusals: those of reading the file."""
    lines = read_acts(path, zone=desk.facts.zone)
    return play(desk, lines, folder=path.parent, stop_at_refusal=stop_at_refusal, progress=progress)


def play(
    desk: Desk,
    lines: Sequence[ActLine],
    *,
    folder: Path | None = None,
    stop_at_refusal: bool = False,
    progress: Callable[[int, int], None] | None = None,
) -> Played:
    """Play acts in order through the use cases, each at its own time, by its own person, at its own station.

    In an example it is then that time: its clock follows the acts (``ExampleClock``). ``progress`` is told how many
    of how many acts are behind.
    """
    seen: Counter[str] = Counter()
    named = [(line, act_id_of(line, seen)) for line in lines]
    here = _acts_here(desk, [act_id for _line, act_id in named])
    seats = _Seats(desk)
    done = 0
    refused: list[RefusedAct] = []
    for place, (line, act_id) in enumerate(named, 1):
        if act_id not in here:
            try:
                do(seats.of(line).as_act(act_id), line.deed, line.arguments, line.positional, folder=folder)
                done += 1
            except Refusal as refusal:
                refused.append(RefusedAct(line.line_number, line.deed, refusal))
                if stop_at_refusal:
                    break
        if progress is not None:
            progress(place, len(named))
    already = sum(1 for _line, act_id in named if act_id in here)
    return Played(done, already, tuple(refused))


def _acts_here(desk: Desk, ids: Sequence[str]) -> frozenset[str]:
    """Return which of these acts are written already."""
    here: set[str] = set()
    with desk.reading() as reading:
        for first in range(0, len(ids), AT_ONCE):
            some = ids[first : first + AT_ONCE]
            here.update(reading.session.execute(select(Act.id).where(Act.id.in_(some))).scalars())
    return frozenset(here)


def act_id_of(line: ActLine, seen: Counter[str]) -> str:
    """Return the id of a written act: the same words at the same time are the same act, in whatever file they stand."""
    # Ids stand in the journal, and PINs are few enough to try one after the other against them.
    said = sorted((name, value) for name, value in line.arguments.items() if name.replace("-", "_") not in SECRET)
    words = repr((line.at.isoformat(), line.by, line.station, line.deed, line.positional, said))
    seen[words] += 1
    return str(uuid.uuid5(_ACTS, f"{words}#{seen[words]}"))


class _Seats:
    """Who sits where while a file is played; each is looked up once, until somebody joins the team."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._stations: dict[str, Desk] = {}
        self._people: dict[str, Acting] = {}

    def of(self, line: ActLine) -> Desk:
        """Return the desk at the station, with the person, at the time of an act."""
        name = line.station or self._desk.station_name
        if name not in self._stations:
            self._stations[name] = at_station(self._desk, name)
        if line.by not in self._people:
            with self._desk.reading() as reading:
                self._people[line.by] = find_person(reading.session, line.by)
        if isinstance(self._desk.clock, ExampleClock):
            self._desk.clock.it_is(line.at)
        return self._stations[name].by(self._people[line.by]).at(line.at)


def do(
    desk: Desk, deed: str, arguments: Mapping[str, str], positional: Sequence[str] = (), *, folder: Path | None = None
) -> Any:
    """Do one deed by its name with its arguments as text; returns what the use case returns.

    Refusals: ``unknown_deed``, those of reading the arguments, and the deed's.
    """
    function = DEEDS.get(deed)
    if function is None:
        raise Refusal(
            "unknown_deed",
            N_("There is no deed called {deed}. Near it: {near}. findsdesk do --help lists them."),
            deed=deed,
            near=", ".join(near(deed, list(DEEDS))) or "–",
        )
    return function(desk, **read_arguments(function, arguments, positional, folder=folder))
