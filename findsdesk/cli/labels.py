"""``findsdesk labels``: lay out bag labels, tags or wash tags as a PDF; write down that they came out well."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import writing_seat
from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.words import N_, _

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.laying_out import Sheets

EXAMPLE = (
    "findsdesk labels quay --stock a4-3x8 --out bags.pdf --by mika",
    "findsdesk labels quay --stock a4-3x8 --first-place 6 --out bags.pdf --came-out-well --by mika",
    "findsdesk labels quay --reprint TQB000031X --reason jammed --stock a4-3x8 --out again.pdf --by mika",
    "findsdesk labels quay --kind tag --stock a4-2x4-tag --out tags.pdf --by mika",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("--kind", choices=("bag", "tag", "wash"), default="bag", help=_("which labels"))
    parser.add_argument("--stock", metavar="NAME", help=_("the label stock; findsdesk stocks lists them"))
    parser.add_argument("--out", metavar="FILE", type=Path, help=_("the PDF to write"))
    parser.add_argument("--only", nargs="+", metavar="CODE", help=_("only these bags or tags (else all that wait)"))
    parser.add_argument("--first-place", type=int, default=1, metavar="N", help=_("the first free label of the sheet"))
    parser.add_argument("--used", type=int, nargs="+", default=(), metavar="N", help=_("places already used"))
    parser.add_argument("--reprint", nargs="+", metavar="CODE", help=_("print these again, as the next copy"))
    parser.add_argument("--reason", default="", metavar="KEY", help=_("why again: one of the three reasons"))
    parser.add_argument(
        "--came-out-well", action="store_true", help=_("write down at once that all came out well: only then printed")
    )
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Lay out, read back, write the file, and note the printing where asked."""
    from findsdesk.desk.printing import came_out_well, read_back

    with writing_seat(call) as desk:
        sheets = _sheets(desk, call)
        proof = read_back(sheets)
        if call.out is not None:
            write_pdf(sheets.pdf, call.out)
        if call.came_out_well:
            came_out_well(desk, sheets)
    if call.json:
        placed = [{"code": one.code, "page": one.page, "place": one.place, "copy": one.copy} for one in sheets.placed]
        say_json({"pdf": call.out, "pages": sheets.pages, "labels": placed, "read": proof.read})
    else:
        say(
            N_("{labels} labels on {pages} pages; {read} of {labels} read back."),
            call.terms,
            labels=len(sheets.placed),
            pages=sheets.pages,
            read=proof.read,
        )
    return DONE


def _sheets(desk: Desk, call: argparse.Namespace) -> Sheets:
    from findsdesk.desk.printing import GATHER, PrintKind, lay_out, reprint, stocks

    kind = {"bag": PrintKind.BAG, "tag": PrintKind.TAG, "wash": PrintKind.WASH}[call.kind]
    names = [stock.name for stock in stocks()]
    stock = call.stock or names[0]
    if stock not in names:
        raise Refusal(
            "unknown_stock", N_("There is no stock {stock}. There are: {stocks}."), stock=stock, stocks=", ".join(names)
        )
    if call.reprint:
        return reprint(desk, call.reprint, reason=call.reason, stock=stock, kind=kind, first_place=call.first_place)
    batch = GATHER[kind](desk, call.only)
    return lay_out(desk, batch, stock=stock, first_place=call.first_place, used_places=frozenset(call.used))


def write_pdf(pdf: bytes, path: Path) -> None:
    """Write a PDF; a place that cannot be written in is a StoreFault in words."""
    try:
        path.write_bytes(pdf)
    except OSError as error:
        raise StoreFault(
            "cannot_write", N_("{file} cannot be written: {why}. Choose another place."), file=str(path), why=str(error)
        ) from error
