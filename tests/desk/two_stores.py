"""Two stores of the invented excavation without a network between them: the dig house and a laptop in the trench."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from findsdesk.desk.courier import make_station_store, write_courier
from findsdesk.desk.courier_taking import TakenCourier, take_courier
from findsdesk.desk.desk import Desk
from findsdesk.desk.opening import open_store
from findsdesk.desk.proving import prove
from findsdesk.domain.refusals import Refusal
from findsdesk.store.every_table import every_table
from tests.yard import LOOKED_AT, new_yard, put_containers

TRENCH = "trench laptop"
_OF_THE_JOURNAL = frozenset({"act", "line", "station", "number_series", "number_block", "person_pin", "courier_passed"})


@contextmanager
def parted(folder: Path, furnish: Callable[[Desk], object] = lambda _desk: None) -> Iterator[tuple[Desk, Desk]]:
    """Give the desk at the dig house and the one of the laptop, whose store was made from it once it was furnished."""
    home = new_yard(folder / "home")
    try:
        furnish(home)
        made = make_station_store(home, station=TRENCH, into=folder / "away" / "trench", how_many=50)
        trench = open_store(made.store, station=TRENCH, clock=home.clock)
        try:
            yield home, trench
        finally:
            trench.let_go()
    finally:
        home.let_go()


def brought(sender: Desk, taker: Desk, folder: Path, *, to: str | None = None) -> TakenCourier:
    """Write a courier file at one desk and take it in at the other."""
    file = folder / f"{sender.station_name} {len(list(folder.glob('*.courier')))}.courier"
    return take_courier(taker, write_courier(sender, file, to=to).file)


def both_ways(one: Desk, other: Desk, folder: Path) -> None:
    """Let each take in what the other has, and the one again what the other found."""
    brought(one, other, folder)
    brought(other, one, folder)
    brought(one, other, folder)


def records_of(desk: Desk) -> dict[str, list[Any]]:
    """Return each row of each table but the journal's own; a kept total of nothing is none."""
    with desk.reading() as reading:
        connection = reading.session.connection()
        return {
            table.name: sorted(
                (tuple(row) for row in connection.execute(select(table)) if _says_something(table.name, row)),
                key=_spelled,
            )
            for table in every_table()
            if table.name not in _OF_THE_JOURNAL
        }


def _spelled(row: tuple[Any, ...]) -> str:
    return json.dumps(row, sort_keys=True, default=str)


def _says_something(table: str, row: Any) -> bool:
    return not table.endswith("_total") or any(isinstance(one, int) and one for one in row[2:])


def sound(*desks: Desk) -> None:
    """Expect that nothing is found wrong in the stores."""
    for desk in desks:
        assert [one.in_words(desk.terms) for one in prove(desk).findings] == []


def alike(home: Desk, trench: Desk) -> None:
    """Expect two sound stores with the same records."""
    sound(home, trench)
    here, there = records_of(home), records_of(trench)
    assert {name for name, rows in here.items() if rows != there[name]} == set()


def refused(code: str, deed: Callable[[], object]) -> Refusal:
    """Expect a refusal by its code, that says something."""
    with pytest.raises(Refusal) as caught:
        deed()
    assert caught.value.code == code
    assert caught.value.in_words()
    return caught.value


def two_waiting(desk: Desk) -> None:
    """Put two containers into a store that wait to be counted."""
    put_containers(desk, (131, 132), steps=LOOKED_AT)
