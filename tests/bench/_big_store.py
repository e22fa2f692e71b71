"""A store as large as a long excavation's, for the benchmarks: 100,000 containers, 1,000,000 sherd groups.

Rows are put in by plain inserts, since only their number matters here; the store is made once and copied.
"""

from __future__ import annotations

import os
import random
import shutil
import sys
import tempfile
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from sqlalchemy import insert, text

from findsdesk.desk.desk import Desk
from findsdesk.desk.opening import NewExcavation, new_store
from findsdesk.desk.setting_up import add_ware, open_season
from findsdesk.desk.squares import add_squares
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.store.every_table import every_table, table_named
from findsdesk.store.models import (
    BalanceTotal,
    Container,
    Count,
    Deposit,
    LedgerEntry,
    Part,
    SherdGroup,
    Step,
    WareTotal,
)
from findsdesk.store.schema import newest_state
from findsdesk.words import Terms

CONTAINERS = 100_000
GROUPS_EACH = 10
DEPOSITS = 500
WARES = 60
FIRST_ID = 1 << 41
START = datetime(2026, 7, 6, 6, 0, tzinfo=UTC)


def big_store(containers: int = CONTAINERS) -> Path:
    """Return a fresh copy of the big store; it is made on the first call and kept in the machine's temporary folder."""
    kept = Path(tempfile.gettempdir()) / f"findsdesk-bench-{_shape()}-{containers}.findsdesk"
    if not kept.exists():
        _make(kept, containers)
    folder = Path(tempfile.mkdtemp(prefix="findsdesk-bench-"))
    copy = folder / "big.findsdesk"
    shutil.copyfile(kept, copy)
    os.sync()  # so that writing back this copy does not slow the commits that are measured
    return copy


def _shape() -> str:
    """Name the shape of the tables, so that a store of an older shape is not used."""
    import hashlib

    tables = [
        (
            table.name,
            sorted(column.name for column in table.columns),
            sorted(str(index.name) for index in table.indexes),
        )
        for table in every_table()
    ]
    return hashlib.sha256(repr((newest_state(), tables)).encode()).hexdigest()[:10]


def _make(kept: Path, containers: int) -> None:
    building = kept.with_name(kept.stem + "-building.findsdesk")
    for leftover in building.parent.glob(building.stem + "*"):
        leftover.unlink(missing_ok=True) if leftover.is_file() else shutil.rmtree(leftover)
    terms = Terms("context", "contexts", "bucket", "buckets", "square", "squares")
    desk = new_store(building, NewExcavation("Tannery Quay", "TQ", "Ilo Marr", "Etc/GMT-3", terms))
    season = open_season(desk, name="2026", permit="VE-26-014", starts=date(2026, 7, 6), ends=date(2026, 8, 16))
    add_squares(desk, [f"{letter}{number}" for letter in "ABC" for number in range(1, 5)])
    wares = [add_ware(desk, code=f"W{number:02d}", name=f"Ware {number}").id for number in range(WARES)]
    _fill(desk, season.id, wares, containers)
    desk.store.close()
    if desk.shared.lock is not None:
        desk.shared.lock.release()
    building.replace(kept)


def _fill(desk: Desk, season_id: int, wares: list[int], containers: int) -> None:
    chance = random.Random(20260714)
    with desk.store.engine.begin() as connection:
        squares = [row[0] for row in connection.execute(text("SELECT id FROM square ORDER BY id"))]
        deposits = [_deposit(number, squares[number % len(squares)]) for number in range(DEPOSITS)]
        connection.execute(insert(Deposit.__table__), deposits)  # type: ignore[arg-type]
        totals: dict[tuple[int, int], list[int]] = {}
        for first in range(0, containers, 5000):
            rows = _rows(range(first, min(first + 5000, containers)), season_id, deposits, wares, chance, totals)
            for table, values in rows.items():
                connection.execute(insert(table_named(table)), values)
        connection.execute(
            insert(WareTotal.__table__),  # type: ignore[arg-type]
            [
                {"deposit_id": deposit, "ware_id": ware, "pieces": pieces, "tenths": tenths}
                for (deposit, ware), (pieces, tenths) in totals.items()
            ],
        )


def _deposit(number: int, square_id: int) -> dict[str, Any]:
    name = str(2001 + number)
    return {
        "id": FIRST_ID + number,
        "number": name,
        "number_key": sort_key(name),
        "number_folded": folded(name),
        "square_id": square_id,
        "kind": "layer",
        "opened": date(2026, 7, 6),
        "description": "",
        "security": "sealed",
        "version": 1,
    }


def _rows(
    numbers: range,
    season_id: int,
    deposits: list[dict[str, Any]],
    wares: list[int],
    chance: random.Random,
    totals: dict[tuple[int, int], list[int]],
) -> dict[str, list[dict[str, Any]]]:
    tables = (Container, Part, Step, Count, LedgerEntry, BalanceTotal, SherdGroup)
    rows: dict[str, list[dict[str, Any]]] = {table.__tablename__: [] for table in tables}
    for number in numbers:
        base = FIRST_ID + 1_000_000 + number * 100
        when = START + timedelta(minutes=number % 50_000)
        deposit = deposits[number % len(deposits)]
        sorted_already = number % 250 != 0
        pieces = [chance.randrange(1, 30) for _ in range(GROUPS_EACH)]
        rows["container"].append(_container(base, number, season_id, deposit, when, sorted_already))
        rows["part"].append(_part(base, when, "table" if sorted_already else "tub"))
        rows["step"] += [
            _step(base, place, kind, when) for place, kind in enumerate(("issued", "arrived", "looked at", "soaking"))
        ]
        if not sorted_already:
            continue
        rows["step"] += [
            _step(base, 10 + place, kind, when, sum(pieces))
            for place, kind in enumerate(("counted", "dry", "sorting", "settled"))
        ]
        rows["count"].append(_count(base, sum(pieces), when))
        rows["ledger_entry"].append(_entry(base, sum(pieces), when))
        rows["balance_total"].append(_balance(base, sum(pieces)))
        for place, some in enumerate(pieces):
            ware = wares[(number + place) % len(wares)]
            rows["sherd_group"].append(_group(base, place, ware, some))
            total = totals.setdefault((deposit["id"], ware), [0, 0])
            total[0] += some
            total[1] += some * 175
    return rows


def _container(
    base: int, number: int, season_id: int, deposit: dict[str, Any], when: datetime, settled: bool
) -> dict[str, Any]:
    name = str(number + 1)
    return {
        "id": base,
        "code": make_code("TQ", Kind.TAG, number + 1),
        "season_id": season_id,
        "scope": f"season {season_id}",
        "number": name,
        "number_key": sort_key(name),
        "number_folded": folded(name),
        "provisional": False,
        "deposit_id": deposit["id"],
        "square_id": deposit["square_id"],
        "collected_on": date(2026, 7, 6) + timedelta(days=number % 40),
        "material": "pottery",
        "description": "",
        "standing": "settled" if settled else "soaking",
        "on_list": True,
        "arrived_at": when,
        "tag_copy": 1,
        "version": 1,
    }


def _part(base: int, when: datetime, place: str) -> dict[str, Any]:
    return {
        "id": base + 1,
        "container_id": base,
        "ordinal": 1,
        "place_kind": place,
        "place": "1",
        "since": when,
        "version": 1,
    }


def _step(base: int, place: int, kind: str, when: datetime, pieces: int | None = None) -> dict[str, Any]:
    moment = when + timedelta(hours=place)
    return {
        "id": base + 10 + place,
        "container_id": base,
        "kind": kind,
        "happened_at": moment,
        "entered_at": moment,
        "place": "",
        "pieces": pieces if kind == "counted" else None,
        "note": "",
    }


def _count(base: int, pieces: int, when: datetime) -> dict[str, Any]:
    return {
        "id": base + 2,
        "container_id": base,
        "pieces": pieces,
        "wet": False,
        "purpose": "first",
        "happened_at": when,
    }


def _entry(base: int, pieces: int, when: datetime) -> dict[str, Any]:
    return {
        "id": base + 3,
        "container_id": base,
        "material": "pottery",
        "kind": "counted",
        "pieces": pieces,
        "tenths": 0,
        "why": "",
        "happened_at": when,
    }


def _balance(base: int, pieces: int) -> dict[str, Any]:
    others = [
        column.name for column in BalanceTotal.__table__.columns if column.name not in ("container_id", "material")
    ]
    key = {"container_id": base, "material": "pottery"}
    return dict.fromkeys(others, 0) | key | {"counted": pieces, "kept": pieces}


def _group(base: int, place: int, ware: int, pieces: int) -> dict[str, Any]:
    return {
        "id": base + 40 + place,
        "container_id": base,
        "ordinal": place + 1,
        "ware_id": ware,
        "part": "body",
        "pieces": pieces,
        "tenths": pieces * 175,
        "decision": "keep",
        "reason": "",
        "note": "",
        "version": 1,
    }
