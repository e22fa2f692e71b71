"""Figures: after a row is left in a deposit of 5,000 groups, and of 1,000,000 groups, with their wares by deposit.

The bare thing beside the ware table is the SQL sum over the groups it saves. A row of thousands of pieces with years of
their own each is the worst a date profile can meet.
Run: python tests/bench/bench_figures.py [--json]
"""

from __future__ import annotations

import json
import random
import shutil
import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from _big_store import FIRST_ID, _container, _deposit, _group, big_store
from PySide6.QtWidgets import QApplication
from sqlalchemy import insert, text

from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_scopes import Of, scope_of
from findsdesk.desk.live_dates import live_dates
from findsdesk.desk.opening import NewExcavation, new_store, open_store
from findsdesk.desk.setting_up import add_ware, open_season
from findsdesk.desk.sherd_figures import figures_of
from findsdesk.desk.squares import add_squares
from findsdesk.desk.ware_table import ware_table
from findsdesk.store.every_table import table_named
from findsdesk.ui.benches.sorting.beside_part import BesidePart
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.theme import Theme
from findsdesk.words import Terms

CONTAINERS, EACH, WARES, FORMS, PIECES, JOINS = 250, 20, 24, 60, 400, 60
ROUNDS = 60
PARTS = ("rim", "body", "body", "body", "base", "handle", "decorated_body", "neck")
BARE = """
    SELECT container.deposit_id, sherd_group.ware_id, sum(sherd_group.pieces), sum(sherd_group.tenths)
    FROM sherd_group JOIN container ON sherd_group.container_id = container.id
    GROUP BY container.deposit_id, sherd_group.ware_id
"""


Spent = tuple[float, float]
"""Milliseconds by the clock and of the processor's time, each the 95th percentile; busy machines tell them apart."""


def p95(work: Callable[[], object], rounds: int) -> Spent:
    """Return what some work takes."""
    by_clock, by_processor = [], []
    for _ in range(rounds):
        start, began = time.perf_counter(), time.process_time()
        work()
        by_clock.append((time.perf_counter() - start) * 1000)
        by_processor.append((time.process_time() - began) * 1000)
    return statistics.quantiles(by_clock, n=20)[-1], statistics.quantiles(by_processor, n=20)[-1]


def deposit_store(folder: Path, pieces: int) -> Desk:
    """Make a store with one deposit of 5,000 groups and some pieces with years of their own."""
    terms = Terms("context", "contexts", "bucket", "buckets", "square", "squares")
    desk = new_store(folder / "deposit", NewExcavation("Tannery Quay", "TQ", "Ilo Marr", "Etc/GMT-3", terms))
    season = open_season(desk, name="2026", permit="VE-26-014", starts=date(2026, 7, 6), ends=date(2026, 8, 16))
    add_squares(desk, ["A1"])
    wares = [
        add_ware(desk, code=f"W{n:02d}", name=f"Ware {n}", earliest=25 * n, latest=25 * n + 200).id
        for n in range(WARES)
    ]
    chance = random.Random(3)
    with desk.store.engine.begin() as connection:
        square = connection.execute(text("SELECT id FROM square")).scalar_one()
        deposit = _deposit(0, square)
        rows = _rows(season.id, deposit, wares, chance, pieces)
        for table, values in rows.items():
            if values:
                connection.execute(insert(table_named(table)), values)
    return desk


def _rows(
    season_id: int, deposit: dict[str, Any], wares: list[int], chance: random.Random, pieces: int
) -> dict[str, list[dict[str, Any]]]:
    when = datetime(2026, 7, 14, tzinfo=UTC)
    forms = [_form(n, wares) for n in range(FORMS)]
    containers = [
        _container(FIRST_ID + 1_000_000 + 100 * n, n, season_id, deposit, when, True) for n in range(CONTAINERS)
    ]
    groups = []
    for place in range(CONTAINERS * EACH):
        form = chance.choice(forms)
        part = chance.choice(PARTS)
        row = _group(containers[place // EACH]["id"], place % EACH, form["ware_id"], chance.randrange(1, 60))
        groups.append(
            row
            | {
                "form_id": form["id"] if part != "body" else None,
                "part": part,
                "rim_permille": chance.randrange(50, 300) if part == "rim" else None,
                "diagnostic": part in ("rim", "base", "handle"),
            }
        )
    lifted = [_piece(n, chance.choice(containers)["id"], chance.choice(wares), chance) for n in range(pieces)]
    return {
        "deposit": [deposit],
        "form": forms,
        "container": containers,
        "sherd_group": groups,
        "piece": lifted,
        "sherd_join": [_join(n, lifted) for n in range(min(JOINS, pieces // 4))],
    }


def _form(number: int, wares: list[int]) -> dict[str, Any]:
    begin = 10 * number
    years = {"earliest": begin, "latest": begin + 120} if number % 3 else {"earliest": None, "latest": None}
    return years | {
        "id": FIRST_ID + 500_000 + number,
        "code": f"F{number:02d}",
        "name": f"form {number}",
        "ware_id": wares[number % len(wares)],
        "version": 1,
    }


def _piece(number: int, container_id: int, ware_id: int, chance: random.Random) -> dict[str, Any]:
    begin = chance.randrange(-150, 900)
    return {
        "id": FIRST_ID + 600_000 + number,
        "code": f"TQP{number:07d}",
        "container_id": container_id,
        "number": number + 1,
        "ware_id": ware_id,
        "part": "rim",
        "pieces": 1,
        "tenths": 300,
        "decision": "keep",
        "rim_permille": 100,
        "earliest": begin,
        "latest": begin + chance.randrange(20, 300),
        "diagnostic": True,
        "inclusions": [],
        "lifted_at": datetime(2026, 7, 14, tzinfo=UTC),
        "version": 1,
    }


def _join(number: int, lifted: list[dict[str, Any]]) -> dict[str, Any]:
    return {
        "id": FIRST_ID + 700_000 + number,
        "left_id": lifted[2 * number]["id"],
        "right_id": lifted[2 * number + 1]["id"],
        "found_at": datetime(2026, 7, 14, tzinfo=UTC),
        "version": 1,
    }


def figures(pieces: int) -> tuple[Spent, Spent, Spent]:
    """Return the milliseconds, p95, of the figures of a container, of its deposit, and of what follows a row.

    What follows a row is the dates beside the sorting table, read and painted.
    """
    folder = Path(tempfile.mkdtemp(prefix="findsdesk-figures-"))
    desk = deposit_store(folder, pieces)
    try:
        of_container = scope_of(desk, Of.CONTAINER, "7")
        of_deposit = scope_of(desk, Of.DEPOSIT, "2001")
        assert figures_of(desk, of_deposit).sums.rows == CONTAINERS * EACH + pieces
        return (
            p95(lambda: figures_of(desk, of_container), ROUNDS),
            p95(lambda: figures_of(desk, of_deposit), ROUNDS),
            p95(beside(desk, of_container.id or 0), ROUNDS),
        )
    finally:
        desk.close()
        shutil.rmtree(folder)


def beside(desk: Desk, container_id: int) -> Callable[[], object]:
    """Return what is done beside the sorting table after a row is left: the dates are read, shown and painted."""
    theme = Theme()
    part = BesidePart(Surroundings(desk, None, None, desk.terms, theme, None, None))  # type: ignore[arg-type]
    part.resize(286, 420)

    def follow() -> object:
        part.show_dates(live_dates(desk, container_id))
        return part.grab()

    return follow


SCOPES = (
    ("a square of 82,000 groups", Of.SQUARE, "A1"),
    ("a season of 996,000 groups", Of.SEASON, "2026"),
    ("the excavation of 996,000 groups", Of.EXCAVATION, ""),
)


def wide_scopes() -> list[tuple[str, Spent, Spent]]:
    """Return, by its name, the milliseconds of the figures of each wide thing: summed afresh, and asked for again.

    Afresh means after something was written; the smallest of three, since one look is what a person waits for.
    """
    path = big_store()
    desk = open_store(path)
    try:
        return [(name, *_first_and_again(desk, of, which)) for name, of, which in SCOPES]
    finally:
        desk.store.close()
        shutil.rmtree(path.parent)


def _first_and_again(desk: Desk, of: Of, which: str) -> tuple[Spent, Spent]:
    scope, first, again = scope_of(desk, of, which), [], []
    for number in range(3):
        add_squares(desk, [f"{of.value}-{number}"])
        first.append(once(lambda: figures_of(desk, scope)))
        again.append(once(lambda: figures_of(desk, scope)))
    return min(first), min(again)


def once(work: Callable[[], object]) -> Spent:
    """Return the milliseconds that some work takes, by the clock and of the processor."""
    start, began = time.perf_counter(), time.process_time()
    work()
    return (time.perf_counter() - start) * 1000, (time.process_time() - began) * 1000


def wares_by_deposit() -> tuple[float, float]:
    """Return the milliseconds, median, of the ware table and of the bare sum over the groups."""
    path = big_store()
    desk = open_store(path)
    bare = sqlite3.connect(path)
    try:
        assert len(bare.execute(BARE).fetchall()) == sum(map(_filled, ware_table(desk).rows))
        spent: dict[str, list[float]] = {"ours": [], "bare": []}
        for _ in range(7):
            for name, work in (("ours", lambda: ware_table(desk)), ("bare", lambda: bare.execute(BARE).fetchall())):
                start = time.perf_counter()
                work()
                spent[name].append((time.perf_counter() - start) * 1000)
        return statistics.median(spent["ours"]), statistics.median(spent["bare"])
    finally:
        bare.close()
        desk.store.close()
        shutil.rmtree(path.parent)


def _filled(row: Any) -> int:
    return sum(1 for pieces in row.pieces if pieces)


def main() -> int:
    """Measure and print."""
    application = QApplication.instance() or QApplication(["bench", "-platform", "offscreen"])
    container, deposit, live = figures(PIECES)
    worst = figures(5_000)[1]
    ours, bare = wares_by_deposit()
    wide = [
        _line(f"figures of {name}, {when}, ms", spent, "none set")
        for name, afresh, again in wide_scopes()
        for when, spent in (("after something was written", afresh), ("asked for again", again))
    ]
    rows = [
        _line("figures of a container, its deposit has 5,000 groups, p95 ms", container, "<= 50 ms"),
        _line("figures of the deposit itself, p95 ms", deposit, "<= 50 ms"),
        _line("dates beside the sorting table after a row is left, read and painted, p95 ms", live, "<= 50 ms"),
        _line("the same with 5,000 pieces of 5,000 different ranges beside, p95 ms", worst, "none set"),
        *wide,
        _line("wares by deposit over 1,000,000 groups, ms", (ours, None), "<= 0.1 of the bare sum", bare),
    ]
    if "--json" in sys.argv:
        print(json.dumps(rows))
    else:
        for row in rows:
            print(row)
    application.quit()
    return 0


def _line(name: str, ours: tuple[float, float | None], target: str, bare: float | None = None) -> dict[str, Any]:
    ratio = ours[0] / bare if bare else None
    return {"name": name, "ours": ours[0], "processor": ours[1], "bare": bare, "ratio": ratio, "target": target}


if __name__ == "__main__":
    raise SystemExit(main())
