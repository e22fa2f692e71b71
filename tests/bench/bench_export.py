"""Export of 1,000,000 sherd groups as CSV for people and as data package: rows a second beside the bare writer.

The bare side writes the same cells of the same table with the csv module alone, from rows that SQLite gives it. Each
runs in a process of its own, so that its peak memory is its own.

Run: python tests/bench/bench_export.py [--json] [CONTAINERS]
"""

from __future__ import annotations

import csv
import json
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from importlib import import_module
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from _big_store import CONTAINERS, big_store

GROUPS = """
SELECT c.number, c.code, d.number, q.name, w.code, w.name, f.code, g.part, g.surface, g.decoration, g.condition,
  g.pieces, g.tenths / 10.0, g.rim_permille / 10.0, g.base_permille / 10.0, g.decision, g.reason, g.rule, g.discarded,
  v.number, g.note, s.name
FROM sherd_group g JOIN container c ON g.container_id = c.id JOIN season s ON c.season_id = s.id
  LEFT JOIN deposit d ON c.deposit_id = d.id LEFT JOIN square q ON c.square_id = q.id
  LEFT JOIN ware w ON g.ware_id = w.id LEFT JOIN form f ON g.form_id = f.id LEFT JOIN vessel v ON g.vessel_id = v.id
ORDER BY g.id
"""


def bare_people(store: Path, folder: Path) -> int:
    """Write the groups with names in place of numbers, by SQLite and the csv module alone."""
    return _bare(store, folder / "bare.csv", GROUPS)


def bare_package(store: Path, folder: Path) -> int:
    """Write each table as it lies in the file, by SQLite and the csv module alone."""
    from findsdesk.store.whole_tables import whole_tables

    names = [one.name for one in whole_tables()]
    return sum(_bare(store, folder / f"{name}.csv", f'SELECT * FROM "{name}" ORDER BY 1') for name in names)


def _bare(store: Path, path: Path, query: str) -> int:
    rows = 0
    with closing(sqlite3.connect(store)) as connection, path.open("w", encoding="utf-8", newline="") as file:
        cursor, writer = connection.execute(query), csv.writer(file)
        writer.writerow([column[0] for column in cursor.description])
        while some := cursor.fetchmany(2000):
            writer.writerows(some)
            rows += len(some)
    return rows


def our_people(store: Path, folder: Path) -> int:
    """Write the groups as they go out for people."""
    from findsdesk.desk.export_tables import GROUPS as TABLE
    from findsdesk.desk.opening import open_store
    from findsdesk.desk.register_columns import wording
    from findsdesk.exchange.writing import write_csv

    desk = open_store(store, read_only=True)
    with desk.at_one_moment() as moment, moment.reading() as reading:
        say = wording(moment)
        heads = [say(column.title) for column in TABLE.columns]
        return write_csv(heads, TABLE.cells(reading, say), folder / "ours.csv", for_spreadsheet=True)


def our_package(store: Path, folder: Path) -> int:
    """Write the whole store as a data package."""
    from findsdesk.desk.exporting import FileForm, export
    from findsdesk.desk.opening import open_store

    desk = open_store(store, read_only=True)
    return sum(export(desk, FileForm.DATA_PACKAGE, folder).rows.values())


WORKS: dict[str, Callable[[Path, Path], int]] = {
    "bare_people": bare_people,
    "our_people": our_people,
    "bare_package": bare_package,
    "our_package": our_package,
}


def _alone(work: str, store: Path) -> dict[str, float]:
    """Run one work in a process of its own; returns rows a second (by clock and processor) and megabytes at most."""
    said = subprocess.run([sys.executable, __file__, "--work", work, str(store)], capture_output=True, text=True)
    if said.returncode:
        raise RuntimeError(said.stderr)
    told: dict[str, float] = json.loads(said.stdout)
    return told


def _peak_mb() -> float:
    """Return the most memory this process held, in MB (the kernel's own count, which a new program begins anew)."""
    lines = Path("/proc/self/status").read_text("ascii").splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("VmHWM")) / 1024


def _work(name: str, store: Path) -> None:
    if name.startswith("our"):
        import_module("findsdesk.desk.exporting")  # loaded before the clock runs
    with tempfile.TemporaryDirectory(prefix="findsdesk-export-") as folder:
        start, processor = time.perf_counter(), time.process_time()
        rows = WORKS[name](store, Path(folder))
        spent, worked = time.perf_counter() - start, time.process_time() - processor
    told = {"rows": rows, "a_second": rows / spent, "by_processor": rows / worked, "mb": _peak_mb()}
    print(json.dumps(told))


def measure(store: Path) -> list[dict[str, Any]]:
    """Time both exports beside their bare sides."""
    results: list[dict[str, Any]] = []
    for name, what in (("people", "groups as CSV for people"), ("package", "whole store as data package")):
        bare, ours = _alone(f"bare_{name}", store), _alone(f"our_{name}", store)
        for key, unit in (("a_second", "rows a second"), ("by_processor", "rows a second of the processor")):
            one, other = round(ours[key]), round(bare[key])
            title = f"{what}, {ours['rows']:,.0f} rows, {unit}"
            results.append({"name": title, "ours": one, "bare": other, "ratio": round(one / other, 2), "target": None})
        peaks = {"ours": round(ours["mb"]), "bare": round(bare["mb"])}
        results.append({"name": f"{what}, peak MB", **peaks, "ratio": None, "target": None})
    return results


def main() -> None:
    """Fill a store and print the figures, or do one work."""
    if "--work" in sys.argv:
        _work(sys.argv[-2], Path(sys.argv[-1]))
        return
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    results = measure(big_store(numbers[0] if numbers else CONTAINERS))
    if "--json" in sys.argv:
        print(json.dumps(results, ensure_ascii=False, indent=1))
        return
    for one in results:
        print(f"{one['name']:75} ours {one['ours']:>9,}  bare {one['bare']:>9,}  {one['ratio'] or ''}")


if __name__ == "__main__":
    main()
