"""Packing 5,000 bags into boxes by deposit, beside plain first-fit decreasing without regard to deposits.

Run: python tests/bench/bench_packing.py [--json]
"""

from __future__ import annotations

import json
import random
import sys
import time
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from findsdesk.domain.packing import BoxSize, ToPack, pack

BAGS, DEPOSITS = 5_000, 85
SIZE = BoxSize(tenths=95_000, volume_ml=16_575)
MIXTURES = {"half a kilogram in the middle": (8.6, 1.0), "one and a half kilograms in the middle": (9.7, 0.6)}


def season(middle: float, spread: float) -> list[ToPack]:
    """Return bags of an invented season, the weights lognormal, by deposit in order."""
    chance = random.Random(2026)
    deposits = sorted(chance.randrange(DEPOSITS) for _ in range(BAGS))
    bags = []
    for key, deposit in enumerate(deposits):
        tenths = int(min(90_000, max(50, chance.lognormvariate(middle, spread))))
        bags.append(ToPack(key, str(2000 + deposit), tenths, tenths * chance.randint(12, 18) // 100))
    return bags


def bare(bags: list[ToPack]) -> int:
    """Return how many boxes first-fit decreasing takes by weight and room, and nothing else."""
    left: list[tuple[int, int]] = []
    for bag in sorted(bags, key=lambda one: one.tenths, reverse=True):
        for place, (tenths, volume) in enumerate(left):
            if bag.tenths <= tenths and bag.volume_ml <= volume:
                left[place] = (tenths - bag.tenths, volume - bag.volume_ml)
                break
        else:
            left.append((SIZE.tenths - bag.tenths, SIZE.volume_ml - bag.volume_ml))
    return len(left)


def main() -> int:
    """Measure and print."""
    rows: list[dict[str, Any]] = []
    for name, mixture in MIXTURES.items():
        bags = season(*mixture)
        start = time.perf_counter()
        packed = pack(bags, SIZE)
        ours = time.perf_counter() - start
        start = time.perf_counter()
        plain = bare(bags)
        spent = time.perf_counter() - start
        boxes = len(packed.boxes)
        parts = sum(len(box.deposits) for box in packed.boxes)
        rows.append(_line(f"packing {BAGS:,} bags, {name}, s", ours, spent, "<= 2 s"))
        rows.append(_line(f"boxes over the bound of {packed.fewest}, {name}", boxes, packed.fewest, "<= 1.03"))
        rows.append(_line(f"boxes of plain first-fit decreasing, {name}", boxes, plain, "none set"))
        rows.append(_line(f"deposits in a box, {name}", parts / boxes, None, "none set"))
    if "--json" in sys.argv:
        print(json.dumps(rows))
    else:
        for row in rows:
            print(row)
    return 0


def _line(name: str, ours: float, bare_value: float | None, target: str) -> dict[str, Any]:
    ratio = ours / bare_value if bare_value else None
    return {"name": name, "ours": ours, "bare": bare_value, "ratio": ratio, "target": target}


if __name__ == "__main__":
    raise SystemExit(main())
