"""What a scanned label of the store stands for: a box with its bags, a place with its boxes, a loan with its lines."""

from __future__ import annotations

from findsdesk.desk.boxing import BoxWithBags, box_with_bags
from findsdesk.desk.desk import Desk
from findsdesk.desk.loan_rows import LoanFacts
from findsdesk.desk.loans import loan_named
from findsdesk.desk.shelves import PlaceWithBoxes, place_with_boxes
from findsdesk.domain.codes import Kind, could_be_code, read_code

InStore = BoxWithBags | PlaceWithBoxes | LoanFacts


def found_in_store(desk: Desk, scanned: str) -> InStore | None:
    """Return what the code of a box, a place or a loan stands for; None for anything else.

    Refusals: ``wrong_check_character``, ``foreign_code``, those of finding the box, place or loan.
    """
    if not could_be_code(scanned):
        return None
    kind = read_code(scanned, desk.facts.code).kind
    if kind is Kind.BOX:
        return box_with_bags(desk, scanned)
    if kind is Kind.PLACE:
        return place_with_boxes(desk, scanned)
    return loan_named(desk, scanned) if kind is Kind.LOAN else None
