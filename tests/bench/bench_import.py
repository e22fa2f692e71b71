"""An old season of 100,000 rows brought in as XLSX: looked at and checked, taken in, and brought again.

Looking at it stands beside the fastest reader of such files reading its cells; taking in beside bare inserts of the
same rows and journal lines into a copy of the store as it was before. Seconds of the processor, best of three; both
sides run in the same call.

Run: python tests/bench/bench_import.py [--json] [ROWS]
"""

from __future__ import annotations

import csv
import json
import random
import shutil
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import python_calamine
import xlsxwriter

from findsdesk.desk.desk import Desk
from findsdesk.desk.opening import NewExcavation, new_store, open_store
from findsdesk.desk.setting_up import open_season
from findsdesk.desk.squares import add_squares
from findsdesk.desk.table_looks import TableLook, look_at_table
from findsdesk.desk.tables_taken import import_table, take_in_table
from findsdesk.domain.table_kinds import TableKind
from findsdesk.store.every_table import every_table
from findsdesk.words import Terms

GROUPS_EACH = 10
FIRST_DAY = (date(2024, 7, 1) - date(1899, 12, 30)).days
"""As spreadsheets number days."""
WARES = 60
DEPOSITS = 500
PARTS = ("rim", "base", "handle", "body", "body")
HEADERS = ("Bucket", "Context", "Date", "Ware", "Part", "Pieces", "Grams", "Box", "Old mark")
SQUARES = ("A1", "A2", "B1", "B2")


def write_season(path: Path, rows: int) -> None:
    """Write the table: ten groups a container, five containers a box."""
    chance = random.Random(20240701)
    with xlsxwriter.Workbook(str(path), {"constant_memory": True}) as book:
        sheet, day = book.add_worksheet("2024"), book.add_format({"num_format": "yyyy-mm-dd"})
        sheet.write_row(0, 0, HEADERS)
        for row in range(rows):
            n = row // GROUPS_EACH
            pieces = chance.randrange(1, 30)
            sheet.write_number(row + 1, 0, n + 1)
            sheet.write_string(row + 1, 1, str(1001 + n % DEPOSITS))
            sheet.write_number(row + 1, 2, FIRST_DAY + n % 40, day)
            sheet.write_string(row + 1, 3, f"W{(n + row) % WARES:02d}")
            sheet.write_string(row + 1, 4, PARTS[row % len(PARTS)])
            sheet.write_number(row + 1, 5, pieces)
            sheet.write_number(row + 1, 6, round(pieces * 17.5, 1))
            sheet.write_string(row + 1, 7, f"24-{n // 5:04d}")
            sheet.write_string(row + 1, 8, f"VE-24-009 / {n + 1}")


def set_up(folder: Path) -> Desk:
    """Make a store with the season, its deposits and its wares; both come from tables too."""
    terms = Terms("context", "contexts", "bucket", "buckets", "square", "squares")
    desk = new_store(folder / "season", NewExcavation("Tannery Quay", "TQ", "Ilo Marr", "Etc/GMT-2", terms))
    open_season(desk, name="2024", permit="VE-24-009", starts=date(2024, 7, 1), ends=date(2024, 8, 16))
    add_squares(desk, SQUARES)
    deposits = [("Context", "Square", "Opened")]
    deposits += [(str(1001 + n), SQUARES[n % len(SQUARES)], "2024-07-01") for n in range(DEPOSITS)]
    wares = [("Code", "Name"), *((f"W{n:02d}", f"Ware {n}") for n in range(WARES))]
    for name, kind, rows in (("contexts", TableKind.DEPOSITS, deposits), ("wares", TableKind.WARES, wares)):
        with (folder / f"{name}.csv").open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows(rows)
        import_table(desk, folder / f"{name}.csv", kind)
    return desk


def spent(work: Callable[[], Any]) -> tuple[float, Any]:
    """Return the seconds of the processor that something took, and what came of it."""
    start = time.process_time()
    done = work()
    return time.process_time() - start, done


def look(desk: Desk, path: Path) -> TableLook:
    """Look at the season."""
    return look_at_table(desk, path, of=TableKind.SEASON, season="2024")


def cells(path: Path) -> list[list[Any]]:
    """Read the cells with the fastest reader there is in Python."""
    return python_calamine.CalamineWorkbook.from_path(str(path)).get_sheet_by_index(0).to_python(skip_empty_area=False)


def new_rows(before: Path, after: Path) -> dict[str, tuple[str, list[tuple[Any, ...]]]]:
    """Return by table the statement and the rows that stand in one store and not in the other."""
    found: dict[str, tuple[str, list[tuple[Any, ...]]]] = {}
    with sqlite3.connect(after) as connection:
        connection.execute("ATTACH DATABASE ? AS earlier", (str(before),))
        for table in every_table():
            names = ", ".join(f'"{column.name}"' for column in table.columns)
            where = f'FROM main."{table.name}" EXCEPT SELECT {names} FROM earlier."{table.name}"'
            rows = connection.execute(f"SELECT {names} {where}").fetchall()
            marks = ", ".join("?" for _column in table.columns)
            if rows:
                found[table.name] = (f'INSERT OR REPLACE INTO "{table.name}" ({names}) VALUES ({marks})', rows)
    return found


def insert_barely(store: Path, rows: dict[str, tuple[str, list[tuple[Any, ...]]]]) -> None:
    """Put rows into a copy of a store by the driver alone, in one durable transaction."""
    connection = sqlite3.connect(store, isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("BEGIN IMMEDIATE")
    for statement, some in rows.values():
        connection.executemany(statement, some)
    connection.execute("COMMIT")
    connection.close()


def measure(rows: int, rounds: int = 3) -> list[dict[str, Any]]:
    """Bring the season in, some rounds over, beside the bare things."""
    folder = Path(tempfile.mkdtemp(prefix="findsdesk-import-"))
    table = folder / "season.xlsx"
    write_season(table, rows)
    desk = set_up(folder)
    before = folder / "before.findsdesk"
    with sqlite3.connect(str(desk.store.path)) as source, sqlite3.connect(before) as copy:
        source.backup(copy)
    desk.let_go()
    times: dict[str, list[float]] = {name: [] for name in ("read", "look", "take", "again", "bare")}
    for one in range(rounds):
        copy_of, bare = folder / f"ours{one}.findsdesk", folder / f"bare{one}.findsdesk"
        shutil.copyfile(before, copy_of)
        shutil.copyfile(before, bare)
        ours = open_store(copy_of)
        times["read"].append(spent(lambda: cells(table))[0])
        seconds, looked = spent(lambda ours=ours: look(ours, table))
        times["look"].append(seconds)
        times["take"].append(spent(lambda ours=ours, looked=looked: take_in_table(ours, looked))[0])
        again, looked = spent(lambda ours=ours: look(ours, table))
        assert not take_in_table(ours, looked).taken
        times["again"].append(again)
        ours.let_go()
        new = new_rows(before, copy_of)
        times["bare"].append(spent(lambda bare=bare, new=new: insert_barely(bare, new))[0])
        how_many = sum(len(some) for _statement, some in new.values())
    shutil.rmtree(folder)
    best = {name: round(min(some), 2) for name, some in times.items()}
    named = (
        (f"{rows:,} rows of XLSX read, matched and checked", "look", "read", 3),
        (f"taken in: {how_many:,} rows of the store and lines of the journal", "take", "bare", 3),
        ("the same file again: nothing is new", "again", "read", None),
    )
    return [
        {
            "name": name,
            "ours": best[ours],
            "bare": best[bare],
            "ratio": round(best[ours] / best[bare], 2),
            "target": target,
        }
        for name, ours, bare, target in named
    ]


def main() -> None:
    """Measure and print."""
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    results = measure(numbers[0] if numbers else 100_000)
    if "--json" in sys.argv:
        print(json.dumps(results, ensure_ascii=False, indent=1))
        return
    for one in results:
        print(f"{one['name']}: {one['ours']} s beside {one['bare']} s, {one['ratio']} (target {one['target']})")


if __name__ == "__main__":
    main()
