"""The rows of pieces: how one is written, numbered, named and shown, and its share of the kept totals."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import func, or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed
from findsdesk.desk.group_rows import count_in
from findsdesk.desk.word_lists import WordLists, words_of
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.inclusions import LISTS, Inclusion
from findsdesk.domain.pieces import Measures, doubts_of
from findsdesk.store.models import Container, Deposit, Form, Photo, Piece, Season, SherdJoin, Square, Vessel, Ware
from findsdesk.store.numbers import take_numbers
from findsdesk.words import N_

SERIALS = "serial:P"
MEASURED = (
    "rim_permille",
    "base_permille",
    "rim_diameter_mm",
    "base_diameter_mm",
    "diameter_method",
    "diameter_uncertainty_mm",
    "base_method",
    "base_uncertainty_mm",
    "chord_tenths_mm",
    "sagitta_tenths_mm",
    "height_mm",
    "wall_tenths_mm",
)
COLOURS = ("colour_surface", "colour_inside", "colour_core", "colour_slip")
PLAIN = (
    "part",
    "surface",
    "decoration",
    "condition",
    "pieces",
    "tenths",
    "decision",
    "reason",
    "rule",
    "proposed",
    "diagnostic",
    "discarded",
    *MEASURED,
    *COLOURS,
    "firing",
    "earliest",
    "latest",
    "dated_by",
    "parallels",
    "conservation",
    "drawing",
    "drawing_wanted",
    "photo_wanted",
    "note",
    "shared",
    "lifted_at",
)
"""What the store and the screen say of a piece in the same words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceRow:
    """A piece as it is shown: its name is the container's number and its own, ``131.4``; years are astronomical."""

    id: int
    version: int
    code: str
    number: int
    name: str
    container_id: int
    container_code: str
    container: str
    deposit: str
    square: str
    season: str
    ware: str
    ware_name: str
    form: str
    form_name: str
    part: str
    surface: str
    decoration: str
    condition: str
    pieces: int
    tenths: int | None
    decision: str
    reason: str
    rule: str
    proposed: str
    diagnostic: bool
    discarded: bool
    rim_permille: int | None
    base_permille: int | None
    rim_diameter_mm: int | None
    base_diameter_mm: int | None
    diameter_method: str
    diameter_uncertainty_mm: int | None
    base_method: str
    base_uncertainty_mm: int | None
    chord_tenths_mm: int | None
    sagitta_tenths_mm: int | None
    height_mm: int | None
    wall_tenths_mm: int | None
    colour_surface: str
    colour_inside: str
    colour_core: str
    colour_slip: str
    firing: str
    inclusions: str
    earliest: int | None
    latest: int | None
    dated_by: str
    parallels: str
    conservation: str
    drawing: str
    drawing_wanted: bool
    photo_wanted: bool
    note: str
    shared: str
    lifted_at: datetime
    vessel: int | None
    joins: int
    photos: int
    doubts: tuple[Doubt, ...]


def new_piece(deed: Deed, container: Container, values: Mapping[str, Any]) -> Piece:
    """Write a piece with the next number of its container and the next code, and count it into the kept totals."""
    number = take_numbers(deed.session, f"piece:{container.id}", 1, station_id=deed.desk.station_id)[0]
    serial = take_numbers(deed.session, SERIALS, 1, station_id=deed.desk.station_id)[0]
    row = deed.add(
        Piece(
            code=make_code(deed.desk.facts.code, Kind.PIECE, serial),
            container_id=container.id,
            number=number,
            lifted_at=deed.happened_at,
            person_id=deed.person_id,
            **values,
        )
    )
    count_in(deed, container, row, 1)
    return row


def erase_piece(deed: Deed, container: Container, row: Piece) -> None:
    """Take a piece out of the store and out of the kept totals; its number and code are never given again."""
    count_in(deed, container, row, -1)
    deed.session.delete(row)


def bring_back_piece(deed: Deed, container: Container, values: Mapping[str, Any]) -> Piece:
    """Write a piece again as the journal has it, with the number and the code it had."""
    said = {name: value for name, value in values.items() if name != "id"}
    said["lifted_at"] = datetime.fromisoformat(said["lifted_at"])
    row = deed.add(Piece(**said))
    count_in(deed, container, row, 1)
    return row


def restore_piece(deed: Deed, container: Container, row: Piece, values: Mapping[str, Any]) -> None:
    """Let a piece say again what the journal has for some of its columns."""
    count_in(deed, container, row, -1)
    for name, value in values.items():
        setattr(row, name, value)
    count_in(deed, container, row, 1)


def piece_name(container: Container, row: Piece) -> str:
    """Return how people call a piece: the number of its container and its own, ``131.4``."""
    return f"{container.number}.{row.number}"


def inclusions_in_words(stored: Iterable[Mapping[str, Any]] | None, lists: WordLists) -> str:
    """Return stored inclusions as they are written, with semicolons between them."""
    terms = {name: lists[name].every for name in LISTS}
    return "; ".join(Inclusion(**one).in_words(terms) for one in stored or ())


def measures_of(row: Piece) -> Measures:
    """Return what was measured on a stored piece."""
    return Measures(**{name: getattr(row, name) for name in MEASURED})


def piece_row(deed: Deed, row: Piece) -> PieceRow:
    """Return one piece as it is shown after what the deed did to it."""
    deed.session.flush()
    return piece_rows(deed.session, [row.id], words_of(deed.desk))[0]


def piece_rows(session: Session, ids: Sequence[int], lists: WordLists) -> tuple[PieceRow, ...]:
    """Return stored pieces as they are shown, in the order of their ids; ids that are gone are left out."""
    found = session.execute(
        select(Piece, Container, Deposit.number, Square.name, Season.name, Ware, Form, Vessel.number)
        .join(Container, Piece.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Ware, Piece.ware_id == Ware.id)
        .outerjoin(Form, Piece.form_id == Form.id)
        .outerjoin(Vessel, Piece.vessel_id == Vessel.id)
        .where(Piece.id.in_(ids))
    ).all()
    joins, photos = _joins_of(session, ids), _photos_of(session, ids)
    rows = {
        piece.id: PieceRow(
            id=piece.id,
            version=piece.version,
            code=piece.code,
            number=piece.number,
            name=piece_name(container, piece),
            container_id=container.id,
            container_code=container.code,
            container=container.number,
            deposit=deposit or "",
            square=square or "",
            season=season,
            ware=_of(ware, "code"),
            ware_name=_of(ware, "name"),
            form=_of(form, "code"),
            form_name=_of(form, "name"),
            inclusions=inclusions_in_words(piece.inclusions, lists),
            vessel=vessel,
            joins=joins.get(piece.id, 0),
            photos=photos.get(piece.id, 0),
            doubts=(
                *_no_reason(piece),
                *doubts_of(
                    measures_of(piece),
                    dated=piece.earliest is not None or piece.latest is not None,
                    dated_by=piece.dated_by,
                    shared=piece.shared,
                ),
            ),
            **{name: getattr(piece, name) for name in PLAIN},
        )
        for piece, container, deposit, square, season, ware, form, vessel in found
    }
    return tuple(rows[row_id] for row_id in ids if row_id in rows)


def _no_reason(piece: Piece) -> tuple[Doubt, ...]:
    """Return the doubt about a piece that is decided against a rule and says no reason."""
    if not piece.proposed or piece.reason:
        return ()
    return (Doubt("no_reason", N_("Decided against “{rule}”: say why."), {"rule": piece.rule}),)


def _of(row: Ware | Form | None, name: str) -> str:
    return "" if row is None else str(getattr(row, name))


def _joins_of(session: Session, ids: Sequence[int]) -> dict[int, int]:
    joins: dict[int, int] = {}
    wanted = set(ids)
    found = session.execute(
        select(SherdJoin.left_id, SherdJoin.right_id).where(
            or_(SherdJoin.left_id.in_(ids), SherdJoin.right_id.in_(ids))
        )
    )
    for pair in found:
        for row_id in wanted.intersection(pair):
            joins[row_id] = joins.get(row_id, 0) + 1
    return joins


def _photos_of(session: Session, ids: Sequence[int]) -> dict[int, int]:
    found = session.execute(
        select(Photo.piece_id, func.count()).where(Photo.piece_id.in_(ids)).group_by(Photo.piece_id)
    )
    return {row_id: number for row_id, number in found if row_id is not None}
