"""What stands on each label: plain values from a container, its season, its place and its bag or count."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any

from sqlalchemy import Row

from findsdesk.desk.desk import ExcavationFacts
from findsdesk.desk.shipped import route_of
from findsdesk.domain.bags import BAG_IN_WORDS
from findsdesk.domain.marks import make_mark
from findsdesk.domain.routes import Standing
from findsdesk.paper.label_kinds import BagLabel, Label, LabelKind, TagLabel, WashTag
from findsdesk.paper.layouts import Layout
from findsdesk.store.models import Bag, Container, Season
from findsdesk.words import N_, put

ISSUED_FOR = "pottery"
"""The material a tag is issued for when nobody said another: it stays open on the tag until the finds are known."""


class PrintKind(StrEnum):
    """What is printed in one go."""

    BAG = "bag labels"
    TAG = "field tags"
    WASH = "wash tags"
    SLIP = "slips"
    PIECE = "piece labels"
    BOX = "box labels"
    PLACE = "place labels"
    LOAN = "loan labels"


KIND_IN_WORDS: dict[PrintKind, str] = {
    PrintKind.BAG: N_("Bag labels"),
    PrintKind.TAG: N_("Field tags"),
    PrintKind.WASH: N_("Wash tags"),
    PrintKind.SLIP: N_("Slips inside bags"),
    PrintKind.PIECE: N_("Piece labels"),
    PrintKind.BOX: N_("Box labels"),
    PrintKind.PLACE: N_("Place labels"),
    PrintKind.LOAN: N_("Loan labels"),
}

ONE_IN_WORDS: dict[PrintKind, str] = {
    PrintKind.BAG: N_("Bag label"),
    PrintKind.TAG: N_("Field tag"),
    PrintKind.WASH: N_("Wash tag"),
    PrintKind.SLIP: N_("Slip inside a bag"),
    PrintKind.PIECE: N_("Piece label"),
    PrintKind.BOX: N_("Box label"),
    PrintKind.PLACE: N_("Place label"),
    PrintKind.LOAN: N_("Loan label"),
}

LAYOUT_OF: dict[PrintKind, LabelKind] = {
    PrintKind.BAG: LabelKind.BAG,
    PrintKind.TAG: LabelKind.TAG,
    PrintKind.WASH: LabelKind.WASH,
    PrintKind.SLIP: LabelKind.SLIP,
    PrintKind.PIECE: LabelKind.PIECE,
    PrintKind.BOX: LabelKind.BOX,
    PrintKind.PLACE: LabelKind.PLACE,
    PrintKind.LOAN: LabelKind.LOAN,
}
"""By which layout each kind of print is drawn."""


@dataclass(frozen=True, slots=True)
class LabelToPrint:
    """One label with what it stands for; a box, a place or a loan is known by its code alone."""

    label: Label
    container_id: int | None = None
    bag_id: int | None = None

    @property
    def code(self) -> str:
        """Return the code in the label's symbols."""
        return self.label.code

    @property
    def copy(self) -> int:
        """Return which copy of the label this is."""
        return self.label.copy

    def as_copy(self, copy: int) -> LabelToPrint:
        """Return the label as another copy."""
        return replace(self, label=replace(self.label, copy=copy))


@dataclass(frozen=True, slots=True)
class LabelBatch:
    """Labels to be laid out together, in the order in which they are wanted.

    ``head`` is the store's head when they were gathered; a ``reason`` says that it is a reprint; ``says`` is what
    stands on the paper of each container, part by part, so that a change before it comes out well is known.
    """

    kind: PrintKind
    labels: tuple[LabelToPrint, ...]
    head: str
    reason: str = ""
    says: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    boxes_say: Mapping[str, str] = field(default_factory=dict)
    """What the label of each box says, by its code; kept with the box once it came out well."""
    layout: Layout | None = None
    """The excavation's layout of this kind of label; without one, the layout that ships."""


def _material(container: Container, facts: ExcavationFacts) -> str:
    return put(route_of(container.material).name, facts.terms, None, facts.settings.paper_language)


def _what(row: Bag, facts: ExcavationFacts) -> str:
    text = BAG_IN_WORDS.get(row.what, row.what)
    return put(text, facts.terms, None, facts.settings.paper_language) if text else ""


def mark_of(
    container: Container, season: Season, deposit: str, square: str, site: str, piece: str = ""
) -> tuple[str, ...]:
    """Return the lines inked on the sherds of a container, or on a numbered piece of it, by its season's pattern."""
    return make_mark(
        season.mark_pattern,
        {
            "permit": season.permit,
            "site": site,
            "season": season.name,
            "square": square,
            "deposit": deposit,
            "container": container.number,
            "piece": piece,
        },
    )


def bag_label(row: Row[Any], facts: ExcavationFacts, *, out: bool = False) -> LabelToPrint:
    """Return the label of a bag: the copy to be printed first, or (``out``) the one that is out."""
    bag, container, season = row.Bag, row.Container, row.Season
    deposit, square = row.deposit or "", row.square or ""
    label = BagLabel(
        code=bag.code,
        deposit=deposit,
        container=container.number,
        mark_lines=mark_of(container, season, deposit, square, facts.code),
        site=facts.name,
        season=season.name,
        permit=season.permit,
        square=square,
        collected_on=container.collected_on,
        material=_material(container, facts),
        what=_what(bag, facts),
        pieces=bag.pieces,
        tenths=bag.tenths,
        copy=bag.label_copy if out else bag.label_copy + 1,
    )
    return LabelToPrint(label, container.id, bag.id)


def tag_label(row: Row[Any], facts: ExcavationFacts) -> LabelToPrint:
    """Return the tag that goes to the trench, or that stands in for a lost one."""
    container, season = row.Container, row.Season
    known = container.standing != Standing.ISSUED or container.material != ISSUED_FOR
    label = TagLabel(
        code=container.code,
        container=container.number,
        site=facts.name,
        season=season.name,
        permit=season.permit,
        deposit=row.deposit or "",
        square=row.square or "",
        collected_on=container.collected_on,
        supervisor=row.name or "",
        material=_material(container, facts) if known else "",
        copy=container.tag_copy,
    )
    return LabelToPrint(label, container.id, None)


def wash_label(row: Row[Any], facts: ExcavationFacts, trays: Mapping[int, str]) -> LabelToPrint:
    """Return the tag that lies with the washed pieces; ``trays`` says where each container lies to dry."""
    container, season, counted = row.Container, row.Season, row.Count
    label = WashTag(
        code=container.code,
        deposit=row.deposit or "",
        container=container.number,
        pieces=counted.pieces,
        tray=trays.get(container.id, ""),
        washed_on=counted.happened_at.astimezone(facts.zone).date(),
        site=facts.name,
        season=season.name,
        square=row.square or "",
        material=_material(container, facts),
    )
    return LabelToPrint(label, container.id, None)
