"""Layouts of labels as data: which fields stand on which line, how large, how heavy, under which symbols.

Those that ship lie in resources/layouts/; an excavation may write its own over them. The kinds of line:
``numbers`` are captioned and read at arm's length, ``words`` have dots between them, ``boxes`` can be written in,
``text`` is broken into lines and takes the room that is left.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any, Literal

from findsdesk import places
from findsdesk.domain.refusals import Refusal
from findsdesk.paper.label_fields import fields_of
from findsdesk.paper.label_kinds import LabelKind
from findsdesk.paper.label_words import LEAST
from findsdesk.words import N_

Style = Literal["numbers", "words", "boxes", "text"]
Weight = Literal["plain", "bold"]
SquareChoice = Literal["fitting", "qr", "data matrix"]

STYLES: tuple[Style, ...] = ("numbers", "words", "boxes", "text")
WEIGHTS: tuple[Weight, ...] = ("plain", "bold")
SQUARES: tuple[SquareChoice, ...] = ("fitting", "qr", "data matrix")
LARGEST = 72.0
"""Points: larger letters leave no room for anything else on a label (our own limit)."""
MOST_LINES = 12
MOST_SIDE_BY_SIDE = 3
MOST_BOXES = 8
FILLING = ("boxes", "text")
"""Lines that take the room the others leave; a label has one of them at most."""


@dataclass(frozen=True, slots=True)
class LayoutLine:
    """One line: its fields in their order, its size in points where there is room.

    A ``beside`` line stands right of the numbers before it where it fits there; an ``optional`` one is left out where
    there is no room for all.
    """

    fields: tuple[str, ...]
    style: Style = "words"
    size: float = 8.0
    weight: Weight = "plain"
    beside: bool = False
    optional: bool = False


@dataclass(frozen=True, slots=True)
class Layout:
    """What one kind of label shows. ``under_symbol`` are the fields in the column under the square symbol.

    ``square`` names the kind of square symbol, or ``fitting`` for the one that fits; ``bars`` asks for a Code 128
    symbol where there is room. ``counterfoil`` are the lines of a part to be torn off a card; ``hole`` is for string.
    """

    kind: LabelKind
    lines: tuple[LayoutLine, ...]
    under_symbol: tuple[str, ...] = ()
    square: SquareChoice = "fitting"
    bars: bool = True
    hole: bool = False
    counterfoil: tuple[LayoutLine, ...] = field(default=())

    def without_counterfoil(self) -> Layout:
        """Return the layout of what is left when the counterfoil is torn off."""
        return replace(self, counterfoil=())

    def of_counterfoil(self) -> Layout:
        """Return the layout of the part that is torn off."""
        return Layout(self.kind, self.counterfoil, square=self.square, bars=False)


@cache
def shipped_layout(kind: LabelKind) -> Layout:
    """Return the layout that ships for a kind of label."""
    return layout_from(kind, tomllib.loads(places.resource("layouts", f"{kind}.toml").read_text("utf-8")))


def layout_from(kind: LabelKind, said: Mapping[str, Any]) -> Layout:
    """Return a layout from plain values, as a file or the store keeps them; refuses those of ``check_layout``."""
    layout = Layout(
        kind=kind,
        lines=tuple(_line(one) for one in said.get("line", ())),
        under_symbol=tuple(str(name) for name in said.get("under_symbol", ())),
        square=said.get("square", "fitting"),
        bars=bool(said.get("bars", True)),
        hole=bool(said.get("hole", False)),
        counterfoil=tuple(_line(one) for one in said.get("counterfoil", ())),
    )
    check_layout(layout)
    return layout


def _line(said: Mapping[str, Any]) -> LayoutLine:
    return LayoutLine(
        fields=tuple(str(name) for name in said.get("fields", ())),
        style=said.get("as", "words"),
        size=float(said.get("size", 8.0)),
        weight=said.get("weight", "plain"),
        beside=bool(said.get("beside", False)),
        optional=bool(said.get("optional", False)),
    )


def as_plain(layout: Layout) -> dict[str, Any]:
    """Return a layout as plain values, spelled as in a file."""
    return {
        "square": layout.square,
        "bars": layout.bars,
        "hole": layout.hole,
        "under_symbol": list(layout.under_symbol),
        "line": [_plain_line(line) for line in layout.lines],
        "counterfoil": [_plain_line(line) for line in layout.counterfoil],
    }


def _plain_line(line: LayoutLine) -> dict[str, Any]:
    return {
        "fields": list(line.fields),
        "as": line.style,
        "size": line.size,
        "weight": line.weight,
        "beside": line.beside,
        "optional": line.optional,
    }


def check_layout(layout: Layout) -> None:
    """Refuse a layout that cannot be drawn, whatever the label.

    Refusals: ``layout_empty``, ``layout_line_empty``, ``unknown_label_field``, ``label_field_twice``,
    ``layout_size``, ``layout_word``, ``too_many_on_a_line``, ``too_many_filling``, ``too_many_lines``.
    """
    if not layout.lines:
        raise Refusal("layout_empty", N_("A label without a line says nothing: put at least one field on it."))
    _check_word(layout.square, SQUARES)
    for lines in (layout.lines, layout.counterfoil):
        for line in lines:
            _check_line(layout.kind, line)
        _check_together(lines)
    _check_fields(layout.kind, [*_named(layout.lines), *layout.under_symbol])
    _check_fields(layout.kind, list(_named(layout.counterfoil)))


def _named(lines: Sequence[LayoutLine]) -> Iterator[str]:
    return (name for line in lines for name in line.fields)


def _check_together(lines: Sequence[LayoutLine]) -> None:
    if len(lines) > MOST_LINES:
        text = N_("A label has {most} lines at most, this one has {lines}. Put fields together on a line.")
        raise Refusal("too_many_lines", text, most=MOST_LINES, lines=len(lines))
    if sum(line.style in FILLING for line in lines) > 1:
        text = N_("Boxes and text take the room that is left, so a label has one such line. Take the other away.")
        raise Refusal("too_many_filling", text)


def _check_line(kind: LabelKind, line: LayoutLine) -> None:
    if not line.fields:
        raise Refusal("layout_line_empty", N_("A line has no field. Put one on it, or take the line away."))
    _check_word(line.style, STYLES)
    _check_word(line.weight, WEIGHTS)
    if not LEAST <= line.size <= LARGEST:
        text = N_("Letters are {least} to {most} points high, not {size}. Type another size.")
        raise Refusal("layout_size", text, least=f"{LEAST:g}", most=f"{LARGEST:g}", size=f"{line.size:g}")
    most = {"numbers": MOST_SIDE_BY_SIDE, "boxes": MOST_BOXES, "text": 1}.get(line.style, len(fields_of(kind)))
    if len(line.fields) > most:
        text = N_("This line takes {most} fields at most. Put the others on a line of their own.")
        raise Refusal("too_many_on_a_line", text, most=most)


def _check_word(word: str, known: Sequence[str]) -> None:
    if word not in known:
        text = N_("“{word}” is nothing a layout knows here. It knows {known}.")
        raise Refusal("layout_word", text, word=word, known=", ".join(known))


def _check_fields(kind: LabelKind, names: Sequence[str]) -> None:
    known = fields_of(kind)
    for place, name in enumerate(names):
        if name not in known:
            text = N_("“{name}” is not a field of this label. Its fields are {known}.")
            raise Refusal("unknown_label_field", text, name=name, known=", ".join(known))
        if name in names[:place]:
            text = N_("The field “{name}” stands on the label twice. Take one of them away.")
            raise Refusal("label_field_twice", text, name=name)
