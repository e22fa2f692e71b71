"""Whatever is done with bags, boxes, places and loans, in whatever order: the store proves sound, nothing is twice."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable
from datetime import timedelta

import pytest

from findsdesk.desk.box_proposals import pack_as_proposed
from findsdesk.desk.boxes import add_box, give_up_box
from findsdesk.desk.boxing import box_with_bags, put_into_box, take_out_of_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.loan_returns import give_back
from findsdesk.desk.loans import lend, loans_out
from findsdesk.desk.missing_things import find_missing
from findsdesk.desk.proving import prove
from findsdesk.desk.registers import Register, page
from findsdesk.desk.shelves import bags_without_box, places_tree, where_it_is
from findsdesk.desk.stock_takes import begin_stock_take, close_stock_take, scan_stock
from findsdesk.desk.store_places import give_up_place
from findsdesk.desk.taking_away import bring_back, out_now, take_away
from findsdesk.desk.transports import check_arrival, move_things, under_way
from findsdesk.domain.lending import BorrowerKind
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import PlaceKind
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.yard import advance

STEPS = 70
SHELVES = ("Shelf 1", "Shelf 2", "Shelf 3")


class Hands:
    """Somebody who does with a store whatever comes to mind; what is refused is refused."""

    def __init__(self, desk: Desk, seed: int) -> None:
        self.desk, self.chance = desk, random.Random(seed)
        furnish_store(desk)
        materials = ("pottery", "pottery", "bone", "glass", "metal")
        self.bags = [
            code
            for number, material in enumerate(materials, 131)
            for code in put_bags(desk, number, [self.chance.randint(50, 4_000) for _ in range(4)], material=material)
        ]
        self.refused: Counter[str] = Counter()
        self.done: Counter[str] = Counter()

    def some(self, of: list[str] | tuple[str, ...], most: int = 3) -> list[str]:
        return self.chance.sample(of, min(len(of), self.chance.randint(1, most)))

    def box(self) -> str:
        return str(self.chance.randint(1, 8))

    def thing(self) -> str:
        return self.box() if self.chance.random() < 0.5 else self.chance.choice(self.bags)

    def shelf(self) -> str:
        return self.chance.choice(SHELVES)

    def acts(self) -> dict[str, Callable[[], object]]:
        desk, chance = self.desk, self.chance
        number = chance.randint(1, 3)
        return {
            "make": lambda: add_box(desk, kind=chance.choice(("sherds", "bone", "glass", "metal")), place=self.shelf()),
            "give up": lambda: give_up_box(desk, self.box()),
            "put": lambda: put_into_box(desk, self.box(), self.some(self.bags), sure=True),
            "take out": lambda: take_out_of_box(desk, self.some(self.bags, 1), place=chance.choice(("", self.shelf()))),
            "pack": lambda: pack_as_proposed(desk, place=self.shelf(), sure=True),
            "away": lambda: take_away(desk, [self.thing()], to=chance.choice(("Drawing table", "Lio", "Oren"))),
            "back": lambda: bring_back(desk, [self.thing()]),
            "move": lambda: move_things(desk, [self.thing()], to=self.shelf(), arrived=chance.random() < 0.5),
            "move shelf": lambda: move_things(desk, [self.shelf()], to=chance.choice(("Store", "Drawing room"))),
            "arrive": lambda: check_arrival(desk, number, [self.thing()]),
            "lend": lambda: lend(
                desk,
                [f"box {self.box()}" if chance.random() < 0.3 else chance.choice(self.bags)],
                borrower="Nela Trost",
                kind=BorrowerKind.SPECIALIST,
                purpose="report",
                due_on=desk.now().date() + timedelta(days=7),
            ),
            "return": lambda: give_back(desk, str(number), pieces=chance.choice((None, 1, 4))),
            "begin": lambda: begin_stock_take(desk, chance.choice(("Store", self.shelf()))),
            "scan": lambda: scan_stock(desk, number, [self.thing() for _ in range(3)]),
            "close": lambda: close_stock_take(desk, number, sure=True),
            "find": lambda: find_missing(desk, [self.thing()]),
            "give up place": lambda: give_up_place(desk, "Shelf 3"),
        }

    def do_something(self) -> None:
        name, act = self.chance.choice(list(self.acts().items()))
        before = self.desk.head()
        try:
            act()
        except Refusal as refusal:
            self.refused[refusal.code] += 1
        else:
            self.done[name] += 1
            return
        assert self.desk.head() == before


@pytest.mark.parametrize("seed", range(3))
def test_the_law_of_the_shelves(desk: Desk, seed: int) -> None:
    """OWN: each bag lies in one box or none, sums agree, what is away is away once, and ``prove`` finds nothing."""
    hands = Hands(desk, seed)
    for _ in range(STEPS):
        advance(desk, minutes=7)
        hands.do_something()
    assert [one.in_words(desk.terms) for one in prove(desk).findings] == []
    assert sum(hands.done.values()) > 10
    assert len(hands.refused) > 5
    boxes = [box for box in page(desk, Register.BOXES) if not box.gone]
    held = [one.bag.code for box in boxes for one in box_with_bags(desk, str(box.number)).bags]
    free = [one.bag.code for one in bags_without_box(desk)]
    assert sorted([*held, *free]) == sorted(hands.bags)
    outermost = [one for one in places_tree(desk) if one.within is None and one.kind is not PlaceKind.PERSON]
    placed = [box for box in boxes if box.place]
    loose = [code for code in free if where_it_is(desk, code).place]
    assert sum(one.bags for one in outermost) == sum(box.bags for box in placed) + len(loose)
    away = [(one.kind, one.thing_id) for one in out_now(desk)]
    assert len(set(away)) == len(away)
    assert all(one.not_arrived for one in under_way(desk))
    assert all(one.still_out > 0 for one in loans_out(desk))
