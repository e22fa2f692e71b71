"""Which sherds are of one pot: groups and pieces that belong to a vessel or join another, and what hangs together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from typing import Any, NamedTuple

from sqlalchemy import literal, select, union_all
from sqlalchemy.orm import Session

from findsdesk.domain.joins import connected_parts
from findsdesk.store.models import Container, Piece, SherdGroup, SherdJoin
from findsdesk.store.sherd_sums import POTTERY, Inside, Within, linked, name_of, there


class LinkedSherds(NamedTuple):
    """A group or a piece that belongs to a vessel or joins another piece."""

    kind: str
    id: int
    ware_id: int | None
    form_id: int | None
    part: str
    rim_permille: int | None
    base_permille: int | None
    vessel_id: int | None


def linked_sherds(session: Session, within: Within) -> list[LinkedSherds]:
    """Return the thing's own groups and pieces that belong to a vessel or join another piece."""
    return [LinkedSherds(*row) for row in session.execute(_linked_of(within.inside), within.values())]


@cache
def _linked_of(inside: Inside) -> Any:
    def of(kind: Any) -> Any:
        said = (kind.ware_id, kind.form_id, kind.part, kind.rim_permille, kind.base_permille, kind.vessel_id)
        return (
            select(literal(name_of(kind)), kind.id, *said)
            .join(Container, kind.container_id == Container.id)
            .where(
                Container.material == POTTERY, *there(kind), *Within(inside).conditions(mine=True), linked(kind) == 1
            )
        )

    return union_all(of(SherdGroup), of(Piece))


Pots = list[tuple[int, ...]]
"""Groups and pieces by their ids, those together that are of one pot."""


def pots_among(session: Session, ids: Sequence[int]) -> tuple[Pots, Pots]:
    """Return these groups and pieces by what hangs together by joins and vessels, also over others than these.

    Once by all joins, once without those in doubt. What hangs together with none of the others is left out.
    """
    if not ids:
        return [], []
    joins = session.execute(select(SherdJoin.left_id, SherdJoin.right_id, SherdJoin.sure)).all()
    gathered = [
        (str(row_id), f"vessel {vessel_id}")
        for kind in (SherdGroup, Piece)
        for row_id, vessel_id in session.execute(select(kind.id, kind.vessel_id).where(kind.vessel_id.is_not(None)))
    ]
    known = {str(row_id) for row_id in ids}

    def pots(links: Iterable[tuple[str, str]]) -> Pots:
        together = (sorted(int(key) for key in part & known) for part in connected_parts((), [*gathered, *links]))
        return [tuple(part) for part in together if len(part) > 1]

    every = pots((str(left), str(right)) for left, right, _sure in joins)
    if all(sure for _left, _right, sure in joins):
        return every, every
    return every, pots((str(left), str(right)) for left, right, sure in joins if sure)
