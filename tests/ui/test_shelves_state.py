"""What a scan means at the shelves, without a window."""

from __future__ import annotations

from findsdesk.domain.codes import Code, Kind, make_code, read_code
from findsdesk.ui.benches.shelves.state import Moving, Scanned, Walk, code_in, is_place


def code(kind: Kind, serial: int) -> Code:
    return read_code(make_code("TQ", kind, serial), "TQ")


BOX, OTHER, BAG = code(Kind.BOX, 1), code(Kind.BOX, 2), code(Kind.BAG, 1)
SHELF, ROOM, TUB = code(Kind.PLACE, 101), code(Kind.PLACE, 102), code(Kind.PLACE, 3)


def test_only_a_whole_code_of_this_excavation_is_answered_here() -> None:
    assert code_in(BOX.text, "TQ") == BOX
    assert code_in("131", "TQ") is None
    assert code_in(BOX.text[:-1] + ("0" if BOX.text[-1] != "0" else "1"), "TQ") is None
    assert code_in(BOX.text, "QT") is None


def test_the_first_serials_are_tubs_and_no_places() -> None:
    assert is_place(SHELF)
    assert not is_place(TUB)


def test_a_thing_is_scanned_once() -> None:
    scans = Scanned()
    assert scans.add("a")
    assert not scans.add("a")
    scans.add("b")
    scans.drop("a")
    assert scans.codes == ["b"]


def test_boxes_and_then_a_place_go_to_that_place() -> None:
    moving = Moving()
    assert moving.scan(BOX)
    assert moving.scan(OTHER)
    assert not moving.scan(BOX)
    assert moving.scan(SHELF)
    assert (moving.what.codes, moving.to) == ([BOX.text, OTHER.text], SHELF.text)
    assert moving.scanned() == (BOX.text, OTHER.text)
    assert moving.scan(ROOM)
    assert moving.to == ROOM.text


def test_a_place_scanned_first_moves_as_a_whole_and_its_boxes_are_checked_off() -> None:
    moving = Moving()
    moving.scan(SHELF)
    moving.scan(BOX)
    moving.scan(ROOM)
    assert (moving.what.codes, moving.met.codes, moving.to) == ([SHELF.text], [BOX.text], ROOM.text)
    assert moving.scanned() == (BOX.text,)
    assert not moving.scan(SHELF)
    moving.drop(SHELF.text)
    assert moving == Moving()


def test_a_stock_take_says_where_each_thing_was_met() -> None:
    walk = Walk(place=ROOM.text)
    assert walk.scans(BAG) == (ROOM.text, BAG.text)
    assert walk.scans(SHELF) == (SHELF.text,)
    assert walk.scans(BOX) == (SHELF.text, BOX.text)
    assert walk.scans(BAG) == (SHELF.text, BOX.text, BAG.text)
    assert walk.scans(ROOM) == (ROOM.text,)
    assert walk.scans(BAG) == (ROOM.text, BAG.text)
