"""The rows of sherd groups: what is said of a group, its row in the store, and its share of the kept totals."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed
from findsdesk.domain.balance import COLUMN_OF_DECISION, Decision
from findsdesk.store.models import Container, SherdGroup, Ware

SAID_OF_A_GROUP = ("ware_id", "part", "pieces", "tenths", "decision", "reason", "note")


@dataclass(frozen=True, slots=True)
class GroupFacts:
    """What is said of a group of sherds: ware code ('' for none), part, pieces, dry tenths of a gram, decision."""

    ware: str
    part: str
    pieces: int
    tenths: int | None = None
    decision: Decision = Decision.KEEP
    reason: str = ""
    note: str = ""

    def in_short(self) -> str:
        """Return the group as it is read back aloud: QRS rim 11, 340.0 g, keep."""
        grams = "" if self.tenths is None else f", {self.tenths // 10}.{self.tenths % 10} g"
        because = f" ({self.reason})" if self.reason else ""
        return f"{self.ware} {self.part} {self.pieces}{grams}, {self.decision}{because}".strip()


@dataclass(frozen=True, slots=True)
class GroupRow:
    """A group as it stands in the container's table; ``version`` is what a change must have seen."""

    id: int
    version: int
    container_id: int
    ordinal: int
    ware: str
    ware_name: str
    part: str
    pieces: int
    tenths: int | None
    decision: Decision
    reason: str
    note: str

    @property
    def facts(self) -> GroupFacts:
        """Return what is said of the group, without its place in the store."""
        return GroupFacts(self.ware, self.part, self.pieces, self.tenths, self.decision, self.reason, self.note)


def write_group(
    deed: Deed, container: Container, said: GroupFacts, ware: Ware | None, ordinal: int | None = None
) -> SherdGroup:
    """Put a checked group into the store and into the kept totals, at the end of its table or at a place of it."""
    last = deed.session.execute(
        select(func.max(SherdGroup.ordinal)).where(SherdGroup.container_id == container.id)
    ).scalar()
    row = deed.add(
        SherdGroup(
            container_id=container.id,
            ordinal=ordinal if ordinal is not None else (last or 0) + 1,
            ware_id=ware.id if ware else None,
            part=said.part,
            pieces=said.pieces,
            tenths=said.tenths,
            decision=said.decision,
            reason=said.reason,
            note=said.note,
        )
    )
    count_in(deed, container, row, 1)
    return row


def rewrite_group(deed: Deed, container: Container, row: SherdGroup, said: GroupFacts, ware: Ware | None) -> None:
    """Let a group say something else, in the store and in the kept totals."""
    count_in(deed, container, row, -1)
    row.ware_id = ware.id if ware else None
    row.part, row.pieces, row.tenths = said.part, said.pieces, said.tenths
    row.decision, row.reason, row.note = said.decision, said.reason, said.note
    count_in(deed, container, row, 1)


def erase_group(deed: Deed, container: Container, row: SherdGroup) -> None:
    """Take a group out of the store and out of the kept totals."""
    count_in(deed, container, row, -1)
    deed.session.delete(row)


def count_in(deed: Deed, container: Container, row: SherdGroup, sign: int) -> None:
    """Count a group into the kept totals (``sign`` 1) or out of them (-1)."""
    column = COLUMN_OF_DECISION[Decision(row.decision)]
    deed.totals.balance(container.id, container.material, column, sign * row.pieces)
    if row.tenths:
        deed.totals.balance(container.id, container.material, "accounted_tenths", sign * row.tenths)
    deed.totals.ware(container.deposit_id, row.ware_id, sign * row.pieces, sign * (row.tenths or 0))


def values_of(row: SherdGroup) -> dict[str, Any]:
    """Return what is said of a stored group, by the names of its columns."""
    return {name: getattr(row, name) for name in SAID_OF_A_GROUP}


def facts_from_values(session: Session, values: Mapping[str, Any]) -> tuple[GroupFacts, Ware | None]:
    """Return what a group's columns say, from the store or from the journal, with its ware."""
    ware = None if values["ware_id"] is None else session.get_one(Ware, values["ware_id"])
    said = GroupFacts(
        ware=ware.code if ware else "",
        part=values["part"],
        pieces=values["pieces"],
        tenths=values["tenths"],
        decision=Decision(values["decision"]),
        reason=values["reason"],
        note=values["note"],
    )
    return said, ware


def as_row(row: SherdGroup, ware: Ware | None) -> GroupRow:
    """Return a stored group as the table shows it."""
    return GroupRow(
        id=row.id,
        version=row.version,
        container_id=row.container_id,
        ordinal=row.ordinal,
        ware=ware.code if ware else "",
        ware_name=ware.name if ware else "",
        part=row.part,
        pieces=row.pieces,
        tenths=row.tenths,
        decision=Decision(row.decision),
        reason=row.reason,
        note=row.note,
    )
