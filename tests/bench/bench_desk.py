"""The desk over a store of 100,000 containers and 1,000,000 sherd groups: a scan, a count, the day page.

A count is compared with the bare SQLite commit of one insert and one update with synchronous=FULL in the same run.
Run: python tests/bench/bench_desk.py [--json]
"""

from __future__ import annotations

import json
import random
import shutil
import sqlite3
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from _big_store import CONTAINERS, big_store

from findsdesk.desk.counting import count_again, log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import find
from findsdesk.desk.opening import open_store
from findsdesk.desk.the_day import the_day
from findsdesk.desk.yard import yard
from findsdesk.domain.codes import Kind, make_code

ROUNDS = 400


def timed(work: Callable[[int], object], rounds: int = ROUNDS) -> list[float]:
    """Return the milliseconds of each round."""
    spent = []
    for number in range(rounds):
        start = time.perf_counter()
        work(number)
        spent.append((time.perf_counter() - start) * 1000)
    return spent


def p95(spent: list[float]) -> float:
    """Return the 95th percentile."""
    return statistics.quantiles(spent, n=20)[-1]


def bare_commits(folder: Path) -> list[float]:
    """Return the milliseconds of bare commits: one insert and one update, WAL, synchronous=FULL."""
    connection = sqlite3.connect(folder / "bare.sqlite", isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("CREATE TABLE container (id INTEGER PRIMARY KEY, standing TEXT)")
    connection.execute("CREATE TABLE count (id INTEGER PRIMARY KEY, container_id INTEGER, pieces INTEGER)")
    connection.execute("INSERT INTO container VALUES (1, 'soaking')")

    def commit(number: int) -> None:
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("INSERT INTO count VALUES (?, 1, ?)", (number, number))
        connection.execute("UPDATE container SET standing = ? WHERE id = 1", (str(number),))
        connection.execute("COMMIT")

    spent = timed(commit)
    connection.close()
    return spent


def scans(desk: Desk) -> list[float]:
    """Return the milliseconds of scans of random tags, each to its dossier."""
    chance = random.Random(7)
    codes = [make_code("TQ", Kind.TAG, chance.randrange(1, CONTAINERS)) for _ in range(ROUNDS)]
    return timed(lambda number: find(desk, codes[number]))


def counts(desk: Desk) -> list[float]:
    """Return the milliseconds of counts of soaking containers, each durable when it returns."""
    codes = [make_code("TQ", Kind.TAG, 250 * number + 1) for number in range(ROUNDS)]
    return timed(lambda number: log_count(desk, codes[number], pieces=100 + number))


def after_something_written(desk: Desk, codes: list[str]) -> list[float]:
    """Return the milliseconds of the day page, each time after a container was counted again."""
    spent = []
    for number, code in enumerate(codes):
        count_again(desk, code, pieces=300 + number)
        spent += timed(lambda _: the_day(desk), 1)
    return spent


def main() -> int:
    """Measure and print."""
    path = big_store()
    desk = open_store(path)
    find(desk, make_code("TQ", Kind.TAG, 1))
    scan = p95(scans(desk))
    count, bare = p95(counts(desk)), p95(bare_commits(path.parent))
    codes = [make_code("TQ", Kind.TAG, 250 * number + 1) for number in range(5)]
    after = statistics.median(after_something_written(desk, codes))
    day, yard_ms = (
        statistics.median(timed(lambda _: the_day(desk), 5)),
        statistics.median(timed(lambda _: yard(desk), 5)),
    )
    rows = [
        {
            "name": "scan to dossier read, p95 ms, 100,000 containers",
            "ours": scan,
            "bare": None,
            "ratio": None,
            "target": "<= 50 ms",
        },
        {
            "name": "log a count, durable, p95 ms over the bare commit",
            "ours": count,
            "bare": bare,
            "ratio": count - bare,
            "target": "<= 4 ms over",
        },
        {
            "name": "day page read after something was written, median ms",
            "ours": after,
            "bare": None,
            "ratio": None,
            "target": "none set",
        },
        {"name": "the same again, median ms", "ours": day, "bare": None, "ratio": None, "target": "none set"},
        {"name": "wash yard read, median ms", "ours": yard_ms, "bare": None, "ratio": None, "target": "none set"},
    ]
    desk.store.close()
    shutil.rmtree(path.parent)
    if "--json" in sys.argv:
        print(json.dumps(rows))
    else:
        for row in rows:
            print(row)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
