"""Marks and slips that say something no longer true: asked for by the text they bear; what a tick is and its answer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, Row, and_, select
from sqlalchemy.orm import Session, aliased

from findsdesk.desk.desk import Deed
from findsdesk.desk.mark_lines import BETWEEN_LINES, mark_lines_of, said_of_containers
from findsdesk.desk.mark_sums import AT_ONCE, TextBorne, texts_borne
from findsdesk.domain.marking import Tick
from findsdesk.store.models import Container, MarkEntry, Piece, Redo

MARK, SLIP = "mark", "slip"
"""What is written again: ink on sherds, or the slip in a small bag."""


@dataclass(frozen=True, slots=True)
class _Wrong:
    """So many marks or slips with a text that must say another."""

    n: int
    now: str


_Key = tuple[str, int, str]
"""'mark' or 'slip', the container's id, what stands there."""


def ask_marks_again(deed: Deed, container_ids: Sequence[int], why: str) -> tuple[int, int]:
    """Ask for the marks and slips that say something no longer true; returns (marks, slips) that are asked for.

    What waits already follows what has to be said now, and falls away when its text is true again or gone.
    """
    deed.session.flush()
    borne = texts_borne(deed.session, container_ids)
    ids = sorted({one.container_id for one in borne})
    wrong = dict(_wrong(deed, borne, ids))
    waiting = _waiting(deed.session, container_ids)
    asked = {MARK: 0, SLIP: 0}
    for key, one in wrong.items():
        row = waiting.pop(key, None)
        if row is None:
            _new_row(deed, key, one, why)
        elif (row.pieces, row.says_now) == (one.n, one.now):
            continue
        else:
            row.why = row.why if row.says_now == one.now else f"{row.why}; {why}"
            row.pieces, row.says_now = one.n, one.now
        asked[key[0]] += one.n
    for row in waiting.values():
        row.done_at = deed.happened_at
    return asked[MARK], asked[SLIP]


def _wrong(deed: Deed, borne: Sequence[TextBorne], ids: Sequence[int]) -> Iterator[tuple[_Key, _Wrong]]:
    says = TextsNow(deed, ids)
    sums: dict[_Key, _Wrong] = {}
    for one in borne:
        now = says.of(one.container_id, one.piece_id)
        if one.said == now:
            continue
        for what, n in ((MARK, one.written), (SLIP, one.bags)):
            key = (what, one.container_id, one.said)
            if n > 0:
                sums[key] = _Wrong(n + (sums[key].n if key in sums else 0), now)
    yield from sums.items()


class TextsNow:
    """What the marks of containers have to say by the facts as they stand."""

    def __init__(self, deed: Deed, ids: Sequence[int]) -> None:
        self._site = deed.desk.facts.code
        self._rows: dict[int, Row[Any]] = {}
        self._pieces: dict[int, int] = {}
        for first in range(0, len(ids), AT_ONCE):
            some = ids[first : first + AT_ONCE]
            rows = deed.session.execute(said_of_containers().where(Container.id.in_(some))).all()
            self._rows.update({row.id: row for row in rows})
            marked = select(MarkEntry.piece_id).where(MarkEntry.container_id.in_(some))
            pieces = select(Piece.id, Piece.number).where(Piece.id.in_(marked))
            self._pieces.update({row.id: row.number for row in deed.session.execute(pieces)})

    def of(self, container_id: int, piece_id: int | None) -> str:
        """Return the text for sherds of a container, or for one of its pieces."""
        number = self._pieces.get(piece_id) if piece_id is not None else None
        return BETWEEN_LINES.join(mark_lines_of(self._rows[container_id], self._site, str(number or "")))


def _waiting(session: Session, container_ids: Sequence[int]) -> dict[_Key, Redo]:
    found: dict[_Key, Redo] = {}
    for first in range(0, len(container_ids), AT_ONCE):
        rows = session.execute(
            select(Redo).where(
                Redo.container_id.in_(container_ids[first : first + AT_ONCE]),
                Redo.what.in_((MARK, SLIP)),
                Redo.done_at.is_(None),
            )
        ).scalars()
        found.update({(row.what, row.container_id, row.said): row for row in rows})
    return found


def _new_row(deed: Deed, key: _Key, wrong: _Wrong, why: str) -> None:
    what, container_id, said = key
    deed.add(
        Redo(
            what=what,
            container_id=container_id,
            bag_id=None,
            piece_id=None,
            pieces=wrong.n,
            said=said,
            says_now=wrong.now,
            why=why,
            asked_at=deed.happened_at,
            done_at=None,
        )
    )


def hand_marks_on(deed: Deed, source: Container, target: Container, why: str) -> None:
    """Let the marks and slips of a container go with its sherds into another, by whom they were written and checked.

    Those that say something no longer true there are asked for again.
    """
    for entry in standing_entries(deed.session, source.id):
        answer(deed, entry, f"{source.number} → {target.number}")
        tick(deed, target.id, entry.piece_id, Tick(entry.kind), entry.pieces, said=entry.said, why=entry.why,
             by=entry.person_id, instead_of=entry.instead_of)  # fmt: skip
    ask_marks_again(deed, [source.id, target.id], why)


def standing_entries(session: Session, container_id: int, said: str | None = None) -> Sequence[MarkEntry]:
    """Return the ticks of a container (with that text) that are no answers and were not answered, oldest first."""
    wanted = select(MarkEntry).where(MarkEntry.container_id == container_id, stands()).order_by(MarkEntry.id)
    if said is not None:
        wanted = wanted.where(MarkEntry.said == said)
    return session.execute(wanted).scalars().all()


def stands() -> ColumnElement[bool]:
    """Return the condition that a tick is no answer and was not answered."""
    later = aliased(MarkEntry)
    return and_(MarkEntry.answers_id.is_(None), ~select(later.id).where(later.answers_id == MarkEntry.id).exists())


def tick(
    deed: Deed,
    container_id: int,
    piece_id: int | None,
    kind: Tick,
    pieces: int,
    *,
    said: str,
    why: str = "",
    by: int | None = None,
    instead_of: str = "",
) -> int:
    """Write one tick; ``by`` is the id of who wrote or checked where that is not the person of the deed.

    ``instead_of`` is the text that stood on the sherds before, where it was written again.
    """
    return deed.write(
        MarkEntry,
        container_id=container_id,
        piece_id=piece_id,
        kind=kind,
        pieces=pieces,
        said=said,
        why=why,
        instead_of=instead_of,
        answers_id=None,
        happened_at=deed.happened_at,
        person_id=deed.person_id if by is None else by,
    )


def answer(deed: Deed, entry: MarkEntry, why: str) -> int:
    """Answer a tick by its opposite; returns the id of the answer."""
    return deed.write(
        MarkEntry,
        container_id=entry.container_id,
        piece_id=entry.piece_id,
        kind=entry.kind,
        pieces=-entry.pieces,
        said=entry.said,
        why=why,
        answers_id=entry.id,
        happened_at=deed.happened_at,
        person_id=entry.person_id,
    )
