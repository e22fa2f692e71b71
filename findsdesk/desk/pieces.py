"""Pieces: lifted out of a group with a number and a code of their own, described and measured, laid back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import and_, func, or_, select

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.finding import container_of
from findsdesk.desk.finding_pieces import piece_there
from findsdesk.desk.group_rows import count_in
from findsdesk.desk.listed_discards import need_off_lists
from findsdesk.desk.marks_again import stands
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.piece_rows import PieceRow, erase_piece, new_piece, piece_name, piece_row, piece_rows
from findsdesk.desk.rows_there import group_there
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.pieces import WHOLE_PERMILLE, even_shares
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import (
    Container,
    LabSample,
    LoanLine,
    MarkEntry,
    Photo,
    Piece,
    ProxySlip,
    SherdGroup,
    SherdJoin,
)
from findsdesk.words import N_, CountOf

COMMON = (
    "ware_id",
    "form_id",
    "part",
    "surface",
    "decoration",
    "condition",
    "decision",
    "reason",
    "rule",
    "proposed",
    "diagnostic",
    "discarded",
    "vessel_id",
    "note",
)
"""What goes along from a group to its pieces, and makes a group like a piece."""
DECIDED = frozenset({"decision", "reason", "rule", "proposed"})
"""What says of sherds what becomes of them, and why."""
AS_A_PIECE = "as_a_piece"
"""Why a sherd of a row to be discarded is kept once it is lifted out (a key of ``keep_reasons``)."""
AMOUNTS = {"tenths": "grams", "rim_permille": "rim", "base_permille": "base"}
"""What moves with the sherds, and what it is called where it was shared and not measured."""


@dataclass(frozen=True, slots=True)
class Lifted:
    """Pieces lifted out of a group; ``group_left`` is its row with what stays, None where it is empty and gone."""

    pieces: tuple[PieceRow, ...]
    group_left: int | None
    group_pieces: int


def lift_pieces(
    desk: Desk,
    group_id: int,
    *,
    seen: int,
    how_many: int = 1,
    tenths: int | None = None,
    rim_permille: int | None = None,
    base_permille: int | None = None,
) -> Lifted:
    """Lift sherds out of a group of the version ``seen`` as pieces, each with its number and its code.

    Count, grams and shares of rim and base move with them; ``tenths`` and the shares are those of all lifted sherds
    together. What is not said, or said of several, is shared evenly and marked as shared. Nothing of the balance
    changes, but that sherds of a row to be discarded are kept until somebody says otherwise: who lifts one out wants
    it. Opposite: ``lay_back``.
    Refusals: ``row_gone``, ``changed_meanwhile``, ``lift_number``, ``more_than_group``, ``rim_out_of_range``,
    ``on_discard_list``, ``carried_off``.
    """
    said = {"tenths": tenths, "rim_permille": rim_permille, "base_permille": base_permille}
    with desk.deed("lift_pieces") as deed:
        group = group_there(deed.session, group_id)
        container = deed.session.get_one(Container, group.container_id)
        only_here(deed, container)
        need_off_lists(deed.session, group)
        _check_number(group, how_many)
        refuse_if_moved(deed.session, group, seen, {"pieces": group.pieces - how_many})
        shared = _shared_names(group, how_many, said)
        moved = {name: _moved(group, name, how_many, said[name]) for name in AMOUNTS}
        rows = _write(deed, container, group, how_many, moved, shared)
        left = _take_from(deed, container, group, how_many, moved)
        deed.session.flush()
        shown = piece_rows(deed.session, [row.id for row in rows], words_of(desk))
        deed.said = ", ".join(row.name for row in shown)
        return Lifted(shown, group.id if left else None, left)


def _check_number(group: SherdGroup, how_many: int) -> None:
    if not 1 <= how_many <= group.pieces:
        raise Refusal(
            "lift_number",
            N_("Lift 1 to {pieces} out of this row, not {how_many}: no more lie in it."),
            pieces=group.pieces,
            how_many=how_many,
        )


def _moved(group: SherdGroup, name: str, how_many: int, said: int | None) -> int | None:
    """Return what moves with the lifted sherds: what was said, else their even share of what the group has."""
    has: int | None = getattr(group, name)
    whole = how_many == group.pieces
    if said is None:
        return None if has is None else has if whole else sum(even_shares(has, group.pieces)[:how_many])
    most = said if has is None or whole else has
    if not 0 <= said <= most:
        raise Refusal(
            "more_than_group",
            N_("{said} {unit} cannot be lifted out of a row that has {has} {unit}. Measure again."),
            has=f"{(has or 0) / 10:g}",
            said=f"{said / 10:g}",
            unit="g" if name == "tenths" else "%",
        )
    if name != "tenths":
        left = 0 if whole or has is None else has - said
        _check_shares(said, how_many)
        _check_shares(left, group.pieces - how_many)
    return said


def _check_shares(permille: int, sherds: int) -> None:
    if permille > sherds * WHOLE_PERMILLE:
        raise Refusal(
            "rim_out_of_range",
            N_("{pieces}: 0 to {most} % of a circle together, not {percent} %. Read the chart again."),
            pieces=CountOf("{n} sherd", "{n} sherds", sherds),
            most=sherds * WHOLE_PERMILLE // 10,
            percent=f"{permille / 10:g}",
        )


def _shared_names(group: SherdGroup, how_many: int, said: dict[str, int | None]) -> str:
    """Return which amounts of the lifted pieces are a share and no measurement of their own."""
    return " ".join(
        word
        for name, word in AMOUNTS.items()
        if (said[name] is not None and how_many > 1) or (said[name] is None and _is_shared(group, name))
    )


def _is_shared(group: SherdGroup, name: str) -> bool:
    return getattr(group, name) is not None and group.pieces > 1


def _write(
    deed: Deed,
    container: Container,
    group: SherdGroup,
    how_many: int,
    moved: dict[str, int | None],
    shared: str,
) -> list[Piece]:
    alike = {name: getattr(group, name) for name in COMMON}
    if group.decision == Decision.DISCARD:
        alike |= {"decision": Decision.KEEP.value, "reason": AS_A_PIECE, "rule": "", "proposed": ""}
    amounts = {
        name: even_shares(amount, how_many) if amount is not None else (None,) * how_many
        for name, amount in moved.items()
    }
    return [
        new_piece(
            deed,
            container,
            alike | {"pieces": 1, "shared": shared} | {name: parts[number] for name, parts in amounts.items()},
        )
        for number in range(how_many)
    ]


def _take_from(deed: Deed, container: Container, group: SherdGroup, how_many: int, moved: dict[str, int | None]) -> int:
    """Take what was lifted out of its group; one that is empty goes. Returns how many sherds stay in it."""
    count_in(deed, container, group, -1)
    left = group.pieces - how_many
    if not left:
        deed.session.delete(group)
        return 0
    group.pieces = left
    for name, amount in moved.items():
        has = getattr(group, name)
        if has is not None and amount is not None:
            setattr(group, name, has - amount)
    count_in(deed, container, group, 1)
    return left


def lay_back(desk: Desk, piece_id: int, *, seen: int) -> PieceRow:
    """Lay a piece of the version ``seen`` back into a group like it, or into a new one; its number is not used again.

    What was measured and written of it stays in the journal alone. Opposite: ``lift_pieces``.
    Refusals: ``piece_gone``, ``changed_meanwhile``, ``on_discard_list``, ``piece_in_use`` (joins, photos, samples, a
    mark), ``piece_was_lent``.
    """
    with desk.deed("lay_back") as deed:
        row = piece_there(deed.session, piece_id)
        container = deed.session.get_one(Container, row.container_id)
        only_here(deed, container)
        name = piece_name(container, row)
        refuse_if_moved(deed.session, row, seen, {})
        refuse_in_use(deed, container, row)
        shown = piece_row(deed, row)
        group = _group_like(deed, row)
        if group is None:
            _new_group(deed, container, row)
        else:
            _add_to(deed, container, group, row)
        erase_piece(deed, container, row)
        deed.said = name
    return shown


def refuse_in_use(deed: Deed, container: Container, row: Piece) -> None:
    """Refuse that a piece goes which something hangs on.

    Refusals: ``piece_in_use``, ``piece_was_lent`` (or has a slip), ``on_discard_list``, ``carried_off``.
    """
    name = piece_name(container, row)
    need_off_lists(deed.session, row)
    for lent in (LoanLine.piece_id == row.id, ProxySlip.piece_id == row.id):
        if deed.session.execute(select(func.count()).where(lent)).scalar_one():
            raise Refusal(
                "piece_was_lent",
                N_("A loan or a proxy slip names piece {name}, so it stays a piece. Change what is said of it."),
                name=name,
            )
    for what in (
        or_(SherdJoin.left_id == row.id, SherdJoin.right_id == row.id),
        Photo.piece_id == row.id,
        LabSample.piece_id == row.id,
        and_(MarkEntry.piece_id == row.id, stands()),
    ):
        if deed.session.execute(select(func.count()).where(what)).scalar_one():
            raise Refusal(
                "piece_in_use",
                N_(
                    "Piece {name} has joins, photographs, samples or a mark. Undo the joins, take the others off first."
                ),
                name=name,
            )


def _group_like(deed: Deed, row: Piece) -> SherdGroup | None:
    """Return the first group of the container that says of its sherds what is said of the piece.

    A weighed piece does not go among sherds that were not weighed: their sum would be taken for the weight of all.
    """
    said = {name: getattr(row, name) for name in COMMON}
    if row.reason == AS_A_PIECE:
        # It was kept because it was lifted out; among the sherds it came from it is what they are.
        said = {name: value for name, value in said.items() if name not in DECIDED}
        said |= {"decision": Decision.DISCARD.value}
    alike = [getattr(SherdGroup, name).is_not_distinct_from(value) for name, value in said.items()]
    for name in AMOUNTS:
        column = getattr(SherdGroup, name)
        alike.append(column.is_(None) if getattr(row, name) is None else column.is_not(None))
    return (
        deed.session.execute(
            select(SherdGroup)
            .where(SherdGroup.container_id == row.container_id, *alike)
            .order_by(SherdGroup.ordinal, SherdGroup.id)
        )
        .scalars()
        .first()
    )


def _add_to(deed: Deed, container: Container, group: SherdGroup, row: Piece) -> None:
    count_in(deed, container, group, -1)
    group.pieces += row.pieces
    for name in AMOUNTS:
        if (brings := getattr(row, name)) is not None:
            setattr(group, name, getattr(group, name) + brings)
    count_in(deed, container, group, 1)


def _new_group(deed: Deed, container: Container, row: Piece) -> SherdGroup:
    last = deed.session.execute(
        select(func.max(SherdGroup.ordinal)).where(SherdGroup.container_id == container.id)
    ).scalar()
    values: dict[str, Any] = {name: getattr(row, name) for name in (*COMMON, *AMOUNTS, "pieces")}
    group = deed.add(SherdGroup(container_id=container.id, ordinal=(last or 0) + 1, **values))
    count_in(deed, container, group, 1)
    return group


def pieces_of(desk: Desk, tag: str) -> tuple[PieceRow, ...]:
    """Return the pieces of a container by their numbers. Refusals: those of finding it."""
    with desk.reading() as reading:
        container = container_of(reading.session, desk, tag)
        ids = reading.session.execute(
            select(Piece.id).where(Piece.container_id == container.id).order_by(Piece.number)
        ).scalars()
        return piece_rows(reading.session, list(ids), words_of(desk))


def there_of(desk: Desk, piece_ids: Iterable[int]) -> frozenset[int]:
    """Return which of these pieces are there; those laid back are not."""
    with desk.reading() as reading:
        return frozenset(reading.session.execute(select(Piece.id).where(Piece.id.in_(list(piece_ids)))).scalars())
