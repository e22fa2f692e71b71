"""What lies on the shelves or is lent while its container goes back to the table, is packed anew or loses pieces."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from findsdesk.desk.bagging import bag, bags_of
from findsdesk.desk.bags import BagFacts
from findsdesk.desk.boxes import add_box, give_up_box
from findsdesk.desk.boxing import box_with_bags, put_into_box, weigh_bag
from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import make_list
from findsdesk.desk.loan_returns import give_back
from findsdesk.desk.loan_rows import LoanFacts
from findsdesk.desk.loans import lend
from findsdesk.desk.pieces import lay_back, lift_pieces
from findsdesk.desk.printing import PrintKind, print_labels
from findsdesk.desk.proving import prove
from findsdesk.desk.proxy_slips import take_slip_away, write_slip
from findsdesk.desk.redoing import things_to_redo
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.samples import take_sample
from findsdesk.desk.shelves import where_it_is
from findsdesk.desk.sorting import add_group, change_group, reopen, settle, table_of
from findsdesk.desk.taking_away import out_now, take_away
from findsdesk.desk.washing import come_back
from findsdesk.domain.balance import Decision
from findsdesk.domain.lending import BorrowerKind
from findsdesk.domain.standings import Standing
from tests.desk.at_the_table import dry_container, prove_totals, refused
from tests.desk.on_the_shelves import furnish_store
from tests.yard import standing_of

DUE = date(2026, 8, 20)


@pytest.fixture
def store(desk: Desk) -> Iterator[Desk]:
    """Return a desk with shelves, a box of sherds on the first of them."""
    furnish_store(desk)
    add_box(desk, kind="sherds", place="Shelf 1")
    yield desk
    prove_totals(desk)
    assert [one.in_words(desk.terms) for one in prove(desk).findings] == []


def lent(desk: Desk, *what: str) -> LoanFacts:
    return lend(desk, what, borrower="Nela Trost", kind=BorrowerKind.SPECIALIST, purpose="report", due_on=DUE)


class Sorted:
    """A container of 6 body sherds and 4 rims, settled; two of the rims are a piece each where asked for."""

    def __init__(self, desk: Desk, *, pieces: int = 0) -> None:
        self.desk = desk
        self.code = dry_container(desk, 131, 10)
        self.body = add_group(desk, self.code, ware="QRS", part="body", pieces=6, tenths=600)
        rims = add_group(desk, self.code, ware="QRS", part="rim", pieces=4, tenths=400)
        self.pieces = lift_pieces(desk, rims.id, seen=rims.version, how_many=pieces).pieces if pieces else ()
        settle(desk, self.code)

    def bags(self) -> tuple[BagFacts, BagFacts]:
        rims, body = bag(self.desk, self.code)
        return rims, body

    def again(self, **said: object) -> None:
        """Reopen, change the body sherds, settle."""
        reopen(self.desk, self.code, reason="look again")
        seen = self.body.version
        self.body = change_group(self.desk, self.body.id, seen=seen, **said)  # type: ignore[arg-type]
        settle(self.desk, self.code)


def test_an_emptied_bag_lies_nowhere_and_its_box_may_go(store: Desk) -> None:
    its = Sorted(store)
    _rims, body = its.bags()
    put_into_box(store, "1", [body.code])
    take_away(store, [body.code], to="Drawing table")
    its.again(part="rim")
    bag(store, its.code)
    assert box_with_bags(store, "1").box.bags == 0
    assert out_now(store) == ()
    give_up_box(store, "1")
    its.again(part="body")
    again = {one.code: one.pieces for one in bag(store, its.code)}
    assert again[body.code] == 6, "the code is used again"
    assert where_it_is(store, body.code).box is None


def test_where_nothing_is_kept_any_more_no_bag_and_no_grams_are_left_in_the_box(store: Desk) -> None:
    its = Sorted(store)
    rims, body = its.bags()
    put_into_box(store, "1", [rims.code, body.code])
    reopen(store, its.code, reason="modern")
    for group in store_groups(store, its.code):
        change_group(store, group[0], seen=group[1], decision=Decision.DISCARD, reason="modern")
    settle(store, its.code)
    assert bags_of(store, its.code) == ()
    assert (box_with_bags(store, "1").box.bags, box_with_bags(store, "1").box.tenths) == (0, 0)


def store_groups(desk: Desk, code: str) -> list[tuple[int, int]]:
    return [(row.id, row.version) for row in table_of(desk, code).groups]


def test_a_bag_packed_anew_is_weighed_anew(store: Desk) -> None:
    its = Sorted(store)
    _rims, body = its.bags()
    put_into_box(store, "1", [body.code])
    weigh_bag(store, body.code, gross_tenths=900, volume_ml=700)
    assert box_with_bags(store, "1").box.tenths == 900
    its.again(tenths=500)
    bag(store, its.code)
    box = box_with_bags(store, "1").box
    assert (box.tenths, box.bags) == (500, 1)
    assert box.volume_ml < 700


def test_the_label_of_an_emptied_bag_waits_no_longer(store: Desk) -> None:
    its = Sorted(store)
    _rims, body = its.bags()
    print_labels(store, PrintKind.BAG, stock="a4-2x4-97x67")
    renumber_deposit(store, "2017", to="2117", reason="taken twice")
    assert body.code in [one.bag_code for one in things_to_redo(store)]
    its.again(part="rim")
    bag(store, its.code)
    assert body.code not in [one.bag_code for one in things_to_redo(store)]
    renumber_deposit(store, "2117", to="2118", reason="taken twice")
    assert body.code not in [one.bag_code for one in things_to_redo(store)]


def test_what_is_on_loan_is_not_opened_again(store: Desk) -> None:
    its = Sorted(store)
    rims, body = its.bags()
    put_into_box(store, "1", [rims.code])
    lent(store, body.code)
    with refused(store, "on_loan"):
        reopen(store, its.code, reason="look again")
    give_back(store, "1")
    lent(store, "box 1")
    with refused(store, "on_loan"):
        reopen(store, its.code, reason="look again")
    give_back(store, "2")
    reopen(store, its.code, reason="look again")
    with refused(store, "bag_is_open"):
        lent(store, body.code)


def test_a_lent_piece_stays_a_piece(store: Desk) -> None:
    its = Sorted(store, pieces=2)
    piece, other = its.pieces
    rims, _body = its.bags()
    lent(store, piece.code)
    give_back(store, "1")
    slip = write_slip(store, rims.code, piece=other.code, why="type series")
    take_slip_away(store, slip.number)
    reopen(store, its.code, reason="look again")
    for one in its.pieces:
        with refused(store, "piece_was_lent"):
            lay_back(store, one.id, seen=one.version)
    settle(store, its.code)


def test_what_lies_in_something_lent_is_not_lent_twice(store: Desk) -> None:
    its = Sorted(store, pieces=2)
    piece = its.pieces[0]
    lent(store, its.code)
    with refused(store, "on_loan"):
        lent(store, piece.code)
    give_back(store, "1")
    rims, _body = its.bags()
    put_into_box(store, "1", [rims.code])
    lent(store, rims.code)
    with refused(store, "on_loan"):
        lent(store, piece.code)
    give_back(store, "2")
    lent(store, "box 1")
    with refused(store, "on_loan"):
        lent(store, piece.code)
    give_back(store, "3")


def test_what_was_taken_out_before_does_not_leave_with_the_rest(store: Desk) -> None:
    its = Sorted(store, pieces=4)
    lent(store, its.pieces[0].code)
    assert lent(store, its.code).pieces == 9, "one of the ten is out by itself"
    give_back(store, "2")
    rims, body = its.bags()
    put_into_box(store, "1", [rims.code, body.code])
    write_slip(store, rims.code, piece=its.pieces[1].code, why="type series")
    third = lent(store, rims.code)
    assert third.pieces == 3, "a slip stands for the other"
    assert lent(store, "box 1").tenths == 600, "the bag of rims is out already"
    with refused(store, "on_loan"):
        lent(store, body.code)


def test_a_bag_of_slips_alone_is_not_lent(store: Desk) -> None:
    its = Sorted(store)
    rims, _body = its.bags()
    write_slip(store, rims.code, what="four rims", pieces=4, why="type series")
    with refused(store, "bag_is_empty"):
        lent(store, rims.code)


def test_a_lent_container_comes_back_by_its_loan(store: Desk) -> None:
    its = Sorted(store)
    lent(store, its.code)
    with refused(store, "on_loan"):
        come_back(store, its.code)
    give_back(store, "1")
    assert standing_of(store, its.code) is Standing.SETTLED


def test_a_piece_on_loan_is_not_discarded(store: Desk) -> None:
    its = Sorted(store, pieces=2)
    piece = its.pieces[0]
    lent(store, piece.code)
    reopen(store, its.code, reason="look again")
    change_piece(store, piece.id, seen=piece.version, decision=Decision.DISCARD, reason="modern")
    settle(store, its.code)
    with refused(store, "on_loan"):
        make_list(store)
    give_back(store, "1")
    assert [one.pieces for one in make_list(store).lines] == [1]


def test_what_analysis_uses_up_of_a_piece_leaves_its_bag_too(store: Desk) -> None:
    """Bag, box and balance say the same after a sherd was used up, by a sample or by the return of a loan."""
    its = Sorted(store, pieces=2)
    first, second = its.pieces
    rims, _body = its.bags()
    put_into_box(store, "1", [rims.code])
    weigh_bag(store, rims.code, gross_tenths=450)
    lent(store, first.code)
    give_back(store, "1", pieces=0, used_up=1)
    assert [one.pieces for one in bags_of(store, its.code) if one.code == rims.code] == [3]
    assert box_with_bags(store, "1").box.tenths == 350
    take_sample(store, second.code, what_for="thin section", taken_tenths=20)
    (bag_now,) = [one for one in bags_of(store, its.code) if one.code == rims.code]
    assert (bag_now.pieces, bag_now.tenths) == (3, 280)
    assert box_with_bags(store, "1").box.tenths == 330
