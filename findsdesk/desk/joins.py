"""Joins: two pieces that fit together, wherever they lie; parted again; and what joins between deposits say."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import or_, select
from sqlalchemy.orm import Session, aliased

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask, refuse_if_moved
from findsdesk.desk.finding_pieces import piece_of, piece_there
from findsdesk.desk.piece_rows import piece_name
from findsdesk.domain.cross_joins import JoinsSay, what_joins_say
from findsdesk.domain.deposits import Security
from findsdesk.domain.natural_order import sort_key
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.store.models import Container, Deposit, Person, Piece, Season, SherdJoin, Ware
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class JoinedPiece:
    """One side of a join: the piece by its name and code, where it comes from."""

    piece_id: int
    code: str
    name: str
    ware: str
    part: str
    deposit: str
    season: str
    container_code: str


@dataclass(frozen=True, slots=True)
class JoinRow:
    """A join of two pieces: certain or not, by whom and since when."""

    id: int
    version: int
    left: JoinedPiece
    right: JoinedPiece
    certain: bool
    note: str
    found_at: datetime
    person: str

    def other_than(self, piece_id: int) -> JoinedPiece:
        """Return the piece on the other side of one of the two."""
        return self.right if self.left.piece_id == piece_id else self.left


@dataclass(frozen=True, slots=True)
class JoinsBetween:
    """The joins that cross two deposits ('' where a piece has none): how many, how many certain, what they say."""

    one: str
    other: str
    joins: int
    certain: int
    says: JoinsSay
    pieces: tuple[str, ...]


def join_pieces(
    desk: Desk, piece_id: int, other_id: int, *, certain: bool = True, note: str = "", sure: bool = False
) -> JoinRow:
    """Write that two pieces fit together; no count changes. Opposite: ``part_pieces``.

    Refusals: ``piece_gone``, ``same_piece``, ``already_joined``. Question: ``wares_differ``.
    """
    with desk.deed("join_pieces") as deed:
        one, other = (piece_there(deed.session, which) for which in (piece_id, other_id))
        return _joined(deed, one, other, certain=certain, note=note, sure=sure)


def join_named(
    desk: Desk, piece: str, other: str, *, certain: bool = True, note: str = "", sure: bool = False
) -> JoinRow:
    """Write that the pieces of two codes or names fit together. Refusals: those of finding and of ``join_pieces``."""
    with desk.deed("join_pieces") as deed:
        one, with_it = (piece_of(deed.session, desk, which) for which in (piece, other))
        return _joined(deed, one, with_it, certain=certain, note=note, sure=sure)


def _joined(deed: Deed, one: Piece, other: Piece, *, certain: bool, note: str, sure: bool) -> JoinRow:
    if one.id == other.id:
        raise Refusal("same_piece", N_("That is the same piece twice. Scan or name the other one."))
    left, right = sorted((one.id, other.id))
    names = [_name(deed.session, row) for row in (one, other)]
    found = deed.session.execute(
        select(SherdJoin.id).where(SherdJoin.left_id == left, SherdJoin.right_id == right)
    ).first()
    if found is not None:
        raise Refusal(
            "already_joined",
            N_("{one} and {other} are joined already. Change that join, or part them."),
            one=names[0],
            other=names[1],
        )
    deed.said = f"{names[0]} + {names[1]}" if certain else f"{names[0]} + {names[1]} ?"
    ask(deed, _wares_differ(deed.session, one, other, names), sure)
    row = deed.add(
        SherdJoin(
            left_id=left,
            right_id=right,
            sure=certain,
            note=note.strip(),
            found_at=deed.happened_at,
            person_id=deed.person_id,
        )
    )
    deed.session.flush()
    return join_rows(deed.session, [row.id])[0]


def _wares_differ(session: Session, one: Piece, other: Piece, names: list[str]) -> Question | None:
    if one.ware_id is None or other.ware_id is None or one.ware_id == other.ware_id:
        return None
    wares = [session.get_one(Ware, row.ware_id).code for row in (one, other)]
    return Question(
        "wares_differ",
        N_("{one} is {ware} and {other} is {other_ware}. Do they join all the same?"),
        one=names[0],
        ware=wares[0],
        other=names[1],
        other_ware=wares[1],
    )


def change_join(
    desk: Desk, join_id: int, *, seen: int, certain: bool | None = None, note: str | None = None
) -> JoinRow:
    """Change how certain a join of the version ``seen`` is, or its note. Opposite: the change back.

    Refusals: ``join_gone``, ``changed_meanwhile``.
    """
    with desk.deed("change_join") as deed:
        row = _there(deed.session, join_id)
        mine = {"sure": certain, "note": note.strip() if note is not None else None}
        refuse_if_moved(deed.session, row, seen, {name: value for name, value in mine.items() if value is not None})
        row.sure = row.sure if certain is None else certain
        row.note = row.note if note is None else note.strip()
        deed.session.flush()
        changed = join_rows(deed.session, [row.id])[0]
        deed.said = f"{changed.left.name} + {changed.right.name}"
    return changed


def part_pieces(desk: Desk, join_id: int, *, seen: int) -> JoinRow:
    """Write that two pieces do not fit together after all. Opposite: ``join_pieces``.

    Refusals: ``join_gone``, ``changed_meanwhile``.
    """
    with desk.deed("part_pieces") as deed:
        row = _there(deed.session, join_id)
        refuse_if_moved(deed.session, row, seen, {})
        parted = join_rows(deed.session, [row.id])[0]
        deed.session.delete(row)
        deed.said = f"{parted.left.name} / {parted.right.name}"
    return parted


def part_named(desk: Desk, piece: str, other: str) -> JoinRow:
    """Write that the pieces of two codes or names do not fit together. Refusals: finding them, ``join_gone``."""
    with desk.reading() as reading:
        left, right = sorted(piece_of(reading.session, desk, which).id for which in (piece, other))
        found = reading.session.execute(
            select(SherdJoin.id, SherdJoin.version).where(SherdJoin.left_id == left, SherdJoin.right_id == right)
        ).first()
    if found is None:
        raise _gone()
    return part_pieces(desk, found.id, seen=found.version)


def _there(session: Session, join_id: int) -> SherdJoin:
    row = session.get(SherdJoin, join_id)
    if row is None:
        raise _gone()
    return row


def _gone() -> Refusal:
    return Refusal("join_gone", N_("These pieces are not joined, or were parted meanwhile. Look at the piece again."))


def joins_of(desk: Desk, piece_id: int) -> tuple[JoinRow, ...]:
    """Return the joins of a piece, the oldest first."""
    with desk.reading() as reading:
        ids = reading.session.execute(
            select(SherdJoin.id)
            .where(or_(SherdJoin.left_id == piece_id, SherdJoin.right_id == piece_id))
            .order_by(SherdJoin.found_at, SherdJoin.id)
        ).scalars()
        return join_rows(reading.session, list(ids))


def joins_by_piece(session: Session, piece_ids: Sequence[int]) -> dict[int, list[JoinRow]]:
    """Return the joins of each of these pieces that has some, the oldest first; in a reading session."""
    ids = session.execute(
        select(SherdJoin.id)
        .where(or_(SherdJoin.left_id.in_(piece_ids), SherdJoin.right_id.in_(piece_ids)))
        .order_by(SherdJoin.found_at, SherdJoin.id)
    ).scalars()
    wanted, joins = set(piece_ids), defaultdict[int, list[JoinRow]](list)
    for row in join_rows(session, list(ids)):
        for piece_id in wanted.intersection((row.left.piece_id, row.right.piece_id)):
            joins[piece_id].append(row)
    return joins


def joins_between_deposits(desk: Desk) -> tuple[JoinsBetween, ...]:
    """Return the joins that cross deposits, by pair of deposits, the most joins first; no count changes by them."""
    with desk.reading() as reading:
        ids = list(reading.session.execute(select(SherdJoin.id).order_by(SherdJoin.id)).scalars())
        rows = join_rows(reading.session, ids)
        security = {
            number: Security(said) for number, said in reading.session.execute(select(Deposit.number, Deposit.security))
        }
    pairs: dict[tuple[str, str], list[JoinRow]] = defaultdict(list)
    for row in rows:
        one, other = sorted((row.left.deposit, row.right.deposit), key=sort_key)
        if one != other:
            pairs[one, other].append(row)
    found = (_between(one, other, some, security) for (one, other), some in pairs.items())
    return tuple(sorted(found, key=lambda pair: (-pair.joins, sort_key(pair.one), sort_key(pair.other))))


def _between(one: str, other: str, rows: list[JoinRow], security: dict[str, Security]) -> JoinsBetween:
    names = {side.name for row in rows for side in (row.left, row.right)}
    return JoinsBetween(
        one,
        other,
        len(rows),
        sum(row.certain for row in rows),
        what_joins_say(security.get(one, Security.NOT_SAID), security.get(other, Security.NOT_SAID)),
        tuple(sorted(names, key=sort_key)),
    )


def _name(session: Session, row: Piece) -> str:
    return piece_name(session.get_one(Container, row.container_id), row)


AT_ONCE = 5_000


def join_rows(session: Session, ids: list[int]) -> tuple[JoinRow, ...]:
    """Return joins by their ids, in that order; those that are gone are left out."""
    rows: dict[int, JoinRow] = {}
    for first in range(0, len(ids), AT_ONCE):
        some = ids[first : first + AT_ONCE]
        joins = session.execute(
            select(SherdJoin, Person.name)
            .outerjoin(Person, SherdJoin.person_id == Person.id)
            .where(SherdJoin.id.in_(some))
        ).all()
        sides = _sides(session, some)
        for row, person in joins:
            rows[row.id] = JoinRow(
                row.id,
                row.version,
                sides[row.left_id],
                sides[row.right_id],
                row.sure,
                row.note,
                row.found_at,
                person or "",
            )
    return tuple(rows[row_id] for row_id in ids if row_id in rows)


def _sides(session: Session, join_ids: list[int]) -> dict[int, JoinedPiece]:
    join = aliased(SherdJoin)
    found = session.execute(
        select(Piece, Container, Deposit.number, Season.name, Ware.code)
        .join(join, or_(join.left_id == Piece.id, join.right_id == Piece.id))
        .join(Container, Piece.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Ware, Piece.ware_id == Ware.id)
        .where(join.id.in_(join_ids))
    ).all()
    return {
        piece.id: JoinedPiece(
            piece.id,
            piece.code,
            piece_name(container, piece),
            ware or "",
            piece.part,
            deposit or "",
            season,
            container.code,
        )
        for piece, container, deposit, season, ware in found
    }
