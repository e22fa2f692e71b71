"""What a scanned label of the store stands for: a box with its bags, a place with its boxes, a loan with its lines."""

from __future__ import annotations

from collections.abc import Callable

from findsdesk.desk.boxing import BoxWithBags, box_with_bags
from findsdesk.desk.desk import Desk
from findsdesk.desk.loan_rows import LoanFacts
from findsdesk.desk.loans import loan_named
from findsdesk.desk.shelves import PlaceWithBoxes, place_with_boxes
from findsdesk.domain.codes import Code, Kind, could_be_code, read_code

InStore = BoxWithBags | PlaceWithBoxes | LoanFacts


def found_in_store(desk: Desk, scanned: str) -> InStore | None:
    """Return what the code of a box, a place or a loan stands for; None for anything else.

    Refusals: ``wrong_check_character``, ``foreign_code``, those of finding the box, place or loan.
    """
    if not could_be_code(scanned):
        return None
    code = read_code(scanned, desk.facts.code)
    return coded_in_store(desk, code) if code.kind in _FINDERS else None


def coded_in_store(desk: Desk, code: Code) -> InStore:
    """Return what the code of a box, a place or a loan stands for; KeyError for a code of anything else.

    Refusals: those of finding the box, place or loan.
    """
    return _FINDERS[code.kind](desk, code.text)


_FINDERS: dict[Kind, Callable[[Desk, str], InStore]] = {
    Kind.BOX: box_with_bags,
    Kind.PLACE: place_with_boxes,
    Kind.LOAN: loan_named,
}
