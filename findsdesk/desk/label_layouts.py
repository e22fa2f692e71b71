"""The layouts of labels: those that ship, those the excavation wrote over them, and a page to look at while editing."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.refusals import Refusal
from findsdesk.paper.label_fields import fields_of
from findsdesk.paper.label_kinds import (
    BagLabel,
    BoxLabel,
    Label,
    LabelKind,
    LoanLabel,
    PieceLabel,
    PlaceLabel,
    SlipLabel,
    TagLabel,
    WashTag,
)
from findsdesk.paper.label_words import LEAST
from findsdesk.paper.layouts import (
    FILLING,
    LARGEST,
    SQUARES,
    STYLES,
    WEIGHTS,
    Layout,
    LayoutLine,
    as_plain,
    check_layout,
    layout_from,
    shipped_layout,
)
from findsdesk.store.models import LabelLayout
from findsdesk.words import N_, Terms, put

__all__ = [
    "FILLING",
    "KIND_IN_WORDS",
    "LARGEST",
    "LEAST",
    "SQUARES",
    "STYLES",
    "WEIGHTS",
    "LabelKind",
    "Layout",
    "LayoutFacts",
    "LayoutLine",
    "change_label_layout",
    "change_label_layout_as_text",
    "field_titles",
    "label_layouts",
    "layout_as_text",
    "layout_in",
    "sample_label",
    "shipped_layout",
]

KIND_IN_WORDS: dict[LabelKind, str] = {
    LabelKind.BAG: N_("Bag label, outside"),
    LabelKind.SLIP: N_("Slip inside a bag"),
    LabelKind.TAG: N_("Field tag"),
    LabelKind.WASH: N_("Wash tag"),
    LabelKind.PIECE: N_("Piece label"),
    LabelKind.BOX: N_("Box label"),
    LabelKind.PLACE: N_("Place label"),
    LabelKind.LOAN: N_("Loan label"),
}


@dataclass(frozen=True, slots=True)
class LayoutFacts:
    """A layout as it stands: the excavation's own, or (``version`` 0) the one that ships."""

    layout: Layout
    version: int

    @property
    def own(self) -> bool:
        """Tell whether the excavation wrote this layout."""
        return self.version > 0


def layout_in(session: Session, kind: LabelKind) -> Layout:
    """Return the layout by which a kind of label is drawn."""
    row = _row(session, kind)
    return shipped_layout(kind) if row is None else layout_from(kind, row.layout)


def label_layouts(desk: Desk) -> dict[LabelKind, LayoutFacts]:
    """Return the layout of every kind of label."""
    with desk.reading() as reading:
        rows = {row.kind: row for row in reading.session.execute(select(LabelLayout)).scalars()}
    return {
        kind: LayoutFacts(layout_from(kind, rows[kind].layout), rows[kind].version)
        if kind in rows
        else LayoutFacts(shipped_layout(kind), 0)
        for kind in LabelKind
    }


def change_label_layout(desk: Desk, layout: Layout, *, seen: int | None = None) -> LayoutFacts:
    """Write what a kind of label shows from now on; labels already printed stay as they are. Opposite: itself.

    ``seen`` is the version that was looked at. Refusals: those of ``check_layout``, ``same_layout``,
    ``changed_meanwhile``.
    """
    check_layout(layout)
    said = as_plain(layout)
    with desk.deed("change_label_layout") as deed:
        row = _row(deed.session, layout.kind)
        if (as_plain(shipped_layout(layout.kind)) if row is None else row.layout) == said:
            raise Refusal("same_layout", N_("The layout says what it said before: nothing is written."))
        if row is None:
            row = deed.add(LabelLayout(kind=str(layout.kind), layout=said))
        else:
            refuse_if_moved(deed.session, row, row.version if seen is None else seen, {"layout": said})
            row.layout = said
        deed.said = put(KIND_IN_WORDS[layout.kind])
        deed.session.flush()
        return LayoutFacts(layout, row.version)


def change_label_layout_as_text(desk: Desk, kind: LabelKind, *, layout: str = "") -> LayoutFacts:
    """Write a layout given as TOML, as those that ship are; without a text the one that ships holds again.

    Refusals: ``layout_unreadable`` and those of ``change_label_layout``.
    """
    return change_label_layout(desk, layout_from_text(kind, layout) if layout.strip() else shipped_layout(kind))


def layout_from_text(kind: LabelKind, text: str) -> Layout:
    """Read a layout from TOML; refusals: ``layout_unreadable`` and those of ``check_layout``."""
    try:
        return layout_from(kind, tomllib.loads(text))
    except (tomllib.TOMLDecodeError, ValueError, TypeError, AttributeError) as fault:
        raise Refusal(
            "layout_unreadable",
            N_("That is not a layout ({why}). Begin with the one that “layouts” shows."),
            why=str(fault)[:120],
        ) from fault


def layout_as_text(layout: Layout) -> str:
    """Return a layout as TOML, to be changed in any editor and given back."""
    said = as_plain(layout)
    heads = [f"{key} = {_toml(said[key])}" for key in ("square", "bars", "hole", "under_symbol")]
    tables = [
        "\n".join(["", f"[[{key}]]", *(f"{name} = {_toml(value)}" for name, value in line.items())])
        for key in ("line", "counterfoil")
        for line in said[key]
    ]
    return "\n".join([*heads, *tables, ""])


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return f"[{', '.join(_toml(one) for one in value)}]"
    return f'"{value}"' if isinstance(value, str) else f"{value}"


def field_titles(kind: LabelKind, terms: Terms) -> dict[str, str]:
    """Return the fields of a kind of label with their names in words, in the order of their kind."""
    return {name: put(field.title, terms) for name, field in fields_of(kind).items()}


_STANDS_ON = {
    LabelKind.BAG: Kind.BAG,
    LabelKind.SLIP: Kind.BAG,
    LabelKind.TAG: Kind.TAG,
    LabelKind.WASH: Kind.TAG,
    LabelKind.PIECE: Kind.PIECE,
    LabelKind.BOX: Kind.BOX,
    LabelKind.PLACE: Kind.PLACE,
    LabelKind.LOAN: Kind.LOAN,
}
"""Of what kind the code on each label is."""


def sample_label(desk: Desk, kind: LabelKind) -> Label:
    """Return an invented label of a kind, with the excavation's name and code, to look at while its layout is made."""
    facts = desk.facts
    code, day = make_code(facts.code, _STANDS_ON[kind], 131), date(2026, 7, 14)
    site, season, permit = facts.name, "2026", "VE-26-014"
    mark = (permit, "2017-131")
    bag = (code, "2017", "131", mark, site, season, permit, "B2", day, None, "pottery", "diagnostic", 38, 6642)
    box = ("2017: 131, 132", "2019: 140", "2031: 151, 152, 153")
    samples: dict[LabelKind, Label] = {
        LabelKind.BAG: BagLabel(*bag),
        LabelKind.SLIP: SlipLabel(*bag),
        LabelKind.TAG: TagLabel(code, "131", site, season, permit, "2017", "B2", day, "", ""),
        LabelKind.WASH: WashTag(code, "2017", "131", 132, "14", day, site, season, "B2", "pottery"),
        LabelKind.PIECE: PieceLabel(code, "4", "2017", "131", mark, "QRS rim, dish", "B2", site, season, permit),
        LabelKind.BOX: BoxLabel(code, "31", site, season, permit, "pottery", box, 96_400, ""),
        LabelKind.PLACE: PlaceLabel(code, "R2-S3", ("yard store", "rack 2", "shelf 3")),
        LabelKind.LOAN: LoanLabel(code, "Glass workshop", "drawing and analysis", day, date(2026, 8, 14), 22),
    }
    return samples[kind]


def _row(session: Session, kind: LabelKind) -> LabelLayout | None:
    return session.execute(select(LabelLayout).where(LabelLayout.kind == str(kind))).scalar_one_or_none()
