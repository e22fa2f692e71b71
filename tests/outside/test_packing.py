"""The packing's lower bound and result beside an exact solver (SciPy's mixed-integer programming, HiGHS)."""

from __future__ import annotations

import random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from findsdesk.domain.packing import BoxSize, ToPack, fewest_boxes, pack

SIZE = BoxSize(100, 100)


def exact(bags: list[ToPack], most: int) -> int:
    """Return the fewest boxes, by weight and room together: bag i in box j, box j used."""
    many = len(bags)
    columns = many * most + most
    once = np.zeros((many, columns))
    within = np.zeros((2 * most, columns))
    for bag_place, bag in enumerate(bags):
        for box in range(most):
            once[bag_place, bag_place * most + box] = 1
            within[2 * box, bag_place * most + box] = bag.tenths
            within[2 * box + 1, bag_place * most + box] = bag.volume_ml
    for box in range(most):
        within[2 * box, many * most + box] = -SIZE.tenths
        within[2 * box + 1, many * most + box] = -SIZE.volume_ml
    cost = np.concatenate([np.zeros(many * most), np.ones(most)])
    constraints = [LinearConstraint(once, 1, 1), LinearConstraint(within, -np.inf, 0)]
    found = milp(cost, constraints=constraints, integrality=np.ones(columns), bounds=Bounds(0, 1))
    assert found.success
    return round(found.fun)


@pytest.mark.parametrize("seed", range(6))
def test_bound_best_and_ours(seed: int) -> None:
    chance = random.Random(seed)
    bags = [
        ToPack(key, str(key // 4), chance.randint(10, 60), chance.randint(5, 55))
        for key in range(chance.randint(6, 11))
    ]
    packed = pack(bags, SIZE)
    best = exact(bags, len(packed.boxes))
    assert fewest_boxes(bags, SIZE) <= best <= len(packed.boxes) <= best + 1
