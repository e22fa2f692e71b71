"""Registers of 1,000,000 rows: first page, jump to the end, the middle, every offered sort, a search, filters.

Run: python tests/bench/bench_registers.py [--json] [ROWS]
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from _big_registers import big_registers, orders_timed, tell, timed

from findsdesk.desk.desk import Desk
from findsdesk.desk.registers import Register, RegisterQuery, count, page

FILTERS = (
    ("square", "A1"),
    ("deposit", "2017"),
    ("standing", "soaking"),
    ("material", "bone"),
    ("day", "2026-07-09"),
)


def measure(desk: Desk) -> list[dict[str, Any]]:
    """Time what a person does with each register."""
    results = []

    def note(name: str, work: Callable[[], object], target: float) -> None:
        results.append(timed(name, work, target))

    for register in (Register.CONTAINERS, Register.BAGS, Register.JOURNAL):
        total = count(desk, register)
        note(f"{register}: count", partial(count, desk, register), 100)
        note(f"{register}: first page", partial(page, desk, register), 100)
        note(f"{register}: end", partial(page, desk, register, first=total - 200, total=total), 100)
        note(f"{register}: middle", partial(page, desk, register, first=total // 2 - 9, total=total), 100)
        results.extend(orders_timed(desk, register, total))
        for text in ("amphora stopper", "1", "rims", "nothing like it", "2017", "TQT000131"):
            query = RegisterQuery(text=text)
            note(f"{register}: count “{text}”", partial(count, desk, register, query), 1000)
            note(f"{register}: find “{text}”", partial(page, desk, register, query), 1000)
    for one in FILTERS:
        query = RegisterQuery(filters=(one,))
        total = count(desk, Register.CONTAINERS, query)
        name = f"containers: {one[0]}"
        note(f"{name}, count", partial(count, desk, Register.CONTAINERS, query), 1000)
        note(name, partial(page, desk, Register.CONTAINERS, query), 1000)
        note(f"{name}, middle", partial(page, desk, Register.CONTAINERS, query, total // 2, total=total), 1000)
    return results


def main() -> None:
    """Fill a store and print the times."""
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    desk = big_registers(numbers[0] if numbers else 999_000)
    results = measure(desk)
    desk.let_go()
    tell(results)


if __name__ == "__main__":
    main()
