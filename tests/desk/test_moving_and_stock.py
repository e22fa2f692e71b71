"""Taken out and brought back, moved with a list checked at both ends, counted by scan along the shelves."""

from __future__ import annotations

import pytest

from findsdesk.desk.all_papers import make_paper
from findsdesk.desk.boxes import add_box, give_up_box
from findsdesk.desk.boxing import put_into_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.missing_things import find_missing, missing_things
from findsdesk.desk.not_met import NotMet, Why, not_met_in_words
from findsdesk.desk.proving import prove
from findsdesk.desk.register_columns import wording
from findsdesk.desk.registers import Register, page
from findsdesk.desk.season_end import count_open, open_rows
from findsdesk.desk.shelves import places_tree, where_it_is
from findsdesk.desk.stock_takes import begin_stock_take, close_stock_take, scan_stock, stock_take, stock_takes
from findsdesk.desk.store_places import add_place, change_place, give_up_place
from findsdesk.desk.taking_away import bring_back, out_now, take_away
from findsdesk.desk.the_day import the_day
from findsdesk.desk.transports import check_arrival, move_things, transport_list, under_way
from findsdesk.domain.shelving import Met, PlaceKind
from tests.desk.at_the_table import refused
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.yard import acts, advance, sitting


@pytest.fixture
def store(desk: Desk) -> Desk:
    """Three boxes on shelf 1, two bags in the first, one loose bag on shelf 2."""
    furnish_store(desk)
    bags = put_bags(desk, 131, [500, 600, 700])
    add_box(desk, kind="sherds", place="Shelf 1", how_many=3)
    put_into_box(desk, "1", bags[:2])
    move_things(desk, bags[2:], to="Shelf 2", arrived=True)
    return desk


def bags_of(store: Desk) -> list[str]:
    with store.reading() as reading:
        return list(reading.session.connection().exec_driver_sql("SELECT code FROM bag ORDER BY code").scalars())


def code_of(store: Desk, name: str) -> str:
    return next(one.code for one in places_tree(store) if one.name == name)


def box_code(store: Desk, number: int) -> str:
    return where_it_is(store, str(number)).code


def test_oren_takes_box_1_to_the_drawing_table_and_brings_it_back(store: Desk) -> None:
    oren = sitting(store, "Oren")
    took = advance(store, hours=1)
    (out,) = take_away(oren, ["1"], to="Drawing table", why="drawing")
    assert (out.number, out.person, out.since, out.to) == (
        1,
        "Oren Vade",
        took,
        "Dig house › Drawing room › Drawing table",
    )
    assert out_now(store) == (out,)
    where = where_it_is(store, bags_of(store)[0])
    assert (where.box, where.place) == (1, "Dig house › Store › Shelf 1")
    assert (where.away_to, where.away_since) == ("Dig house › Drawing room › Drawing table", took)
    table = next(one for one in places_tree(store) if one.name == "Drawing table")
    shelf = next(one for one in places_tree(store) if one.name == "Shelf 1")
    assert (table.taken_here, shelf.boxes, shelf.boxes_away) == (1, 3, 1)
    with refused(store, "out_already"):
        take_away(store, ["1"], to="Lio")
    with refused(store, "place_not_empty"):
        give_up_place(store, "Drawing table")
    with refused(store, "is_away"):
        move_things(store, ["1"], to="Shelf 3")
    advance(store, hours=2)
    (back,) = bring_back(oren, [box_code(store, 1)])
    assert back.back_at is not None
    assert out_now(store) == ()
    with refused(store, "not_out"):
        bring_back(store, ["1"])
    assert prove(store).sound


def test_things_are_taken_by_people_of_the_team(store: Desk) -> None:
    bag = bags_of(store)[0]
    (out,) = take_away(store, [bag], to="Lio")
    assert (out.to, out.belongs, out.kind) == ("Lio", "1", "bag")
    take_away(store, ["2"], to="Lio")
    assert [one.name for one in places_tree(store) if one.kind is PlaceKind.PERSON] == ["Lio"]
    put_into_box(store, "1", [bag])
    assert [one.number for one in out_now(store)] == [2], "a bag laid into its box is back"
    with refused(store, "unknown_place"):
        take_away(store, ["3"], to="Nobody")
    with refused(store, "belongs_to_places"):
        take_away(store, ["3"], to="Shelf 2")
    with refused(store, "nothing_scanned"):
        take_away(store, [], to="Lio")


def test_a_shelf_moves_in_one_act_and_is_checked_at_both_ends(store: Desk) -> None:
    add_place(store, name="Depot", kind=PlaceKind.BUILDING)
    before = acts(store)
    with refused(store, "not_all_scanned") as caught:
        move_things(store, ["Shelf 1"], to="Depot", scanned=["1", "2"])
    assert "1 was not scanned" in caught.value.in_words()
    moved = move_things(store, ["Shelf 1"], to="Depot", scanned=["1", "2", "3"], note="van of the museum")
    assert acts(store) == before + 1
    assert (moved.moved_place, moved.to, [one.number for one in moved.things]) == ("Shelf 1", "Depot", [1, 2, 3])
    assert all(one.checked_out for one in moved.things)
    assert moved.things[0].stood == "Depot › Shelf 1", "the shelf goes along"
    assert (moved.tenths, moved.things[0].bags) == (11_000, 2)
    assert any(caution.key == "lifting" for caution in moved.cautions)
    assert [one.number for one in under_way(store)] == [moved.number]
    assert where_it_is(store, "1").place == "Depot › Shelf 1"
    halfway = check_arrival(store, moved.number, ["1", "3"])
    assert [one.number for one in halfway.not_arrived] == [2]
    with refused(store, "not_of_this_transport"):
        check_arrival(store, moved.number, [bags_of(store)[2]])
    with refused(store, "nothing_scanned"):
        check_arrival(store, moved.number, [])
    there = check_arrival(store, moved.number, ["2", "1"])
    assert there.arrived_at is not None
    assert under_way(store) == ()
    assert transport_list(store, moved.number) == there
    assert prove(store).sound


def test_what_cannot_move(store: Desk) -> None:
    bags = bags_of(store)
    add_place(store, name="Depot", kind=PlaceKind.BUILDING)
    with refused(store, "there_already"):
        move_things(store, ["1"], to="Shelf 1")
    with refused(store, "there_already"):
        move_things(store, ["Shelf 1"], to="Store")
    with refused(store, "lies_in_a_box"):
        move_things(store, bags[:1], to="Shelf 2")
    with refused(store, "for_a_while_only"):
        move_things(store, ["1"], to="Drawing table")
    with refused(store, "place_circle"):
        move_things(store, ["Store"], to="Shelf 1")
    with refused(store, "place_within"):
        move_things(store, ["Dig house"], to="Depot")
    with refused(store, "not_of_this_transport"):
        move_things(store, ["1"], to="Shelf 2", scanned=["2"])
    with refused(store, "nothing_scanned"):
        move_things(store, [], to="Shelf 2")
    with refused(store, "unknown_transport"):
        check_arrival(store, 99, ["1"])


def test_an_empty_shelf_moves_and_is_there(store: Desk) -> None:
    moved = move_things(store, ["Shelf 3"], to="Drawing room")
    assert (moved.things, moved.arrived_at is None) == ((), False)
    assert under_way(store) == ()
    assert prove(store).sound


def test_a_full_shelf_is_asked_about(store: Desk) -> None:
    change_place(store, "Shelf 2", holds_boxes=1)
    move_things(store, ["1"], to="Shelf 2", arrived=True)
    with refused(store, "place_is_full"):
        move_things(store, ["2"], to="Shelf 2")
    move_things(store, ["2"], to="Shelf 2", arrived=True, sure=True)
    assert next(one for one in places_tree(store) if one.name == "Shelf 2").full_permille == 2_000


def test_a_stock_take_finds_misses_and_meets_in_the_wrong_place(store: Desk) -> None:
    bags = bags_of(store)
    take_away(store, ["3"], to="Drawing table")
    begun = begin_stock_take(store, "Store")
    with refused(store, "stock_take_open"):
        begin_stock_take(store, "Store")
    shelf_1, shelf_2 = code_of(store, "Shelf 1"), code_of(store, "Shelf 2")
    scan_stock(store, begun.number, [shelf_1, "1", bags[0], shelf_2, "2", shelf_1, "1"])
    seen = scan_stock(store, begun.number, ["3"])
    assert [(one.number, one.code in bags, one.verdict) for one in seen.things] == [
        (1, False, Met.FOUND),
        (None, True, Met.FOUND),
        (2, False, Met.ELSEWHERE),
        (3, False, Met.OUT),
    ]
    with refused(store, "outside_the_stock_take"):
        scan_stock(store, begun.number, [code_of(store, "Drawing room")])
    with refused(store, "nothing_scanned"):
        scan_stock(store, begun.number, [])
    with refused(store, "things_missing"):
        close_stock_take(store, begun.number)
    closed = close_stock_take(store, begun.number, sure=True)
    assert [one.code for one in closed.of(Met.MISSING)] == [bags[2], bags[1]], "the loose bag, one of the opened box"
    wrong = closed.of(Met.ELSEWHERE)[0]
    assert (wrong.seen, wrong.belongs) == ("Dig house › Store › Shelf 2", "Dig house › Store › Shelf 1")
    with refused(store, "stock_take_closed"):
        scan_stock(store, begun.number, ["1"])
    with refused(store, "unknown_stock_take"):
        close_stock_take(store, 7)
    move_things(store, ["2"], to="Shelf 2", arrived=True)
    assert stock_take(store, begun.number) == closed, "what was seen on that day stays as it was"
    assert stock_takes(store) == (closed,)
    assert prove(store).sound


def test_a_bag_in_the_wrong_box_is_met_elsewhere(store: Desk) -> None:
    number = begin_stock_take(store, "Shelf 1").number
    seen = scan_stock(store, number, ["2", bags_of(store)[0]])
    assert [one.verdict for one in seen.things] == [Met.FOUND, Met.ELSEWHERE]
    assert (seen.things[1].seen, seen.things[1].belongs) == ("Dig house › Store › Shelf 1 · 2", "1")


def test_a_box_away_is_not_missing(store: Desk) -> None:
    give_up_box(store, "3")
    take_away(store, ["2"], to="Lio")
    number = begin_stock_take(store, "Shelf 1").number
    assert [one.number for one in close_stock_take(store, number, sure=True).of(Met.MISSING)] == [1]


def test_a_bag_from_elsewhere_makes_no_bag_of_the_box_missing(store: Desk) -> None:
    bags = bags_of(store)
    number = begin_stock_take(store, "Shelf 1").number
    scan_stock(store, number, ["1", bags[2], "2", "3"])
    with refused(store, "not_looked_into"):
        close_stock_take(store, number)
    assert close_stock_take(store, number, sure=True).of(Met.MISSING) == ()


def test_what_is_missing_stays_to_be_looked_for_until_somebody_meets_it(store: Desk) -> None:
    bags = bags_of(store)
    for place in ("Shelf 1", "Shelf 2"):
        number = begin_stock_take(store, place).number
        if place == "Shelf 1":
            scan_stock(store, number, ["1", bags[0], "2"])
        closed = close_stock_take(store, number, sure=True)
    advance(store, minutes=5)
    assert [(one.number, one.code in bags, one.belongs, one.stock_take) for one in missing_things(store)] == [
        (None, True, "Dig house › Store › Shelf 2", 2),
        (3, False, "Dig house › Store › Shelf 1", 1),
        (None, True, "1", 1),
    ]
    box = next(one for one in page(store, Register.BOXES) if one.number == 3)
    assert box.not_met == NotMet(Why.MISSING, 1, box.not_met.since)
    assert not_met_in_words(where_it_is(store, bags[1]).not_met, wording(store)) == "missing since stock-take 1"
    assert {one.name: one.not_met for one in places_tree(store) if one.not_met} == {
        "Dig house": 3, "Store": 3, "Shelf 1": 2, "Shelf 2": 1,
    }  # fmt: skip
    needs = [(one.facts["place"], len(one.numbers)) for one in the_day(store).needs if one.kind == "missing_on_shelves"]
    assert needs == [("Shelf 1", 2), ("Shelf 2", 1)]
    assert count_open(store, "missing_on_shelves") == 3
    assert [one.number for one in open_rows(store, "missing_on_shelves")] == sorted([*bags[1:], box.code])
    assert make_paper(store, "missing-on-shelves").rows == 3
    with refused(store, "not_missing"):
        find_missing(store, [bags[0]])
    with refused(store, "nothing_scanned"):
        find_missing(store, [])
    assert [one.number or one.code for one in find_missing(store, [bags[2]])] == [3, bags[1]]
    assert stock_take(store, 2) == closed, "what was seen on that day stays as it was"
    move_things(store, ["3"], to="Shelf 2")
    assert [one.code for one in missing_things(store)] == [box.code, bags[1]], "nobody met it where it left"
    check_arrival(store, 2, ["3"])
    take_away(store, [bags[1]], to="Lio")
    assert missing_things(store) == ()
    assert count_open(store, "missing_on_shelves") == 0
    assert prove(store).sound


def test_what_is_on_the_way_is_said_until_it_is_met_where_it_goes(store: Desk) -> None:
    sent = move_things(store, ["1", "2"], to="Shelf 2", scanned=["1", "2"])
    say, bag = wording(store), bags_of(store)[0]
    assert not_met_in_words(where_it_is(store, bag).not_met, say) == "on the way, transport 2"
    assert [one.facts for one in the_day(store).needs if one.kind == "on_the_way"] == [
        {"number": sent.number, "place": "Shelf 2", "n": 2}
    ]
    assert [one.number for one in open_rows(store, "on_the_way")] == [box_code(store, 1), box_code(store, 2)]
    assert next(one for one in places_tree(store) if one.name == "Shelf 2").not_met == 2
    check_arrival(store, sent.number, ["1", "2"])
    assert where_it_is(store, bag).not_met is None
    assert count_open(store, "on_the_way") == 0


def test_what_moves_on_is_no_longer_on_its_way(store: Desk) -> None:
    first = move_things(store, ["1", "2"], to="Shelf 2")
    check_arrival(store, first.number, ["2"])
    second = move_things(store, ["1"], to="Shelf 3")
    assert transport_list(store, first.number).not_arrived == ()
    assert [one.number for one in under_way(store)] == [second.number]
    third = move_things(store, ["Shelf 3"], to="Drawing room")
    assert [one.number for one in under_way(store)] == [third.number]
    assert prove(store).sound
