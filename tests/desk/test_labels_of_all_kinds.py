"""Slips, piece labels, box, place and loan labels: gathered, printed once, again with a reason as copy 2."""

from datetime import date

import pytest
from sqlalchemy import select

from findsdesk.desk.boxes import add_box, every_box
from findsdesk.desk.boxing import put_into_box, take_out_of_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.labels_waiting import labels_waiting
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.printing import PrintKind, came_out_well, gather, lay_out, read_back, reprint
from findsdesk.desk.proving import prove
from findsdesk.desk.redoing import Written, redo_done, things_to_redo
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.sorting import add_group
from findsdesk.desk.store_places import add_place
from findsdesk.domain.shelving import PlaceKind
from findsdesk.paper.label_kinds import BoxLabel, LoanLabel, PieceLabel, PlaceLabel, SlipLabel
from findsdesk.store.models import Bag, Box, Loan, PrintedLabel
from tests.desk.at_the_table import dry_container, refused
from tests.desk.test_printing import bagged, printed
from tests.yard import acts

SHEET = "a4-3x8-70x37"


def test_a_slip_says_what_its_bag_says_and_has_its_code(desk: Desk) -> None:
    codes = bagged(desk, 131)
    slips = gather(desk, PrintKind.SLIP)
    assert [one.code for one in slips.labels] == list(codes)
    first = slips.labels[0].label
    assert isinstance(first, SlipLabel)
    assert (first.deposit, first.container, first.pieces, first.tenths, first.copy) == ("2017", "131", 3, 600, 1)


def test_a_piece_label_names_the_piece_and_its_container(desk: Desk) -> None:
    code = dry_container(desk, 131, 10)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=3, tenths=600, rim_permille=None)
    lift_pieces(desk, row.id, seen=row.version, how_many=1)
    (label,) = (one.label for one in gather(desk, PrintKind.PIECE).labels)
    assert isinstance(label, PieceLabel)
    assert (label.deposit, label.container, label.piece) == ("2017", "131", "1")
    assert label.what.startswith("QRS")
    assert gather(desk, PrintKind.PIECE, ["131.1"]).labels[0].label == label


def test_a_piece_label_waits_when_its_context_is_renumbered_until_it_is_printed_again(desk: Desk) -> None:
    """What is written with the old number comes out as to write again, a piece's label too."""
    code = dry_container(desk, 131, 10)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=3, tenths=600, rim_permille=None)
    lift_pieces(desk, row.id, seen=row.version, how_many=2)
    first, second = (one.code for one in gather(desk, PrintKind.PIECE).labels)
    came_out_well(desk, lay_out(desk, gather(desk, PrintKind.PIECE, [first]), stock=SHEET))

    asked = renumber_deposit(desk, "2017", to="2041", reason="misread").asked

    assert asked.piece_labels == 1
    (thing,) = (one for one in things_to_redo(desk) if one.what is Written.PIECE)
    assert (thing.stands_on, thing.said.split(" · ")[:3]) == (first, ["2017", "131", "1"])
    assert thing.says_now.split(" · ")[:3] == ["2041", "131", "1"]
    came_out_well(desk, lay_out(desk, gather(desk, PrintKind.PIECE, [second]), stock=SHEET))
    assert thing in things_to_redo(desk)
    done = came_out_well(desk, reprint(desk, [first], reason="changed", stock=SHEET, kind=PrintKind.PIECE))
    assert done.redone == 1
    assert thing not in things_to_redo(desk)
    assert prove(desk).sound


def test_boxes_and_places_have_labels_and_know_their_copy(desk: Desk) -> None:
    add_place(desk, name="Store", kind=PlaceKind.BUILDING)
    shelf = add_place(desk, name="Shelf 3", kind=PlaceKind.SHELF, within="Store")
    (box,) = add_box(desk, kind="sherds", place=shelf.code)
    boxes, places = gather(desk, PrintKind.BOX), gather(desk, PrintKind.PLACE)
    label = boxes.labels[0].label
    assert isinstance(label, BoxLabel)
    assert (label.code, label.number) == (box.code, str(box.number))
    on_the_shelf = next(one.label for one in places.labels if one.code == shelf.code)
    assert on_the_shelf == PlaceLabel(shelf.code, "Shelf 3", ("Store",))
    for batch in (boxes, places):
        came_out_well(desk, lay_out(desk, batch, stock=SHEET))
    with desk.reading() as reading:
        assert [one.label_copy for one in every_box(reading.session)] == [1]
    assert gather(desk, PrintKind.BOX).labels == ()
    assert prove(desk).sound


def test_a_loan_label_says_to_whom_and_until_when(desk: Desk) -> None:
    with desk.deed("lend") as deed:
        deed.add(
            Loan(
                code="TQA000001X",
                number=1,
                borrower="Glass workshop",
                borrower_kind="specialist",
                purpose="drawing",
                lent_on=date(2026, 7, 14),
                due_on=date(2026, 8, 14),
                made_at=desk.now(),
            )
        )
    (label,) = (one.label for one in gather(desk, PrintKind.LOAN).labels)
    assert isinstance(label, LoanLabel)
    assert (label.to_whom, label.purpose, label.due) == ("Glass workshop", "drawing", date(2026, 8, 14))


@pytest.mark.parametrize("kind", [PrintKind.SLIP, PrintKind.BAG])
def test_nothing_is_printed_twice_silently_and_a_reprint_says_copy_2(desk: Desk, kind: PrintKind) -> None:
    codes = bagged(desk, 131)
    came_out_well(desk, lay_out(desk, gather(desk, kind), stock=SHEET))
    assert gather(desk, kind).labels == ()
    before = acts(desk)
    with refused(desk, "label_printed" if kind is PrintKind.SLIP else "already_labelled"):
        gather(desk, kind, codes[:1])
    assert acts(desk) == before
    again = reprint(desk, codes[:1], reason="jammed", stock=SHEET, kind=kind)
    assert [one.copy for one in again.placed] == [2]
    came_out_well(desk, again)
    assert printed(desk)[-1] == (str(kind), codes[0], 1, 1, 2, "jammed")
    with refused(desk, "printed_meanwhile"):
        came_out_well(desk, again)


def test_a_box_is_reprinted_from_its_scanned_code(desk: Desk) -> None:
    (box,) = add_box(desk, kind="sherds")
    came_out_well(desk, lay_out(desk, gather(desk, PrintKind.BOX), stock=SHEET))
    sheets = reprint(desk, [box.code], reason="lost", stock=SHEET)
    assert sheets.kind is PrintKind.BOX
    came_out_well(desk, sheets)
    with desk.reading() as reading:
        assert reading.session.get_one(Box, box.id).label_copy == 2
        assert reading.session.query(PrintedLabel).filter_by(container_id=None).count() == 2


def test_two_of_each_stand_side_by_side_and_are_one_copy(desk: Desk) -> None:
    codes = bagged(desk, 131)
    sheets = lay_out(desk, gather(desk, PrintKind.BAG), stock=SHEET, copies=2)
    assert sheets.codes == (codes[0], codes[0], codes[1], codes[1])
    assert {one.copy for one in sheets.placed} == {1}
    assert read_back(sheets).all_well
    assert came_out_well(desk, sheets).codes == codes
    assert len(printed(desk)) == 4
    assert gather(desk, PrintKind.BAG).labels == ()
    assert [one.copy for one in reprint(desk, codes[:1], reason="lost", stock=SHEET).placed] == [2]


@pytest.mark.parametrize("copies", [0, -1, 21, 1_000_000])
def test_as_many_copies_as_nobody_means_are_refused(desk: Desk, copies: int) -> None:
    bagged(desk, 131)
    with refused(desk, "no_such_copies"):
        lay_out(desk, gather(desk, PrintKind.BAG), stock=SHEET, copies=copies)


def test_what_lies_in_a_bag_and_on_a_box_waits_when_its_context_is_renumbered(desk: Desk) -> None:
    """A slip inside and a box's label say the old number too; both wait until they are printed or written again."""
    code, _other = bagged(desk, 131)
    (box,) = add_box(desk, kind="sherds")
    put_into_box(desk, box.code, [code])
    for kind in (PrintKind.SLIP, PrintKind.BOX):
        came_out_well(desk, lay_out(desk, gather(desk, kind), stock=SHEET))
    assert things_to_redo(desk) == ()

    asked = renumber_deposit(desk, "2017", to="2041", reason="misread").asked

    assert (asked.inside, asked.boxes) == (2, 1)
    waiting = {one.what: one for one in things_to_redo(desk)}
    assert waiting[Written.INSIDE].says_now.startswith("2041 · 131")
    on_box = waiting[Written.BOX]
    assert (on_box.code, on_box.said, on_box.says_now) == (
        box.code,
        "Sherds · 2017: 131 · 0.1 kg",
        "Sherds · 2041: 131 · 0.1 kg",
    )
    assert labels_waiting(desk).again == sum(one.pieces for one in things_to_redo(desk))
    again = came_out_well(desk, reprint(desk, [box.code], reason="changed", stock=SHEET))
    slips = came_out_well(desk, reprint(desk, bags_of(desk), reason="changed", stock=SHEET, kind=PrintKind.SLIP))
    assert (again.redone, slips.redone) == (1, 2)
    assert {Written.INSIDE, Written.BOX} & {one.what for one in things_to_redo(desk)} == set()
    assert prove(desk).sound


def test_a_box_waits_for_its_label_when_something_else_lies_in_it(desk: Desk) -> None:
    one, other = bagged(desk, 131)
    (box,) = add_box(desk, kind="sherds")
    put_into_box(desk, box.code, [one])
    sheets = lay_out(desk, gather(desk, PrintKind.BOX), stock=SHEET)
    put_into_box(desk, box.code, [other])
    came_out_well(desk, sheets)
    (thing,) = things_to_redo(desk)
    assert "131 (2)" in thing.says_now, "it was packed while its label was printed"
    take_out_of_box(desk, [other])
    assert things_to_redo(desk) == (), "the label is true again"
    take_out_of_box(desk, [one])
    (thing,) = things_to_redo(desk)
    assert redo_done(desk, [thing.id]) == 1
    assert things_to_redo(desk) == ()
    assert prove(desk).sound


def bags_of(desk: Desk) -> list[str]:
    """Return the codes of all bags, in the order they were made."""
    with desk.reading() as reading:
        return list(reading.session.execute(select(Bag.code).order_by(Bag.id)).scalars())
