"""Papers of the store, read back from their PDF: box list, loan form and return, transport list."""

from __future__ import annotations

from datetime import date

import pypdfium2
import pytest

from findsdesk.desk.all_papers import make_paper
from findsdesk.desk.boxes import add_box
from findsdesk.desk.boxing import put_into_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.loan_returns import give_back
from findsdesk.desk.loans import lend
from findsdesk.desk.sheets import PrintedList
from findsdesk.desk.store_sheets import box_sheet, loan_sheet, transport_sheet
from findsdesk.desk.transports import move_things
from findsdesk.desk.washing import hand_on
from findsdesk.desk.whole_papers import Asked
from findsdesk.domain.lending import BorrowerKind
from tests.desk.at_the_table import refused
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.yard import DRY, put_container


def text_of(made: PrintedList) -> str:
    document = pypdfium2.PdfDocument(made.pdf)
    try:
        return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in document)
    finally:
        document.close()


@pytest.fixture
def store(desk: Desk) -> Desk:
    """Two boxes, three bags in the first; a bag of 22 pieces of glass on loan."""
    furnish_store(desk)
    add_box(desk, kind="sherds", place="Shelf 1", how_many=2)
    put_into_box(desk, "1", put_bags(desk, 131, [2_000, 1_500, 700.5]))
    lend(
        desk,
        put_bags(desk, 132, [84], material="glass", pieces=22),
        borrower="Nela Trost",
        kind=BorrowerKind.SPECIALIST,
        purpose="glass report",
        due_on=date(2026, 8, 20),
        condition="sound",
        address="Vesmar museum",
    )
    return desk


def test_the_box_list_agrees_with_the_boxes(store: Desk) -> None:
    made = make_paper(store, "boxes")
    said = text_of(made)
    assert (made.title, made.rows) == ("Box list", 2)
    assert "Box 1 · Dig house › Store › Shelf 1 · TQX0000" in said
    assert "4.2 of 10 kg" in said
    assert "700.5" in said
    assert "Lift with two hands" in said
    assert "empty" in said
    one = box_sheet(store, Asked(), boxes=["1"], signed=True)
    assert one.rows == 1
    assert "Received by" in text_of(one)
    with refused(store, "unknown_box"):
        box_sheet(store, Asked(), boxes=["9"])


def test_the_loan_form_and_the_return(store: Desk) -> None:
    said = text_of(loan_sheet(store, "1"))
    for word in ("Loan 1", "Nela Trost (specialist)", "Vesmar museum", "glass report", "2026-08-20", "sound", "132",
                 "22", "84.0", "Lent by"):  # fmt: skip
        assert word in said
    give_back(store, "1", pieces=21)
    back = text_of(loan_sheet(store, "1", coming_back=True))
    assert "Return of loan 1" in back
    assert "Pieces still out when this was printed: 1." in back
    with refused(store, "unknown_loan"):
        loan_sheet(store, "7")


def test_the_transport_list_is_for_both_ends(store: Desk) -> None:
    moved = move_things(store, ["Shelf 1"], to="Drawing room", scanned=["1", "2"], note="trolley")
    made = transport_sheet(store, moved.number)
    said = text_of(made)
    for word in ("Transport 1", "To Dig house › Drawing room", "The whole of Shelf 1 moves.", "trolley", "4.2",
                 "scanned", "Sent by", "Received by", "Lift with two hands"):  # fmt: skip
        assert word in said
    with refused(store, "unknown_transport"):
        transport_sheet(store, 9)


def test_what_was_handed_on_to_a_shelf_of_ours_is_not_off_site(store: Desk) -> None:
    hand_on(store, put_container(store, 133, steps=DRY), to="shelf 3", note="unread")
    hand_on(store, put_container(store, 134, steps=DRY), to="Vesmar museum")
    off_site = text_of(make_paper(store, "inspector", Asked())).partition("Off site and in hand")[2]
    assert "bucket 134" in off_site
    assert "Vesmar museum" in off_site
    assert "bucket 133" not in off_site
