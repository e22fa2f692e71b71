"""The registers of vessels and of joins between pieces."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import and_, func, or_, select
from sqlalchemy.orm import aliased

from findsdesk.desk.container_register import says
from findsdesk.desk.desk import Reading
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.joins import JoinRow, join_rows
from findsdesk.desk.piece_register import of_containers
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.domain.natural_order import sort_key
from findsdesk.store.models import Container, Deposit, Piece, Season, SherdGroup, SherdJoin, Vessel


@dataclass(frozen=True, slots=True)
class VesselInRegister:
    """A vessel: its pieces, sherds of it in groups, where they come from, its rims and bases together (per mille)."""

    id: int
    version: int
    number: int
    for_mending: bool
    note: str
    pieces: int
    in_groups: int
    deposits: tuple[str, ...]
    seasons: tuple[str, ...]
    rim_permille: int
    base_permille: int


def _vessel_holds(word: str) -> Condition:
    holding = select(Piece.vessel_id).where(of_containers(word), Piece.vessel_id.is_not(None))
    return or_(Vessel.note.ilike(word, escape="/"), Vessel.id.in_(holding))


def _vessels_of_deposits(reading: Reading, values: Sequence[str]) -> Condition:
    ids = [deposit_of(reading.session, value).id for value in values]
    inside = select(Container.id).where(Container.deposit_id.in_(ids))
    return Vessel.id.in_(select(Piece.vessel_id).where(Piece.container_id.in_(inside), Piece.vessel_id.is_not(None)))


def _for_mending(_reading: Reading, values: Sequence[str]) -> Condition:
    return Vessel.for_mending.is_("yes" in values)


def _vessel_rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, VesselInRegister]:
    session = reading.session
    sums = {
        row.vessel_id: row
        for row in session.execute(
            select(
                Piece.vessel_id,
                func.sum(Piece.pieces).label("pieces"),
                func.coalesce(func.sum(Piece.rim_permille), 0).label("rim"),
                func.coalesce(func.sum(Piece.base_permille), 0).label("base"),
            )
            .where(Piece.vessel_id.in_(keys))
            .group_by(Piece.vessel_id)
        )
    }
    groups = {
        row.vessel_id: int(row.pieces)
        for row in session.execute(
            select(SherdGroup.vessel_id, func.sum(SherdGroup.pieces).label("pieces"))
            .where(SherdGroup.vessel_id.in_(keys))
            .group_by(SherdGroup.vessel_id)
        )
    }
    origins = _origins(reading, keys)
    rows = session.execute(select(Vessel).where(Vessel.id.in_(keys))).scalars()
    return {
        row.id: VesselInRegister(
            id=row.id,
            version=row.version,
            number=row.number,
            for_mending=row.for_mending,
            note=row.note,
            pieces=int(sums[row.id].pieces) if row.id in sums else 0,
            in_groups=groups.get(row.id, 0),
            deposits=tuple(sorted({deposit for deposit, _season in origins.get(row.id, ()) if deposit}, key=sort_key)),
            seasons=tuple(sorted({season for _deposit, season in origins.get(row.id, ())})),
            rim_permille=int(sums[row.id].rim) if row.id in sums else 0,
            base_permille=int(sums[row.id].base) if row.id in sums else 0,
        )
        for row in rows
    }


def _origins(reading: Reading, keys: Sequence[Key]) -> dict[int, list[tuple[str, str]]]:
    found: dict[int, list[tuple[str, str]]] = {}
    for vessel_id, deposit, season in reading.session.execute(
        select(Piece.vessel_id, Deposit.number, Season.name)
        .join(Container, Piece.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .where(Piece.vessel_id.in_(keys))
        .distinct()
    ):
        found.setdefault(int(vessel_id or 0), []).append((deposit or "", season))
    return found


VESSELS = Source(
    key=Vessel.id,
    sorts={"number": (Vessel.number,)},
    filters={"deposit": _vessels_of_deposits, "mending": _for_mending},
    holds_word=_vessel_holds,
    rows=_vessel_rows,
)


def _join_holds(word: str) -> Condition:
    ours = select(Piece.id).where(or_(says(Piece.search_text, word), of_containers(word)))
    return or_(SherdJoin.note.ilike(word, escape="/"), SherdJoin.left_id.in_(ours), SherdJoin.right_id.in_(ours))


def _joins_of_deposits(reading: Reading, values: Sequence[str]) -> Condition:
    ids = [deposit_of(reading.session, value).id for value in values]
    ours = select(Piece.id).join(Container, Piece.container_id == Container.id).where(Container.deposit_id.in_(ids))
    return or_(SherdJoin.left_id.in_(ours), SherdJoin.right_id.in_(ours))


def _certain(_reading: Reading, values: Sequence[str]) -> Condition:
    return SherdJoin.sure.is_("yes" in values)


def _across(_reading: Reading, values: Sequence[str]) -> Condition:
    left, right = aliased(Piece), aliased(Piece)
    one, other = aliased(Container), aliased(Container)
    crossing = (
        select(SherdJoin.id)
        .join(left, SherdJoin.left_id == left.id)
        .join(right, SherdJoin.right_id == right.id)
        .join(one, left.container_id == one.id)
        .join(other, right.container_id == other.id)
        .where(and_(one.deposit_id.is_distinct_from(other.deposit_id)))
    )
    return SherdJoin.id.in_(crossing) if "yes" in values else SherdJoin.id.not_in(crossing)


def _join_rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, JoinRow]:
    return {row.id: row for row in join_rows(reading.session, list(keys))}


JOINS = Source(
    key=SherdJoin.id,
    sorts={"found": (SherdJoin.found_at,)},
    filters={"deposit": _joins_of_deposits, "certain": _certain, "across": _across},
    holds_word=_join_holds,
    rows=_join_rows,
    newest_first=True,
)
