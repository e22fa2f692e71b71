"""``findsdesk labels``: print labels of any kind but field tags, or any of them again."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from findsdesk.cli.calls import add_json, add_moment, add_store
from findsdesk.cli.paper_calls import add_paper, confirm, put_on_paper, say_what_waits
from findsdesk.cli.saying import say
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _

if TYPE_CHECKING:
    from findsdesk.desk.laying_out import Sheets

EXAMPLE = (
    "findsdesk labels quay                             (which wait for a label; with --json for programs)",
    "findsdesk labels quay --stock a4-3x8-70x37 --first-place 9 --out labels.pdf --by mika",
    "findsdesk labels quay --came-out-well labels.pdf --by mika",
    "findsdesk labels quay --came-out-well labels.pdf --jammed TQB000012N --by mika",
    "findsdesk labels quay --reprint TQB000012N --reason jammed --out again.pdf --by mika",
    "findsdesk labels quay --wash --stock roll-57x32 --out trays.pdf --by tessa",
    "findsdesk labels quay --kind slip --out slips.pdf --by mika",
)


_KINDS = {"slip": "slips", "piece": "pieces", "box": "boxes", "place": "places", "loan": "loans"}
"""Kinds of labels as ``findsdesk layouts`` calls them, and many of them."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument(
        "codes", nargs="*", metavar="CODE", help=_("bags (with --wash: tags); else all without a label")
    )
    add_paper(parser, "a4-3x8-70x37")
    parser.add_argument(
        "--copies", type=int, default=1, metavar="N", help=_("how often each label is printed") + " [1]"
    )
    parser.add_argument("--wash", action="store_true", help=_("the tags that lie in the trays with a count"))
    parser.add_argument(
        "--kind",
        choices=(*_KINDS, *_KINDS.values()),
        metavar="KIND",
        help=_("another kind of label: {kinds}").format(kinds=", ".join(_KINDS)),
    )
    parser.add_argument(
        "--reprint", action="append", default=[], metavar="CODE", help=_("print a label again, as its next copy")
    )
    parser.add_argument("--reason", default="", help=_("why it is printed again: jammed, lost or changed"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Draw the labels into a PDF, or write that those of one came out well."""
    from findsdesk.desk.label_contents import PrintKind
    from findsdesk.desk.laying_out import lay_out, reprint
    from findsdesk.desk.printing import gather

    if call.reprint and call.codes:
        raise Refusal("reprint_or_new", N_("Labels and reprints are printed apart. Call twice."))
    seat = reading_seat if call.came_out_well is None else writing_seat  # drawing labels writes nothing down
    with seat(call) as desk:
        if call.came_out_well and call.out is None:
            return confirm(call, desk)
        where = {"stock": call.stock, "first_place": call.first_place, "printer": call.printer}
        asked = {
            "slip": PrintKind.SLIP,
            "piece": PrintKind.PIECE,
            "box": PrintKind.BOX,
            "place": PrintKind.PLACE,
            "loan": PrintKind.LOAN,
        }
        one = next((one for one, many in _KINDS.items() if call.kind in (one, many)), None)
        kind = PrintKind.WASH if call.wash else None if one is None else asked[one]
        if call.reprint:
            sheets = reprint(desk, call.reprint, reason=call.reason, kind=kind, **where)
        else:
            batch = gather(desk, kind or PrintKind.BAG, call.codes or None)
            sheets = lay_out(desk, batch, copies=call.copies, **where)
        if call.out is None and call.came_out_well is None:
            return say_what_waits(call, sheets)
        if call.reprint and not call.json:
            _say_never_printed(sheets)
        return put_on_paper(call, desk, sheets)


def _say_never_printed(sheets: Sheets) -> None:
    """Say which labels are asked for again although no print of them is in the register."""
    codes = dict.fromkeys(one.code for one in sheets.placed if one.copy == 1)
    if codes:
        text = N_("No print of {codes} is written down: this is its first, copy 1. Destroy any other that lies about.")
        say(text, None, codes=", ".join(codes))
