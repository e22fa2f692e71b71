"""Vessels: sherds and pieces of one pot, gathered over containers and seasons; and pots that joins show."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.changing_pieces import ask_whole
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.finding_pieces import piece_of, piece_there
from findsdesk.desk.group_rows import facts_from_values, values_of
from findsdesk.desk.piece_rows import PieceRow, piece_name, piece_rows
from findsdesk.desk.rows_there import group_there
from findsdesk.desk.vessels_gone import goes_when_empty
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.joins import connected_parts
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, Piece, SherdGroup, SherdJoin, Vessel
from findsdesk.store.numbers import take_numbers
from findsdesk.words import N_

SERIES = "vessel"


@dataclass(frozen=True, slots=True)
class VesselFacts:
    """A vessel with its pieces; ``parts`` are its pieces parted into those that hang together by joins, by name.

    ``in_groups`` are sherds of it that lie in groups and are no pieces of their own, in rows of the containers
    ``rows_of``.
    """

    id: int
    version: int
    number: int
    for_mending: bool
    note: str
    pieces: tuple[PieceRow, ...]
    in_groups: int
    rows_of: tuple[str, ...]
    parts: tuple[tuple[str, ...], ...]
    rim_permille: int
    base_permille: int

    @property
    def deposits(self) -> tuple[str, ...]:
        """Return the deposits its pieces come from."""
        return tuple(dict.fromkeys(piece.deposit for piece in self.pieces if piece.deposit))

    @property
    def seasons(self) -> tuple[str, ...]:
        """Return the seasons its pieces were found in."""
        return tuple(dict.fromkeys(piece.season for piece in self.pieces))


def gather_vessel(
    desk: Desk,
    piece_ids: Sequence[int],
    *,
    number: int | None = None,
    group_ids: Sequence[int] = (),
    for_mending: bool = False,
    note: str = "",
    sure: bool = False,
) -> VesselFacts:
    """Gather pieces (and groups all of whose sherds are of it) into a new vessel, or into the one of a number.

    Opposite: ``leave_vessel``. Refusals: ``nothing_gathered``, ``piece_gone``, ``row_gone``, ``unknown_vessel``,
    ``in_other_vessel``. Questions: ``rim_over_whole``, ``base_over_whole``.
    """
    with desk.deed("gather_vessel") as deed:
        pieces = [piece_there(deed.session, row_id) for row_id in dict.fromkeys(piece_ids)]
        groups = [group_there(deed.session, row_id) for row_id in dict.fromkeys(group_ids)]
        return _gathered(deed, pieces, groups, number, for_mending=for_mending, note=note, sure=sure)


def gather_named(
    desk: Desk,
    pieces: tuple[str, ...],
    *,
    number: int | None = None,
    for_mending: bool = False,
    note: str = "",
    sure: bool = False,
) -> VesselFacts:
    """Gather the pieces of codes or names. Refusals: those of finding them and of ``gather_vessel``."""
    with desk.deed("gather_vessel") as deed:
        rows = [piece_of(deed.session, desk, which) for which in pieces]
        return _gathered(deed, rows, [], number, for_mending=for_mending, note=note, sure=sure)


def _gathered(
    deed: Deed,
    pieces: Sequence[Piece],
    groups: Sequence[SherdGroup],
    number: int | None,
    *,
    for_mending: bool,
    note: str,
    sure: bool,
) -> VesselFacts:
    if not pieces and not groups:
        raise Refusal("nothing_gathered", N_("A vessel needs at least one piece. Choose the pieces first."))
    vessel = _new(deed, for_mending=for_mending, note=note) if number is None else vessel_numbered(deed.session, number)
    gathered: list[Piece | SherdGroup] = [*pieces, *groups]
    for row in gathered:
        if row.vessel_id not in (None, vessel.id):
            raise Refusal(
                "in_other_vessel",
                N_("One of these is in vessel {vessel}. Take it out there first."),
                vessel=deed.session.get_one(Vessel, row.vessel_id).number,
            )
        row.vessel_id = vessel.id
    deed.said = f"{vessel.number}: {', '.join(_name(deed.session, row) for row in gathered)}"
    ask_whole(deed, vessel.id, sure=sure)
    deed.session.flush()
    return vessel_facts(deed.session, deed.desk, vessel)


def leave_vessel(desk: Desk, piece_id: int, *, seen: int) -> PieceRow:
    """Take a piece of the version ``seen`` out of its vessel; a vessel without any (and without photographs)
    goes, its number stays used.

    Opposite: ``gather_vessel``. Refusals: ``piece_gone``, ``changed_meanwhile``, ``in_no_vessel``.
    """
    with desk.deed("leave_vessel") as deed:
        row = piece_there(deed.session, piece_id)
        refuse_if_moved(deed.session, row, seen, {"vessel_id": None})
        return _left(deed, row)


def leave_named(desk: Desk, piece: str) -> PieceRow:
    """Take the piece of a code or name out of its vessel. Refusals: finding it, ``in_no_vessel``."""
    with desk.deed("leave_vessel") as deed:
        return _left(deed, piece_of(deed.session, desk, piece))


def _left(deed: Deed, row: Piece) -> PieceRow:
    take_out(deed, row)
    return piece_rows(deed.session, [row.id], words_of(deed.desk))[0]


def take_out(deed: Deed, row: Piece | SherdGroup) -> None:
    """Take a piece, or a group with all its sherds, out of its vessel. Refusal: ``in_no_vessel``."""
    name = _name(deed.session, row)
    if row.vessel_id is None:
        raise Refusal("in_no_vessel", N_("{name} is in no vessel. Look at it again."), name=name)
    vessel = deed.session.get_one(Vessel, row.vessel_id)
    row.vessel_id = None
    deed.said = f"{vessel.number}: {name}"
    goes_when_empty(deed, vessel.id)
    deed.session.flush()


def _name(session: Session, row: Piece | SherdGroup) -> str:
    """Return how people call what is gathered: 131.4; of a group 131 QRS body 9."""
    container = session.get_one(Container, row.container_id)
    if isinstance(row, Piece):
        return piece_name(container, row)
    said, _of = facts_from_values(session, values_of(row))
    return f"{container.number} {said.in_short().partition(',')[0]}"


def change_vessel(
    desk: Desk, number: int, *, seen: int | None = None, for_mending: bool | None = None, note: str | None = None
) -> VesselFacts:
    """Change whether a vessel is to be mended, or its note. Opposite: the change back.

    Refusals: ``unknown_vessel``, ``changed_meanwhile``.
    """
    with desk.deed("change_vessel") as deed:
        row = vessel_numbered(deed.session, number)
        mine = {"for_mending": for_mending, "note": note.strip() if note is not None else None}
        wanted = {name: value for name, value in mine.items() if value is not None}
        if seen is not None:
            refuse_if_moved(deed.session, row, seen, wanted)
        for name, value in wanted.items():
            setattr(row, name, value)
        deed.said = str(row.number)
        deed.session.flush()
        return vessel_facts(deed.session, desk, row)


def vessel_of(desk: Desk, number: int) -> VesselFacts:
    """Return a vessel by its number. Refusal: ``unknown_vessel``."""
    with desk.reading() as reading:
        return vessel_facts(reading.session, desk, vessel_numbered(reading.session, number))


def pots_by_joins(desk: Desk) -> tuple[tuple[PieceRow, ...], ...]:
    """Return pieces that hang together by certain joins and are gathered in no vessel, or not all in the same one."""
    with desk.reading() as reading:
        session = reading.session
        pairs = [
            (str(left), str(right))
            for left, right in session.execute(select(SherdJoin.left_id, SherdJoin.right_id).where(SherdJoin.sure))
        ]
        parts = [sorted(int(key) for key in part) for part in connected_parts((), pairs)]
        shown = (piece_rows(session, part, words_of(desk)) for part in parts)
        return tuple(part for part in shown if len({piece.vessel for piece in part}) > 1 or part[0].vessel is None)


def vessel_numbered(session: Session, number: int) -> Vessel:
    """Return the row of a vessel's number; refuses ``unknown_vessel``."""
    row = session.execute(select(Vessel).where(Vessel.number == number)).scalar_one_or_none()
    if row is None:
        raise Refusal(
            "unknown_vessel", N_("There is no vessel {number}. Look at the register of vessels."), number=number
        )
    return row


def vessel_facts(session: Session, desk: Desk, row: Vessel) -> VesselFacts:
    """Return a stored vessel as it is shown."""
    ids = list(
        session.execute(
            select(Piece.id).where(Piece.vessel_id == row.id).order_by(Piece.container_id, Piece.number)
        ).scalars()
    )
    pieces = piece_rows(session, ids, words_of(desk))
    names = {piece.id: piece.name for piece in pieces}
    pairs = session.execute(
        select(SherdJoin.left_id, SherdJoin.right_id).where(SherdJoin.left_id.in_(ids), SherdJoin.right_id.in_(ids))
    ).all()
    parts = connected_parts((str(row_id) for row_id in ids), [(str(left), str(right)) for left, right in pairs])
    in_rows = session.execute(
        select(Container.number, func.sum(SherdGroup.pieces))
        .join(Container, SherdGroup.container_id == Container.id)
        .where(SherdGroup.vessel_id == row.id)
        .group_by(Container.id)
        .order_by(Container.number_key)
    ).all()
    return VesselFacts(
        id=row.id,
        version=row.version,
        number=row.number,
        for_mending=row.for_mending,
        note=row.note,
        pieces=pieces,
        in_groups=sum(int(sherds) for _number, sherds in in_rows),
        rows_of=tuple(number for number, _sherds in in_rows),
        parts=tuple(tuple(names[row_id] for row_id in ids if str(row_id) in part) for part in parts),
        rim_permille=sum(piece.rim_permille or 0 for piece in pieces),
        base_permille=sum(piece.base_permille or 0 for piece in pieces),
    )


def _new(deed: Deed, *, for_mending: bool, note: str) -> Vessel:
    number = take_numbers(deed.session, SERIES, 1, station_id=deed.desk.station_id)[0]
    row = deed.add(Vessel(number=number, for_mending=for_mending, note=note.strip()))
    deed.session.flush()
    return row
