"""The registers of boxes, places and loans."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import and_, exists, or_, select

from findsdesk.desk.box_kinds import box_rule
from findsdesk.desk.boxes import BoxFacts, box_rows
from findsdesk.desk.container_register import coded, container_says, deposits_numbered
from findsdesk.desk.desk import Reading
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.finding_shelves import parents_of, place_of
from findsdesk.desk.loan_rows import LoanFacts, loan_rows
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.desk.shelves import PlaceInTree, tree_rows
from findsdesk.domain.lending import BorrowerKind
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import PlaceKind, all_within
from findsdesk.store.models import Bag, Box, Container, Loan, LoanLine, Place, TakenOut
from findsdesk.words import N_


def _boxes_holding(condition: Condition) -> Condition:
    lying = select(Bag.box_id).join(Container, Bag.container_id == Container.id).where(Bag.pieces > 0, condition)
    return Box.id.in_(lying)


def _box_holds(word: str) -> Condition:
    places = select(Place.id).where(Place.name_folded.like(word, escape="/"))
    return or_(
        coded(Box.code, word),
        Box.note.ilike(word, escape="/"),
        Box.place_id.in_(places),
        _boxes_holding(container_says(word)),
        _boxes_holding(Container.deposit_id.in_(deposits_numbered(word))),
        *([Box.number == int(word.strip("%"))] if word.strip("%").isdecimal() and len(word) < 12 else []),
    )


def _boxes_of_deposits(reading: Reading, values: Sequence[str]) -> Condition:
    return _boxes_holding(Container.deposit_id.in_([deposit_of(reading.session, value).id for value in values]))


def _boxes_at(reading: Reading, values: Sequence[str]) -> Condition:
    parents = parents_of(reading.session)
    inside = [all_within(place_of(reading.session, reading.desk, value).id, parents) for value in values]
    return Box.place_id.in_(frozenset().union(*inside))


def _boxes_of_kinds(_reading: Reading, values: Sequence[str]) -> Condition:
    return Box.kind.in_([box_rule(value).key for value in values])


def _boxes_away(_reading: Reading, values: Sequence[str]) -> Condition:
    taken = exists().where(TakenOut.box_id == Box.id, TakenOut.back_at.is_(None))
    lent = exists().where(LoanLine.box_id == Box.id, LoanLine.back_on.is_(None))
    return or_(taken, lent) if "yes" in values else ~or_(taken, lent)


def _boxes_in_use(_reading: Reading, values: Sequence[str]) -> Condition:
    return Box.gone_at.is_(None) if "yes" in values else Box.gone_at.is_not(None)


def _box_rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, BoxFacts]:
    return {row.id: row for row in box_rows(reading.session, keys)}


BOXES = Source(
    key=Box.id,
    sorts={"number": (Box.number,), "code": (Box.code,), "made": (Box.made_at,)},
    filters={
        "place": _boxes_at,
        "box_kind": _boxes_of_kinds,
        "deposit": _boxes_of_deposits,
        "out": _boxes_away,
        "in_use": _boxes_in_use,
    },
    holds_word=_box_holds,
    rows=_box_rows,
)


def _place_holds(word: str) -> Condition:
    return or_(
        Place.name_folded.like(word, escape="/"),
        coded(Place.code, word),
        Place.note.ilike(word, escape="/"),
    )


def _places_of_kinds(_reading: Reading, values: Sequence[str]) -> Condition:
    return Place.kind.in_([_of_enum(PlaceKind, value) for value in values])


def _places_within(reading: Reading, values: Sequence[str]) -> Condition:
    parents = parents_of(reading.session)
    inside = [all_within(place_of(reading.session, reading.desk, value).id, parents) for value in values]
    return Place.id.in_(frozenset().union(*inside))


def _place_rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, PlaceInTree]:
    wanted = frozenset(keys)
    return {row.id: row for row in tree_rows(reading.session, gone=True) if row.id in wanted}


PLACES = Source(
    key=Place.id,
    sorts={"name": (Place.name_key,), "code": (Place.code,)},
    filters={"place_kind": _places_of_kinds, "place": _places_within},
    holds_word=_place_holds,
    rows=_place_rows,
)


def _loan_holds(word: str) -> Condition:
    lent = (
        select(LoanLine.loan_id)
        .join(Bag, LoanLine.bag_id == Bag.id)
        .join(Container, Bag.container_id == Container.id)
        .where(or_(coded(Bag.code, word), container_says(word)))
    )
    said = (Loan.borrower, Loan.purpose, Loan.note, Loan.permit)
    return or_(
        coded(Loan.code, word),
        *(column.ilike(word, escape="/") for column in said),
        Loan.id.in_(lent),
    )


def _loans_standing(reading: Reading, values: Sequence[str]) -> Condition:
    today = reading.now.astimezone(reading.desk.facts.zone).date()
    conditions: dict[str, Condition] = {
        "out": Loan.back_on.is_(None),
        "overdue": and_(Loan.back_on.is_(None), Loan.due_on < today),
        "back": Loan.back_on.is_not(None),
    }
    return or_(*(conditions[_one_of(tuple(conditions), value)] for value in values))


def _loans_to_kinds(_reading: Reading, values: Sequence[str]) -> Condition:
    return Loan.borrower_kind.in_([_of_enum(BorrowerKind, value) for value in values])


def _of_enum(kind: Any, value: str) -> str:
    return _one_of(tuple(str(one.value) for one in kind), value)


def _one_of(known: tuple[str, ...], value: str) -> str:
    """Return a value of a filter; refuses one there is not (``unknown_value``)."""
    if value not in known:
        raise Refusal(
            "unknown_value",
            N_("“{value}” is nothing to choose here. There are: {known}."),
            value=value,
            known=", ".join(known),
        )
    return value


def _loan_rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, LoanFacts]:
    return {row.id: row for row in loan_rows(reading, keys)}


LOANS = Source(
    key=Loan.id,
    sorts={"number": (Loan.number,), "due": (Loan.due_on,), "lent": (Loan.lent_on,)},
    filters={"loan": _loans_standing, "borrower_kind": _loans_to_kinds},
    holds_word=_loan_holds,
    rows=_loan_rows,
)
