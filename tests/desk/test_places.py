"""Places as a tree: added, changed, given up only when nothing is there."""

from __future__ import annotations

import pytest

from findsdesk.desk.boxes import add_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.finding_shelves import place_of
from findsdesk.desk.shelves import places_tree
from findsdesk.desk.store_places import add_place, change_place, give_up_place
from findsdesk.domain.codes import Kind, make_code, read_code
from findsdesk.domain.shelving import PlaceKind
from tests.desk.at_the_table import refused
from tests.desk.on_the_shelves import furnish_store


@pytest.fixture
def store(desk: Desk) -> Desk:
    furnish_store(desk)
    return desk


def test_a_tree_of_places(store: Desk) -> None:
    tree = places_tree(store)
    assert [(one.depth, one.name) for one in tree] == [
        (0, "Dig house"),
        (1, "Drawing room"),
        (2, "Drawing table"),
        (1, "Store"),
        (2, "Shelf 1"),
        (2, "Shelf 2"),
        (2, "Shelf 3"),
    ]
    shelf = next(one for one in tree if one.name == "Shelf 3")
    assert shelf.path == "Dig house › Store › Shelf 3"
    code = read_code(shelf.code, "TQ")
    assert code.kind is Kind.PLACE
    assert code.serial > 99, "lower serials stand for tubs on the command card"


def test_a_place_is_found_by_code_name_and_path(store: Desk) -> None:
    add_place(store, name="Shelf 1", kind=PlaceKind.SHELF, within="Drawing room")
    with store.reading() as reading:
        found = place_of(reading.session, store, "store / shelf 1")
        assert place_of(reading.session, store, found.code.lower()).id == found.id
    with refused(store, "place_twice"):
        give_up_place(store, "Shelf 1")


def test_what_is_refused_of_a_place(store: Desk) -> None:
    with refused(store, "place_there"):
        add_place(store, name="shelf 1", kind=PlaceKind.SHELF, within="Store")
    with refused(store, "place_within"):
        add_place(store, name="Attic", kind=PlaceKind.ROOM, within="Shelf 1")
    with refused(store, "unknown_place"):
        add_place(store, name="Shelf 9", kind=PlaceKind.SHELF, within="Cellar")
    with refused(store, "empty"):
        add_place(store, name="  ", kind=PlaceKind.ROOM)
    with refused(store, "slash_in_name"):
        add_place(store, name="Shelf 1/2", kind=PlaceKind.SHELF)
    with refused(store, "place_holds"):
        change_place(store, "Shelf 1", holds_boxes=-1)
    with refused(store, "unknown_place"):
        give_up_place(store, make_code("TQ", Kind.PLACE, 3))


def test_a_place_with_things_in_it_stays(store: Desk) -> None:
    with refused(store, "place_not_empty") as caught:
        give_up_place(store, "Store")
    assert "3 places" in caught.value.in_words()
    add_box(store, kind="sherds", place="Shelf 1")
    with refused(store, "place_not_empty"):
        give_up_place(store, "Shelf 1")


def test_an_empty_place_is_given_up_and_its_code_stays_its_own(store: Desk) -> None:
    gone = give_up_place(store, "Shelf 3")
    assert gone.gone
    assert "Shelf 3" not in [one.name for one in places_tree(store)]
    with refused(store, "place_gone"):
        give_up_place(store, gone.code)
    again = add_place(store, name="Shelf 3", kind=PlaceKind.SHELF, within="Store")
    assert again.code != gone.code


def test_a_place_is_renamed_and_says_how_much_it_holds(store: Desk) -> None:
    before = change_place(store, "Shelf 1", holds_boxes=12)
    assert before.holds_boxes == 12
    after = change_place(store, "Shelf 1", name="Shelf A", note="left wall", seen=before.version)
    assert (after.name, after.holds_boxes, after.path) == ("Shelf A", 12, "Dig house › Store › Shelf A")
    with refused(store, "changed_meanwhile"):
        change_place(store, "Shelf A", note="right wall", seen=before.version)
    with refused(store, "place_there"):
        change_place(store, "Shelf A", name="Shelf 2")
