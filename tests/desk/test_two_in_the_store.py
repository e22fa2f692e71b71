"""Two stations on one server in the store at the same moment: nothing is laid into what is given up, or lent twice.

They need a server (FINDSDESK_TEST_SERVER); in a file one program alone writes.
"""

from __future__ import annotations

import os
from collections.abc import Callable

import pytest

from findsdesk.desk.bagging import bag
from findsdesk.desk.boxes import add_box, give_up_box
from findsdesk.desk.boxing import put_into_box, take_out_of_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.loans import lend
from findsdesk.desk.printing import PrintKind, came_out_well, gather, lay_out
from findsdesk.desk.proving import prove
from findsdesk.desk.sorting import add_group, reopen, settle
from findsdesk.desk.store_places import add_place, give_up_place
from findsdesk.desk.taking_away import take_away
from findsdesk.desk.transports import move_things
from findsdesk.domain.lending import BorrowerKind
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import PlaceKind
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.desk.test_two_stations import at_the_table, stations, while_writing
from tests.yard import put_container

__all__ = ["stations"]

pytestmark = pytest.mark.skipif(
    not os.environ.get("FINDSDESK_TEST_SERVER"), reason="two stations write only where there is a server"
)


def lent(desk: Desk, what: str) -> None:
    lend(
        desk,
        [what],
        borrower="Nela Trost",
        kind=BorrowerKind.SPECIALIST,
        purpose="report",
        due_on=desk.now().date(),
    )


def stopped_by(first: Desk, one: Callable[[], object], other: Callable[[], object]) -> str:
    """Do both at once, prove the store, and return the code of what stopped the other."""
    stopped = while_writing(first, one, other)
    assert [one.in_words(first.terms) for one in prove(first).findings] == []
    assert isinstance(stopped, Refusal), stopped
    return stopped.code


def test_no_bag_is_laid_into_a_box_that_is_being_given_up(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    (code,) = put_bags(first, 131, [100.0])
    add_box(first, kind="sherds")
    assert stopped_by(first, lambda: give_up_box(first, "1"), lambda: put_into_box(second, "1", [code])) == "box_gone"


def test_no_box_is_given_up_while_a_bag_is_laid_into_it(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    (code,) = put_bags(first, 131, [100.0])
    add_box(first, kind="sherds")
    said = stopped_by(first, lambda: put_into_box(first, "1", [code]), lambda: give_up_box(second, "1"))
    assert said == "box_not_empty"


def _laying(desk: Desk, bag_code: str) -> dict[str, Callable[[], object]]:
    return {
        "make": lambda: add_box(desk, kind="sherds", place="Shelf 3"),
        "move": lambda: move_things(desk, ["2"], to="Shelf 3"),
        "take out": lambda: take_out_of_box(desk, [bag_code], place="Shelf 3"),
        "within": lambda: add_place(desk, name="Left", kind=PlaceKind.SHELF, within="Shelf 3"),
        "table": lambda: take_away(desk, ["2"], to="Drawing table"),
    }


@pytest.mark.parametrize("what", ["make", "move", "take out", "within", "table"])
def test_no_place_is_given_up_while_something_is_laid_there(stations: tuple[Desk, Desk], what: str) -> None:
    first, second = stations
    furnish_store(first)
    (code,) = put_bags(first, 131, [100.0])
    add_box(first, kind="sherds", how_many=2)
    put_into_box(first, "1", [code])
    place = "Drawing table" if what == "table" else "Shelf 3"
    one = _laying(first, code)[what]
    assert stopped_by(first, one, lambda: give_up_place(second, place)) == "place_not_empty"


@pytest.mark.parametrize("what", ["make", "move", "take out", "within", "table"])
def test_nothing_is_laid_where_a_place_is_being_given_up(stations: tuple[Desk, Desk], what: str) -> None:
    first, second = stations
    furnish_store(first)
    (code,) = put_bags(first, 131, [100.0])
    add_box(first, kind="sherds", how_many=2)
    put_into_box(first, "1", [code])
    place = "Drawing table" if what == "table" else "Shelf 3"
    other = _laying(second, code)[what]
    assert stopped_by(first, lambda: give_up_place(first, place), other) == "place_gone"


def test_what_is_being_lent_is_not_opened_again(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    code = at_the_table(first, 131, 10)
    add_group(first, code, ware="QRS", part="body", pieces=10)
    settle(first, code)
    (packed,) = bag(first, code)
    said = stopped_by(first, lambda: lent(first, packed.code), lambda: reopen(second, code, reason="look again"))
    assert said == "on_loan"


def test_what_is_being_opened_again_is_not_lent(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    code = at_the_table(first, 131, 10)
    add_group(first, code, ware="QRS", part="body", pieces=10)
    settle(first, code)
    (packed,) = bag(first, code)
    said = stopped_by(first, lambda: reopen(first, code, reason="look again"), lambda: lent(second, packed.code))
    assert said == "bag_is_open"


def test_one_tag_is_not_written_down_as_printed_at_two_stations(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    code = put_container(first, 131, steps=())
    sheets = [lay_out(one, gather(one, PrintKind.TAG, [code]), stock="a4-2x4-97x67") for one in stations]
    said = stopped_by(first, lambda: came_out_well(first, sheets[0]), lambda: came_out_well(second, sheets[1]))
    assert said == "printed_meanwhile"
