"""Forty groups read aloud and typed through the real window: every key counted, Enter too; and how long a row takes.

The groups stand in sorting_groups.csv, a bucket of the invented excavation as a ceramicist reads it. The typist uses
what the table offers: the shortest beginning that is completed, the arrow down where a value repeats, the decision
the shipped retention policy proposes; another decision by F4, a reason where it is asked for. What is measured in
milliseconds is the program's share, from the key that finishes a row to the table shown anew, rows and figures.
Run: python tests/bench/bench_sorting_keys.py [--json]
"""

from __future__ import annotations

import csv
import json
import statistics
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from PySide6.QtCore import Qt

from findsdesk.desk.desk import Desk
from findsdesk.desk.pasted_groups import NewGroup, add_groups
from findsdesk.desk.retention import take_starting_policy
from findsdesk.desk.setting_up import add_ware
from findsdesk.desk.sorting import begin_sorting, table_of
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.choices import Choices
from findsdesk.ui.benches.sorting.lines import Saved
from findsdesk.ui.garbage import look_often_for_garbage
from findsdesk.ui.program import application
from tests.bench.bench_wash_morning import Waiter
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import DOWN, ENTER, F4, Table
from tests.ui.at_work import opened
from tests.ui.conftest import Keyboard
from tests.yard import new_yard

GROUPS = Path(__file__).with_name("sorting_groups.csv")
MORE_WARES = (("CKI", "Coarse Kitchen"), ("IPA", "Island Painted"), ("BIM", "Burnished Import"))
MOST_KEYS = 12.0
KEYS_A_SECOND = 5.0
"""How fast a practised person types codes and figures; common practice, no source."""
DEPOSIT_ROWS, TABLE_ROWS, CONTAINERS = 5_000, 200, 25
LONG_BUCKET = 3_000
TIMED = 40
Row = dict[str, str]


class Typist:
    """Types rows with as few keys as the table lets, and counts them."""

    def __init__(self, table: Table) -> None:
        self.table, self.keys = table, 0
        self.before: Row = {}

    def press(self, *said: str | Qt.Key) -> None:
        """Type keys, counted, at a pace at which none is taken for a scanner's."""
        for one in said:
            self.table.keyboard.wait(150)
            before = self.table.keys
            self.table.type(one)
            self.keys += self.table.keys - before

    def row(self, row: Row) -> float:
        """Type one row; return the milliseconds from its last key until the table stands anew."""
        fields = self.table.bench.table.fields
        for column in ("ware", "part"):
            self._word(column, row)
        # Enter goes through the cells of every part alike, and writes in the last.
        self.press(row["pieces"], ENTER, row["grams"], ENTER, *filter(None, [row["rim"]]))
        wanted = Decision(row["decision"])
        while fields.decided() is not wanted:
            self.press(F4)
        if row["reason"]:
            while fields.column_at_hand() != "reason":
                self.press(ENTER if wanted is Decision.DISCARD else Qt.Key.Key_Tab)
            self.press(self._reason(row["reason"]))
        self.before = row
        return self._left()

    def _left(self) -> float:
        """Leave the row; return the milliseconds until it stands there as written, the balance and its turn read."""
        state, waiter = self.table.bench.state, self.table.qtbot
        rows, read = len(state.lines.lines), state.table
        self.table.keyboard.wait(150)
        start = time.perf_counter()
        self.table.keyboard.press(ENTER, 0)
        self.keys += 1

        def anew() -> bool:
            lines = state.lines.lines
            return len(lines) > rows and lines[-1].saved is Saved.WRITTEN and state.table is not read

        waiter.waitUntil(anew)
        spent = (time.perf_counter() - start) * 1000
        self.table.settle_down()
        return spent

    def _reason(self, reason: str) -> str:
        """Return what is typed for a reason: a number of the list where any words may be written, else a beginning."""
        choices = self.table.bench.state.lists.reasons[self.table.bench.table.fields.decided()]
        return str(next(choices.number_of(one) for one in choices.of if one.word == reason))

    def _word(self, column: str, row: Row) -> None:
        if self.before and row[column] and row[column] == self.before[column]:
            self.press(DOWN)
            return
        if row[column]:
            self.press(shortest(self.table.bench.state.lists.columns[column], row[column]))
        self.press(ENTER)


def shortest(choices: Choices, word: str) -> str:
    """Return the shortest typing that is completed to a word."""
    for length in range(1, len(word) + 1):
        found = choices.meant(word[:length].lower())
        if found is not None and found.word == word:
            return word[:length].lower()
    return word


def read_groups() -> list[Row]:
    """Return the forty groups in the order in which they are read."""
    with GROUPS.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def yard(folder: Path) -> Desk:
    """Return a yard with the wares of the list and the shipped policy."""
    desk = new_yard(folder, by="Oren")
    for code, name in MORE_WARES:
        add_ware(desk, code=code, name=name)
    take_starting_policy(desk)
    return desk


def as_new(row: Row) -> NewGroup:
    """Return a row as a group to be written at once."""
    from findsdesk.desk.sorting import GroupFacts

    return NewGroup(GroupFacts(row["ware"], row["part"], int(row["pieces"]), round(float(row["grams"]) * 10)))


def fill(desk: Desk, code: str, rows: int) -> None:
    """Write that many groups into a container, in acts of a few hundred."""
    groups = [as_new(row) for row in read_groups()]
    begin_sorting(desk, code)
    for first in range(0, rows, TABLE_ROWS):
        many = min(TABLE_ROWS, rows - first)
        add_groups(desk, code, [groups[n % len(groups)] for n in range(many)])


def forty(folder: Path) -> tuple[float, float, float]:
    """Return keys a group, seconds a group at a practised pace, and the program's own milliseconds a group."""
    desk, rows = yard(folder), read_groups()
    code = dry_container(desk, 131, sum(int(row["pieces"]) for row in rows))
    waiter, keyboard = Waiter(), Keyboard()
    with opened(waiter, desk) as program:
        look_often_for_garbage()
        table = Table(waiter, keyboard, program, desk)
        table.scan(code)
        typist = Typist(table)
        spent = [typist.row(row) for row in rows]
        stored = table_of(desk, code).groups
        assert [(group.ware, group.pieces) for group in stored] == [(row["ware"], int(row["pieces"])) for row in rows]
        assert [str(group.decision) for group in stored] == [row["decision"] for row in rows]
    keyboard.filter.uninstall()
    keys = typist.keys / len(rows)
    return keys, keys / KEYS_A_SECOND, statistics.mean(spent)


def shown_anew(folder: Path, *, containers: int, rows: int) -> list[float]:
    """Return the milliseconds until the table stands anew, row by row, beside so many groups."""
    desk = yard(folder)
    codes = [dry_container(desk, 200 + n, 2_000) for n in range(containers)]
    for code in codes:
        fill(desk, code, rows)
    waiter, keyboard = Waiter(), Keyboard()
    with opened(waiter, desk) as program:
        look_often_for_garbage()
        table = Table(waiter, keyboard, program, desk)
        table.scan(codes[-1])
        typist = Typist(table)
        spent = [typist.row(row) for row in read_groups()[:TIMED]]
        assert len(table.stored(codes[-1]).groups) == rows + TIMED
    keyboard.filter.uninstall()
    return spent


def line(name: str, ours: float, target: str) -> dict[str, object]:
    """Return one measured figure."""
    return {"name": name, "ours": round(ours, 2), "bare": None, "ratio": None, "target": target}


def main() -> int:
    """Measure and print."""
    application()
    with tempfile.TemporaryDirectory() as folder:
        keys, seconds, program = forty(Path(folder) / "forty")
        deposit = shown_anew(Path(folder) / "deposit", containers=CONTAINERS, rows=DEPOSIT_ROWS // CONTAINERS)
        bucket = shown_anew(Path(folder) / "bucket", containers=1, rows=LONG_BUCKET)
    rows = [
        line("keys a group, the forty of the list, every key counted", keys, f"≤ {MOST_KEYS:g}"),
        line(f"seconds a group at {KEYS_A_SECOND:g} keys a second", seconds, "none set"),
        line("the same groups, row left to table shown anew, mean ms", program, "none set"),
    ]
    for name, spent in (("deposit of 5,000 groups", deposit), (f"bucket of {LONG_BUCKET:,} rows", bucket)):
        rows.append(line(f"{name}, row left to table shown anew, median ms", statistics.median(spent), "none set"))
        rows.append(line(f"{name}, the same, p95 ms", statistics.quantiles(spent, n=20)[-1], "none set"))
    print(json.dumps(rows) if "--json" in sys.argv else "\n".join(map(str, rows)))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
