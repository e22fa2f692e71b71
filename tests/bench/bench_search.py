"""One search over 1,000,000 notes and as many codes: rare and common words, beginnings, several words, no hit.

Beside each word stands the bare MATCH of the same index with the ids of one page. Filling, making the index anew and
its size are told too.

Run: python tests/bench/bench_search.py [--json] [ROWS]
"""

from __future__ import annotations

import json
import sys
import time
from functools import partial
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from _big_registers import best_of, big_registers
from sqlalchemy import text

from findsdesk.desk.desk import Desk
from findsdesk.desk.searching import make_search_anew, search
from findsdesk.domain.searched_words import words_looked_for

WORDS = (
    "amphora stopper",
    "amph",
    "threshold",
    "rims",
    "ri",
    "a",
    "under the threshold 131",
    "131",
    "20",
    "TQT000131",
    "TQB0",
    "nothing like it",
    "Ésmall mortar",
    "pale fill 99",
)
TARGET = 100


def bare(desk: Desk, said: str) -> int:
    """Ask the index alone for one page of ids."""
    question = " AND ".join(f'"{word}"*' if len(word) > 1 else f'"{word}"' for word in words_looked_for(said))
    with desk.reading() as reading:
        found = reading.session.execute(
            text("SELECT rowid FROM search_index WHERE search_index MATCH :q ORDER BY rowid DESC LIMIT 5"),
            {"q": question},
        )
        return len(found.all())


def measure(desk: Desk) -> list[dict[str, Any]]:
    """Time a search for each of the words."""
    results = []
    for said in WORDS:
        found = search(desk, said)
        ours = best_of(partial(search, desk, said))
        alone = best_of(partial(bare, desk, said))
        name = f"“{said}”, {found.count}{'+' if found.more else ''} found"
        results.append(
            {"name": name, "ours": round(ours, 1), "bare": round(alone, 1), "ratio": round(ours / max(alone, 0.1), 1),
             "target": TARGET}
        )  # fmt: skip
    return results


def main() -> None:
    """Fill a store, make the index anew and print the times."""
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    desk = big_registers(numbers[0] if numbers else 999_000)
    assert desk.store.path is not None
    before = desk.store.path.stat().st_size
    start = time.perf_counter()
    rows = make_search_anew(desk)
    spent = time.perf_counter() - start
    results = measure(desk)
    grown = desk.store.path.stat().st_size - before
    desk.let_go()
    if "--json" in sys.argv:
        print(json.dumps(results, ensure_ascii=False, indent=1))
        return
    print(f"made anew: {rows} rows in {spent:.0f} s; the store grew by {grown / 1e6:.0f} MB from {before / 1e6:.0f} MB")
    for result in results:
        mark = " " if result["ours"] <= result["target"] else "!"
        print(f"{mark} {result['name']:45} {result['ours']:9.1f} ms  bare {result['bare']:8.1f} ms")


if __name__ == "__main__":
    main()
