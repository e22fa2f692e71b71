"""Sums over the ticks of marks: what one container bears, text by text, and how many kept sherds bear nothing yet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Select, Subquery, case, func, select, union_all
from sqlalchemy.orm import Session

from findsdesk.domain.balance import COLUMN_OF_DECISION
from findsdesk.domain.marking import Tick
from findsdesk.domain.marks import MARKED_MATERIALS
from findsdesk.domain.routes import Standing
from findsdesk.domain.settings import Settings
from findsdesk.store.kept_sums import as_it_stands
from findsdesk.store.models import BalanceTotal, Container, MarkEntry, Piece, Season, SherdGroup
from findsdesk.store.sorted_sherds import sorted_sherds

SORTED = (Standing.SETTLED, Standing.BAGGED, Standing.AWAY)
"""Standings in which kept pieces may bear their mark."""
KEPT = tuple(decision.value for decision, column in COLUMN_OF_DECISION.items() if column == "kept")
"""Decisions by which sherds are kept."""

AT_ONCE = 5000
_BEARS = {Tick.WRITTEN: 1, Tick.WRONG: -1, Tick.SLIP: 1}
"""What a tick adds to the sherds that bear a mark or a slip; a check adds nothing."""


@dataclass(frozen=True, slots=True)
class TextBorne:
    """One text borne by sherds of a container (or by one piece of it): marks, slips and checks that stand."""

    container_id: int
    piece_id: int | None
    said: str
    written: int
    checked: int
    wrong: int
    slipped: int
    bags: int
    """Small bags with a slip."""


def texts_borne(session: Session, container_ids: Sequence[int]) -> tuple[TextBorne, ...]:
    """Return what sherds of containers bear, text by text, the text borne first; one all taken back is left out."""
    found: list[TextBorne] = []
    for first in range(0, len(container_ids), AT_ONCE):
        rows = session.execute(_sums().where(MarkEntry.container_id.in_(container_ids[first : first + AT_ONCE]))).all()
        found.extend(
            TextBorne(
                row.container_id, row.piece_id, row.said, row.written, row.checked, row.wrong, row.slips, row.bags
            )
            for row in rows
        )
    return tuple(one for one in found if one.written or one.slipped or one.checked or one.wrong)


def _sums() -> Any:
    of, kind = MarkEntry.pieces, MarkEntry.kind
    return (
        select(
            MarkEntry.container_id,
            MarkEntry.piece_id,
            MarkEntry.said,
            func.sum(case((kind == Tick.WRITTEN, of), (kind == Tick.WRONG, -of), else_=0)).label("written"),
            func.sum(case((kind == Tick.CHECKED, of), else_=0)).label("checked"),
            func.sum(case((kind == Tick.WRONG, of), else_=0)).label("wrong"),
            func.sum(case((kind == Tick.SLIP, of), else_=0)).label("slips"),
            func.sum(case((kind != Tick.SLIP, 0), (of > 0, 1), else_=-1)).label("bags"),
        )
        .group_by(MarkEntry.container_id, MarkEntry.piece_id, MarkEntry.said)
        .order_by(MarkEntry.container_id, func.min(MarkEntry.id))
    )


def borne_by(session: Session, container_id: int) -> int:
    """Return how many sherds of a container bear a mark or a slip, whatever it says."""
    marks = _borne(MarkEntry.container_id == container_id).c
    return int(session.execute(select(marks.sherds)).scalar() or 0)


def _borne(*where: Any, by: Sequence[Any] = (MarkEntry.container_id,)) -> Subquery:
    """Return ``sherds``: how many bear a mark or a slip, whatever it says, of each container (or by these columns)."""
    adds = case(*((MarkEntry.kind == kind, sign * MarkEntry.pieces) for kind, sign in _BEARS.items()), else_=0)
    return select(*by, func.sum(adds).label("sherds")).where(*where).group_by(*by).subquery()


def unmarked(session: Session, settings: Settings) -> int:
    """Return how many kept sherds of sorted containers are still to be marked, by the excavation's rule; when read."""
    wanted = select(func.sum(unmarked_sherds(settings).c.sherds))
    what = ("unmarked", settings.plain_marked_one_in)
    return as_it_stands(session, what, lambda: int(session.execute(wanted).scalar() or 0))


def unmarked_sherds(settings: Settings) -> Subquery:
    """Return ``container_id`` and ``sherds`` that are still to be marked, of each container that has some.

    Summed line by line as in the marking list: what one line bears too much is missing in no other.
    """
    one_in = settings.plain_marked_one_in
    lines = union_all(_left_together(one_in), _left_beside_pieces(one_in), _left_of_pieces()).subquery("lines")
    by_container = select(lines.c.container_id, func.sum(lines.c.sherds).label("sherds"))
    return by_container.group_by(lines.c.container_id).subquery("unmarked")


def _left_together(one_in: int) -> Select[Any]:
    """Return what is left of each container whose pieces share its mark."""
    wanted, sherds, of_its_own = _all_kept() if one_in == 1 else _by_rule(one_in)
    marks = _borne()
    left = _left(sherds, marks)
    return (
        select(Container.id.label("container_id"), left.label("sherds"))
        .join(wanted, of_its_own)
        .outerjoin(marks, marks.c.container_id == Container.id)
        .where(*_marked_in(_each_piece(False)), left > 0)
    )


def _left_beside_pieces(one_in: int) -> Select[Any]:
    """Return what is left of the groups of each container whose pieces have marks of their own."""
    wanted = (
        select(SherdGroup.container_id, _share(SherdGroup, one_in).label("sherds"))
        .join(Container, SherdGroup.container_id == Container.id)
        .where(SherdGroup.decision.in_(KEPT), *_marked_in(_each_piece(True)))
        .group_by(SherdGroup.container_id)
        .subquery()
    )
    marks = _borne_piece_by_piece()
    left = _left(wanted.c.sherds, marks)
    return (
        select(wanted.c.container_id, left.label("sherds"))
        .outerjoin(marks, (marks.c.container_id == wanted.c.container_id) & marks.c.piece_id.is_(None))
        .where(left > 0)
    )


def _left_of_pieces() -> Select[Any]:
    """Return what is left of each kept piece with a mark of its own; it bears it whatever the rule says."""
    marks = _borne_piece_by_piece()
    left = _left(Piece.pieces, marks)
    return (
        select(Piece.container_id, left.label("sherds"))
        .join(Container, Piece.container_id == Container.id)
        .outerjoin(marks, (marks.c.container_id == Piece.container_id) & (marks.c.piece_id == Piece.id))
        .where(Piece.decision.in_(KEPT), *_marked_in(_each_piece(True)), left > 0)
    )


def _borne_piece_by_piece() -> Subquery:
    """Return what is borne where pieces have marks of their own; where no pattern gives them one, nothing is read."""
    of_these = MarkEntry.container_id.in_(select(Container.id).where(_each_piece(True)))
    return _borne(of_these, by=(MarkEntry.container_id, MarkEntry.piece_id))


def _left(wanted: Any, marks: Subquery) -> Any:
    return wanted - func.coalesce(marks.c.sherds, 0)


def _marked_in(season: Any) -> tuple[Any, ...]:
    return Container.standing.in_(SORTED), Container.material.in_(MARKED_MATERIALS), season


def _each_piece(has_its_own: bool) -> Any:
    """Return the condition that the season's pattern gives each piece a mark of its own, or that it does not."""
    named = Season.mark_pattern.like("%{piece}%")
    return Container.season_id.in_(select(Season.id).where(named if has_its_own else ~named))


def _all_kept() -> tuple[Any, Any, Any]:
    """Return what says how many sherds bear a mark where every kept one does: the kept totals, their column, whose."""
    its_own = (BalanceTotal.container_id == Container.id) & (BalanceTotal.material == Container.material)
    return BalanceTotal, BalanceTotal.kept, its_own


def _by_rule(plain_one_in: int) -> tuple[Any, Any, Any]:
    """Return the same where of the plain sherds only one in so many is marked: what lies sorted says it."""
    sherds = sorted_sherds("container_id", "diagnostic", "pieces", "decision").c
    wanted = (
        select(sherds.container_id, _share(sherds, plain_one_in).label("sherds"))
        .where(sherds.decision.in_(KEPT))
        .group_by(sherds.container_id)
        .subquery("wanted")
    )
    return wanted, wanted.c.sherds, wanted.c.container_id == Container.id


def _share(of: Any, plain_one_in: int) -> Any:
    """Return how many sherds of rows bear a mark: the diagnostic ones and one in so many plain ones, rounded up."""
    diagnostic = func.sum(case((of.diagnostic, of.pieces), else_=0))
    plain = func.sum(case((of.diagnostic, 0), else_=of.pieces))
    return diagnostic + ((plain + plain_one_in - 1) // plain_one_in if plain_one_in else 0)
