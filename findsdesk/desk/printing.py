"""Printing: labels become printed once somebody says that they came out well; only then does the store say so."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from sqlalchemy import select

from findsdesk.desk.box_label_words import boxes_said_wrong
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.label_batches import WAITS_AS, bag_labels, field_tags, wash_tags
from findsdesk.desk.label_contents import KIND_IN_WORDS, LabelBatch, LabelToPrint, PrintKind
from findsdesk.desk.label_gathering import gather, gather_again
from findsdesk.desk.laying_out import (
    PlacedLabel,
    ReadBack,
    Sheets,
    StockFacts,
    StockPlace,
    lay_out,
    lay_out_bag_labels,
    lay_out_field_tags,
    lay_out_wash_tags,
    preview_page,
    read_back,
    reprint,
    reprint_reason,
    stocks,
)
from findsdesk.desk.one_at_a_time import only_here_of
from findsdesk.desk.redoing import Says, ThingToRedo, Written, ask_to_redo, things_to_redo
from findsdesk.desk.spoiled_papers import copies_on_paper, why_spoiled
from findsdesk.desk.steps import write_step
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import StepKind
from findsdesk.store.models import Bag, Box, Container, Loan, Piece, Place, PrintedLabel, Printing, Redo
from findsdesk.words import N_

__all__ = [
    "KIND_IN_WORDS",
    "LabelBatch",
    "LabelToPrint",
    "PlacedLabel",
    "PrintKind",
    "PrintedSheets",
    "ReadBack",
    "Sheets",
    "StockFacts",
    "StockPlace",
    "bag_labels",
    "came_out_well",
    "field_tags",
    "gather",
    "gather_again",
    "labels_to_redo",
    "lay_out",
    "lay_out_bag_labels",
    "lay_out_field_tags",
    "lay_out_wash_tags",
    "preview_page",
    "print_labels",
    "read_back",
    "reprint",
    "stocks",
    "wash_tags",
]

Value = TypeVar("Value", int, str)

AT_ONCE = 5000
_CODED: dict[PrintKind, type[Box | Place | Loan]] = {
    PrintKind.BOX: Box,
    PrintKind.PLACE: Place,
    PrintKind.LOAN: Loan,
}
"""What is known by the code on its label alone."""


@dataclass(frozen=True, slots=True)
class PrintedSheets:
    """What was written down of a printing."""

    printing_id: int | None
    """None where all were spoiled."""
    kind: PrintKind
    codes: tuple[str, ...]
    left_over: tuple[str, ...]
    redone: int


def labels_to_redo(desk: Desk, kind: PrintKind) -> tuple[ThingToRedo, ...]:
    """Return the bag labels or tags that say something no longer true, in natural order; wash tags never wait."""
    return tuple(thing for thing in things_to_redo(desk) if thing.what is WAITS_AS.get(kind))


def came_out_well(
    desk: Desk, sheets: Sheets, *, codes: Iterable[str] | None = None, spoiled: str = ""
) -> PrintedSheets:
    """Write that labels came out well: only then are they printed, and what waited to be redone is done.

    ``codes`` names those that did where a sheet jammed; the others stay to be printed. ``spoiled`` says why they did
    not (a reason for a reprint): then they are written as papers that lie about, and come again as the next copy.
    Opposite: none, a print is only answered by a reprint. What says something else by now comes out as things to redo.
    Refusals: ``not_on_the_sheets``, ``printed_meanwhile``, ``packed_meanwhile``, ``nothing_came_out``,
    ``unknown_reason``.
    """
    why = reprint_reason(spoiled) if spoiled else ""
    well = _well(sheets, None if codes is None else frozenset(codes), may_be_none=bool(why))
    left_over = tuple(one for one in sheets.placed if one not in well)
    with desk.deed("came_out_well") as deed:
        only_here_of(deed, {one.container_id for one in well if one.container_id is not None})
        _refuse_printed_meanwhile(deed, sheets.kind, (*well, *left_over) if why else well)
        printing = _write_labels(deed, sheets, well) if well else None
        if left_over and why:
            _write_labels(deed, sheets, left_over, spoiled=why)
        redone = _redo(deed, sheets, well)
        _mark(deed, sheets, well)
        _ask_for_what_changed(deed, sheets, well)
        deed.said = f"{sheets.kind}: {len(well)}" + (f", {sheets.reason}" if sheets.reason else "")
    codes_well = tuple(dict.fromkeys(one.code for one in well))
    return PrintedSheets(
        printing.id if printing else None, sheets.kind, codes_well, tuple(one.code for one in left_over), redone
    )


def print_labels(
    desk: Desk,
    kind: PrintKind = PrintKind.BAG,
    *,
    stock: str,
    codes: tuple[str, ...] | None = None,
    reason: str = "",
    first_place: int = 1,
) -> Sheets:
    """Lay labels out and write at once that they came out well: for a file of acts, where nobody can be asked.

    With a ``reason`` it is a reprint of the labels named. Returns the sheets. Refusals: those of laying out.
    """
    if reason:
        sheets = reprint(desk, codes or (), reason=reason, stock=stock, kind=kind, first_place=first_place)
    else:
        batch = gather(desk, kind, codes)
        sheets = lay_out(desk, batch, stock=stock, first_place=first_place)
    came_out_well(desk, sheets)
    return sheets


def _well(sheets: Sheets, codes: frozenset[str] | None, *, may_be_none: bool) -> tuple[PlacedLabel, ...]:
    strange = sorted((codes or frozenset()) - set(sheets.codes))
    if strange:
        raise Refusal(
            "not_on_the_sheets",
            N_("{code} does not stand on these sheets. Choose from what was printed."),
            code=strange[0],
        )
    well = tuple(one for one in sheets.placed if codes is None or one.code in codes)
    if not well and not may_be_none:
        raise Refusal("nothing_came_out", N_("No label came out well, so nothing is written. Print them again."))
    return well


def _write_labels(deed: Deed, sheets: Sheets, labels: Sequence[PlacedLabel], spoiled: str = "") -> Printing:
    """Write labels that came out well, or that were ``spoiled`` and why."""
    printing = deed.add(
        Printing(
            kind=sheets.kind,
            stock=sheets.stock,
            head=sheets.head,
            printed_at=sheets.made_at,
            person_id=deed.person_id,
            came_out_at=None if spoiled else deed.happened_at,
            reason=sheets.reason,
            spoiled=spoiled,
        )
    )
    deed.session.flush()
    for one in labels:
        deed.add(
            PrintedLabel(
                printing_id=printing.id,
                container_id=one.container_id,
                bag_id=one.bag_id,
                code=one.code,
                page=one.page,
                place=one.place,
                copy=one.copy,
                printed_at=printing.printed_at,
            )
        )
    return printing


def _refuse_printed_meanwhile(deed: Deed, kind: PrintKind, well: tuple[PlacedLabel, ...]) -> None:
    """Refuse labels whose copy was written down since they were laid out: two papers would say the same."""
    if kind is PrintKind.WASH:
        return
    out = copies_on_paper(deed.session, kind, [one.code for one in well])
    for one in well:
        if out.get(one.code, 0) >= one.copy:
            raise Refusal(
                "printed_meanwhile",
                N_("Copy {copy} of {code} was written down already. Lay the labels out again."),
                copy=one.copy,
                code=one.code,
            )


def _mark(deed: Deed, sheets: Sheets, well: tuple[PlacedLabel, ...]) -> None:
    """Let bags and tags know which copy is out."""
    copies = {one.bag_id or one.container_id: one.copy for one in well}
    if sheets.kind in _CODED:
        _mark_coded(deed, _CODED[sheets.kind], {one.code: one.copy for one in well}, sheets.boxes_say)
    elif sheets.kind in (PrintKind.BAG, PrintKind.SLIP):
        for ids in _runs([one.bag_id for one in well if one.bag_id is not None]):
            for bag in deed.session.execute(select(Bag).where(Bag.id.in_(ids))).scalars():
                _refuse_packed_meanwhile(bag, sheets)
                if sheets.kind is PrintKind.BAG:
                    bag.label_copy, bag.labelled_at = copies[bag.id], deed.happened_at
    elif sheets.kind is PrintKind.TAG:
        why = why_spoiled(deed.session, PrintKind.TAG, [one.code for one in well if one.copy > 1])
        again = [one.container_id for one in well if one.copy > 1 and one.container_id is not None]
        for ids in _runs(again):
            for container in deed.session.execute(select(Container).where(Container.id.in_(ids))).scalars():
                container.tag_copy = copies[container.id]
                write_step(
                    deed,
                    container,
                    StepKind.CORRECTED,
                    note=sheets.reason or why[container.code, container.tag_copy - 1],
                )


def _mark_coded(
    deed: Deed, model: type[Box | Place | Loan], copies: Mapping[str, int], boxes_say: Mapping[str, str]
) -> None:
    for codes in _runs(list(copies)):
        found: Any = deed.session.execute(select(model).where(model.code.in_(codes))).scalars()
        for row in found:
            row.label_copy, row.labelled_at = copies[row.code], deed.happened_at
            if row.code in boxes_say:
                row.label_says = boxes_say[row.code]


def _refuse_packed_meanwhile(bag: Bag, sheets: Sheets) -> None:
    if bag.packed_at > sheets.made_at:
        raise Refusal(
            "packed_meanwhile",
            N_("Bag {code} was packed anew after its label was drawn. Lay that label out again."),
            code=bag.code,
        )


def _ask_for_what_changed(deed: Deed, sheets: Sheets, well: tuple[PlacedLabel, ...]) -> None:
    """Ask for papers again that were true when they were drawn and are so no longer."""
    what = WAITS_AS.get(sheets.kind)
    if what is None:
        return
    drawn = {
        (what, one.container_id, one.bag_id): Says(sheets.says[one.container_id])
        for one in well
        if one.container_id is not None and one.container_id in sheets.says
    }
    deed.session.flush()
    ask_to_redo(deed, drawn, "changed while it was printed")


def _redo(deed: Deed, sheets: Sheets, well: tuple[PlacedLabel, ...]) -> int:
    """Write as done what waited to be printed anew when the sheets were laid out; returns how much that was."""
    what = WAITS_AS.get(sheets.kind)
    if what is None:
        return 0
    if what is Written.BOX:
        out = {one.code for one in well}
        return sum(one.code in out for one in boxes_said_wrong(deed.session))
    printed = _papers_out(deed, sheets.kind, well)
    done = 0
    for ids in _runs([one.container_id for one in well if one.container_id is not None]):
        waiting = select(Redo).where(
            Redo.container_id.in_(ids), Redo.what == what, Redo.done_at.is_(None), Redo.asked_at <= sheets.made_at
        )
        for row in deed.session.execute(waiting).scalars():
            if (row.container_id, row.bag_id or row.piece_id) in printed:
                row.done_at = deed.happened_at
                done += 1
    return done


def _papers_out(deed: Deed, kind: PrintKind, well: tuple[PlacedLabel, ...]) -> set[tuple[int | None, int | None]]:
    """Return (container, bag or piece) of what came out, by their ids."""
    if kind is not PrintKind.PIECE:
        return {(one.container_id, one.bag_id) for one in well}
    out: set[tuple[int | None, int | None]] = set()
    for codes in _runs([one.code for one in well]):
        rows = deed.session.execute(select(Piece.container_id, Piece.id).where(Piece.code.in_(codes)))
        out.update((container_id, piece_id) for container_id, piece_id in rows)
    return out


def _runs(values: Sequence[Value]) -> Iterator[Sequence[Value]]:
    """Yield values in runs that one statement can ask for."""
    for first in range(0, len(values), AT_ONCE):
        yield values[first : first + AT_ONCE]
