"""Every register of 1,000,000 rows that an excavation fills: first page, last page, each offered order, both ways.

The registers of containers, bags and acts stand in bench_registers.py. Places and people are counted in hundreds.

Run: python tests/bench/bench_every_register.py [--json] [ROWS] [REGISTER …]; filling all of them takes half an hour.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from datetime import timedelta
from functools import partial
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from _big_registers import FIRST_DEPOSIT, FIRST_ID, START, big_registers, orders_timed, tell, timed
from sqlalchemy import Boolean, Integer, String, Table, insert, select

from findsdesk.desk.desk import Desk
from findsdesk.desk.registers import Register, count
from findsdesk.domain.natural_order import sort_key
from findsdesk.store.every_table import every_table

CONTAINERS = 100_000
OF_TABLES = {
    Register.GROUPS: "sherd_group",
    Register.PIECES: "piece",
    Register.DRAWINGS: "piece",
    Register.JOINS: "sherd_join",
    Register.VESSELS: "vessel",
    Register.OBJECTS: "found_object",
    Register.SAMPLES: "lab_sample",
    Register.PHOTOS: "photo",
    Register.MARKS: "mark_entry",
    Register.READINGS: "pottery_reading",
    Register.DISCARDS: "discard_line",
    Register.LEFT: "left_in_trench",
    Register.PRINTS: "printed_label",
    Register.BOXES: "box",
    Register.LOANS: "loan",
    Register.DEPOSITS: "deposit",
}
TABLES = tuple(dict.fromkeys(OF_TABLES.values()))
PARENTS = {"printed_label": "printing", "discard_line": "discard_list"}
"""Tables of few rows that others hang on, filled before them."""


def first_id(table: str) -> int:
    """Return the first id of a table's rows."""
    return FIRST_ID + ((8 + [*TABLES, *PARENTS.values()].index(table)) << 32)


def own(table: str, n: int) -> dict[str, Any]:
    """Return what differs from row to row."""
    when = START + timedelta(seconds=11 * n)
    said = {
        "id": first_id(table) + n,
        "number": str(n + 9001) if table == "deposit" else n + 9001,
        "code": f"TQ{table[0].upper()}{n:06d}Y",
        "container_id": FIRST_ID + n % CONTAINERS,
        "ordinal": n // CONTAINERS + 1,
        "pieces": n % 40 + 1,
        "note": f"sheet {n % 977}",
        "drawing": f"sheet {n % 977}" if n % 3 == 0 else "",
        "left_id": first_id("piece") + n,
        "right_id": first_id("piece") + n + 1,
        "printing_id": first_id("printing") + n % 1000,
        "list_id": first_id("discard_list") + n % 1000,
        "due_on": when.date(),
        "lent_on": when.date(),
        "opened": when.date(),
        "number_key": sort_key(str(n + 9001)),
        "number_folded": str(n + 9001),
        "part": "rim",
        "decision": "keep",
        "kind": {"box": "sherds", "mark_entry": "written", "photo": "jpeg", "printing": "bag"}.get(table, "layer"),
        "borrower_kind": "specialist",
        "confidence": "sure",
        "material": "pottery",
        "security": "sealed",
    }
    if table == "piece":
        said["number"] = n // CONTAINERS + 1
    return said | dict.fromkeys(
        ("lifted_at", "found_at", "taken_in_at", "read_at", "happened_at", "made_at", "printed_at", "taken_at"), when
    )


def rows_of(table: Table, numbers: range, fixed: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Yield rows with every column that must hold something."""
    for n in numbers:
        said = own(table.name, n) | fixed
        row = {}
        for column in table.columns:
            if column.name in said:
                row[column.name] = said[column.name]
            elif column.nullable:
                row[column.name] = None
            else:
                row[column.name] = _nothing(column.type)
        if table.name == "sherd_join" and n == numbers[-1]:
            row["right_id"] = first_id("piece")
        if table.name == "mark_entry":
            row["piece_id"] = None
        yield row


def _nothing(kind: Any) -> Any:
    if isinstance(kind, Boolean):
        return False
    if isinstance(kind, String):
        return ""
    return 1 if isinstance(kind, Integer) else []


def fill(desk: Desk, rows: int, wanted: set[str]) -> None:
    """Fill the tables that are wanted, and what they hang on."""
    tables = {table.name: table for table in every_table()}
    with desk.store.engine.begin() as connection:
        season = connection.execute(select(tables["season"].c.id)).scalar_one()
        square = connection.execute(select(tables["square"].c.id)).scalars().first()
        fixed = {"season_id": season, "square_id": square, "version": 1}
        parents = [(name, range(1000)) for name in PARENTS.values()]
        for name, numbers in (*parents, *((one, range(rows)) for one in TABLES if one in wanted)):
            of = fixed | ({"deposit_id": FIRST_DEPOSIT} if name == "left_in_trench" else {})
            for first in range(0, len(numbers), 20_000):
                some = numbers[first : first + 20_000]
                connection.execute(insert(tables[name]), list(rows_of(tables[name], some, of)))


def measure(desk: Desk, registers: list[Register]) -> list[dict[str, Any]]:
    """Time the count and the first and the last page of each register in each offered order."""
    results = []
    for register in registers:
        total = count(desk, register)
        results.append(timed(f"{register} ({total:,}): count", partial(count, desk, register)))
        results.extend(orders_timed(desk, register, total))
    return results


def main() -> None:
    """Fill a store and print the times."""
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    registers = [one for one in OF_TABLES if one in sys.argv[1:]] or list(OF_TABLES)
    desk = big_registers(CONTAINERS)
    wanted = {OF_TABLES[one] for one in registers}
    fill(desk, numbers[0] if numbers else 1_000_000, wanted | ({"piece"} if "sherd_join" in wanted else set()))
    results = measure(desk, registers)
    desk.let_go()
    tell(results)


if __name__ == "__main__":
    main()
