"""The rows of sherd groups: what is said of a group, its row in the store, and its share of the kept totals."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed
from findsdesk.desk.word_lists import SHIPPED, WordLists, words_of
from findsdesk.domain.balance import Decision, column_of
from findsdesk.domain.type_rows import said_once
from findsdesk.domain.word_lists import tells_the_vessel
from findsdesk.store.models import Container, Form, Piece, SherdGroup, Vessel, Ware

SAID_OF_A_GROUP = (
    "ware_id",
    "form_id",
    "part",
    "surface",
    "decoration",
    "condition",
    "pieces",
    "tenths",
    "rim_permille",
    "base_permille",
    "decision",
    "reason",
    "rule",
    "proposed",
    "note",
)
_PLAIN = tuple(name for name in SAID_OF_A_GROUP if name not in ("ware_id", "form_id"))
"""What is said in the same words in the store and here."""
_NO_VESSELS: Mapping[int, int] = {}


@dataclass(frozen=True, slots=True)
class GroupFacts:
    """What is said of a group of sherds: codes of ware and form ('' for none), part, pieces, dry tenths of a gram.

    ``condition`` are keys with a blank between them; rims and bases are per mille of whole ones, all together;
    ``rule`` names the retention rule that proposed the decision; where somebody decided otherwise, ``proposed`` is what
    it proposed.
    """

    ware: str
    part: str
    pieces: int
    tenths: int | None = None
    decision: Decision = Decision.KEEP
    reason: str = ""
    note: str = ""
    form: str = ""
    surface: str = ""
    decoration: str = ""
    condition: str = ""
    rim_permille: int | None = None
    base_permille: int | None = None
    rule: str = ""
    proposed: str = ""

    @property
    def wants_why(self) -> bool:
        """Tell whether it is decided against a rule and nobody has said why yet."""
        return bool(self.proposed) and not self.reason

    def in_short(self) -> str:
        """Return the group as it is read back aloud: QRS rim 11, 340.0 g, keep."""
        grams = "" if self.tenths is None else f", {self.tenths // 10}.{self.tenths % 10} g"
        rim = "" if self.rim_permille is None else f", {self.rim_permille / 10:g} %"
        because = f" ({self.reason.replace('_', ' ')})" if self.reason else ""
        what = " ".join(word for word in (said_once(self.ware, self.form), self.part.replace("_", " ")) if word)
        return f"{what} {self.pieces}{grams}{rim}, {_SAID.get(self.decision, str(self.decision))}{because}"


def changed_in_short(before: GroupFacts, after: GroupFacts) -> str:
    """Return a change as it is read back aloud, what stayed left out: TGY handle 1, 64.0 g → 240.0 g."""
    told = [one.in_short().split(", ") for one in (before, after)]
    if before.in_short() == after.in_short():
        return before.in_short()
    if len(told[0]) != len(told[1]):
        return f"{before.in_short()} → {after.in_short()}"
    pairs = list(zip(*told, strict=True))
    shown = [pair for place, pair in enumerate(pairs) if place == 0 or pair[0] != pair[1]]
    return ", ".join(was if was == now else f"{was} → {now}" for was, now in shown)


_SAID = {Decision.MEND: "keep for mending"}
"""Decisions that are said in other words than their keys."""


@dataclass(frozen=True, slots=True)
class GroupRow:
    """A group as it stands in the container's table; ``version`` is what a change must have seen."""

    id: int
    version: int
    container_id: int
    ordinal: int
    ware_name: str
    facts: GroupFacts
    diagnostic: bool
    discarded: bool
    vessel: int | None = None
    """The number of the vessel that all its sherds are of, where it is gathered into one."""

    @property
    def ware(self) -> str:
        """Return the code of its ware."""
        return self.facts.ware

    @property
    def part(self) -> str:
        """Return the key of its part."""
        return self.facts.part

    @property
    def pieces(self) -> int:
        """Return how many sherds it has."""
        return self.facts.pieces

    @property
    def tenths(self) -> int | None:
        """Return its dry weight in tenths of a gram."""
        return self.facts.tenths

    @property
    def decision(self) -> Decision:
        """Return what becomes of it."""
        return self.facts.decision

    @property
    def reason(self) -> str:
        """Return why."""
        return self.facts.reason

    @property
    def note(self) -> str:
        """Return what else was said of it."""
        return self.facts.note


@dataclass(frozen=True, slots=True)
class GroupOf:
    """The rows of the type series that a group is of."""

    ware: Ware | None
    form: Form | None


def has_rows(deed: Deed, container: Container) -> bool:
    """Tell whether any group of a container is written, or any piece was lifted out of one."""
    return any(
        deed.session.execute(select(kind.id).where(kind.container_id == container.id).limit(1)).first() is not None
        for kind in (SherdGroup, Piece)
    )


def write_group(
    deed: Deed, container: Container, said: GroupFacts, of: GroupOf, ordinal: int | None = None
) -> SherdGroup:
    """Put a checked group into the store and into the kept totals, at the end of its table or at a place of it."""
    last = deed.session.execute(
        select(func.max(SherdGroup.ordinal)).where(SherdGroup.container_id == container.id)
    ).scalar()
    row = deed.add(
        SherdGroup(
            container_id=container.id,
            ordinal=ordinal if ordinal is not None else (last or 0) + 1,
            diagnostic=is_diagnostic(said, words_of(deed.desk)),
            **columns_of(said, of),
        )
    )
    count_in(deed, container, row, 1)
    return row


def rewrite_group(deed: Deed, container: Container, row: SherdGroup, said: GroupFacts, of: GroupOf) -> None:
    """Let a group say something else, in the store and in the kept totals."""
    count_in(deed, container, row, -1)
    for name, value in columns_of(said, of).items():
        setattr(row, name, value)
    row.diagnostic = is_diagnostic(said, words_of(deed.desk))
    count_in(deed, container, row, 1)


def erase_group(deed: Deed, container: Container, row: SherdGroup) -> None:
    """Take a group out of the store and out of the kept totals."""
    count_in(deed, container, row, -1)
    deed.session.delete(row)


def count_in(deed: Deed, container: Container, row: SherdGroup | Piece, sign: int) -> None:
    """Count a group or a piece into the kept totals (``sign`` 1) or out of them (-1)."""
    column = column_of(Decision(row.decision), discarded=bool(row.discarded))
    deed.totals.balance(container.id, container.material, column, sign * row.pieces)
    if row.tenths:
        deed.totals.balance(container.id, container.material, "accounted_tenths", sign * row.tenths)
    deed.totals.ware(container.deposit_id, row.ware_id, sign * row.pieces, sign * (row.tenths or 0))


def columns_of(said: GroupFacts, of: GroupOf) -> dict[str, Any]:
    """Return what is said of a group by the names of its columns."""
    values: dict[str, Any] = {name: getattr(said, name) for name in _PLAIN}
    return values | {"ware_id": of.ware.id if of.ware else None, "form_id": of.form.id if of.form else None}


def values_of(row: SherdGroup) -> dict[str, Any]:
    """Return what is said of a stored group, by the names of its columns."""
    return {name: getattr(row, name) for name in SAID_OF_A_GROUP}


def facts_from_values(session: Session, values: Mapping[str, Any]) -> tuple[GroupFacts, GroupOf]:
    """Return what a group's columns say, from the store or from the journal, with its ware and form."""
    ware = None if values["ware_id"] is None else session.get_one(Ware, values["ware_id"])
    form = None if values["form_id"] is None else session.get_one(Form, values["form_id"])
    of = GroupOf(ware, form)
    return _facts(values, of), of


def vessel_numbers(session: Session, rows: Iterable[SherdGroup]) -> dict[int, int]:
    """Return the numbers of the vessels that groups are gathered into, by the ids of the vessels."""
    wanted = {row.vessel_id for row in rows if row.vessel_id is not None}
    if not wanted:
        return {}
    return {row.id: row.number for row in session.execute(select(Vessel).where(Vessel.id.in_(wanted))).scalars()}


def as_row(row: SherdGroup, of: GroupOf, vessels: Mapping[int, int] = _NO_VESSELS) -> GroupRow:
    """Return a stored group as the table shows it; ``vessels`` are the numbers of those that may be meant."""
    return GroupRow(
        id=row.id,
        version=row.version,
        container_id=row.container_id,
        ordinal=row.ordinal,
        ware_name=of.ware.name if of.ware else "",
        facts=_facts(values_of(row), of),
        diagnostic=row.diagnostic,
        discarded=row.discarded,
        vessel=vessels.get(row.vessel_id) if row.vessel_id is not None else None,
    )


def _facts(values: Mapping[str, Any], of: GroupOf) -> GroupFacts:
    said = {name: values[name] for name in _PLAIN} | {"decision": Decision(values["decision"])}
    return GroupFacts(ware=of.ware.code if of.ware else "", form=of.form.code if of.form else "", **said)


def is_diagnostic(said: GroupFacts, lists: WordLists = SHIPPED) -> bool:
    """Tell whether a group is diagnostic by the marks on the excavation's words."""
    keys = {"parts": said.part, "surfaces": said.surface, "decorations": said.decoration, "conditions": said.condition}
    return tells_the_vessel(lists, keys)
