"""The register of bags: each by its own code, with the container it comes from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import or_, select

from findsdesk.desk.container_register import is_bare_number, of_container
from findsdesk.desk.desk import Reading
from findsdesk.desk.filters_of_finds import by_origin, out_of
from findsdesk.desk.finding_shelves import box_of
from findsdesk.desk.lying import tree_of
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.store.models import Bag, Box, Container, Deposit, Season, Square


@dataclass(frozen=True, slots=True)
class BagInRegister:
    """One bag; ``label_copy`` 0 means not yet labelled; tenths of a gram, dry."""

    id: int
    version: int
    code: str
    what: str
    pieces: int
    tenths: int | None
    packed_at: datetime
    label_copy: int
    labelled_at: datetime | None
    container_code: str
    container: str
    material: str
    deposit: str
    square: str
    season: str
    box: int | None
    """The number of the box it lies in."""
    place: str
    """Where it, or its box, belongs: names from the outside in."""


def _holds_word(word: str) -> Condition:
    come_from = out_of(Bag.container_id, of_container(word))
    if is_bare_number(word):
        return come_from
    codes = select(Bag.id).where(Bag.code.like(word.upper(), escape="/"))
    return or_(Bag.id.in_(codes), come_from)


def _what(_reading: Reading, values: Sequence[str]) -> Condition:
    return Bag.what.in_(values)


def _labelled(_reading: Reading, values: Sequence[str]) -> Condition:
    return Bag.labelled_at.is_not(None) if "yes" in values else Bag.labelled_at.is_(None)


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, BagInRegister]:
    found = reading.session.execute(
        select(
            Bag,
            Container.code,
            Container.number,
            Container.material,
            Deposit.number,
            Square.name,
            Season.name,
            Box.number,
            Box.place_id,
        )
        .join(Container, Bag.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Box, Bag.box_id == Box.id)
        .where(Bag.id.in_(keys))
    ).all()
    tree = tree_of(reading.session)
    return {
        row.id: BagInRegister(
            id=row.id,
            version=row.version,
            code=row.code,
            what=row.what,
            pieces=row.pieces,
            tenths=row.tenths,
            packed_at=row.packed_at,
            label_copy=row.label_copy,
            labelled_at=row.labelled_at,
            container_code=code,
            container=number,
            material=material,
            deposit=deposit or "",
            square=square or "",
            season=season,
            box=box,
            place=tree.path(row.place_id if row.box_id is None else box_at),
        )
        for row, code, number, material, deposit, square, season, box, box_at in found
    }


def _in_boxes(reading: Reading, values: Sequence[str]) -> Condition:
    """Return the condition of lying in one of these boxes; "no" stands for bags that lie in none."""
    numbers = [value for value in values if value != "no"]
    inside = Bag.box_id.in_([box_of(reading.session, reading.desk, value).id for value in numbers])
    return or_(inside, Bag.box_id.is_(None)) if "no" in values else inside


BAGS = Source(
    key=Bag.id,
    sorts={"code": (Bag.code,), "packed": (Bag.packed_at,), "labelled": (Bag.labelled_at,)},
    filters={
        **by_origin(Bag.container_id),
        "what": _what,
        "labelled": _labelled,
        "box": _in_boxes,
    },
    holds_word=_holds_word,
    rows=_rows,
)
