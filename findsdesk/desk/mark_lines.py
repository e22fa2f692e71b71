"""The lines of the marking list: what is inked on the kept sherds of each sorted container, and how far it has come."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, Row, case, false, func, or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk, ExcavationFacts
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.mark_sums import AT_ONCE, KEPT, SORTED, TextBorne, texts_borne
from findsdesk.domain.marking import LOOSE, PAINT, MarkTally, wanted_marks
from findsdesk.domain.marks import MARKED_MATERIALS, make_mark, mark_length_mm, names_field, smallest_sherd_mm
from findsdesk.store.models import Container, Deposit, Piece, Season, Square
from findsdesk.store.sorted_sherds import PIECE, sorted_sherds

BETWEEN_LINES = " / "


@dataclass(frozen=True, slots=True)
class MarkLine:
    """What is inked on the kept sherds of one container, or on one piece where each piece has a mark of its own.

    ``length_tenths`` is the longest line in tenths of a millimetre at the excavation's lettering height,
    ``smallest_mm`` the smallest sherd that takes it; ``no_ink`` are sherds that are painted, written on or coming off.
    """

    container_id: int
    container_code: str
    piece_id: int | None
    code: str
    number: str
    deposit: str
    square: str
    material: str
    lines: tuple[str, ...]
    length_tenths: int
    smallest_mm: int
    diagnostic: int
    others: int
    no_ink: int
    tally: MarkTally
    to_check: int

    @property
    def text(self) -> str:
        """Return the mark as one line."""
        return BETWEEN_LINES.join(self.lines)

    @property
    def is_done(self) -> bool:
        """Tell whether nothing is to be written, checked or inked again."""
        return not (self.tally.left or self.tally.outdated or self.to_check)


@dataclass(frozen=True, slots=True)
class DepositMarks:
    """How far the marking of one deposit has come, in sherds; ``bags`` are slip bags."""

    deposit: str
    containers: int
    wanted: int
    marked: int
    left: int
    outdated: int
    slipped: int
    bags: int
    checked: int
    to_check: int


@dataclass(frozen=True, slots=True)
class _Sherds:
    """Kept sherds of a container that share a mark."""

    diagnostic: int = 0
    plain: int = 0
    no_ink: int = 0

    def plus(self, other: _Sherds) -> _Sherds:
        return _Sherds(self.diagnostic + other.diagnostic, self.plain + other.plain, self.no_ink + other.no_ink)


def mark_lines(desk: Desk, deposit: str | None = None, *, open_only: bool = False) -> tuple[MarkLine, ...]:
    """Return the lines of the marking list, in natural order of deposit, container and piece.

    ``deposit`` chooses one by a number it has or once had; ``open_only`` leaves out deposits of which nothing is to be
    written, checked or inked again. Refusals: those of finding it.
    """
    from findsdesk.desk.open_marks import deposits_with_open_marks

    with desk.reading() as reading:
        chosen = [] if deposit is None else [Container.deposit_id == deposit_of(reading.session, deposit).id]
        if open_only:
            ids = deposits_with_open_marks(reading.session, desk.facts.settings)
            of_none = Container.deposit_id.is_(None) if None in ids else false()
            chosen.append(or_(Container.deposit_id.in_(ids - {None}), of_none))
        return lines_where(reading.session, desk.facts, *chosen)


def progress_of(lines: Iterable[MarkLine]) -> tuple[DepositMarks, ...]:
    """Return how far each deposit of the lines has come, in their order."""
    by_deposit: dict[str, list[MarkLine]] = {}
    for line in lines:
        by_deposit.setdefault(line.deposit, []).append(line)
    return tuple(_progress(deposit, of) for deposit, of in by_deposit.items())


def _progress(deposit: str, lines: Sequence[MarkLine]) -> DepositMarks:
    tallies = [line.tally for line in lines]
    return DepositMarks(
        deposit=deposit,
        containers=len({line.container_id for line in lines}),
        wanted=sum(one.wanted for one in tallies),
        marked=sum(one.marked for one in tallies),
        left=sum(one.left for one in tallies),
        outdated=sum(one.outdated for one in tallies),
        slipped=sum(one.slipped for one in tallies),
        bags=sum(one.bags for one in tallies),
        checked=sum(one.checked for one in tallies),
        to_check=sum(line.to_check for line in lines),
    )


def lines_where(session: Session, facts: ExcavationFacts, *conditions: ColumnElement[bool]) -> tuple[MarkLine, ...]:
    """Return the lines of sorted containers of marked materials that meet conditions on ``Container``."""
    wanted = (Container.standing.in_(SORTED), Container.material.in_(MARKED_MATERIALS), *conditions)
    rows = session.execute(
        said_of_containers().where(*wanted).order_by(Deposit.number_key, Container.number_key, Container.id)
    ).all()
    ids = [row.id for row in rows]
    kept = _kept_sherds(session, ids)
    pieces = _pieces(session, [piece for of in kept.values() for piece in of if piece is not None])
    borne = _by_container(texts_borne(session, ids))
    return tuple(
        line for row in rows for line in _lines_of(row, facts, kept.get(row.id, {}), pieces, borne.get(row.id, ()))
    )


def said_of_containers() -> Any:
    """Return the query for what marks are made of: container, season, ``deposit`` and ``square``, column by column."""
    return (
        select(
            Container.id,
            Container.code,
            Container.number,
            Container.material,
            Season.name.label("season"),
            Season.permit,
            Season.mark_pattern,
            Deposit.number.label("deposit"),
            Square.name.label("square"),
        )
        .select_from(Container)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
    )


def _by_container(texts: Iterable[TextBorne]) -> dict[int, tuple[TextBorne, ...]]:
    found: dict[int, tuple[TextBorne, ...]] = {}
    for one in texts:
        found[one.container_id] = (*found.get(one.container_id, ()), one)
    return found


def _kept_sherds(session: Session, ids: Sequence[int]) -> dict[int, dict[int | None, _Sherds]]:
    """Return the kept sherds of containers: under None those in groups, under its id each piece."""
    of = sorted_sherds("id", "container_id", "diagnostic", "pieces", "decision", "decoration", "condition").c
    piece = case((of.kind == PIECE, of.id), else_=None)
    bad = or_(
        *(of.decoration.like(f"%{key}%") for key in PAINT),
        *(of.condition.like(f"%{key}%") for key in LOOSE),
    )
    sums = (
        select(
            of.container_id,
            piece.label("piece"),
            func.sum(case((of.diagnostic, of.pieces), else_=0)).label("diagnostic"),
            func.sum(case((of.diagnostic, 0), else_=of.pieces)).label("plain"),
            func.sum(case((bad, of.pieces), else_=0)).label("no_ink"),
        )
        .where(of.decision.in_(KEPT), of.pieces > 0)
        .group_by(of.container_id, piece)
    )
    found: dict[int, dict[int | None, _Sherds]] = {}
    # By lists of ids: a list is looked up in the indexes of groups and pieces, a query within would walk them all.
    for first in range(0, len(ids), AT_ONCE):
        for row in session.execute(sums.where(of.container_id.in_(ids[first : first + AT_ONCE]))):
            found.setdefault(row.container_id, {})[row.piece] = _Sherds(row.diagnostic, row.plain, row.no_ink)
    return found


def _pieces(session: Session, ids: Sequence[int]) -> dict[int, tuple[int, str]]:
    """Return number and code of pieces by their ids."""
    found: dict[int, tuple[int, str]] = {}
    for first in range(0, len(ids), AT_ONCE):
        some = select(Piece.id, Piece.number, Piece.code).where(Piece.id.in_(ids[first : first + AT_ONCE]))
        found.update({row.id: (row.number, row.code) for row in session.execute(some)})
    return found


def _lines_of(
    row: Row[Any],
    facts: ExcavationFacts,
    kept: Mapping[int | None, _Sherds],
    pieces: Mapping[int, tuple[int, str]],
    borne: Sequence[TextBorne],
) -> Iterator[MarkLine]:
    own = names_field(row.mark_pattern, "piece")
    together = _Sherds()
    for piece, sherds in kept.items():
        if not own or piece is None:
            together = together.plus(sherds)
    texts = [one for one in borne if not own or one.piece_id is None]
    if together != _Sherds() or texts:
        yield _line(row, facts, together, texts)
    if not own:
        return
    for piece in sorted((one for one in kept if one is not None), key=lambda one: pieces[one]):
        yield _line(row, facts, kept[piece], [one for one in borne if one.piece_id == piece], (piece, *pieces[piece]))


def _line(
    row: Row[Any],
    facts: ExcavationFacts,
    sherds: _Sherds,
    borne: Sequence[TextBorne],
    piece: tuple[int, int, str] | None = None,
) -> MarkLine:
    settings = facts.settings
    number = str(piece[1]) if piece else ""
    lines = mark_lines_of(row, facts.code, number)
    length = mark_length_mm(lines, settings.lettering_tenths_mm)
    # A piece with a mark of its own bears it whatever the rule says of plain sherds: it was lifted out to be known.
    wanted = wanted_marks(sherds.diagnostic, sherds.plain, 1 if piece else settings.plain_marked_one_in)
    tally = _tally(sherds.diagnostic + sherds.plain, wanted, BETWEEN_LINES.join(lines), borne)
    return MarkLine(
        container_id=row.id,
        container_code=row.code,
        piece_id=piece[0] if piece else None,
        code=piece[2] if piece else row.code,
        number=f"{row.number}.{number}" if piece else row.number,
        deposit=row.deposit or "",
        square=row.square or "",
        material=row.material,
        lines=lines,
        length_tenths=length,
        smallest_mm=smallest_sherd_mm(length),
        diagnostic=sherds.diagnostic,
        others=sherds.plain,
        no_ink=sherds.no_ink,
        tally=tally,
        to_check=tally.to_check(settings.marks_checked_one_in),
    )


def _tally(kept: int, wanted: int, text: str, borne: Sequence[TextBorne]) -> MarkTally:
    right = [one for one in borne if one.said == text]
    return MarkTally(
        kept=kept,
        wanted=wanted,
        written=sum(one.written for one in right),
        outdated=sum(one.written for one in borne if one.said != text),
        slipped=sum(one.slipped for one in borne),
        bags=sum(one.bags for one in borne),
        checked=sum(one.checked for one in right),
        wrong=sum(one.wrong for one in right),
    )


def mark_lines_of(row: Row[Any], site: str, piece: str = "") -> tuple[str, ...]:
    """Return the lines inked on sherds; ``row`` is one of ``said_of_containers``."""
    return make_mark(
        row.mark_pattern,
        {
            "permit": row.permit,
            "site": site,
            "season": row.season,
            "square": row.square or "",
            "deposit": row.deposit or "",
            "container": row.number,
            "piece": piece,
        },
    )
