"""What is open at the end of a season: one statement for each question, all with the same columns.

``subject`` and ``id`` name the row, ``container_id`` what it is of (None where it is of no container), ``season_id``
whose work it is, ``sort`` the order, ``number`` and ``part`` how it is called, ``pieces`` how many pieces it means.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sqlalchemy import ColumnElement, Integer, String, cast, func, literal, null, or_, select, union_all

from findsdesk.desk.listed_discards import standing_lines
from findsdesk.desk.mark_sums import unmarked_sherds
from findsdesk.desk.season_end_asking import Asking, Statement, columns_of
from findsdesk.desk.season_end_shelves import missing_on_shelves, not_arrived_on_shelves, on_loan, taken_out
from findsdesk.desk.shipped import routes
from findsdesk.desk.unlisted_discards import SETTLED, unlisted_sherds
from findsdesk.desk.wanting_why import wants_why
from findsdesk.domain.routes import Standing
from findsdesk.store.models import (
    Bag,
    BalanceTotal,
    Clash,
    Container,
    Count,
    Deposit,
    DiscardLine,
    DiscardList,
    FoundObject,
    Note,
    Photo,
    Piece,
    PotteryReading,
    Redo,
    RowSetAside,
    SherdGroup,
    TakenList,
)

_NOBODY = cast(null(), Integer)
_OF_B = (BalanceTotal.container_id == Container.id) & (BalanceTotal.material == Container.material)
_CAME_IN = BalanceTotal.counted + BalanceTotal.found_more + BalanceTotal.arrived
_WENT = (
    BalanceTotal.kept
    + BalanceTotal.on_hold
    + BalanceTotal.to_discard
    + BalanceTotal.discarded
    + BalanceTotal.used_up
    + BalanceTotal.moved_out
    + BalanceTotal.not_a_sherd
    + BalanceTotal.not_found
)
_LEFT = func.coalesce(_CAME_IN - _WENT, 0)


def _containers(*where: Any) -> Statement:
    return (
        select(*columns_of("container", Container.id, pieces=func.coalesce(_CAME_IN, 0)))
        .outerjoin(BalanceTotal, _OF_B)
        .where(*where)
    )


def _standing(*standings: Standing) -> ColumnElement[bool]:
    return Container.standing.in_(standings)


def _materials(that: str) -> ColumnElement[bool]:
    return Container.material.in_([key for key, route in routes().items() if getattr(route, that)])


def _tags_out(_asks: Asking) -> Statement:
    return _containers(_standing(Standing.ISSUED))


def _not_arrived(_asks: Asking) -> Statement:
    return _containers(_standing(Standing.LISTED, Standing.MISSING))


def _question_open(asks: Asking) -> Statement:
    of_notes = select(*columns_of("note", Note.id)).join(Container).where(Note.answered_at.is_(None))
    waits = (PotteryReading.look_again.is_(True), PotteryReading.looked_again_at.is_(None))
    of_container = select(*columns_of("reading", PotteryReading.id)).join(
        Container, PotteryReading.container_id == Container.id
    )
    of_deposit = select(
        *columns_of(
            "reading_of_deposit",
            PotteryReading.id,
            container_id=_NOBODY,
            season_id=asks.by_moment(PotteryReading.read_at),
            sort=Deposit.number_key,
            number=Deposit.number,
        )
    ).join(Deposit, PotteryReading.deposit_id == Deposit.id)
    return union_all(of_notes, of_container.where(*waits), of_deposit.where(*waits))


def _rows_aside(asks: Asking) -> Statement:
    taken = select(TakenList.digest, func.min(TakenList.taken_at).label("at")).group_by(TakenList.digest).subquery()
    return (
        select(
            *columns_of(
                "row_set_aside",
                RowSetAside.id,
                container_id=_NOBODY,
                season_id=asks.by_moment(taken.c.at),
                sort=RowSetAside.file_name,
                number=RowSetAside.file_name,
                part=RowSetAside.line_number,
            )
        )
        .outerjoin(taken, taken.c.digest == RowSetAside.digest)
        .where(RowSetAside.answered_at.is_(None))
    )


def _clashes(asks: Asking) -> Statement:
    number = cast(Clash.id, String)
    return select(
        *columns_of(
            "clash",
            Clash.id,
            container_id=_NOBODY,
            season_id=asks.by_moment(Clash.found_at),
            sort=number,
            number=number,
        )
    ).where(Clash.decided_at.is_(None))


def _untagged(_asks: Asking) -> Statement:
    return _containers(Container.provisional.is_(True), ~_standing(Standing.VOID, Standing.JOINED))


def _deposits_open(asks: Asking) -> Statement:
    return select(
        *columns_of(
            "deposit",
            Deposit.id,
            container_id=_NOBODY,
            season_id=asks.by_day(Deposit.opened),
            sort=Deposit.number_key,
            number=Deposit.number,
        )
    ).where(Deposit.closed.is_(None), Deposit.merged_into_id.is_(None))


def _held(_asks: Asking) -> Statement:
    return _containers(Container.held_for.is_not(None))


def unwashed() -> Statement:
    """Return the containers that no water or brush has touched."""
    return _containers(_standing(Standing.ARRIVED))


def _wet(_asks: Asking) -> Statement:
    washed = _standing(Standing.WASHED) & _materials("wash")
    return _containers(or_(_standing(Standing.SOAKING, Standing.DRYING), washed))


_HERE_UNSORTED = (
    Standing.ARRIVED,
    Standing.SOAKING,
    Standing.WASHED,
    Standing.DRYING,
    Standing.DRY,
    Standing.SORTING,
    Standing.AWAY,
)


def _uncounted(_asks: Asking) -> Statement:
    counted = select(Count.id).where(Count.container_id == Container.id)
    return _containers(_standing(*_HERE_UNSORTED), _materials("counted"), ~counted.exists())


def _unsorted(_asks: Asking) -> Statement:
    left_away = _standing(Standing.AWAY) & (_LEFT > 0)
    return _containers(_materials("sorted_here"), or_(_standing(Standing.DRY, Standing.SORTING), left_away))


def unread() -> Statement:
    """Return the sorted containers of which, or of whose deposit, nobody wrote a reading."""
    read = select(PotteryReading.id).where(PotteryReading.container_id == Container.id)
    read_whole = select(PotteryReading.id).where(PotteryReading.deposit_id == Container.deposit_id)
    return _containers(
        _materials("sorted_here"),
        _standing(Standing.SETTLED, Standing.BAGGED, Standing.AWAY),
        ~read.exists(),
        ~read_whole.exists(),
    )


def _unbalanced(_asks: Asking) -> Statement:
    any_material = BalanceTotal.container_id == Container.id
    at_its_end = _standing(Standing.SETTLED, Standing.BAGGED, Standing.CLOSED) & (_CAME_IN != _WENT)
    return (
        select(*columns_of("container", Container.id, pieces=func.sum(func.abs(_CAME_IN - _WENT))))
        .join(BalanceTotal, any_material)
        .where(or_(at_its_end, _WENT > _CAME_IN))
        .group_by(Container.id)
    )


def _rows_unexplained(_asks: Asking) -> Statement:
    return (
        select(*columns_of("container", Container.id, pieces=func.sum(SherdGroup.pieces)))
        .join(SherdGroup, SherdGroup.container_id == Container.id)
        .where(*wants_why(SherdGroup))
        .group_by(Container.id)
    )


def _discards_unlisted(_asks: Asking) -> Statement:
    sherds = unlisted_sherds()
    return (
        select(*columns_of("container", Container.id, pieces=func.sum(sherds.c.pieces)))
        .join(sherds, sherds.c.container_id == Container.id)
        .where(Container.standing.in_(SETTLED))
        .group_by(Container.id)
    )


def _lists(*where: Any) -> Statement:
    return (
        select(
            *columns_of(
                "discard_list",
                DiscardList.id,
                container_id=_NOBODY,
                season_id=DiscardList.season_id,
                sort=cast(DiscardList.number + 1_000_000, String),
                number=cast(DiscardList.number, String),
                pieces=func.sum(DiscardLine.pieces),
            )
        )
        .join(DiscardLine, DiscardLine.list_id == DiscardList.id)
        .where(DiscardList.carried_at.is_(None), *standing_lines(), *where)
        .group_by(DiscardList.id)
    )


def _unmarked(asks: Asking) -> Statement:
    left = unmarked_sherds(asks.desk.facts.settings)
    return select(*columns_of("container", Container.id, pieces=left.c.sherds)).join(
        left, left.c.container_id == Container.id
    )


def _to_write_again(_asks: Asking) -> Statement:
    return select(*columns_of("redo", Redo.id, pieces=Redo.pieces)).join(Container).where(Redo.done_at.is_(None))


def _unbagged(_asks: Asking) -> Statement:
    stays = BalanceTotal.kept + BalanceTotal.on_hold
    return _containers(_standing(Standing.SETTLED), stays > 0)


def _bags(*where: Any) -> Statement:
    return select(*columns_of("bag", Bag.id, sort=Bag.code, number=Bag.code, pieces=Bag.pieces)).join(
        Container, Bag.container_id == Container.id
    ).where(*where)  # fmt: skip


def _pieces(*where: Any) -> Statement:
    return select(*columns_of("piece", Piece.id, part=Piece.number, pieces=Piece.pieces)).join(Container).where(*where)


def _no_photo(_asks: Asking) -> Statement:
    taken = select(Photo.id).where(Photo.piece_id == Piece.id)
    of_object = select(Photo.id).where(Photo.object_id == FoundObject.id)
    objects = (
        select(
            *columns_of(
                "found_object",
                FoundObject.id,
                sort=cast(FoundObject.number + 1_000_000, String),
                season_id=FoundObject.season_id,
                number=cast(FoundObject.number, String),
                pieces=literal(1),
            )
        )
        .join(Container)
        .where(~of_object.exists())
    )
    return union_all(_pieces(Piece.photo_wanted.is_(True), ~taken.exists()), objects)


QUESTIONS: dict[str, Callable[[Asking], Statement]] = {
    "tags_out": _tags_out,
    "not_arrived": _not_arrived,
    "question_open": _question_open,
    "rows_aside": _rows_aside,
    "clashes": _clashes,
    "untagged": _untagged,
    "deposits_open": _deposits_open,
    "held": _held,
    "unwashed": lambda _asks: unwashed(),
    "wet": _wet,
    "uncounted": _uncounted,
    "unsorted": _unsorted,
    "unread": lambda _asks: unread(),
    "unbalanced": _unbalanced,
    "rows_unexplained": _rows_unexplained,
    "pieces_unexplained": lambda _asks: _pieces(*wants_why(Piece)),
    "discards_unlisted": _discards_unlisted,
    "discards_unsigned": lambda _asks: _lists(DiscardList.signed_at.is_(None)),
    "discards_here": lambda _asks: _lists(DiscardList.signed_at.is_not(None)),
    "unmarked": _unmarked,
    "to_write_again": _to_write_again,
    "unbagged": _unbagged,
    "unlabelled": lambda _asks: _bags(Bag.label_copy == 0),
    "unboxed": lambda _asks: _bags(Bag.box_id.is_(None)),
    "taken_out": taken_out,
    "missing_on_shelves": missing_on_shelves,
    "on_the_way": not_arrived_on_shelves,
    "on_loan": on_loan,
    "no_photo": _no_photo,
    "no_drawing": lambda _asks: _pieces(Piece.drawing_wanted.is_(True), Piece.drawing == ""),
}
"""How each question of resources/hand_over.toml is put to the store."""
