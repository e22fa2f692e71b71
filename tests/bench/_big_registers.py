"""A store of any number of containers, bags and acts, for the benchmarks of registers and of the search."""

from __future__ import annotations

import json
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from sqlalchemy import insert

from findsdesk.desk.desk import Desk
from findsdesk.desk.opening import NewExcavation, new_store
from findsdesk.desk.registers import Register, RegisterQuery, page, sorts_of
from findsdesk.desk.setting_up import open_season
from findsdesk.desk.squares import add_squares
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.store.every_table import every_table
from findsdesk.words import Terms

FIRST_ID = 1 << 41
FIRST_DEPOSIT, FIRST_BAG = FIRST_ID + (1 << 30), FIRST_ID + (1 << 31)
"""No two rows of a store have the same id."""
START = datetime(2026, 7, 6, 4, 0, tzinfo=UTC)
DEPOSITS = 4000
MATERIALS = ("pottery", "pottery", "pottery", "pottery", "bone", "glass", "shell", "charcoal")
STANDINGS = ("bagged", "bagged", "bagged", "settled", "dry", "arrived", "soaking", "void")
WORDS = ("rims", "handles", "pale fill", "under the threshold", "burnt", "small", "wet", "with mortar")


def rows_of(table: str, numbers: range, season_id: int, squares: list[int]) -> Iterator[dict[str, Any]]:
    """Yield the rows of one table."""
    for n in numbers:
        when = START + timedelta(seconds=11 * n)
        if table == "container":
            name, description = str(n + 1), WORDS[n % 8] + (" amphora stopper" if n % 9973 == 0 else "")
            code = f"TQT{n:06d}X"
            yield {
                "id": FIRST_ID + n,
                "code": code,
                "season_id": season_id,
                "scope": "bench",
                "number": name,
                "number_key": sort_key(name),
                "number_folded": folded(name),
                "deposit_id": FIRST_DEPOSIT + n % DEPOSITS,
                "square_id": squares[n % 12],
                "collected_on": date(2026, 7, 6) + timedelta(days=n % 40),
                "material": MATERIALS[n * 7 % 8],
                "description": description,
                "standing": STANDINGS[n * 5 % 8],
                "arrived_at": when,
                "search_text": folded(f"{name} {code} {description}"),
                "version": 1,
            }
        elif table == "bag":
            yield {
                "id": FIRST_BAG + n,
                "code": f"TQB{n:06d}X",
                "container_id": FIRST_ID + n,
                "what": "body" if n % 2 else "diagnostic",
                "pieces": n % 90,
                "packed_at": when,
                "labelled_at": when if n % 50 else None,
                "version": 1,
            }
        else:
            said = f"{n}: {n % 300}" + (" amphora stopper" if n % 9973 == 0 else "")
            yield {
                "id": f"{n:08x}-0000-4000-8000-{n:012x}",
                "station_id": 1,
                "running": n + 100,
                "deed": ("log_count", "check_in", "add_group")[n % 3],
                "person_id": 1,
                "person_name": ("Tessa Quill", "Oren Vade")[n % 2],
                "happened_at": when,
                "zone": "Etc/GMT-2",
                "written_at": when,
                "said": said,
                "search_text": folded(f"{said} Tessa Quill"),
                "hash_before": "0" * 64,
                "hash": "0" * 64,
            }


def big_registers(rows: int) -> Desk:
    """Make a store of that many containers, bags and acts."""
    folder = Path(tempfile.mkdtemp(prefix="findsdesk-registers-"))
    terms = Terms("context", "contexts", "bucket", "buckets", "square", "squares")
    desk = new_store(folder / "registers", NewExcavation("Tannery Quay", "TQ", "Ilo Marr", "Etc/GMT-2", terms))
    season = open_season(desk, name="2026", permit="VE-26-014", starts=date(2026, 7, 6), ends=date(2026, 8, 16))
    add_squares(desk, [f"{letter}{number}" for letter in "ABC" for number in range(1, 5)])
    tables = {table.name: table for table in every_table()}
    with desk.store.engine.begin() as connection:
        squares = [row.id for row in connection.execute(tables["square"].select())]
        connection.execute(
            insert(tables["deposit"]),
            [
                {
                    "id": FIRST_DEPOSIT + n,
                    "number": str(2001 + n),
                    "number_key": sort_key(str(2001 + n)),
                    "number_folded": str(2001 + n),
                    "square_id": squares[n % 12],
                    "kind": "layer",
                    "opened": date(2026, 7, 6),
                    "security": "sealed",
                    "search_text": str(2001 + n),
                    "version": 1,
                }
                for n in range(DEPOSITS)
            ],
        )
        for table in ("container", "bag", "act"):
            for first in range(0, rows, 20_000):
                numbers = range(first, min(first + 20_000, rows))
                connection.execute(insert(tables[table]), list(rows_of(table, numbers, season.id, squares)))
    return desk


def best_of(work: Callable[[], object], rounds: int = 3) -> float:
    """Return the milliseconds of the quickest of some rounds."""
    spent = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        spent.append((time.perf_counter() - start) * 1000)
    return min(spent)


def timed(name: str, work: Callable[[], object], target: float = 100) -> dict[str, Any]:
    """Return the milliseconds of the quickest of some rounds, by the clock and of the processor."""
    clock, processor = [], []
    for _round in range(5):
        began, worked = time.perf_counter(), time.process_time()
        work()
        clock.append((time.perf_counter() - began) * 1000)
        processor.append((time.process_time() - worked) * 1000)
    return {"name": name, "ours": round(min(clock), 1), "processor": round(min(processor), 1), "target": target}


def orders_timed(desk: Desk, register: Register, total: int) -> list[dict[str, Any]]:
    """Time the first and the last page of a register of so many rows in each order it offers, both ways."""
    results = []
    for sort in sorts_of(register):
        for falls in (False, True):
            query = RegisterQuery(sort=sort, descending=falls)
            name = f"{register}: by {sort}{' falling' if falls else ''}"
            results.append(timed(name, partial(page, desk, register, query)))
            last = partial(page, desk, register, query, total - 200, total=total)
            results.append(timed(f"{name}, end", last))
    return results


def tell(results: list[dict[str, Any]]) -> None:
    """Print what was timed, with ``--json`` as JSON."""
    if "--json" in sys.argv:
        print(json.dumps(results, ensure_ascii=False, indent=1))
        return
    for one in results:
        mark = " " if one["ours"] <= one["target"] else "!"
        print(f"{mark} {one['name']:45} {one['ours']:9.1f} ms, processor {one['processor']:7.1f} ms")
